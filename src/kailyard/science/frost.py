"""First and last freeze of each cold season, and their odds, years without a freeze counted rightly.

Conventions
-----------
* A cold season runs from one mid-summer day (the split) to the next, and both freezes are taken from the same cold
  season. The split is 1 August in the north (as in Climatography of the United States No. 20) and 1 February in the
  south. A calendar-year split would fail where winters hardly freeze.
* Days are counted from the split on the calendar of a common year: the split itself is 0, 29 February shares the
  number of 28 February. `calendar_day` turns a number back into month and day.
* A cold season without a freeze is not a missing one: it stands as NaN among the counted seasons, stays in the
  denominator of the share, and is never given a made-up date.
* A season with one freeze has it as its first and its last (Climatography No. 20 calls such a season freezeless).
* `level` is a chance from 0 to 1. Last freeze: the chance of that day OR LATER (0.1 is the late, safe day). First
  freeze: the chance of that day OR EARLIER (0.1 is the early day).
* The odds are of the station's screen at 1.5 to 2 m. Ground, hollows, roofs and walls differ by days or weeks.
"""

from __future__ import annotations

from datetime import date, timedelta
from statistics import NormalDist
from typing import Annotated, NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from kailyard.science.checks import FloatArray, InputError
from kailyard.science.reckon import Quantity, reckoner

NIGHTS_C = Quantity("°C", -60, 60, series=True)
THRESHOLD_C = Quantity("°C", -30, 10)
DAYS = Quantity("d", -366, 1100, series=True)
DAY = Quantity("d", -366, 1100)
YEARS = Quantity("a", 1, 500)
SHARE = Quantity("", 0, 1)
SPREAD_D = Quantity("d", 0, 200)
LEVEL = Quantity("", 0, 1)

NORTH = (8, 1)
"""Month and day at which the northern cold season begins to be counted."""
SOUTH = (2, 1)

_NORMAL = NormalDist()
_quantile = np.vectorize(_NORMAL.inv_cdf, otypes=[np.float64])
_cdf = np.vectorize(_NORMAL.cdf, otypes=[np.float64])

_SERIES = [118, 125, 110, 131, 122, 115, 128, 119, np.nan, np.nan]
_MODEL = {"share": 0.8, "mean_day": 121.0, "sd_days": 6.93}
_THOM = "Thom 1959, Mon. Weather Rev. 87:136-144; Thom and Shaw 1958, Mon. Weather Rev. 86:251-257 (where share is 1)"


class FreezeSeasons(NamedTuple):
    """Cold seasons of a record, one entry each, in order of time."""

    starts: NDArray[np.int64]
    """Year in which the cold season begins."""
    first: FloatArray
    """First freeze, days from the split; NaN where the season had none."""
    last: FloatArray
    """Last freeze, days from the split; NaN where the season had none."""
    counted: NDArray[np.bool_]
    """False where too many nights are missing to tell: leave the season out altogether."""


class FreezeMixture(NamedTuple):
    """Odds of a freeze date: the share of years that have one, and the normal distribution of its day in those."""

    share: float
    mean_day: float
    sd_days: float


def _common_day(month: int, day: int) -> int:
    try:
        return date(2001, month, day).timetuple().tm_yday
    except ValueError:
        raise InputError(f"split: month {month}, day {day} is no day of a common year.") from None


def freeze_seasons(
    tmin_c: ArrayLike,
    *,
    first_day: date,
    threshold_c: float = 0.0,
    split: tuple[int, int] = NORTH,
    most_missing: int = 10,
) -> FreezeSeasons:
    """First and last day at or below a threshold in every cold season that the record touches.

    Parameters
    ----------
    tmin_c : array_like, (days,)
        Daily minimum without a break in days, -60 to 60; NaN for a missing night. [°C]
    first_day : date
        Day of the first value.
    threshold_c : float
        A night at or below it counts, -30 to 10. [°C]
    split : (month, day)
        Mid-summer day at which a cold season begins: `NORTH` or `SOUTH`.
    most_missing : int
        Nights that may be missing (or lie outside the record) in a season that is still counted.

    Returns
    -------
    FreezeSeasons
        Day numbers 0 to 364 from the split; see the conventions at the top of this module.

    Raises
    ------
    InputError
        If a value is out of range, `tmin_c` is not one row of days, or the split is no day of a common year.

    References
    ----------
    .. [1] C. K. Vestal, Mon. Weather Rev. 99, 1971, p. 650 (both freezes from the same cold season; abstract seen).
    .. [2] National Climatic Data Center, Climatography of the United States No. 20, 1988 (31 July / 1 August split).
    """
    nights = NIGHTS_C.hold("tmin_c", tmin_c)
    threshold = THRESHOLD_C.hold_number("threshold_c", threshold_c)
    if nights.ndim != 1 or not len(nights):
        raise InputError("tmin_c: one row of days is needed.")
    split_day = _common_day(*split)

    days = np.datetime64(first_day, "D") + np.arange(len(nights))
    year = days.astype("M8[Y]").astype(np.int64) + 1970
    day_of_year = (days - days.astype("M8[Y]")).astype(np.int64) + 1
    leap = (year % 4 == 0) & ((year % 100 != 0) | (year % 400 == 0))
    common = day_of_year - (leap & (day_of_year >= 60))
    from_split = (common - split_day) % 365
    start = year - (common < split_day)

    starts = np.arange(start[0], start[-1] + 1)
    season = start - start[0]
    first, last = np.full(len(starts), np.inf), np.full(len(starts), -np.inf)
    frozen = nights <= threshold
    np.minimum.at(first, season[frozen], from_split[frozen])
    np.maximum.at(last, season[frozen], from_split[frozen])

    present = np.bincount(season[~np.isnan(nights)], minlength=len(starts))
    length = np.array([date(int(y) + 1, *split).toordinal() - date(int(y), *split).toordinal() for y in starts])
    none = np.isinf(first)
    first[none] = last[none] = np.nan
    return FreezeSeasons(starts, first, last, length - present <= most_missing)


def calendar_day(days_from_split: float, *, split: tuple[int, int] = NORTH) -> tuple[int, int]:
    """Month and day of a count of days from the split, to the nearest day of a common year.

    Raises
    ------
    InputError
        If the count is NaN or outside -366 to 1100, or the split is no day of a common year.
    """
    count = DAY.hold_number("days_from_split", days_from_split)
    day_of_year = (_common_day(*split) - 1 + int(np.floor(count + 0.5))) % 365
    on = date(2001, 1, 1) + timedelta(days=day_of_year)
    return on.month, on.day


def freeze_free_days(seasons: FreezeSeasons) -> tuple[NDArray[np.int64], FloatArray]:
    """Days strictly between the last freeze of each cold season and the first of the next.

    Returns
    -------
    starts : ndarray
        Year in which the later of the two cold seasons begins; in the north the growing season's own year.
    length : ndarray
        NaN where either season had no freeze. Pairs with a season that is not counted are left out. [d]

    References
    ----------
    .. [1] Climatography of the United States No. 20, 1988: first - last - 1.
    """
    both = seasons.counted[:-1] & seasons.counted[1:]
    length = seasons.first[1:] + 365 - seasons.last[:-1] - 1
    return seasons.starts[1:][both], np.asarray(length[both])


@reckoner(
    gives={"share": "", "mean_day": "d", "sd_days": "d"}, source=_THOM, status="published", example={"days": _SERIES}
)
def freeze_mixture(days: Annotated[ArrayLike, DAYS], n_years: Annotated[float | None, YEARS] = None) -> FreezeMixture:
    """Share of years with a freeze, and mean and standard deviation of its day in those years.

    Parameters
    ----------
    days : array_like, (years,)
        Day of the last (or first) freeze, any count of days that does not break within winter, -366 to 1100; missing
        for a year without one. [d]
    n_years : float, optional
        All years looked at; without it the length of `days`. Needed where years without a freeze are not in `days`.

    Returns
    -------
    FreezeMixture
        Standard deviation with divisor n - 1; NaN below two freezes, and the mean NaN without any. [1, d, d]

    Raises
    ------
    InputError
        If a value is out of range, `days` is empty, or there are more freezes than years.

    Formula
    -------
    p = years with a freeze / all years;  m = Σ d / n;  s = √[Σ (d − m)² / (n − 1)]
    with d the n freeze days. Years without a freeze count in p only.

    References
    ----------
    .. [1] H. C. S. Thom, "The distribution of freeze-date and freeze-free period for climatological series with
       freezeless years", Mon. Weather Rev. 87, 1959, pp. 136-144.
    """
    x = np.atleast_1d(DAYS.hold("days", days)).ravel()
    years = YEARS.hold_number("n_years", len(x) if n_years is None else n_years)
    freezes = x[~np.isnan(x)]
    if len(freezes) > years:
        raise InputError(f"n_years: {years:g} years cannot hold {len(freezes)} freezes of one kind.")
    mean = float(np.mean(freezes)) if len(freezes) else float("nan")
    spread = float(np.std(freezes, ddof=1)) if len(freezes) > 1 else float("nan")
    return FreezeMixture(len(freezes) / years, mean, spread)


def _day_at(level: FloatArray, share: FloatArray, mean: FloatArray, spread: FloatArray, *, late: bool) -> FloatArray:
    """Day at a level of the mixture; NaN where the level reaches the share of freeze years, or is 0."""
    level, share = np.broadcast_arrays(level, share)
    inner = (level > 0) & (level < share)
    part = np.where(inner, level / np.where(inner, share, 1.0), 0.5)
    z = _quantile(part)
    return np.asarray(np.where(inner, mean - spread * z if late else mean + spread * z, np.nan))


@reckoner(gives={"day": "d"}, source=_THOM, status="published", example={"level": 0.1, **_MODEL})
def last_freeze_at_level(
    level: Annotated[ArrayLike, LEVEL],
    *,
    share: Annotated[ArrayLike, SHARE],
    mean_day: Annotated[ArrayLike, DAY],
    sd_days: Annotated[ArrayLike, SPREAD_D],
) -> FloatArray:
    """Day on or after which the last freeze falls with the chance `level`: 0.1 is the late, safe day.

    Parameters
    ----------
    level : array_like
        Chance that is asked for, 0 to 1: 0.1 is one year in ten. [1]
    share, mean_day, sd_days : array_like
        Of `freeze_mixture`. [1, d, d]

    Returns
    -------
    ndarray
        On the same count of days; NaN (there is no such day) where `level` is 0 or not below `share`. [d]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    day = m + s z(1 − a/p), for a < p only
    with a = level, p = share, m = mean_day, s = sd_days, z the quantile of the normal distribution.

    References
    ----------
    .. [1] H. C. S. Thom, Mon. Weather Rev. 87, 1959, pp. 136-144.
    """
    a, p = LEVEL.hold("level", level), SHARE.hold("share", share)
    return _day_at(a, p, DAY.hold("mean_day", mean_day), SPREAD_D.hold("sd_days", sd_days), late=True)


@reckoner(gives={"day": "d"}, source=_THOM, status="published", example={"level": 0.1, **_MODEL})
def first_freeze_at_level(
    level: Annotated[ArrayLike, LEVEL],
    *,
    share: Annotated[ArrayLike, SHARE],
    mean_day: Annotated[ArrayLike, DAY],
    sd_days: Annotated[ArrayLike, SPREAD_D],
) -> FloatArray:
    """Day on or before which the first freeze falls with the chance `level`: 0.1 is the early day.

    Parameters, returns, errors and reference as `last_freeze_at_level`.

    Formula
    -------
    day = m + s z(a/p), for a < p only
    with a = level, p = share, m = mean_day, s = sd_days, z the quantile of the normal distribution.
    """
    a, p = LEVEL.hold("level", level), SHARE.hold("share", share)
    return _day_at(a, p, DAY.hold("mean_day", mean_day), SPREAD_D.hold("sd_days", sd_days), late=False)


def _chance_by(day: FloatArray, mean: FloatArray, spread: FloatArray) -> FloatArray:
    moving = spread > 0
    smooth = _cdf((day - mean) / np.where(moving, spread, 1.0))
    # Without spread the day is certain: a step. A missing value stays missing in either case.
    chance = np.where(moving, smooth, day >= mean)
    return np.where(np.isnan(day + mean + spread), np.nan, chance)


@reckoner(gives={"chance": ""}, source=_THOM, status="published", example={"day": 127, **_MODEL})
def chance_of_freeze_after(
    day: Annotated[ArrayLike, DAY],
    *,
    share: Annotated[ArrayLike, SHARE],
    mean_day: Annotated[ArrayLike, DAY],
    sd_days: Annotated[ArrayLike, SPREAD_D],
) -> FloatArray:
    """Chance that the last freeze comes later than `day`.

    Parameters
    ----------
    day : array_like
        Day that is asked about, on the count of days of `mean_day`. [d]
    share, mean_day, sd_days : array_like
        Of `freeze_mixture` of last freezes. [1, d, d]

    Returns
    -------
    ndarray
        0 to `share`; NaN stays NaN. [1]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    P(later than d) = p [1 − F((d − m)/s)]
    with p = share, m = mean_day, s = sd_days, F the normal distribution.

    References
    ----------
    .. [1] H. C. S. Thom, Mon. Weather Rev. 87, 1959, pp. 136-144.
    """
    d, p = DAY.hold("day", day), SHARE.hold("share", share)
    return np.asarray(p * (1 - _chance_by(d, DAY.hold("mean_day", mean_day), SPREAD_D.hold("sd_days", sd_days))))


@reckoner(gives={"chance": ""}, source=_THOM, status="published", example={"day": 127, **_MODEL})
def chance_of_freeze_by(
    day: Annotated[ArrayLike, DAY],
    *,
    share: Annotated[ArrayLike, SHARE],
    mean_day: Annotated[ArrayLike, DAY],
    sd_days: Annotated[ArrayLike, SPREAD_D],
) -> FloatArray:
    """Chance that the first freeze has come by the end of `day`.

    Parameters, returns, errors and reference as `chance_of_freeze_after`, for the mixture of first freezes.

    Formula
    -------
    P(on or before d) = p F((d − m)/s)
    with p = share, m = mean_day, s = sd_days, F the normal distribution.
    """
    d, p = DAY.hold("day", day), SHARE.hold("share", share)
    return np.asarray(p * _chance_by(d, DAY.hold("mean_day", mean_day), SPREAD_D.hold("sd_days", sd_days)))
