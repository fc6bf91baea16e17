"""From when a planting is safe in the open, and until when it still pays: by possible season."""

from __future__ import annotations

from datetime import date

import numpy as np

from kailyard.handbook.types import Handbook
from kailyard.season.clock import Clocks
from kailyard.season.odds import BEYOND, DayArray

SOIL_DAYS = 5
"""The soil counts as warm enough when its mean over this many days is."""

SHORTEST_LIFE_DAYS = 35
"""What is sown so shortly before the night that kills it is not ripe in time, whatever it is: spring is awaited."""


def midsummer_after(day: int, latitude: float) -> int:
    """The first split between spring and autumn frosts after `day`: 24 July north, 22 January south. [ordinal]"""
    d = date.fromordinal(day)
    month, dom = (7, 24) if latitude >= 0 else (1, 22)
    split = date(d.year, month, dom).toordinal()
    return split if split >= day else date(d.year + 1, month, dom).toordinal()


def cooling_half(day: int, latitude: float) -> bool:
    """Does the day lie between midsummer and midwinter, as the frosts are split?"""
    return midsummer_after(day, -latitude if latitude else -1.0) < midsummer_after(day, latitude)


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


def soil_warm(clocks: Clocks, threshold_c: float, after: DayArray) -> DayArray:
    """First day on or after `after` on which the soil's mean of five days reaches the threshold. (traces, draws)"""
    return clocks.warm_soil_after(threshold_c, SOIL_DAYS, after)


def frost_over(clocks: Clocks, crop: str, handbook: Handbook, day: DayArray, latitude: float) -> DayArray:
    """First day on or after `day` from which frost no longer hurts. (traces, 1)

    In the year's cooling half there is no spring frost to wait for, unless the night that kills is as likely as not to
    come so soon that nothing begun now is ripe before.
    """
    limit, killing, out = frost_limit_c(crop, handbook), kill_limit_c(crop, handbook), day.copy()
    for one in np.unique(day[day < BEYOND]).tolist():
        if cooling_half(one, latitude):
            ends = clocks.cold_after(killing, np.full_like(day, one))
            if float(np.mean(ends - one < SHORTEST_LIFE_DAYS)) < 0.5:
                continue
        over = clocks.last_cold(limit, one, midsummer_after(one, latitude)) + np.int32(1)
        out = np.where(day == one, over, out)
    return out.astype(np.int32)


def safe_to_set_out(clocks: Clocks, handbook: Handbook, crop: str, after: int, latitude: float) -> DayArray:
    """First day from which the soil is warm enough (or, for what is planted in autumn, cool enough) and frost no
    longer hurts. (traces, 1)"""
    day = np.full((clocks.traces, 1), after, dtype=np.int32)
    cooled = handbook.number(crop, "plant_when_soil_below_c")
    if cooled is not None:
        return clocks.cool_soil_after(cooled, SOIL_DAYS, day)
    minimum = handbook.number(crop, "min_soil_to_set_or_sow_c")
    if minimum is not None:
        day = soil_warm(clocks, minimum, day)
    return frost_over(clocks, crop, handbook, day, latitude)


def sets_after(handbook: Handbook, crop: str, today: int, latitude: float) -> int:
    """From when a planting that has no planned day is thought of: what goes into cooling soil waits for that half of
    the year. [ordinal]"""
    waits = handbook.get(crop, "plant_when_soil_below_c") is not None and not cooling_half(today, latitude)
    return midsummer_after(today, latitude) if waits else today
