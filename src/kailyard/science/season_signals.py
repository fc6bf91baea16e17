"""What tells a plant the season: length of day for bulbs, a spell of cold for bolting."""

from __future__ import annotations

from typing import Annotated

import numpy as np
from numpy.typing import ArrayLike

from kailyard.science.checks import FloatArray, InputError
from kailyard.science.reckon import Quantity, reckoner
from kailyard.science.sun import LATITUDE_DEG, day_length_h

HOURS = Quantity("h", 0, 24)
MEANS_C = Quantity("°C", -60, 60, series=True)
BAND_C = Quantity("°C", -20, 30)
DAY_INDEX = Quantity("d", 0, 5000)
DAYS = Quantity("d", 0, 1000)

ONION_CLASSES = ("none", "short-day", "intermediate-day", "long-day")
"""By the number that `onion_class_bulbing` gives: the class that needs the longest day among those that bulb."""

_WEEKS = {"tmean_c": [14, 12, 9, 7, 8, 11, 9, 6], "low_c": 4, "high_c": 10, "from_day": 1}


@reckoner(
    gives={"day": "d"},
    source="sunrise to sunset (Spencer 1971) searched from midwinter on",
    status="published",
    example={"latitude_deg": 40, "hours": 14},
)
def first_day_of_length(
    latitude_deg: Annotated[ArrayLike, LATITUDE_DEG], hours: Annotated[ArrayLike, HOURS]
) -> FloatArray:
    """First day after midwinter that is at least so long, sunrise to sunset.

    Parameters
    ----------
    latitude_deg : array_like
        North positive; in the south midwinter is 21 June. [°]
    hours : array_like
        Length of day, 0 to 24; broadcasts with `latitude_deg`. [h]

    Returns
    -------
    ndarray
        Day of the year, 1 to 365: the first of the calendar year (in the south: 22 June or after, running on through
        the year's end) that reaches the length; NaN where none does. [d]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    Day by day from midwinter, the first with day_length_h(latitude, day) ≥ hours.

    References
    ----------
    .. [1] J. W. Spencer, Search 2(5), 1971, p. 172.
    """
    phi, wanted = np.broadcast_arrays(LATITUDE_DEG.see("latitude_deg", latitude_deg), HOURS.see("hours", hours))
    days = np.where(phi[..., np.newaxis] >= 0, np.arange(1, 366), (np.arange(365) + 172) % 365 + 1)
    long_enough = day_length_h(phi[..., np.newaxis], days) >= wanted[..., np.newaxis]
    at = np.argmax(long_enough, axis=-1)[..., np.newaxis]
    day = np.take_along_axis(days, at, axis=-1)[..., 0].astype(np.float64)
    return np.asarray(np.where(long_enough.any(axis=-1), day, np.nan))


@reckoner(
    gives={"class": ""},
    source="Myers 2006, Oregon State Univ. Extension: short-day from 11 h, intermediate from 13, long-day from 14",
    status="published",
    example={"day_length_h": 14.2},
)
def onion_class_bulbing(day_length_h: Annotated[ArrayLike, HOURS]) -> FloatArray:
    """The onion class that begins to bulb at a length of day: 0 none, 1 short-day, 2 intermediate-day, 3 long-day.

    Trade lists run about an hour lower (10 to 12, 12 to 14, 14 to 16). Bulbing also needs warmth and leaves: a cool
    spring delays it, and each leaf makes one ring.

    Parameters
    ----------
    day_length_h : array_like
        Sunrise to sunset, 0 to 24. [h]

    Returns
    -------
    ndarray
        0 below 11 h, 1 below 13, 2 below 14, else 3; NaN stays NaN. [1]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    under 11 h: 0, none; 11 h: 1, short-day; 13 h: 2, intermediate-day; 14 h and more: 3, long-day.

    References
    ----------
    .. [1] J. Myers, "Onion bulb formation is strongly linked with day length", Oregon State Univ. Extension, 2006.
    """
    h = HOURS.see("day_length_h", day_length_h)
    return np.asarray(np.where(np.isnan(h), np.nan, 0.0 + (h >= 11) + (h >= 13) + (h >= 14)))


@reckoner(
    gives={"days": "d"},
    source="days with a mean in the band after the plant has its size (joined from extension rules)",
    status="common practice",
    example=_WEEKS,
)
def cold_days(
    tmean_c: Annotated[ArrayLike, MEANS_C],
    *,
    low_c: Annotated[float, BAND_C] = 0.0,
    high_c: Annotated[float, BAND_C] = 10.0,
    from_day: Annotated[ArrayLike, DAY_INDEX] = 0.0,
) -> FloatArray:
    """Running count of vernalising days: those with a mean in a band, once the plant is big enough to feel them.

    Size comes first, cold second, often long days third. Bands and days by crop stand in the handbook; warm days may
    undo part of a mild chilling, and no published measure of that was found, so none is taken off here.

    Parameters
    ----------
    tmean_c : array_like, (..., days)
        Daily mean in order of time, -60 to 60; a missing day counts for nothing. [°C]
    low_c, high_c : float
        The band, both ends included, -20 to 30; 0 to 10 °C (up to 50 °F) for most vegetables. [°C]
    from_day : array_like, (...)
        Day on which the plant has its size, the first of the run being 0. [d]

    Returns
    -------
    ndarray
        Shape of `tmean_c`: cold days up to and including each day. [d]

    Raises
    ------
    InputError
        If a value is out of range, the band upside down, or `tmean_c` a single number.

    Formula
    -------
    count(d) = number of days i from from_day to d with low_c ≤ tmean_c(i) ≤ high_c.
    """
    t = MEANS_C.see("tmean_c", tmean_c)
    low, high = BAND_C.hold_number("low_c", low_c), BAND_C.hold_number("high_c", high_c)
    if t.ndim == 0:
        raise InputError("tmean_c: a run of days is needed, along the last axis.")
    if low > high:
        raise InputError(f"low_c: {low:g} is above high_c, {high:g}.")
    start = DAY_INDEX.see("from_day", from_day)[..., np.newaxis]
    counted = (t >= low) & (t <= high) & (np.arange(t.shape[-1]) >= start)
    return np.asarray(np.cumsum(counted, axis=-1, dtype=np.float64))


@reckoner(
    gives={"day": "d"},
    source="first day on which the count reaches what the crop needs (definition)",
    status="common practice",
    example={"count_days": [0, 0, 1, 2, 2, 3], "needed_days": 2},
)
def day_reached(
    count_days: Annotated[ArrayLike, Quantity("d", 0, 5000, series=True)], needed_days: Annotated[ArrayLike, DAYS]
) -> FloatArray:
    """Index of the first day on which a running count (of `cold_days`) reaches what is needed.

    Parameters
    ----------
    count_days : array_like, (..., days)
        Running count, as `cold_days` gives it: never falling. [d]
    needed_days : array_like, (...)
        0 to 1000. [d]

    Returns
    -------
    ndarray, (...)
        NaN where the count never comes so far. [d]

    Raises
    ------
    InputError
        If a value is out of range or `count_days` a single number.

    Formula
    -------
    the first d with count_days(d) ≥ needed_days, counted from 0.
    """
    count = Quantity("d", 0, 5000).see("count_days", count_days)
    if count.ndim == 0:
        raise InputError("count_days: a run of days is needed, along the last axis.")
    there = count >= DAYS.see("needed_days", needed_days)[..., np.newaxis]
    return np.asarray(np.where(there.any(axis=-1), np.argmax(there, axis=-1), np.nan))
