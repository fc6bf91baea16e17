"""Days entered a day early or late, seen against a neighbour."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from kailyard.weather.judging import Days, Found, stretches
from kailyard.weather.record import FloatArray

NAME = "a day's shift"
HELP = "the steps from day to day agree with the neighbour's of the day before or after far better than of the same day"
NEEDS_NEIGHBOUR = True

WINDOW_DAYS = 45
BETTER, AT_LEAST = 0.3, 0.6
"""The shifted correlation is this much higher, and this high."""


def finds(days: Days) -> Iterator[Found]:
    """Asked about only: many observers read at seven in the morning and write the maximum down on that day."""
    beside = {"tmin": days.beside_tmin_c, "tmax": days.beside_tmax_c}
    for name, values in days.temperatures():
        mine, theirs = np.diff(values), np.diff(beside[name])
        same = _windowed(mine, theirs)
        for shift, words in ((1, "a day late"), (-1, "a day early")):
            moved = np.full_like(theirs, np.nan)
            if shift > 0:
                moved[shift:] = theirs[:-shift]
            else:
                moved[:shift] = theirs[-shift:]
            other = _windowed(mine, moved)
            hit = (other > AT_LEAST) & (other > same + BETTER)
            for start, n in stretches(_spread(hit, len(values))):
                says = f"days seem to be {words} against the neighbour's"
                yield Found(start, n, (name,), False, says)


def _spread(hit: NDArray[np.bool_], length: int) -> NDArray[np.bool_]:
    """Days within any window that was hit: its middle two thirds, since a window half in a shift already shows it."""
    out = np.zeros(length, dtype=np.bool_)
    for start, n in stretches(hit):
        out[start + WINDOW_DAYS // 6 : start + n + WINDOW_DAYS - WINDOW_DAYS // 6] = True
    return out


def _windowed(a: FloatArray, b: FloatArray) -> FloatArray:
    """Correlation of each window of `WINDOW_DAYS` pairs; -1 where a third of them is missing."""
    if len(a) < WINDOW_DAYS:
        return np.full(0, -1.0)
    there = ~np.isnan(a + b)
    x, y = np.where(there, a, 0.0), np.where(there, b, 0.0)

    def summed(values: FloatArray) -> FloatArray:
        total = np.concatenate([[0.0], np.cumsum(values)])
        return np.asarray(total[WINDOW_DAYS:] - total[:-WINDOW_DAYS])

    n = np.maximum(summed(there.astype(np.float64)), 1.0)
    mx, my = summed(x) / n, summed(y) / n
    covariance = summed(x * y) / n - mx * my
    scale = np.sqrt(np.maximum((summed(x * x) / n - mx**2) * (summed(y * y) / n - my**2), 1e-9))
    return np.where(n >= WINDOW_DAYS * 2 / 3, covariance / scale, -1.0)
