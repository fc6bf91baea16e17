"""Days written in another unit than their heading says."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from kailyard.weather.judging import Days, Found, stretches
from kailyard.weather.record import FloatArray

NAME = "another unit"
HELP = "both temperatures lie far off, and read as °F (or, under °F, as °C) both would be near the usual"
NEEDS_NEIGHBOUR = False

FAR, NEAR = 4.0, 2.5
"""Off by more than `FAR` usual spreads as written, by less than `NEAR` in the other unit."""
FAR_BETWEEN = 2.0
"""A day between two such days need be off by no more than this, nor be near in the other unit."""
SURE_DAYS = 3
"""So many days in a row are set aside; fewer that would be °F are asked about."""
CLEARLY = 6.0
"""A single day off by so many spreads in both temperatures is set aside too."""


def finds(days: Days) -> Iterator[Found]:
    """Stretches that fit in °F, then stretches that fit in °C."""
    for said, turn in (("°F", _from_f), ("°C", _to_f)):
        off, fits = _off(days, turn)
        for at, n in stretches(fits):
            sure = n >= SURE_DAYS or bool((off[at : at + n] > CLEARLY).all())
            if not sure and said == "°C":
                continue  # a real cold night can look like °C under °F: two in a row are no sign
            says = f"{days.tmin_c[at]:.1f} and {days.tmax_c[at]:.1f} °C would be {said}"
            yield Found(at, n, ("tmin", "tmax"), sure, says)


def _off(days: Days, turn: object) -> tuple[FloatArray, NDArray[np.bool_]]:
    assert callable(turn)
    written, turned = [], []
    for name, values in days.temperatures():
        usual, spread = days.usual_c[name], days.spread_c[name]
        written.append(np.abs(values - usual) / spread)
        turned.append(np.abs(turn(values) - usual) / spread)
    off = np.minimum(*written)
    fits = (off > FAR) & (np.maximum(*turned) < NEAR)
    fits[1:-1] |= fits[:-2] & fits[2:] & (off[1:-1] > FAR_BETWEEN)
    return off, fits


def _from_f(values: FloatArray) -> FloatArray:
    return (values - 32) / 1.8


def _to_f(values: FloatArray) -> FloatArray:
    return values * 1.8 + 32
