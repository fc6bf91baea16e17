"""Names for how cold and how hot a place or a night is: hardiness zones, heat zones, classes of freeze."""

from __future__ import annotations

from datetime import date
from typing import Annotated, NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from kailyard.science._air import AIR_C
from kailyard.science.checks import FloatArray, InputError
from kailyard.science.frost import NORTH
from kailyard.science.reckon import Quantity, reckoner

LOWEST_C = Quantity("°C", -70, 40)
NIGHTS_C = Quantity("°C", -70, 60, series=True)
HOT_DAYS = Quantity("d", 0, 366)
WIND_M_S = Quantity("m/s", 0, 60)

HARDINESS_ZONES = tuple(f"{zone}{half}" for zone in range(1, 14) for half in "ab")
"""By the number that `hardiness_zone` gives."""
FREEZE_CLASSES = ("no freeze", "light freeze", "moderate freeze", "severe freeze")
"""By the number that `freeze_class` gives."""
KILLING_C = -2.2
"""28 °F: the usual working value for a killing or hard freeze, not a law (25 in some areas, 32 in others). [°C]"""

_HEAT_BOUNDS = np.array([7.0, 14, 30, 45, 60, 90, 120, 150, 180, 210])
"""Most days of zones 2 to 11 (American Horticultural Society 1997). [d]"""


class YearlyExtremes(NamedTuple):
    """One value a year, for the years that can be told."""

    starts: NDArray[np.int64]
    value: FloatArray
    """NaN where too many days are missing."""


def _fahrenheit(temp_c: FloatArray) -> FloatArray:
    """Rounded to a millionth, so that what was 5 °F before it was °C is 5 again."""
    return np.asarray(np.round(temp_c * 1.8 + 32, 6))


@reckoner(
    gives={"zone": ""},
    source="USDA Plant Hardiness Zone Map 2012 and 2023: 5 °F steps from -60 °F",
    status="published",
    example={"mean_lowest_c": -24.6},
)
def hardiness_zone(mean_lowest_c: Annotated[ArrayLike, LOWEST_C]) -> FloatArray:
    """USDA half zone, counted from 0 (1a) to 25 (13b): 10 is 6a. It says nothing of summer heat, wet or snow cover.

    Parameters
    ----------
    mean_lowest_c : array_like
        Lowest temperature of each winter, averaged over some 30 of them (`winter_lows`), -70 to 40. [°C]

    Returns
    -------
    ndarray
        0 (1a) to 25 (13b), held to these ends; a value on a bound belongs to the warmer half zone (common practice);
        NaN stays NaN. [1]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    zone = floor[(°F + 60) / 5], held between 0 (1a) and 25 (13b): steps of 5 °F from −60 °F.

    References
    ----------
    .. [1] USDA Agricultural Research Service, Plant Hardiness Zone Map, 2012 and 2023 (bounds of the legend).
    """
    f = _fahrenheit(LOWEST_C.see("mean_lowest_c", mean_lowest_c))
    return np.asarray(np.clip(np.floor((f + 60) / 5), 0, 25))


@reckoner(
    gives={"zone": ""},
    source="American Horticultural Society Plant Heat-Zone Map 1997 (table seen in a secondary copy)",
    status="published",
    example={"mean_hot_days": 12},
)
def heat_zone(mean_hot_days: Annotated[ArrayLike, HOT_DAYS]) -> FloatArray:
    """AHS heat zone from the mean yearly count of days with a maximum over 30 °C (86 °F).

    Parameters
    ----------
    mean_hot_days : array_like
        Days a year with a maximum over 30 °C, averaged over the years (`hot_days` counts them), 0 to 366. [d]

    Returns
    -------
    ndarray
        1 (fewer than one day) to 12 (over 210): the smallest zone whose upper bound is not below the count; NaN stays
        NaN. [1]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    under 1 day: 1. Else the first zone whose most days are not fewer than the count: 2 to 7 days, 3 to 14, 4 to 30,
        5 to 45, 6 to 60, 7 to 90, 8 to 120, 9 to 150, 10 to 180, 11 to 210; over 210 days: 12.

    References
    ----------
    .. [1] American Horticultural Society, Plant Heat-Zone Map, 1997.
    """
    d = HOT_DAYS.see("mean_hot_days", mean_hot_days)
    zone = np.where(d < 1, 1.0, 2.0 + np.searchsorted(_HEAT_BOUNDS, d, side="left"))
    return np.asarray(np.where(np.isnan(d), np.nan, zone))


@reckoner(
    gives={"class": ""},
    source="US National Weather Service freeze classes: light 29-32, moderate 25-28, severe 24 °F and below",
    status="published",
    example={"tmin_c": -3},
)
def freeze_class(tmin_c: Annotated[ArrayLike, AIR_C]) -> FloatArray:
    """Class of a night's freeze: 0 none, 1 light, 2 moderate, 3 severe.

    The printed classes are whole degrees Fahrenheit: the reading is rounded to one first, halves up (common practice).

    Parameters
    ----------
    tmin_c : array_like
        Lowest of the night, -60 to 60. [°C]

    Returns
    -------
    ndarray
        0 to 3; NaN stays NaN. [1]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    °F to the nearest degree: 33 and above 0, none; 29 to 32: 1, light; 25 to 28: 2, moderate; 24 and below: 3, severe.

    References
    ----------
    .. [1] US National Weather Service and climate-centre classes, as reproduced in gardening glossaries.
    """
    t = AIR_C.see("tmin_c", tmin_c)
    f = np.floor(_fahrenheit(t) + 0.5)
    number = 0.0 + (f <= 32) + (f <= 28) + (f <= 24)
    return np.asarray(np.where(np.isnan(t), np.nan, number))


@reckoner(
    gives={"likely": ""},
    source="rule joined from Perry 1998 (clear, wind under 5 mph) and the frost advisory (36 °F and below)",
    status="common practice",
    example={"tmin_c": 1.5, "wind_m_s": 1},
)
def radiation_frost_possible(
    tmin_c: Annotated[ArrayLike, AIR_C], wind_m_s: Annotated[ArrayLike, WIND_M_S]
) -> FloatArray:
    """Whether a CLEAR night may bring ground frost: minimum in the screen 36 °F (2.2 °C) or lower, wind under 5 mph.

    A working rule; the user's own readings replace it. Wind of 5 mph and more with frost is advection frost, against
    which covers do little.

    Parameters
    ----------
    tmin_c : array_like
        Lowest of the night in the screen, -60 to 60. [°C]
    wind_m_s : array_like
        Wind of the night, 0 to 60. [m/s]

    Returns
    -------
    ndarray
        1 or 0; NaN stays NaN. [1]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    1 where Tmin ≤ 36 °F (2.2 °C) and wind < 5 mph (2.24 m/s), else 0; on a clear night.
    """
    t, wind = AIR_C.see("tmin_c", tmin_c), WIND_M_S.see("wind_m_s", wind_m_s)
    likely = (_fahrenheit(t) <= 36) & (wind < 5 * 0.44704)
    return np.asarray(np.where(np.isnan(t + wind), np.nan, 1.0 * likely))


def _years(values: FloatArray, first_day: date, split: tuple[int, int]) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    """For each day the index of its year (of cold seasons from the split on), and the years themselves."""
    days = np.datetime64(first_day, "D") + np.arange(len(values))
    year = days.astype("M8[Y]").astype(np.int64) + 1970
    starts = np.array([np.datetime64(date(int(y), *split), "D") for y in range(int(year[0]) - 1, int(year[-1]) + 2)])
    index = np.searchsorted(starts, days, side="right") - 1
    return index - index[0], np.arange(index[-1] - index[0] + 1) + int(year[0]) - 1 + index[0]


def _lengths(starts: NDArray[np.int64], split: tuple[int, int]) -> NDArray[np.int64]:
    return np.array([(date(int(y) + 1, *split) - date(int(y), *split)).days for y in starts])


def _row_of_days(name: str, values: ArrayLike) -> FloatArray:
    x = NIGHTS_C.see(name, values)
    if x.ndim != 1 or not len(x):
        raise InputError(f"{name}: one row of days is needed.")
    return x


def winter_lows(
    tmin_c: ArrayLike, *, first_day: date, split: tuple[int, int] = NORTH, most_missing: int = 10
) -> YearlyExtremes:
    """Lowest temperature of each winter, for `hardiness_zone`.

    Parameters
    ----------
    tmin_c : array_like, (days,)
        Daily minimum without a break in days, -70 to 60; NaN for a missing night. [°C]
    first_day : date
        Day of the first value.
    split : (month, day)
        Mid-summer day on which a cold season begins; `frost.NORTH` or `frost.SOUTH`.
    most_missing : int
        Nights that may be missing in a winter that is still told.

    Returns
    -------
    YearlyExtremes
        By the year in which the cold season begins. [a, °C]

    Raises
    ------
    InputError
        If a value is out of range or `tmin_c` is not one row of days.

    References
    ----------
    .. [1] USDA Plant Hardiness Zone Map 2023: lowest temperature of each winter, averaged over 30 years.
    """
    nights = _row_of_days("tmin_c", tmin_c)
    index, starts = _years(nights, first_day, split)
    lows = np.full(len(starts), np.inf)
    there = ~np.isnan(nights)
    np.minimum.at(lows, index[there], nights[there])
    missing = _lengths(starts, split) - np.bincount(index[there], minlength=len(starts))
    return YearlyExtremes(starts, np.asarray(np.where(missing <= most_missing, lows, np.nan)))


def hot_days(tmax_c: ArrayLike, *, first_day: date, most_missing: int = 10) -> YearlyExtremes:
    """Days over 30 °C (86 °F) in each calendar year, for `heat_zone`. Some texts count those at 30 °C too.

    Parameters
    ----------
    tmax_c : array_like, (days,)
        Daily maximum without a break in days, -70 to 60; NaN for a missing day. [°C]
    first_day : date
        Day of the first value.
    most_missing : int
        Days that may be missing in a year that is still told.

    Returns
    -------
    YearlyExtremes
        By calendar year. [a, d]

    Raises
    ------
    InputError
        If a value is out of range or `tmax_c` is not one row of days.

    References
    ----------
    .. [1] American Horticultural Society, Plant Heat-Zone Map, 1997.
    """
    days = _row_of_days("tmax_c", tmax_c)
    index, starts = _years(days, first_day, (1, 1))
    there = ~np.isnan(days)
    count = np.bincount(index[there & (days > 30)], minlength=len(starts)).astype(np.float64)
    missing = _lengths(starts, (1, 1)) - np.bincount(index[there], minlength=len(starts))
    return YearlyExtremes(starts, np.asarray(np.where(missing <= most_missing, count, np.nan)))
