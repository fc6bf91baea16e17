"""From when a planting is safe in the open, and until when it still pays: by possible season."""

from __future__ import annotations

from datetime import date

import numpy as np

from kailyard.handbook.types import Handbook
from kailyard.season.clock import Clocks
from kailyard.season.odds import DayArray

SOIL_DAYS = 5
"""The soil counts as warm enough when its mean over this many days is."""


def midsummer_after(day: int, latitude: float) -> int:
    """The first split between spring and autumn frosts after `day`: 24 July north, 22 January south. [ordinal]"""
    d = date.fromordinal(day)
    month, dom = (7, 24) if latitude >= 0 else (1, 22)
    split = date(d.year, month, dom).toordinal()
    return split if split >= day else date(d.year + 1, month, dom).toordinal()


def tender(crop: str, handbook: Handbook) -> bool:
    """Does a light frost kill it?"""
    return handbook.text(crop, "hardiness_class") == "tender"


def frost_limit_c(crop: str, handbook: Handbook) -> float:
    """Garden minimum at or below which unprotected plants of the crop are hurt in earnest. [°C]"""
    limit = handbook.number(crop, "protect_below_c")
    if limit is None:
        limit = handbook.number(crop, "frost_damage_c" if tender(crop, handbook) else "kill_c", -40.0)
    return -40.0 if limit is None else limit


def kill_limit_c(crop: str, handbook: Handbook) -> float:
    """Garden minimum at which the plants die. [°C]"""
    limit = handbook.number(crop, "kill_c")
    return -40.0 if limit is None else limit


def spring_frost_over(clocks: Clocks, threshold_c: float, after: int, latitude: float) -> DayArray:
    """Day after the last night at or below the threshold between `after` and midsummer. (traces, 1)"""
    return clocks.last_cold(threshold_c, after, midsummer_after(after, latitude)) + np.int32(1)


def soil_warm(clocks: Clocks, threshold_c: float, after: DayArray) -> DayArray:
    """First day on or after `after` on which the soil's mean of five days reaches the threshold. (traces, draws)"""
    return clocks.warm_soil_after(threshold_c, SOIL_DAYS, after)


def safe_to_set_out(clocks: Clocks, handbook: Handbook, crop: str, after: int, latitude: float) -> DayArray:
    """First day from which frost no longer hurts and the soil is warm enough. (traces, 1)"""
    day = np.full((clocks.traces, 1), after, dtype=np.int32)
    minimum = handbook.number(crop, "min_soil_to_set_or_sow_c")
    if minimum is not None:
        day = soil_warm(clocks, minimum, day)
    return np.maximum(day, spring_frost_over(clocks, frost_limit_c(crop, handbook), after, latitude))
