"""One day far from the day before and the day after, both on the same side."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from kailyard.weather.judging import Days, Found

NAME = "spike"
HELP = "one day's temperature jumps away and back, many times farther than this record usually does"
NEEDS_NEIGHBOUR = False

SURE_TIMES, SURE_C = 9.0, 12.0
"""So many times the usual of such jumps, and so far: set aside. Clean records reach 7.8 times."""
ASKED_TIMES, ASKED_C = 6.5, 8.0


def finds(days: Days) -> Iterator[Found]:
    """The smaller of the two steps, against the robust spread of the mean step in that season."""
    for name, values in days.temperatures():
        if len(values) < 3:
            return
        there, back = np.full(len(values), np.nan), np.full(len(values), np.nan)
        there[1:] = np.diff(values)
        back[:-1] = -np.diff(values)
        usual = days.by_month(1.4826 * days.monthly_median(np.abs(there + back) / 2))
        away = np.where(there * back > 0, np.minimum(np.abs(there), np.abs(back)), 0.0)
        times = np.divide(away, np.maximum(usual, 0.5))
        for i in np.flatnonzero((times >= ASKED_TIMES) & (away >= ASKED_C)).tolist():
            sure = bool(times[i] >= SURE_TIMES and away[i] >= SURE_C)
            says = f"{values[i]:g} °C between {values[i - 1]:g} °C and {values[i + 1]:g} °C"
            yield Found(i, 1, (name,), sure, says)
