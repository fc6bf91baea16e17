"""Picking, looking, leaving alone: each where it must speak and where it must be silent.

What is expected are rules of the trade, marked 'common practice'; gardens and weather are made up.
"""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from asking import asked, open_on, said, season
from gardens import HOT, asparagus, beans, entry

from kailyard.documents.sheet import Sheet
from kailyard.garden.model import Planting
from kailyard.season.answers import answers, kinds
from kailyard.season.sheet import compose
from kailyard.season.windows import Hold, Look, Rest, Window

garlic = Planting("garlic-1", "garlic", "bed-4", "planted", count=40)


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
