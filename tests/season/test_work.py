"""Sowing, setting out, protecting, supporting, sowing again: each where it must speak and where it must be silent.

What is expected are rules of the trade, marked 'common practice'; gardens and weather are made up.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest
from asking import asked, open_on, said, season
from gardens import BLEAK, SOUTHERN, beans, entry, look_ahead, peas, plot, seasons, tomatoes

from kailyard.garden.model import Entry, Planting
from kailyard.season.answers import answers
from kailyard.season.view import SeasonView
from kailyard.season.windows import Danger, Rest, Window
from kailyard.weather.record import read_only

garlic = Planting("garlic-1", "garlic", "bed-4", "planted", count=40)


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


def test_plants_that_are_being_hardened_stay_until_that_is_over() -> None:
    # Common practice: a week or more of standing out by day, counted from its first day.
    begun = date(2026, 6, 1)
    told = (*RAISED, entry("harden", "tomato-1", begun), entry("harden", "tomato-1", begun + timedelta(days=2)))
    out = said(season(begun + timedelta(days=3), tomatoes(), entries=told))["set-out/tomato-1"]
    assert isinstance(out, Window)
    assert int(out.opens.min()) == begun.toordinal() + 7
    assert "hardening until 8 June at least" in out.detail


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


WAVES = "snap beans 2026"


def test_the_next_wave_is_offered_when_the_last_has_had_its_time() -> None:
    # Common practice: snap beans every two weeks or so.
    sown = (
        entry("sow", "bean-1", date(2026, 6, 1)),
        entry("stage", "bean-1", date(2026, 6, 10), stage="emerged", state="seen"),
    )
    assert "sow-again/bean-bush" in asked(season(date(2026, 6, 16), beans(wave=WAVES), entries=sown))
    assert "sow-again/bean-bush" not in asked(season(date(2026, 6, 3), beans(wave=WAVES), entries=sown))
    assert "sow-again/bean-bush" not in said(season(date(2026, 9, 15), beans(wave=WAVES), entries=sown))
    planned = season(date(2026, 6, 16), beans(wave=WAVES), beans("bean-2", planned=date(2026, 6, 18)), entries=sown)
    assert "sow-again/bean-bush" not in said(planned)
    # One row and no word of waves: nobody asked for a second.
    assert "sow-again/bean-bush" not in said(season(date(2026, 6, 16), beans(), entries=sown))


def test_waves_go_on_after_midsummer_while_they_pay() -> None:
    # Common practice: where frost comes in October, beans are sown into late July.
    sown = (
        entry("sow", "bean-1", date(2026, 7, 10)),
        entry("stage", "bean-1", date(2026, 7, 18), stage="emerged"),
    )
    assert "sow-again/bean-bush" in said(season(date(2026, 7, 26), beans(wave=WAVES), entries=sown))


def test_a_row_that_insures_another_is_not_asked_for_as_the_next_wave_too() -> None:
    answers = said(season(date(2026, 7, 27), beans(wave=WAVES), entries=(entry("sow", "bean-1", date(2026, 7, 4)),)))
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
