"""Bulbs wait for the length of the day: when it is reached, and before which day none can be ripe."""

from __future__ import annotations

from datetime import date
from functools import lru_cache

import numpy as np

from kailyard.handbook.types import Handbook
from kailyard.science.sun import day_length_h
from kailyard.season.odds import BEYOND


def days_long_enough(handbook: Handbook, crop: str, latitude: float, begin: int) -> int | None:
    """The day about `begin` from which days are long enough for the crop's bulbs to swell. [ordinal]

    None for a crop that does not wait for it, or is never begun. `begin` where no day is too short, half a year before
    where none is long enough: what is begun now is too late for the one that was.
    """
    needed = None if begin >= BEYOND else handbook.number(crop, "bulb_start_day_length_h")
    return None if needed is None else _reached(needed, latitude, begin)


def counts_from(handbook: Handbook, crop: str, latitude: float, begun: int) -> int | None:
    """The day from which warmth brings a crop on that stands still in the short days; None for others. [ordinal]"""
    needed = None if begun >= BEYOND else handbook.number(crop, "warmth_from_day_length_h")
    return None if needed is None else _reached(needed, latitude, begun)


def not_ripe_before(handbook: Handbook, crop: str, latitude: float, begun: int) -> int | None:
    """The first day on which a bulb begun on a day can be ripe; None where that is not known. [ordinal]"""
    if begun >= BEYOND:
        return None
    swelling = handbook.number(crop, "bulb_days_min")
    long = days_long_enough(handbook, crop, latitude, begun)
    return None if swelling is None or long is None else max(long, begun) + round(swelling)


@lru_cache(maxsize=1024)
def _reached(needed_h: float, latitude: float, begin: int) -> int:
    days = np.arange(begin - 183, begin + 184)
    of_year = np.array([date.fromordinal(int(d)).timetuple().tm_yday for d in days], dtype=np.float64)
    long = day_length_h(latitude, of_year) >= needed_h
    rises = np.flatnonzero(long[1:] & ~long[:-1])
    if rises.size:
        return int(days[rises[-1] + 1])
    return begin if long.all() else int(days[0])
