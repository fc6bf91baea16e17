"""Each kind of work where it must speak and where it must be silent. What is expected are rules of the trade, marked
'common practice'; gardens and weather are made up."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest
from gardens import BLEAK, HOT, SOUTHERN, asparagus, beans, entry, look_ahead, peas, plot, seasons, tomatoes

from kailyard.documents.sheet import Sheet
from kailyard.garden.model import Entry, Planting
from kailyard.season.answers import answers, kinds
from kailyard.season.sheet import compose
from kailyard.season.view import SeasonView
from kailyard.season.windows import Answer, Danger, Hold, Look, Rest, Window
from kailyard.weather.record import read_only

garlic = Planting("garlic-1", "garlic", "bed-4", "planted", count=40)
lettuce = Planting("lettuce-1", "lettuce-leaf", "bed-5", "sown")


def season(today: date, *plantings: Planting, entries: tuple[Entry, ...] = (), **more: object) -> SeasonView:
    climate = more.pop("climate", None)
    garden = plot(*plantings, entries=entries, **more)  # type: ignore[arg-type]
    return look_ahead(garden, today) if climate is None else look_ahead(garden, today, climate=climate)  # type: ignore[arg-type]


def said(view: SeasonView) -> dict[str, Answer]:
    return {a.name: a for a in answers(view)}


def asked(view: SeasonView) -> set[str]:
    return {line.name for line in compose(view).work}


def open_on(view: SeasonView, name: str, day: date | None = None) -> float:
    answer = said(view).get(name)
    return answer.open_on(day or view.today) if isinstance(answer, Window) else 0.0


# Sow


def test_beans_are_sown_into_warm_soil_after_frost_and_not_in_march() -> None:
    # Common practice.
    assert "sow/bean-1" not in asked(season(date(2026, 3, 10), beans()))
    assert "sow/bean-1" in asked(season(date(2026, 6, 5), beans()))


def test_peas_are_sown_while_beans_still_wait() -> None:
    # Common practice: peas go in as soon as the ground can be worked.
    names = asked(season(date(2026, 4, 18), beans(), peas()))
    assert "sow/pea-1" in names
    assert "sow/bean-1" not in names


def test_waiting_for_frost_is_not_called_waiting_for_heat() -> None:
    answer = said(season(date(2026, 4, 1), beans()))["sow/bean-1"]
    assert isinstance(answer, Window)
    assert "hardly" not in answer.detail
    assert answer.open_on(date(2026, 4, 1)) == 0


def test_what_cannot_ripen_any_more_is_not_asked_for_and_said_so() -> None:
    # Common practice: no winter squash is sown in late August where frost comes in October.
    view = season(date(2026, 8, 20), Planting("squash-1", "winter-squash-maxima", "bed-1", "sown"))
    answer = said(view)["sow/squash-1"]
    assert isinstance(answer, Rest)
    assert "Sow no" in answer.says


def test_lettuce_planned_for_high_summer_is_told_to_wait_for_cooler_days() -> None:
    # Common practice: head lettuce sown to come ready in heat runs to seed.
    head = Planting("head-1", "lettuce-head", "bed-1", "sown", planned=date(2026, 6, 5))
    answer = said(season(date(2026, 6, 5), head))["sow-later/head-1"]
    assert isinstance(answer, Rest)
    assert "heat" in answer.detail
    assert "sow/head-1" in asked(season(date(2026, 7, 20), replace(head, planned=date(2026, 7, 20))))


def test_what_is_sown_is_not_sown_again_under_its_own_name() -> None:
    view = season(date(2026, 6, 5), beans(), entries=(entry("sow", "bean-1", date(2026, 6, 1)),))
    assert not any(name.startswith("sow/") for name in said(view))


@pytest.mark.parametrize("end", ["clear", "pick"])
def test_what_is_cleared_is_past(end: str) -> None:
    told = entry(end, "bean-1", date(2026, 8, 1), **({"last": True} if end == "pick" else {}))
    view = season(date(2026, 8, 10), beans(), entries=(entry("sow", "bean-1", date(2026, 5, 25)), told))
    assert not any("bean-1" in name for name in said(view))


def test_a_planned_day_is_kept() -> None:
    view = season(date(2026, 5, 25), beans(planned=date(2026, 6, 20)))
    assert "sow/bean-1" not in asked(view)
    assert open_on(view, "sow/bean-1", date(2026, 6, 20)) > 0.8


def test_tomatoes_are_sown_under_cover_weeks_before_the_last_frost() -> None:
    # Common practice: five to seven weeks before they are set out.
    view = season(date(2026, 4, 1), tomatoes())
    answer = said(view)["sow/tomato-1"]
    assert isinstance(answer, Window)
    assert "under cover" in answer.says
    opens = date.fromordinal(int(np.median(answer.opens)))
    assert date(2026, 3, 1) < opens < date(2026, 4, 25)
    assert "sow/tomato-1" not in asked(season(date(2026, 1, 15), tomatoes()))


def test_garlic_is_planted_in_autumn() -> None:
    # Common practice, north and south.
    assert "sow/garlic-1" not in asked(season(date(2026, 4, 10), garlic))
    autumn = season(date(2026, 10, 12), garlic)
    assert "sow/garlic-1" in asked(autumn)
    assert said(autumn)["sow/garlic-1"].says.startswith("Plant ")
    south = season(date(2026, 10, 10), garlic, climate=SOUTHERN, latitude=-40.0)
    assert "sow/garlic-1" not in asked(south)


def test_where_the_soil_never_warms_peppers_are_neither_sown_nor_set_out() -> None:
    pepper = Planting("pepper-1", "pepper-sweet", "bed-1", "raised")
    for entries in ((), (entry("sow", "pepper-1", date(2026, 3, 20), under_cover=True),)):
        names = asked(season(date(2026, 6, 1), pepper, entries=entries, climate=BLEAK))
        assert not names & {"sow/pepper-1", "set-out/pepper-1"}


# Harden and set out

RAISED = (entry("sow", "tomato-1", date(2026, 4, 10), under_cover=True),)


def test_plants_are_hardened_before_they_are_set_out() -> None:
    # Common practice: a week or more of standing out by day.
    today = date(2026, 5, 22)
    view = season(today, tomatoes(), entries=RAISED)
    assert "harden/tomato-1" in asked(view)
    out = said(view)["set-out/tomato-1"]
    assert isinstance(out, Window)
    assert int(out.opens.min()) >= today.toordinal() + 7
    hardened = (*RAISED, entry("harden", "tomato-1", date(2026, 5, 14)))
    assert open_on(season(today, tomatoes(), entries=hardened), "set-out/tomato-1") > 0.5


def test_plants_that_do_not_exist_are_not_set_out() -> None:
    assert not {"set-out/tomato-1", "harden/tomato-1"} & set(said(season(date(2026, 5, 25), tomatoes())))


def test_tomatoes_are_not_set_out_into_frost() -> None:
    # Common practice.
    early = (
        entry("sow", "tomato-1", date(2026, 3, 1), under_cover=True),
        entry("harden", "tomato-1", date(2026, 4, 1)),
    )
    view = season(date(2026, 4, 12), tomatoes(), entries=early)
    assert open_on(view, "set-out/tomato-1") < 0.1
    assert "set-out/tomato-1" not in asked(view)


def test_seedlings_too_small_wait() -> None:
    # Common practice: tomatoes stand five weeks and more under cover.
    sown = (
        entry("sow", "tomato-1", date(2026, 5, 20), under_cover=True),
        entry("harden", "tomato-1", date(2026, 6, 1)),
    )
    view = season(date(2026, 6, 5), tomatoes(), entries=sown)
    assert open_on(view, "set-out/tomato-1") == 0
    assert open_on(view, "set-out/tomato-1", date(2026, 6, 25)) > 0.8


def test_bought_plants_are_set_out_without_hardening_of_our_own() -> None:
    view = season(date(2026, 6, 5), Planting("cab-1", "cabbage", "bed-1", "bought"))
    assert "set-out/cab-1" in said(view)
    assert "harden/cab-1" not in said(view)


def test_what_is_set_out_is_done() -> None:
    view = season(date(2026, 6, 5), tomatoes(), entries=(*RAISED, entry("set-out", "tomato-1", date(2026, 6, 1))))
    assert not {"set-out/tomato-1", "harden/tomato-1", "sow/tomato-1"} & set(said(view))


def test_cabbages_raised_in_summer_are_set_out_in_summer() -> None:
    # Common practice: autumn cabbage goes out in July and August.
    cabbage = Planting("cab-1", "cabbage", "bed-1", "raised")
    told = (entry("sow", "cab-1", date(2026, 6, 20), under_cover=True), entry("harden", "cab-1", date(2026, 7, 18)))
    assert "set-out/cab-1" in asked(season(date(2026, 7, 28), cabbage, entries=told))


# Protect

OUT = (*RAISED, entry("set-out", "tomato-1", date(2026, 6, 1)))


def cold_night(
    today: date, low_c: float, *plantings: Planting, entries: tuple[Entry, ...], **more: object
) -> SeasonView:
    """The same season with tomorrow's night told as cold in every possible season."""
    ensemble = seasons(today)
    tmin = np.array(ensemble.tmin_c)
    tmin[:, ensemble.today_index : ensemble.today_index + 3] = 9.0
    tmin[:, ensemble.today_index + 1] = low_c
    tmax = np.maximum(ensemble.tmax_c, tmin + 1)
    changed = replace(ensemble, tmin_c=read_only(tmin), tmax_c=read_only(tmax))
    return look_ahead(plot(*plantings, entries=entries, **more), today, ensemble=changed)  # type: ignore[arg-type]


DAY = date(2026, 6, 8)


def dangers(view: SeasonView) -> list[Danger]:
    return [a for a in answers(view) if isinstance(a, Danger)]


def test_what_stands_in_the_open_is_covered_before_frost() -> None:
    (danger,) = dangers(cold_night(DAY, -1.0, tomatoes(), entries=OUT))
    assert "tomatoes" in danger.detail.lower()
    assert danger.days == (DAY + timedelta(days=1),)
    assert danger.chance == 1.0


def test_no_frost_no_word() -> None:
    assert not dangers(cold_night(DAY, 6.0, tomatoes(), entries=OUT))


@pytest.mark.parametrize(
    ("planting", "entries"),
    [
        (tomatoes(), RAISED),
        (tomatoes(), (*OUT, entry("clear", "tomato-1", DAY - timedelta(days=1)))),
        (
            tomatoes(),
            (*OUT, entry("protect", "tomato-1", DAY, what="fleece", until=(DAY + timedelta(days=5)).isoformat())),
        ),
        (
            tomatoes(),
            (*OUT, entry("protect", "bed-2", DAY, what="fleece", until=(DAY + timedelta(days=5)).isoformat())),
        ),
        (beans(), (entry("sow", "bean-1", DAY),)),
        (peas(), (entry("sow", "pea-1", date(2026, 4, 10)),)),
    ],
    ids=["under cover", "cleared", "covered", "bed covered", "still in the ground", "hardy"],
)
def test_what_is_not_in_danger_is_not_named(planting: Planting, entries: tuple[Entry, ...]) -> None:
    assert not dangers(cold_night(DAY, -1.0, planting, entries=entries))


def test_a_light_frost_stays_out_of_a_tunnel() -> None:
    # The handbook: a tunnel keeps a night 1.5 °C warmer.
    assert not dangers(cold_night(DAY, -1.0, tomatoes(), entries=OUT, cover="tunnel"))
    assert dangers(cold_night(DAY, -3.0, tomatoes(), entries=OUT, cover="tunnel"))


# Support

PEAS_UP = (
    entry("sow", "pea-1", date(2026, 4, 10)),
    entry("stage", "pea-1", date(2026, 4, 28), stage="emerged", state="seen"),
)


@pytest.mark.parametrize(
    ("today", "late"), [(date(2026, 5, 4), False), (date(2026, 5, 20), True), (date(2026, 6, 25), None)]
)
def test_peas_are_supported_in_time_or_late_but_not_when_it_is_no_use(today: date, late: bool | None) -> None:
    # Common practice: brush goes in before the vines run; on vines that lie flat and bear it does more harm than good.
    view = season(today, peas(), entries=PEAS_UP)
    answer = said(view).get("support/pea-1")
    if late is None:
        assert answer is None
    else:
        assert isinstance(answer, Window)
        assert answer.late is late
        assert "support/pea-1" in asked(view)
        assert bool(answer.late_how) is late


def test_what_stands_by_itself_or_is_supported_needs_none() -> None:
    assert "support/bean-1" not in said(
        season(date(2026, 6, 25), beans(), entries=(entry("sow", "bean-1", date(2026, 5, 25)),))
    )
    told = (*PEAS_UP, entry("support", "pea-1", date(2026, 5, 5)))
    assert "support/pea-1" not in said(season(date(2026, 5, 12), peas(), entries=told))
    assert "support/pea-1" not in said(season(date(2026, 4, 18), peas()))


# Sow again


def test_the_next_wave_is_offered_when_the_last_has_had_its_time() -> None:
    # Common practice: snap beans every two weeks or so.
    sown = (
        entry("sow", "bean-1", date(2026, 6, 1)),
        entry("stage", "bean-1", date(2026, 6, 10), stage="emerged", state="seen"),
    )
    assert "sow-again/bean-bush" in asked(season(date(2026, 6, 16), beans(), entries=sown))
    assert "sow-again/bean-bush" not in asked(season(date(2026, 6, 3), beans(), entries=sown))
    assert "sow-again/bean-bush" not in said(season(date(2026, 9, 15), beans(), entries=sown))
    planned = season(date(2026, 6, 16), beans(), beans("bean-2", planned=date(2026, 6, 18)), entries=sown)
    assert "sow-again/bean-bush" not in said(planned)


def test_waves_go_on_after_midsummer_while_they_pay() -> None:
    # Common practice: where frost comes in October, beans are sown into late July.
    sown = (
        entry("sow", "bean-1", date(2026, 7, 10)),
        entry("stage", "bean-1", date(2026, 7, 18), stage="emerged"),
    )
    assert "sow-again/bean-bush" in said(season(date(2026, 7, 26), beans(), entries=sown))


def test_a_row_that_insures_another_is_not_asked_for_as_the_next_wave_too() -> None:
    answers = said(season(date(2026, 7, 26), beans(), entries=(entry("sow", "bean-1", date(2026, 7, 10)),)))
    assert "insure/bean-1" in answers
    assert "sow-again/bean-bush" not in answers


def test_crops_that_are_sown_once_are_not_sown_in_waves() -> None:
    squash = Planting("squash-1", "winter-squash-maxima", "bed-1", "sown")
    view = season(date(2026, 6, 20), squash, entries=(entry("sow", "squash-1", date(2026, 5, 25)),))
    assert not any(name.startswith("sow-again/") for name in said(view))


def test_a_row_badly_hurt_is_insured_while_a_new_one_pays() -> None:
    sown = entry("sow", "bean-1", date(2026, 5, 20))
    up = entry("stage", "bean-1", date(2026, 5, 30), stage="emerged", state="seen")
    hurt = entry("hurt", "bean-1", date(2026, 6, 8), cause="hail", share=0.6, killed=0.3)
    light = entry("hurt", "bean-1", date(2026, 6, 8), cause="hail", share=0.1)
    again = entry("sow", "bean-2", date(2026, 6, 9))
    today = date(2026, 6, 10)
    assert "insure/bean-1" in said(season(today, beans(), entries=(sown, up, hurt)))
    assert "insure/bean-1" not in said(season(today, beans(), entries=(sown, up)))
    assert "insure/bean-1" not in said(season(today, beans(), entries=(sown, up, light)))
    assert "insure/bean-1" not in said(season(today, beans(), beans("bean-2"), entries=(sown, up, hurt, again)))
    late = entry("hurt", "bean-1", date(2026, 9, 8), cause="hail", share=0.6, killed=0.3)
    assert "insure/bean-1" not in said(season(date(2026, 9, 10), beans(), entries=(sown, up, late)))


def test_a_row_that_stays_away_is_doubted_but_not_before_its_time() -> None:
    sown = entry("sow", "bean-1", date(2026, 5, 25))
    assert "insure/bean-1" not in said(season(date(2026, 5, 29), beans(), entries=(sown,)))
    view = season(date(2026, 6, 25), beans(), entries=(sown,))
    assert "insure/bean-1" in said(view)
    assert "look/bean-1/emerged" in said(view)


# Pick


def test_beans_are_picked_when_they_are_ripe_and_again_every_few_days() -> None:
    sown = entry("sow", "bean-1", date(2026, 5, 20))
    assert "pick/bean-1" not in asked(season(date(2026, 6, 15), beans(), entries=(sown,)))
    today = date(2026, 7, 20)
    picked = entry("pick", "bean-1", today - timedelta(days=1), quantity=1.0, unit="kg")
    view = season(today, beans(), entries=(sown, picked))
    assert open_on(view, "pick/bean-1") == 0
    assert open_on(view, "pick/bean-1", today + timedelta(days=3)) > 0.8
    assert "pick/bean-1" in asked(view)


@pytest.mark.parametrize(
    ("since", "picks", "on", "word"),
    [
        # Common practice: no cutting in the year of planting; two, four, then six to eight weeks in the years after.
        (date(2026, 4, 20), (), date(2026, 5, 20), "hold"),
        (date(2018, 4, 20), (date(2026, 5, 1), date(2026, 5, 18)), date(2026, 5, 20), "cut"),
        (date(2018, 4, 20), (date(2026, 5, 1), date(2026, 6, 20)), date(2026, 7, 20), "hold"),
        (date(2018, 4, 20), (), date(2026, 5, 1), "leave"),
        (date(2018, 4, 20), (), date(2026, 8, 1), "silent"),
        (date(2018, 4, 20), (date(2025, 5, 1), date(2025, 6, 1)), date(2026, 4, 25), "leave"),
    ],
)
def test_asparagus_is_held_while_young_and_cut_no_later_than_its_weeks(
    since: date, picks: tuple[date, ...], on: date, word: str
) -> None:
    entries = tuple(entry("pick", "asparagus-1", day, quantity=0.5, unit="kg") for day in picks)
    answers_ = said(season(on, asparagus(since=since), entries=entries))
    hold, pick = answers_.get("no-cutting/asparagus-1"), answers_.get("pick/asparagus-1")
    assert isinstance(hold, Hold) is (word == "hold")
    assert isinstance(pick, Window) is (word == "cut")
    assert isinstance(pick, Rest) is (word == "leave")


def test_the_last_picking_of_a_year_does_not_end_a_bed_of_many_years() -> None:
    told = (entry("pick", "asparagus-1", date(2025, 6, 10), last=True),)
    view = season(date(2026, 5, 1), asparagus(since=date(2018, 4, 20)), entries=told)
    assert view.lives["asparagus-1"].standing
    assert "pick/asparagus-1" in said(view)
    this_year = season(
        date(2026, 6, 20),
        asparagus(since=date(2018, 4, 20)),
        entries=(*told, entry("pick", "asparagus-1", date(2026, 6, 10), last=True)),
    )
    assert isinstance(said(this_year)["no-cutting/asparagus-1"], Hold)


def test_bulbs_are_lifted_by_the_share_that_shows_the_sign() -> None:
    told = (
        entry("plant", "garlic-1", date(2025, 10, 10)),
        entry("stage", "garlic-1", date(2026, 6, 20), stage="mature", state="seen", share=0.4),
    )
    view = season(date(2026, 6, 21), garlic, entries=told)
    answer = said(view)["pick/garlic-1"]
    assert answer.says.startswith("Lift")
    assert "40 %" in answer.detail
    assert "pick/garlic-1" in asked(view)


# Look and leave


def test_what_was_hurt_is_watched_until_it_is_sound() -> None:
    sown = entry("sow", "bean-1", date(2026, 5, 20))
    hurt = entry("hurt", "bean-1", date(2026, 6, 8), cause="hail", share=0.4)
    sound = entry("look", "bean-1", date(2026, 6, 10), sound=True, next_look="2026-06-20", found="new leaves")
    assert isinstance(said(season(date(2026, 6, 11), beans(), entries=(sown, hurt)))["watch/bean-1"], Look)
    assert isinstance(said(season(date(2026, 6, 11), beans(), entries=(sown, hurt, sound)))["watch/bean-1"], Rest)
    assert isinstance(said(season(date(2026, 6, 21), beans(), entries=(sown, hurt, sound)))["watch/bean-1"], Look)
    assert "watch/bean-1" not in said(season(date(2026, 8, 11), beans(), entries=(sown, hurt)))


def test_a_stage_is_asked_after_when_it_should_be_past_and_not_when_it_is_seen() -> None:
    sown = entry("sow", "bean-1", date(2026, 5, 20))
    today = date(2026, 6, 20)
    seen = entry("stage", "bean-1", date(2026, 5, 30), stage="emerged", state="seen")
    assert "look/bean-1/emerged" in said(season(today, beans(), entries=(sown,)))
    assert "look/bean-1/emerged" not in said(season(today, beans(), entries=(sown, seen)))
    assert "look/bean-1/emerged" not in said(season(date(2026, 5, 22), beans(), entries=(sown,)))


def test_a_look_that_was_meant_comes_up_again() -> None:
    told = (
        entry("sow", "bean-1", date(2026, 5, 20)),
        entry("look", "bean-1", date(2026, 6, 1), found="holes in leaves", next_look="2026-06-14"),
    )
    assert "look/bean-1" in said(season(date(2026, 6, 12), beans(), entries=told))
    assert "look/bean-1" not in said(season(date(2026, 6, 3), beans(), entries=told))


def test_what_looks_like_trouble_and_is_none_is_left_alone_only_while_it_is_usual() -> None:
    # Common practice: the first flowers of cucumbers are male and fall.
    cucumber = Planting("cuc-1", "cucumber-slicing", "bed-1", "sown")
    told = (
        entry("sow", "cuc-1", date(2026, 5, 25)),
        entry("stage", "cuc-1", date(2026, 7, 5), stage="first-flower", state="seen"),
    )
    assert isinstance(said(season(date(2026, 7, 8), cucumber, entries=told))["leave/cuc-1"], Rest)
    assert "leave/cuc-1" not in said(season(date(2026, 6, 10), cucumber, entries=told))
    assert "leave/cuc-1" not in said(season(date(2026, 9, 1), cucumber, entries=told))


def test_after_a_hard_frost_the_bed_is_looked_at() -> None:
    today = date(2026, 11, 20)
    told = (entry("sow", "bean-1", date(2026, 8, 1)),)
    view = season(today, beans(), entries=told)
    look = said(view)["frosted/bean-1"]
    assert isinstance(look, Look)
    assert "pick/bean-1" not in asked(view)
    alive = (*told, entry("look", "bean-1", today, sound=True))
    assert "frosted/bean-1" not in said(season(today, beans(), entries=alive))
    warm = season(today, beans(), entries=told, climate=HOT)
    assert "frosted/bean-1" not in said(warm)


# All kinds


def test_an_empty_garden_has_nothing_to_do() -> None:
    view = season(date(2026, 6, 12))
    sheet: Sheet = compose(view)
    assert not answers(view)
    assert not sheet.work + sheet.holds + sheet.near + sheet.look + sheet.leave + sheet.next
    assert sheet.cautions


def test_plantings_of_unknown_crops_are_borne_in_silence() -> None:
    view = season(date(2026, 6, 12), Planting("oca-1", "oca", "bed-1", "planted"), beans())
    assert compose(view).work
    assert len(kinds()) >= 7
