"""Bulbs wait for the length of the day: when it is reached, and before which day none can be ripe."""

from __future__ import annotations

from datetime import date
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from kailyard.handbook.types import Handbook
from kailyard.science.sun import day_length_h
from kailyard.season.odds import BEYOND

FloatArray = NDArray[np.float64]


def days_long_enough(handbook: Handbook, crop: str, latitude: float, begin: int) -> int | None:
    """The day about `begin` from which days are long enough for the crop's bulbs to swell. [ordinal]

    None for a crop that does not wait for it, or is never begun. `begin` where no day is too short, half a year before
    where none is long enough: what is begun now is too late for the one that was.
    """
    needed = None if begin >= BEYOND else handbook.number(crop, "bulb_start_day_length_h")
    return None if needed is None else _reached(needed, latitude, begin)


def counts_from(handbook: Handbook, crop: str, latitude: float, begun: int) -> int | None:
    """The day from which warmth brings a crop on that stands still until days lengthen; None for others. [ordinal]

    What is planted in late summer, while days are long and shorten, waits for the spring.
    """
    needed = None if begun >= BEYOND else handbook.number(crop, "warmth_from_day_length_h")
    return None if needed is None else _next_reached(needed, latitude, begun, lengthening=True)


def not_ripe_before(handbook: Handbook, crop: str, latitude: float, begun: int) -> int | None:
    """The first day on which a bulb begun on a day can be ripe; None where that is not known. [ordinal]"""
    if begun >= BEYOND:
        return None
    swelling, needed = (handbook.number(crop, q) for q in ("bulb_days_min", "bulb_start_day_length_h"))
    if swelling is None or needed is None:
        return None
    return _next_reached(needed, latitude, begun, lengthening=False) + round(swelling)


@lru_cache(maxsize=1024)
def _next_reached(needed_h: float, latitude: float, begin: int, *, lengthening: bool) -> int:
    """`begin` where days are long enough then, and lengthen if that is asked; else the next day on which they are.

    `begin` too where no day of the year ahead is long enough, or none is too short.
    """
    hours = _hours(latitude, begin, begin + 367)
    long = hours >= needed_h
    if long[0] and (hours[1] > hours[0] or not lengthening):
        return begin
    rises = np.flatnonzero(long[1:] & ~long[:-1])
    return begin + 1 + int(rises[0]) if rises.size else begin


def _hours(latitude: float, first: int, end: int) -> FloatArray:
    of_year = [date.fromordinal(day).timetuple().tm_yday for day in range(first, end)]
    return day_length_h(latitude, np.array(of_year, dtype=np.float64))


@lru_cache(maxsize=1024)
def _reached(needed_h: float, latitude: float, begin: int) -> int:
    days = np.arange(begin - 183, begin + 184)
    long = _hours(latitude, begin - 183, begin + 184) >= needed_h
    rises = np.flatnonzero(long[1:] & ~long[:-1])
    if rises.size:
        return int(days[rises[-1] + 1])
    return begin if long.all() else int(days[0])
