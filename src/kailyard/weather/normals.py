"""Means of thirty years by month as a service states them: to compare with, never used as years."""

from __future__ import annotations

from calendar import monthrange
from dataclasses import dataclass

import numpy as np

from kailyard.weather.days import year_month_slot
from kailyard.weather.record import DailyRecord, FloatArray, IntArray
from kailyard.weather.trend import month_means

FEWEST_OF_A_MONTH = 10
"""A mean of fewer years of a month is not set beside a normal (ours)."""
Months = tuple[float | None, ...]
"""January to December; None where nothing is stated."""


@dataclass(frozen=True, slots=True)
class Normals:
    """A station's climate normals. [°C, mm]"""

    station: str
    period: str
    """The years they are means of: '1991-2020'."""
    tmin_c: Months
    tmax_c: Months
    rain_mm: Months
    """Sum of the month."""
    credit: str = ""
    """Whose figures they are and under which licence, in words."""


@dataclass(frozen=True, slots=True)
class OwnMeans:
    """A record's means by month over some years, to set beside normals. [°C, mm]"""

    tmin_c: Months
    tmax_c: Months
    rain_mm: Months
    """Sum of the month."""
    years: int
    """Of the month that has the fewest, among those that are said; 0 where none is."""


def own_means(record: DailyRecord, first_year: int, last_year: int) -> OwnMeans:
    """The record's own means of the years from `first_year` to `last_year`, both included.

    A month of a year counts for temperature where 25 of its days are there, for rain where none is missing: a sum lacks
    what a missing day had. A calendar month with fewer than `FEWEST_OF_A_MONTH` years is not said.
    """
    years, months, _ = year_month_slot(record.first.toordinal() + np.arange(len(record)))
    use = (years >= first_year) & (years <= last_year)
    if not use.any():
        return OwnMeans((None,) * 12, (None,) * 12, (None,) * 12, years=0)
    years, months = years[use], months[use]
    means = [month_means(c[use], years, months)[1] for c in (record.tmin_c, record.tmax_c)]
    parts = [*means, _month_sums(record.rain_mm[use], years, months)]
    counts = [np.count_nonzero(~np.isnan(p), axis=0) for p in parts]
    low, high, rain = (
        tuple(float(np.nanmean(p[:, m])) if n[m] >= FEWEST_OF_A_MONTH else None for m in range(12))
        for p, n in zip(parts, counts, strict=True)
    )
    enough = [int(n[m]) for n in counts for m in range(12) if n[m] >= FEWEST_OF_A_MONTH]
    return OwnMeans(low, high, rain, years=min(enough, default=0))


def _month_sums(values: FloatArray, years: IntArray, months: IntArray) -> FloatArray:
    """Sum of each month of each year, NaN where a day is missing. (years, 12)"""
    first, last = int(years.min()), int(years.max())
    sums = np.full((last - first + 1, 12), np.nan)
    for year in range(first, last + 1):
        for m in range(12):
            part = values[(years == year) & (months == m)]
            if len(part) == monthrange(year, m + 1)[1]:
                sums[year - first, m] = part.sum()
    return sums
