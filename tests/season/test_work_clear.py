"""Clearing what is over, and only that.

Common practice: a row that bears no more is cleared at once, vines and stalks of sick plants not to the heap;
perennials stay; bulbs and tubers are cleared by lifting them. Gardens and weather are made up.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

from asking import asked, said, season
from gardens import HOT, SOUTHERN, asparagus, beans, entry, peas

from kailyard.garden.model import Planting
from kailyard.season.fitting import fitting

SOWN = entry("sow", "pea-1", date(2026, 4, 10))
UP = entry("stage", "pea-1", date(2026, 4, 26), stage="emerged", state="seen")
PICKED = tuple(
    entry("pick", "pea-1", date(2026, 6, 22) + timedelta(days=4 * n), quantity=1.0, unit="kg") for n in range(4)
)
OVER = date(2026, 8, 5)
"""Peas sown in April bear into July (handbook: two to three weeks of picking)."""


def test_peas_that_bear_no_more_are_cleared() -> None:
    view = season(OVER, peas(), entries=(SOWN, UP, *PICKED))
    assert "clear/pea-1" in asked(view)
    answer = said(view)["clear/pea-1"]
    assert "last picked 4 July" in answer.detail
    assert "roots stay" in answer.detail


def test_what_still_bears_or_was_picked_of_late_stays() -> None:
    assert "clear/pea-1" not in said(season(date(2026, 6, 28), peas(), entries=(SOWN, UP, *PICKED)))
    late = entry("pick", "pea-1", OVER - timedelta(days=3), quantity=0.5, unit="kg")
    assert "clear/pea-1" not in said(season(OVER, peas(), entries=(SOWN, UP, *PICKED, late)))
    assert "clear/pea-1" not in said(season(OVER, peas()))


def test_dead_plants_are_cleared_at_once() -> None:
    hail = entry("hurt", "pea-1", date(2026, 6, 3), cause="hail", share=1.0, killed=1.0)
    view = season(date(2026, 6, 5), peas(), entries=(SOWN, UP, hail))
    assert "killed on 3 June" in said(view)["clear/pea-1"].detail
    half = entry("hurt", "pea-1", date(2026, 6, 3), cause="hail", share=1.0, killed=0.5)
    assert "clear/pea-1" not in said(season(date(2026, 6, 5), peas(), entries=(SOWN, UP, half)))


def test_perennials_stay_and_bulbs_are_lifted() -> None:
    cut = entry("pick", "asparagus-1", date(2026, 5, 20), quantity=1.0, unit="kg")
    assert "clear/asparagus-1" not in said(season(date(2026, 9, 1), asparagus(), entries=(cut,)))
    potato = Planting("potato-1", "potato", "bed-2", "planted", count=20)
    put = entry("plant", "potato-1", date(2026, 4, 20))
    assert "clear/potato-1" not in said(season(date(2026, 10, 10), potato, entries=(put,)))


def test_what_is_kept_for_seed_stays() -> None:
    kept = replace(peas(), note="six plants for seed")
    assert "clear/pea-1" not in said(season(OVER, kept, entries=(SOWN, UP, *PICKED)))


def test_done_clears_it() -> None:
    view = season(OVER, peas(), entries=(SOWN, UP, *PICKED))
    (made,) = fitting("clear/pea-1", (), "done", view.garden)
    assert made.kind == "clear"
    done = entry(made.kind, made.target, OVER, **made.payload)
    assert "clear/pea-1" not in said(season(OVER, peas(), entries=(SOWN, UP, *PICKED, done)))


def test_south_of_the_equator_and_without_frost() -> None:
    sown = entry("sow", "bean-1", date(2026, 10, 25))
    picked = entry("pick", "bean-1", date(2027, 1, 5), quantity=1.0, unit="kg")
    today = date(2027, 3, 20)
    for place in ({"climate": SOUTHERN, "latitude": -40.0}, {"climate": HOT, "latitude": 12.0}):
        assert "clear/bean-1" in said(season(today, beans(), entries=(sown, picked), **place))
