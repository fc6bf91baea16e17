"""One hour far from the hour before and the hour after, both on the same side."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from kailyard.weather.hours import HourlyRecord
from kailyard.weather.judging import Found

NAME = "spike of an hour"
HELP = "one hour's temperature or dew point jumps away and back: 8 °C is asked about, 12 °C set aside"

ASKED_C, SURE_C = 8.0, 12.0
"""The smaller of the two steps. Four clean stations' years reach 5.5 °C: a front does not come back within an hour."""
REACH_HOURS = 2
"""A neighbour may be this far away, where the hour between is missing."""


def finds(record: HourlyRecord) -> Iterator[Found]:
    """Steps to the nearest hours that are there."""
    for name in ("temp_c", "dew_point_c"):
        values = record.columns[name]
        there = np.flatnonzero(~np.isnan(values))
        if len(there) < 3:
            continue
        x, apart = values[there], np.diff(there)
        before, after = x[1:-1] - x[:-2], x[1:-1] - x[2:]
        near = (apart[:-1] <= REACH_HOURS) & (apart[1:] <= REACH_HOURS)
        away = np.where(near & (before * after > 0), np.minimum(np.abs(before), np.abs(after)), 0.0)
        for k in np.flatnonzero(away >= ASKED_C).tolist():
            says = f"{x[k + 1]:.1f} °C between {x[k]:.1f} °C and {x[k + 2]:.1f} °C"
            yield Found(int(there[k + 1]), 1, (name,), bool(away[k] >= SURE_C), says)
