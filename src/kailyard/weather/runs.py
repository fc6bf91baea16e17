"""Runs of past years: which are whole enough to go on from, and what stands in for their missing days."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

import numpy as np

from kailyard.weather.days import same_day
from kailyard.weather.record import FloatArray, IntArray
from kailyard.weather.trend import smooth_by_slot

MOST_MISSING = 0.05
"""A run with a larger share of days without minimum or maximum is left out."""
LONGEST_STRAIGHT = 3
"""Gaps up to this long are drawn straight from neighbour to neighbour. [days]"""


@dataclass(frozen=True, slots=True, eq=False)
class Runs:
    """Usable runs, most recent year first, all within the days before today."""

    years: tuple[int, ...]
    starts: tuple[int, ...]
    """Index of each run's first day in the record."""
    index: IntArray
    """(runs, length) index of each day in the record."""
    ago: IntArray
    """(runs, length) years from each of these days to the one for which it stands."""
    left_out: tuple[tuple[int, int], ...]
    """Years that are not whole enough, and how many of their days are missing."""
    days_filled: int
    """Days, counted once, within the runs that lack minimum or maximum."""


def past_runs(tmin_c: FloatArray, tmax_c: FloatArray, *, first: date, today: date, length: int, most: int) -> Runs:
    """The most recent usable runs of `length` days from the calendar day of `today`.

    A run that reaches `today` before its end (last year's, where `length` is more than a year) goes on with the
    beginning of the oldest run that is used. So each year stands once for every day ahead, the last one too.

    Parameters
    ----------
    tmin_c, tmax_c : ndarray
        The record up to the day before `today`, NaN missing.
    first : date
        Its first day.
    """
    lacking = np.isnan(tmin_c) | np.isnan(tmax_c)
    before = np.concatenate([[0], np.cumsum(lacking)])
    years: list[int] = []
    starts: list[int] = []
    left_out: list[tuple[int, int]] = []
    for year in range(today.year - 1, first.year - 1, -1):
        at = same_day(today, year).toordinal() - first.toordinal()
        own = min(length, (today - first).days - at)
        if at + own > len(lacking) + MOST_MISSING * length:
            continue
        if at < 0 or len(years) == most:
            break
        end = min(at + own, len(lacking))
        missing = int(before[end] - before[at]) + at + own - end
        if missing > MOST_MISSING * length:
            left_out.append((year, missing))
            continue
        years.append(year)
        starts.append(at)
    index = np.array(starts, dtype=np.int64)[:, None] + np.arange(length)
    ago = np.repeat(today.year - np.array(years, dtype=np.int64)[:, None], length, axis=1)
    for run, at in enumerate(starts):
        # Up to today its own days, or the oldest run's where the record ends before today; then the oldest's beginning.
        own, there = min(length, (today - first).days - at), min(length, len(lacking) - at)
        index[run, there:own], ago[run, there:own] = index[-1, there:own], ago[-1, there:own]
        index[run, own:], ago[run, own:] = index[-1, : length - own], ago[-1, : length - own] + ago[run, 0]
    index = np.minimum(index, len(lacking) - 1)  # reached only by a record of less than `length` days: no odds then
    within = np.zeros(len(lacking), dtype=np.bool_)
    within[index] = True
    return Runs(tuple(years), tuple(starts), index, ago, tuple(left_out), int(np.count_nonzero(within & lacking)))


def fill_gaps(values: FloatArray, slots: IntArray) -> FloatArray:
    """`values` with no NaN between: short gaps drawn straight, longer ones usual weather plus neighbours' departure.

    The departure from the smooth climate is drawn straight from the day before the gap to the day after it; at an end
    of the record it stays that of the only neighbour. At least one value must be there.
    """
    missing = np.isnan(values)
    if not missing.any():
        return values
    days = np.arange(len(values))
    there = np.flatnonzero(~missing)
    usual = smooth_by_slot(values, slots)[slots]
    departure = np.interp(days, there, (values - usual)[there])
    straight = np.interp(days, there, values[there])
    after = np.searchsorted(there, days)
    inside = missing & (after > 0) & (after < len(there))
    gap = np.zeros(len(values), dtype=np.int64)
    gap[inside] = there[after[inside]] - there[after[inside] - 1] - 1
    short = inside & (gap <= LONGEST_STRAIGHT)
    return np.where(short, straight, np.where(missing, usual + departure, values))


def fill_rain(runs_mm: FloatArray) -> FloatArray:
    """Rain of all runs with none missing: a missing day takes that of the next run that has it.

    Taking over whole days keeps dry days dry and wet ones wet, which a mean would not. A day that no run has is 0.

    Parameters
    ----------
    runs_mm : ndarray
        (runs, days); the last run is followed by the first.
    """
    out = runs_mm.copy()
    for step in range(1, len(out)):
        missing = np.isnan(out)
        if not missing.any():
            return out
        out = np.where(missing, np.roll(runs_mm, -step, axis=0), out)
    return np.nan_to_num(out)
