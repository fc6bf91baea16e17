"""A nought that stands for a missing reading."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from kailyard.weather.judging import Days, Found

NAME = "nought for missing"
HELP = "a temperature of exactly 0 °C (or 0 °F) that lies far from the usual: some recorders write it where they fail"
NEEDS_NEIGHBOUR = False

NOUGHTS_C = (0.0, -32 / 1.8)
ASKED, SURE = 3.5, 5.0
"""So many usual spreads off. [1]"""
APART_C = 15.0
"""Sure only where the day's other temperature lies this far away, is missing, or is a nought as well."""


def finds(days: Days) -> Iterator[Found]:
    """Each of the two temperatures for itself, unless both are noughts: then by the one that lies farther off."""
    exact = {name: np.any([np.abs(v - n) < 0.005 for n in NOUGHTS_C], axis=0) for name, v in days.temperatures()}
    off = {name: np.abs(v - days.usual_c[name]) / days.spread_c[name] for name, v in days.temperatures()}
    both = exact["tmin"] & exact["tmax"]
    alone = ~(np.abs(days.tmax_c - days.tmin_c) <= APART_C) | both
    for name, values in days.temperatures():
        far = np.where(both, np.maximum(off["tmin"], off["tmax"]), off[name])
        for i in np.flatnonzero(exact[name] & (far > ASKED)).tolist():
            says = f"exactly {values[i]:g} °C, {far[i]:.1f} usual spreads off"
            yield Found(i, 1, (name,), bool(far[i] > SURE and alone[i]), says)
