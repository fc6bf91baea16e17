"""Days made of hours: lowest, highest and rain from midnight to midnight where the garden is."""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta, tzinfo

import numpy as np

from kailyard.errors import DataError
from kailyard.weather.hours import HourlyRecord, hour_number
from kailyard.weather.record import DailyRecord, FloatArray, read_only

MOST_HOURS_MISSING = 2
"""A day with more hours missing gets no value: its coldest or wettest hour may be among them (ours)."""


def midnight(day: date, zone: tzinfo) -> int:
    """The hour at which a day begins on the clock of `zone`, as `hour_number` counts; half hours are rounded down."""
    return hour_number(datetime.combine(day, time(), zone).astimezone(UTC))


def days_of_hours(record: HourlyRecord, zone: tzinfo) -> DailyRecord:
    """The days that the hours make, from midnight to midnight of the clock in `zone`.

    A day of 23 or 25 hours, when the clock is changed, is a day. Readings on the hour miss the moment between that a
    thermometer's own lowest and highest would have caught: see the note in `docs/explanation/possible-seasons.md`.

    Raises
    ------
    DataError
        If no day is whole enough.
    """
    first = record.first.astimezone(zone).date()
    last = (record.last + timedelta(hours=1)).astimezone(zone).date()
    count = (last - first).days + 1
    bounds = np.array([midnight(first + timedelta(days=i), zone) for i in range(count + 1)])
    base = int(bounds[0])
    whole = int(bounds[-1]) - base
    at = hour_number(record.first) - base
    parts = []
    for values in (record.temp_c, record.temp_c, record.rain_mm):
        cells = np.full(whole, np.nan)
        lo, hi = max(at, 0), min(at + len(values), whole)
        cells[lo:hi] = values[lo - at : hi - at]
        parts.append(cells)
    starts = bounds[:-1] - base
    low = _by_day(parts[0], starts, np.minimum, np.inf)
    high = _by_day(parts[1], starts, np.maximum, -np.inf)
    rain = _by_day(parts[2], starts, np.add, 0.0)
    known = np.flatnonzero(~np.isnan(low) | ~np.isnan(rain))
    if not len(known):
        raise DataError(f"{record.source or 'hourly record'}: no day has enough hours to make its low, high or rain.")
    cut = slice(int(known[0]), int(known[-1]) + 1)
    return DailyRecord(
        first + timedelta(days=int(known[0])),
        read_only(low[cut]),
        read_only(high[cut]),
        read_only(rain[cut]),
        f"{record.source}, days made of hours from midnight to midnight",
        record.set_aside,
    )


def _by_day(cells: FloatArray, starts: np.ndarray, gather: np.ufunc, nothing: float) -> FloatArray:
    """`gather` over the hours of each day; NaN where more than `MOST_HOURS_MISSING` are missing."""
    missing = np.add.reduceat(np.isnan(cells).astype(np.int64), starts)
    lengths = np.diff(starts, append=len(cells))
    made = np.asarray(gather.reduceat(np.where(np.isnan(cells), nothing, cells), starts), dtype=np.float64)
    return np.where(missing > np.minimum(MOST_HOURS_MISSING, lengths - 1), np.nan, np.round(made, 3))
