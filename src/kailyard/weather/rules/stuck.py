"""The same figure day after day."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from kailyard.weather.judging import Days, Found, equal_runs
from kailyard.weather.record import FloatArray

NAME = "stuck"
HELP = "the same temperature, or the same rain above 0.5 mm, for more days in a row than this record's steps allow"
NEEDS_NEIGHBOUR = False

CHANCE = 1e-3
"""A run that this record would hold by chance less often than so is asked about. Days hang together: hence `LEAST`."""
LEAST = {"one": 7, "both": 4, "rain": 4}
"""Shortest run that is asked about (sure where both temperatures stand still). [days]"""
SURE_MORE = 4
"""So many days more, and a run of one is set aside."""
LEAST_RAIN_MM = 0.5


def finds(days: Days) -> Iterator[Found]:
    """Runs of equal values, of one temperature, of both, of rain."""
    steps = ~np.isnan(np.diff(days.tmin_c + days.tmax_c))
    both = np.where((np.diff(days.tmin_c) == 0) & (np.diff(days.tmax_c) == 0), 0.0, 1.0)
    still = np.concatenate([[0.0], np.cumsum(np.where(steps, both, 1.0))])
    held = np.zeros(len(days), dtype=np.bool_)
    bound = _bound(both[steps], "both")
    for at, n in equal_runs(still):
        if n >= bound:
            held[at : at + n] = True
            yield Found(at, n, ("tmin", "tmax"), True, f"{days.tmin_c[at]:g} and {days.tmax_c[at]:g} °C every day")
    for name, values in (*days.temperatures(), ("rain", np.where(days.rain_mm > LEAST_RAIN_MM, days.rain_mm, np.nan))):
        differ = np.diff(values)
        kind, unit = ("rain", "mm") if name == "rain" else ("one", "°C")
        bound = _bound(differ[~np.isnan(differ)], kind)
        for at, n in equal_runs(values):
            if n >= bound and not held[at : at + n].all():
                yield Found(at, n, (name,), n >= bound + SURE_MORE, f"{values[at]:g} {unit} every day")


def _bound(differ: FloatArray, kind: str) -> int:
    """Days from which a run is asked about."""
    share = float(np.mean(differ == 0)) if len(differ) else 0.0
    if not 0 < share < 1:
        return LEAST[kind]
    return max(LEAST[kind], 1 + math.ceil(math.log(CHANCE / len(differ)) / math.log(share)))
