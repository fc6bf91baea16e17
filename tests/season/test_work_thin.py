"""Thinning: asked for when seedlings begin to crowd each other, and only where more was sown than is to stand.

Carrots two to four weeks after they come up, lettuce a week earlier: common practice. Gardens and weather are made up.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest
from asking import asked, said, season
from gardens import HOT, SOUTHERN, beans, entry

from kailyard.garden.model import Planting
from kailyard.season.fitting import fitting
from kailyard.season.windows import Window

CARROTS = Planting("carrot-1", "carrot", "bed-1", "sown", count=100)
SOWN = entry("sow", "carrot-1", date(2026, 4, 20))
UP = entry("stage", "carrot-1", date(2026, 5, 8), stage="emerged", state="seen")
DUE = date(2026, 5, 27)
"""Nineteen days after they were seen coming up."""


def test_carrots_are_thinned_two_to_four_weeks_after_they_come_up() -> None:
    assert "thin/carrot-1" not in asked(season(date(2026, 5, 10), CARROTS, entries=(SOWN, UP)))
    assert "thin/carrot-1" in asked(season(DUE, CARROTS, entries=(SOWN, UP)))


def test_the_line_says_how_far_apart_and_what_to_mind() -> None:
    # Handbook: 4 to 6 cm; the scent of thinnings draws the carrot fly (common practice).
    answer = said(season(DUE, CARROTS, entries=(SOWN, UP)))["thin/carrot-1"]
    assert "4 to 6 cm" in answer.detail
    assert "carrot fly" in answer.detail
    mine = said(season(DUE, replace(CARROTS, spacing_cm=5.0), entries=(SOWN, UP)))["thin/carrot-1"]
    assert "5 cm" in mine.detail


def test_a_row_left_too_long_is_late_and_then_left() -> None:
    late = said(season(date(2026, 6, 10), CARROTS, entries=(SOWN, UP)))["thin/carrot-1"]
    assert isinstance(late, Window)
    assert late.late
    assert "snip" in late.detail
    assert "thin/carrot-1" not in said(season(date(2026, 7, 15), CARROTS, entries=(SOWN, UP)))


@pytest.mark.parametrize(("seeds", "thick"), [(400, True), (130, False), (None, True)])
def test_only_what_was_sown_more_thickly_than_it_is_to_stand(seeds: int | None, thick: bool) -> None:
    told = {} if seeds is None else {"quantity": seeds, "unit": "seeds"}
    view = season(DUE, CARROTS, entries=(entry("sow", "carrot-1", date(2026, 4, 20), **told), UP))
    assert ("thin/carrot-1" in said(view)) is thick


def test_what_is_not_sown_where_it_stays_or_is_no_crop_to_thin_is_left() -> None:
    raised = Planting("head-1", "lettuce-head", "bed-1", "raised", count=10)
    out = (entry("sow", "head-1", date(2026, 4, 1), under_cover=True), entry("set-out", "head-1", date(2026, 5, 5)))
    assert "thin/head-1" not in said(season(DUE, raised, entries=out))
    garlic = Planting("garlic-1", "garlic", "bed-1", "planted", count=10)
    put = (entry("plant", "garlic-1", date(2025, 10, 10)),)
    assert "thin/garlic-1" not in said(season(DUE, garlic, entries=put))
    # As many as are to stand, once set at their distance.
    spaced = entry("sow", "bean-1", date(2026, 5, 5), quantity=60, unit="seeds")
    assert "thin/bean-1" not in said(season(date(2026, 6, 1), beans(), entries=(spaced,)))


def test_done_silences_it() -> None:
    view = season(DUE, CARROTS, entries=(SOWN, UP))
    (made,) = fitting("thin/carrot-1", (), "done", view.garden)
    assert made.kind == "work"
    done = entry(made.kind, made.target, DUE, **made.payload)
    assert "thin/carrot-1" not in said(season(DUE, CARROTS, entries=(SOWN, UP, done)))


def test_south_of_the_equator_and_without_frost() -> None:
    sown = entry("sow", "carrot-1", date(2026, 9, 20))
    up = entry("stage", "carrot-1", date(2026, 10, 6), stage="emerged", state="seen")
    today = date(2026, 10, 26)
    assert "thin/carrot-1" in asked(season(today, CARROTS, entries=(sown, up), climate=SOUTHERN, latitude=-40.0))
    assert "thin/carrot-1" in asked(season(today, CARROTS, entries=(sown, up), climate=HOT, latitude=12.0))
