"""Flowering foreseen from earlier years: better than the calendar, and only because of the weather."""

from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path

import numpy as np
import pytest

from kailyard.weather.ensemble import build_ensemble
from tools.validation._scores import summed
from tools.validation.observed_dates import Series, _observed, all_series, foreseen, pairs, shuffled, skill

CHOSEN = (("Nagano", "cherry"), ("Suwon", "forsythia"))


@pytest.fixture(scope="module")
def series(shared: Path) -> dict[tuple[str, str], Series]:
    return {(s.place, s.plant): s for s in all_series(shared) if (s.place, s.plant) in CHOSEN}


@pytest.mark.parametrize("of", CHOSEN)
def test_engine_beats_the_calendar_and_its_bands_hold(
    series: dict[tuple[str, str], Series], of: tuple[str, str]
) -> None:
    found = list(pairs(series[of]))
    assert len(found) >= 35
    engine, calendar = summed([e for e, _ in found]), summed([c for _, c in found])
    assert skill(found) > 0.25
    assert engine.rmse_days < calendar.rmse_days - 1
    # Some 39 bands at 80 %: binomial standard error 6.4 in 100.
    assert 0.8 - 2 * 0.064 <= engine.covered <= 0.8 + 2 * 0.064


@pytest.mark.parametrize("of", CHOSEN)
def test_with_weather_years_shuffled_against_dates_the_skill_vanishes(
    series: dict[tuple[str, str], Series], of: tuple[str, str]
) -> None:
    left = [skill(list(pairs(shuffled(series[of], seed)))) for seed in range(4)]
    assert max(left) < 0.05, left


def test_nothing_of_the_day_of_issue_or_later_is_known(series: dict[tuple[str, str], Series]) -> None:
    cherry = series["Nagano", "cherry"]
    years = cherry.years
    year, before = years[20], years[:20]
    today = cherry.seen[year] - timedelta(days=25)
    earlier = [(cherry.begun[y], cherry.seen[y]) for y in before]

    def days(last: date) -> np.ndarray:
        keep = (last - cherry.record.first).days + 1
        r = cherry.record
        cut = type(r)(r.first, r.tmin_c[:keep], r.tmax_c[:keep], r.rain_mm[:keep], r.source)
        ensemble = build_ensemble(cut, today=today, start=cherry.begun[year], horizon_days=200)
        return foreseen(_observed(cut), ensemble, cherry.begun[year], earlier)

    np.testing.assert_array_equal(days(today - timedelta(days=1)), days(cherry.record.last))
