"""Counting, drying off, lifting into dry days, curing, storing, cutting down: where each speaks and where it is silent.

What is expected are rules of the trade, marked 'common practice'; gardens and weather are made up.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest
from asking import asked, said, season
from gardens import HOT, SOUTHERN, asparagus, entry, handbook, plot, steady

from kailyard.garden.model import Entry, Planting
from kailyard.season.answers import answers
from kailyard.season.dry_days import driest
from kailyard.season.fitting import fitting
from kailyard.season.view import foresee
from kailyard.season.windows import Look, Rest, Window
from kailyard.weather.ensemble import Ensemble
from kailyard.weather.record import read_only

ONIONS = Planting("onion-1", "onion-long-day", "bed-1", "planted", count=80)
SETS = entry("plant", "onion-1", date(2026, 4, 5))


def count(day: date, share: float) -> Entry:
    return entry("stage", "onion-1", day, stage="mature", share=share)


def rain_on(ensemble: Ensemble, *days: int) -> Ensemble:
    """The same seasons with 5 mm on the days so many from today."""
    rain = np.array(ensemble.rain_mm)
    for n in days:
        rain[:, ensemble.today_index + n] = 5.0
    return replace(ensemble, rain_mm=read_only(rain))


def test_fallen_tops_are_counted_before_onions_are_lifted() -> None:
    # Common practice: the share of fallen tops with soft necks decides; tops felled by wind are no ripeness.
    view = season(date(2026, 8, 5), ONIONS, entries=(SETS, count(date(2026, 7, 26), 0.1)))
    line = said(view)["count/onion-1"]
    assert isinstance(line, Look)
    assert "necks" in line.detail
    assert "50 %" in line.detail


def test_a_fresh_count_is_not_asked_for_again_and_enough_is_enough() -> None:
    today = date(2026, 8, 5)
    for told in (count(today - timedelta(days=2), 0.1), count(today - timedelta(days=9), 0.7)):
        assert "count/onion-1" not in said(season(today, ONIONS, entries=(SETS, told)))
    assert "count/onion-1" not in said(season(date(2026, 5, 20), ONIONS, entries=(SETS,)))


def test_ripening_onions_are_watered_no_more() -> None:
    # Common practice.
    ripening = (SETS, count(date(2026, 8, 3), 0.3))
    assert isinstance(said(season(date(2026, 8, 5), ONIONS, entries=ripening))["no-water/onion-1"], Rest)
    assert "no-water/onion-1" not in said(season(date(2026, 6, 1), ONIONS, entries=(SETS,)))


def test_lifting_is_put_into_the_dry_days_before_the_rain() -> None:
    # Common practice: before a wet spell rather than after.
    today = date(2026, 8, 5)
    garden = plot(ONIONS, entries=(SETS, count(today - timedelta(days=1), 0.7)))
    dry = foresee(garden, steady(14.0, 24.0, today=today), handbook(), draws=10)
    assert driest(dry, 3) == (today, 1.0, 1.0)
    line = {a.name: a for a in answers(dry)}["pick/onion-1"]
    assert isinstance(line, Window)
    assert "dry days from 5 August: almost surely" in line.detail
    wet_now = foresee(garden, rain_on(steady(14.0, 24.0, today=today), 0, 1), handbook(), draws=10)
    assert driest(wet_now, 3)[0] == today + timedelta(days=2)
    later = {a.name: a for a in answers(wet_now)}["pick/onion-1"]
    assert "from 7 August" in later.detail


def test_what_was_lifted_cures_and_then_is_stored() -> None:
    # Common practice: onions cure two to three weeks before they are put away.
    lifted = entry("pick", "onion-1", date(2026, 8, 6), quantity=20.0, unit="kg", last=True)
    entries = (SETS, count(date(2026, 8, 4), 0.8), lifted)
    least, most = (handbook().number("onion-long-day", f"cure_days_{end}") for end in ("min", "max"))
    assert least is not None
    assert most is not None
    young = date(2026, 8, 6) + timedelta(days=round(least) - 1)
    assert isinstance(said(season(young, ONIONS, entries=entries))["curing/onion-1"], Rest)
    cured = date(2026, 8, 6) + timedelta(days=round(most))
    view = season(cured, ONIONS, entries=entries)
    assert "store/onion-1" in asked(view)
    done = [entry(f.kind, f.target, cured, **f.payload) for f in fitting("store/onion-1", (), "done", view.garden)]
    assert "store/onion-1" not in said(season(cured, ONIONS, entries=(*entries, *done)))


def test_what_is_eaten_fresh_is_not_cured() -> None:
    picked = entry("pick", "lettuce-1", date(2026, 6, 20), last=True)
    lettuce = Planting("lettuce-1", "lettuce-leaf", "bed-2", "sown")
    sown = entry("sow", "lettuce-1", date(2026, 4, 20))
    names = said(season(date(2026, 6, 22), lettuce, entries=(sown, picked)))
    assert not {"curing/lettuce-1", "store/lettuce-1"} & set(names)


@pytest.mark.parametrize(("latitude", "months"), [(45.0, 0), (-45.0, 6)])
def test_the_fern_stands_until_it_browns_and_comes_off_before_spring(latitude: float, months: int) -> None:
    # Common practice: asparagus fern is cut down brown, in winter.
    climate = {} if latitude > 0 else {"climate": SOUTHERN}

    def on(month: int, year: int) -> set[str]:
        shifted = month - 1 + months
        day = date(year + shifted // 12 - (1 if months else 0), shifted % 12 + 1, 10)
        return set(said(season(day, asparagus(since=date(2018, 4, 1)), latitude=latitude, **climate)))

    assert "keep-tops/asparagus-1" in on(9, 2026)
    assert "cut-back/asparagus-1" in on(1, 2026)
    assert not {"keep-tops/asparagus-1", "cut-back/asparagus-1"} & on(6, 2026)


def test_where_no_frost_browns_it_the_fern_still_comes_off_before_growth() -> None:
    names = said(season(date(2026, 2, 10), asparagus(since=date(2018, 4, 1)), climate=HOT))
    assert "cut-back/asparagus-1" in names


def test_what_was_cut_down_is_not_cut_down_again() -> None:
    down = entry("work", "asparagus-1", date(2025, 12, 20), what="cut down")
    assert "cut-back/asparagus-1" not in said(
        season(date(2026, 1, 10), asparagus(since=date(2018, 4, 1)), entries=(down,))
    )
