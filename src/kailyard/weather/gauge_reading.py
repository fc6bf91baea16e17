"""Whether a reading of the garden's rain gauge lies so far from the station's rain that it is asked about at once."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, timedelta

import numpy as np

from kailyard.weather.record import DailyRecord

TIMES = 4.0
"""So many times apart is asked about: inches read as millimetres are 25 times, centimetres 10 times."""
LEAST_MM = 15.0
"""One reading of less is not asked about: small showers are narrow."""
LEAST_TOGETHER_MM = 30.0
"""The wetter of the two sums has at least this much."""
TOGETHER_DAYS = 30
"""Readings of so many days back are summed."""
LEAST_READINGS = 4


def reading_question(record: DailyRecord, gauge_mm: Mapping[date, float], day: date) -> str:
    """A question about the reading of `day`; '' where it may well be.

    One reading is held against the station's rain of the day with the day before and after, for gauges are read and
    dated differently; what was read lately, against the station's of the same days. Storms are
    narrow: it is only asked.

    Parameters
    ----------
    record : DailyRecord
        The station's.
    gauge_mm : mapping
        What the garden's gauge was read at, by day. [mm]
    """
    read = gauge_mm.get(day)
    if read is None:
        return ""
    near = [mm for n in (-1, 0, 1) if (mm := _rain(record, day + timedelta(days=n))) is not None]
    if near and read >= LEAST_MM and read >= TIMES * sum(near):
        return f"Is {read:.1f} mm right? The station had {sum(near):.1f} mm on that day, the day before and after."
    since = day - timedelta(days=TOGETHER_DAYS - 1)
    pairs = [
        (mm, theirs)
        for one, mm in gauge_mm.items()
        if since <= one <= day and (theirs := _rain(record, one)) is not None
    ]
    mine, theirs = (sum(p[n] for p in pairs) for n in (0, 1))
    if (
        len(pairs) >= LEAST_READINGS
        and max(mine, theirs) >= LEAST_TOGETHER_MM
        and max(mine, theirs) >= TIMES * min(mine, theirs)
    ):
        return (
            f"Is the gauge right? On {len(pairs)} days since {since.day} {since:%B} it was read at {mine:.1f} mm "
            f"together; the station had {theirs:.1f} mm on them."
        )
    return ""


def _rain(record: DailyRecord, day: date) -> float | None:
    at = (day - record.first).days
    if not 0 <= at < len(record) or np.isnan(record.rain_mm[at]):
        return None
    return float(record.rain_mm[at])
