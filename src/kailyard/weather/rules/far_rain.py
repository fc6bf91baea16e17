"""A day's rain far beyond anything else on the record."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from kailyard.weather.judging import Days, Found

NAME = "rain beyond the record"
HELP = "a day's rain is more than twice the next largest and more than four times what one wet day in a hundred has"
NEEDS_NEIGHBOUR = False

TIMES_NEXT, TIMES_RARE = 2.0, 4.0
LEAST_WET_DAYS = 100


def finds(days: Days) -> Iterator[Found]:
    """Only asked about: cloudbursts are real."""
    wet = np.flatnonzero(days.rain_mm > 0)
    if len(wet) < LEAST_WET_DAYS:
        return
    amounts = days.rain_mm[wet]
    order = np.argsort(amounts)[::-1]
    rare = float(np.quantile(amounts, 0.99))
    for k in range(min(5, len(order) - 1)):
        most, following = float(amounts[order[k]]), float(amounts[order[k + 1]])
        if most > TIMES_NEXT * following and most > TIMES_RARE * rare:
            for i in order[: k + 1].tolist():
                yield Found(int(wet[i]), 1, ("rain",), False, f"{amounts[i]:g} mm; else at most {following:g} mm")
            return
