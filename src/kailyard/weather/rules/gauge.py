"""Rain that a neighbour did not have, or had and this gauge did not."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from kailyard.weather.judging import Days, Found, stretches
from kailyard.weather.record import FloatArray

NAME = "gauge against gauge"
HELP = "over sixty days rain is under a fifth or over five times the neighbour's: blocked, spilt, or another unit"
NEEDS_NEIGHBOUR = True

WINDOW_DAYS = 60
TIMES = 5.0
LEAST_MM = 80.0
"""The wetter of the two has at least this much."""
GRACE_MM = 5.0
"""Added to both, so that almost nothing against little is no finding."""


def finds(days: Days) -> Iterator[Found]:
    """Asked about only: storms are narrow."""
    mine, theirs = days.rain_mm, days.beside_rain_mm
    if len(mine) < WINDOW_DAYS:
        return
    there = ~np.isnan(mine + theirs)
    a, b = _summed(np.where(there, mine, 0.0)), _summed(np.where(there, theirs, 0.0))
    enough = (_summed(there.astype(np.float64)) >= WINDOW_DAYS * 3 / 4) & (np.maximum(a, b) >= LEAST_MM)
    ratio = (a + GRACE_MM) / (b + GRACE_MM)
    for hit, words in ((ratio < 1 / TIMES, "less"), (ratio > TIMES, "more")):
        for start, n in stretches(enough & hit):
            end = start + n + WINDOW_DAYS - 1
            part = slice(start, end)
            both = there[part]
            says = f"far {words} than {days.called}: {mine[part][both].sum():.0f} mm against "
            yield Found(start, end - start, ("rain",), False, says + f"{theirs[part][both].sum():.0f} mm")


def _summed(values: FloatArray) -> FloatArray:
    total = np.concatenate([[0.0], np.cumsum(values)])
    return np.asarray(total[WINDOW_DAYS:] - total[:-WINDOW_DAYS])
