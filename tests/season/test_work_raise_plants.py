"""Raising under cover: pricked out at the first true leaf, potted on in time, brought in before cold nights.

Tomatoes come up in about a week at 20 °C (Harrington and Minges 1954: 8 days); pricked out ten to sixteen days on,
potted on at four to six weeks: common practice. Gardens and weather are made up.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest
from asking import asked, said, season
from gardens import HOT, SOUTHERN, entry, look_ahead, plot, seasons, tomatoes

from kailyard.garden.model import Entry, Planting
from kailyard.season.answers import answers
from kailyard.season.fitting import fitting
from kailyard.season.nursery import emergence_days, up_under_cover
from kailyard.season.view import SeasonView
from kailyard.season.windows import Danger, Window
from kailyard.weather.record import read_only

SOWN = entry("sow", "tomato-1", date(2026, 4, 1), under_cover=True)
UP = entry("stage", "tomato-1", date(2026, 4, 9), stage="emerged", state="seen")


def test_seed_under_cover_comes_up_as_the_table_has_it() -> None:
    # Harrington and Minges 1954: tomato 8 days at 20 °C, 6 at 25 °C; the handbook raises it at 21 °C.
    view = season(date(2026, 4, 5), tomatoes(), entries=(SOWN,))
    life = view.lives["tomato-1"]
    days = emergence_days(view, life)
    assert days is not None
    assert 6 <= days <= 8
    up = up_under_cover(view, life)
    assert up is not None
    assert abs(float(np.median(up)) - date(2026, 4, 8).toordinal()) <= 1
    seen = season(date(2026, 4, 12), tomatoes(), entries=(SOWN, UP)).lives["tomato-1"]
    assert (up_under_cover(view, seen) == date(2026, 4, 9).toordinal()).all()


def test_tomatoes_are_pricked_out_at_the_first_true_leaf() -> None:
    assert "prick-out/tomato-1" not in asked(season(date(2026, 4, 10), tomatoes(), entries=(SOWN,)))
    view = season(date(2026, 4, 21), tomatoes(), entries=(SOWN,))
    assert "prick-out/tomato-1" in asked(view)
    answer = said(view)["prick-out/tomato-1"]
    assert "true leaf" in answer.detail
    assert "never by the stem" in answer.detail


def test_left_crowded_they_are_leggy_and_it_is_said_how_to_save_them() -> None:
    answer = said(season(date(2026, 5, 4), tomatoes(), entries=(SOWN, UP)))["prick-out/tomato-1"]
    assert isinstance(answer, Window)
    assert answer.late
    assert "leggy" in answer.detail
    assert answer.expected_loss(date(2026, 5, 10)) > answer.expected_loss(date(2026, 4, 22))


def test_what_was_sown_in_cells_or_resents_moving_is_not_pricked_out() -> None:
    cells = entry("sow", "tomato-1", date(2026, 4, 1), under_cover=True, quantity=16, unit="cells")
    assert "prick-out/tomato-1" not in said(season(date(2026, 4, 21), tomatoes(), entries=(cells,)))
    zucchini = Planting("zuc-1", "zucchini", "bed-1", "raised")
    told = (entry("sow", "zuc-1", date(2026, 4, 20), under_cover=True),)
    assert "prick-out/zuc-1" not in said(season(date(2026, 5, 8), zucchini, entries=told))


def test_tomatoes_are_potted_on_about_a_month_after_they_come_up() -> None:
    pricked = entry("work", "tomato-1", date(2026, 4, 22), what="pricked out")
    assert "pot-on/tomato-1" not in asked(season(date(2026, 4, 24), tomatoes(), entries=(SOWN, UP, pricked)))
    view = season(date(2026, 5, 12), tomatoes(), entries=(SOWN, UP, pricked))
    assert "pot-on/tomato-1" in asked(view)
    assert "9 to 13 cm" in said(view)["pot-on/tomato-1"].detail


@pytest.mark.parametrize("work", ["prick-out", "pot-on"])
def test_done_silences_it(work: str) -> None:
    today = date(2026, 4, 21) if work == "prick-out" else date(2026, 5, 12)
    view = season(today, tomatoes(), entries=(SOWN, UP))
    assert f"{work}/tomato-1" in said(view)
    (made,) = fitting(f"{work}/tomato-1", (), "done", view.garden)
    done = entry(made.kind, made.target, today, **made.payload)
    assert f"{work}/tomato-1" not in said(season(today, tomatoes(), entries=(SOWN, UP, done)))


def test_nothing_is_pricked_out_that_was_never_sown_or_stands_in_its_bed() -> None:
    today = date(2026, 4, 21)
    assert not {"prick-out/tomato-1", "pot-on/tomato-1"} & set(said(season(today, tomatoes())))
    out = entry("set-out", "tomato-1", today - timedelta(days=1))
    assert not {"prick-out/tomato-1", "pot-on/tomato-1"} & set(said(season(today, tomatoes(), entries=(SOWN, out))))
    sown = Planting("carrot-1", "carrot", "bed-1", "sown")
    told = (entry("sow", "carrot-1", date(2026, 4, 1)),)
    assert not any(name.startswith(("prick-out/", "pot-on/")) for name in said(season(today, sown, entries=told)))


def test_south_of_the_equator_and_without_frost() -> None:
    sown = entry("sow", "tomato-1", date(2026, 9, 20), under_cover=True)
    today = date(2026, 10, 10)
    for place in ({"climate": SOUTHERN, "latitude": -40.0}, {"climate": HOT, "latitude": 12.0}):
        assert "prick-out/tomato-1" in asked(season(today, tomatoes(), entries=(sown,), **place))


# Bring in

DAY = date(2026, 5, 20)
HARDENING = (
    entry("sow", "tomato-1", date(2026, 4, 1), under_cover=True),
    entry("harden", "tomato-1", date(2026, 5, 12)),
)


def night(low_c: float, entries: tuple[Entry, ...], today: date = DAY) -> SeasonView:
    """The same season with every one of the next nights told as so cold."""
    ensemble = seasons(today)
    tmin, at = np.array(ensemble.tmin_c), ensemble.today_index
    tmin[:, at : at + 3] = low_c
    changed = replace(ensemble, tmin_c=read_only(tmin), tmax_c=read_only(np.maximum(ensemble.tmax_c, tmin + 1)))
    return look_ahead(plot(tomatoes(), entries=entries), today, ensemble=changed)


def dangers(view: SeasonView) -> list[Danger]:
    return [a for a in answers(view) if isinstance(a, Danger)]


def test_plants_being_hardened_come_in_before_a_cold_night() -> None:
    # Common practice: tomatoes being hardened stay out on nights above about 10 °C.
    (danger,) = dangers(night(5.0, HARDENING))
    assert danger.name == "bring-in/hardening"
    assert "Bring in tomatoes" in danger.detail
    assert not dangers(night(13.0, HARDENING))


def test_until_they_are_hardened_they_come_in_as_it_is_and_set_out_they_cannot() -> None:
    assert not dangers(night(5.0, (HARDENING[0], entry("harden", "tomato-1", DAY - timedelta(days=4)))))
    out = (*HARDENING, entry("set-out", "tomato-1", DAY - timedelta(days=1)))
    assert not dangers(night(5.0, out))
    assert not dangers(night(5.0, HARDENING[:1]))
