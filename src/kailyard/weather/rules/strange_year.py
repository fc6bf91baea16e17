"""A year whose weather is not this place's, or is another year's once more."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from kailyard.weather.days import SLOTS
from kailyard.weather.judging import Days, Found, stretches
from kailyard.weather.record import FloatArray

NAME = "a year that does not belong"
HELP = "a year's months lie far from those of the other years, or its days are another year's, figure by figure"
NEEDS_NEIGHBOUR = False

LEAST_YEARS = 8
"""Fewer cannot say what a usual year is."""
ASKED, SURE = 3.0, 5.0
"""Root mean square over the months of how many usual spreads a month's mean lies off."""
LEAST_DAYS = 20
"""A month with fewer days has no mean; a year with fewer than six months is not asked."""
SAME_DAYS = 10
"""So many days in a row alike in both temperatures on the same calendar days of two years: one is a copy."""


def finds(days: Days) -> Iterator[Found]:
    """Copies first, then years off."""
    yield from _copies(days)
    years = np.unique(days.years)
    if len(years) < LEAST_YEARS:
        return
    off = np.stack([_off(days, values - days.usual_c[name], years) for name, values in days.temperatures()])
    count = np.count_nonzero(~np.isnan(off), axis=(0, 2))
    far = np.sqrt(np.nansum(off**2, axis=(0, 2)) / np.maximum(count, 1))
    for k in np.flatnonzero((far > ASKED) & (count >= 12)).tolist():
        at, n = _span(days, int(years[k]))
        says = f"{years[k]}: its months lie {far[k]:.1f} usual spreads off"
        yield Found(at, n, ("tmin", "tmax"), bool(far[k] > SURE), says)


def _off(days: Days, away: FloatArray, years: np.ndarray) -> FloatArray:
    """Mean departure of each month of each year in robust spreads of that calendar month. (years, 12)"""
    key = (days.years - years[0]) * 12 + days.months
    good = ~np.isnan(away)
    n = len(years) * 12
    count = np.bincount(key[good], minlength=n)[:n]
    total = np.bincount(key[good], weights=away[good], minlength=n)[:n]
    mean = np.where(count >= LEAST_DAYS, total / np.maximum(count, 1), np.nan).reshape(len(years), 12)
    out = np.full_like(mean, np.nan)
    for m in range(12):
        there = mean[:, m][~np.isnan(mean[:, m])]
        if len(there) >= LEAST_YEARS:
            middle = np.median(there)
            out[:, m] = (mean[:, m] - middle) / max(1.4826 * float(np.median(np.abs(there - middle))), 0.5)
    return out


def _span(days: Days, year: int) -> tuple[int, int]:
    at = np.flatnonzero(days.years == year)
    return int(at[0]), len(at)


def _copies(days: Days) -> Iterator[Found]:
    first = int(days.years[0])
    table = np.full((2, int(days.years[-1]) - first + 1, SLOTS), np.nan)
    place = np.full(table.shape[1:], -1)
    for row, (_, values) in zip(table, days.temperatures(), strict=True):
        row[days.years - first, days.slots] = values
    place[days.years - first, days.slots] = np.arange(len(days))
    for later in range(1, table.shape[1]):
        same = (table[:, later] == table[:, :later].swapaxes(0, 1)).all(axis=1)
        for earlier in np.flatnonzero(same.sum(axis=1) >= SAME_DAYS).tolist():
            for slot, n in stretches(same[earlier]):
                if n >= SAME_DAYS:
                    says = f"figure by figure those of {first + earlier}; which year they are is not known"
                    yield Found(int(place[later, slot]), n, ("tmin", "tmax"), True, says)
