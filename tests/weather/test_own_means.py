"""A record's own means by month, to set beside normals."""

from __future__ import annotations

import statistics
from datetime import date, timedelta

import numpy as np
import pytest
from weather_files import changed, invented_record

from kailyard.weather.normals import own_means

RECORD = invented_record(date(1995, 3, 1), date(2012, 6, 30))
DAYS = [RECORD.first + timedelta(days=i) for i in range(len(RECORD))]


def by_hand(values: np.ndarray, month: int, first: int, last: int, *, summed: bool) -> tuple[float, int]:
    """Mean over the years, of months that are whole, by the standard library."""
    found: dict[int, list[float]] = {}
    for day, value in zip(DAYS, values.tolist(), strict=True):
        if day.month == month and first <= day.year <= last:
            found.setdefault(day.year, []).append(value)
    each = [sum(v) if summed else statistics.fmean(v) for v in found.values()]
    return statistics.fmean(each), len(each)


@pytest.mark.parametrize("month", [1, 2, 7, 12])
def test_they_are_the_means_of_whole_months(month: int) -> None:
    got = own_means(RECORD, 1996, 2010)
    assert got.years == 15
    for said, values, summed in (
        (got.tmin_c, RECORD.tmin_c, False),
        (got.tmax_c, RECORD.tmax_c, False),
        (got.rain_mm, RECORD.rain_mm, True),
    ):
        mean, years = by_hand(values, month, 1996, 2010, summed=summed)
        assert years == 15
        assert said[month - 1] == pytest.approx(mean)


def test_a_month_that_lacks_a_day_of_rain_has_no_sum_and_keeps_its_mean() -> None:
    rain, low = np.array(RECORD.rain_mm), np.array(RECORD.tmin_c)
    holes = [i for i, d in enumerate(DAYS) if d.month == 7 and d.day == 9 and d.year < 2002]
    rain[holes] = np.nan
    low[holes] = np.nan
    got = own_means(changed(RECORD, rain_mm=rain, tmin_c=low), 1996, 2010)
    assert got.rain_mm[6] is None  # nine Julys are left
    assert got.rain_mm[7] is not None
    assert got.tmin_c[6] is not None


def test_too_few_years_say_nothing() -> None:
    got = own_means(RECORD, 2004, 2012)
    assert got.tmin_c == (None,) * 12
    assert got.years == 0
    assert own_means(RECORD, 1961, 1990).years == 0
