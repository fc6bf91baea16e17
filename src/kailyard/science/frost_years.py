"""Freeze dates read off the years themselves, and the frost-free season where both freezes are modelled.

Conventions as in `frost`: a level is the chance of that day or later for last freezes, or earlier for first ones; a
year without a freeze is NaN and counts.
"""

from __future__ import annotations

from typing import Annotated

import numpy as np
from numpy.typing import ArrayLike

from kailyard.science.checks import FloatArray, InputError
from kailyard.science.frost import DAY, DAYS, LEVEL, SPREAD_D
from kailyard.science.reckon import Choice, reckoner

EVENT = Choice(("last", "first"))

_SERIES = [118, 125, 110, 131, 122, 115, 128, 119, np.nan, np.nan]


@reckoner(
    gives={"day": "d"},
    source="rank k of n years read as k/(n + 1), straight lines between (Weibull plotting position; common practice)",
    status="common practice",
    example={"days": _SERIES, "level": 0.2, "event": "last"},
)
def rank_level(
    days: Annotated[ArrayLike, DAYS], level: Annotated[ArrayLike, LEVEL], *, event: Annotated[str, EVENT]
) -> FloatArray:
    """Day at a level read from the years themselves, without assuming a shape. Wants some 30 years.

    Parameters
    ----------
    days : array_like, (years,)
        Day of the last (or first) freeze in each year; missing for a year without one, which ranks as earlier than all
        last freezes and later than all first ones. [d]
    level : array_like
        Chance of that day or later ('last') or of that day or earlier ('first'), 0 to 1. [1]
    event : {'last', 'first'}
        Whether `days` holds last or first freezes.

    Returns
    -------
    ndarray
        Shape of `level`; NaN where the years do not reach so far, or the level falls among years without a freeze. [d]

    Raises
    ------
    InputError
        If a value is out of range, `days` is empty, or `event` is neither.

    Formula
    -------
    Sort the n years, those without a freeze at the far end; the k-th stands at level k / (n + 1), in straight lines
        between: last freezes from the latest down, first ones from the earliest up.
    """
    x = np.atleast_1d(DAYS.hold("days", days)).ravel()
    a = LEVEL.hold("level", level)
    sign = -1.0 if EVENT.hold("event", event) == "last" else 1.0
    if not len(x):
        raise InputError("days: no years given.")
    n = len(x)
    ordered = np.sort(np.where(np.isnan(x), np.inf, sign * x))
    # The nudge keeps 0.3 x 10 on the third rank in spite of rounding; it is far below a minute.
    rank = np.where(np.isnan(a), 0.0, np.round(a * (n + 1), 9))
    below = np.clip(np.floor(rank).astype(int), 1, n)
    above = np.clip(np.ceil(rank).astype(int), 1, n)
    low, high = ordered[below - 1], ordered[above - 1]
    known = (rank >= 1) & (rank <= n) & np.isfinite(high)
    step = np.where(known, high, 0.0) - np.where(known, low, 0.0)
    return np.asarray(np.where(known, sign * (np.where(known, low, 0.0) + step * (rank - below)), np.nan))


@reckoner(
    gives={"mean_days": "d", "sd_days": "d"},
    source="Thom and Shaw 1958, Mon. Weather Rev. 86:251-257: the two freezes taken as independent",
    status="published",
    example={"last_mean_day": 115, "last_sd_days": 11.7, "first_mean_day": 289, "first_sd_days": 11},
)
def freeze_free_model(
    *,
    last_mean_day: Annotated[float, DAY],
    last_sd_days: Annotated[float, SPREAD_D],
    first_mean_day: Annotated[float, DAY],
    first_sd_days: Annotated[float, SPREAD_D],
) -> tuple[float, float]:
    """Mean and standard deviation of the freeze-free days, where every year freezes and both days are independent.

    Parameters
    ----------
    last_mean_day, last_sd_days, first_mean_day, first_sd_days : float
        Of the last freeze and of the first one after it, on ONE count of days (day of the year in the north). [d]

    Returns
    -------
    mean, sd : float
        Take the yearly differences (`freeze_free_days`) instead where there are years enough. [d]

    Raises
    ------
    InputError
        If a value is out of range or missing.

    Formula
    -------
    mean = m_first − m_last − 1;  s² = s_first² + s_last²

    References
    ----------
    .. [1] H. C. S. Thom and R. H. Shaw, "Climatological analysis of freeze data for Iowa", Mon. Weather Rev. 86, 1958,
       pp. 251-257.
    """
    m_last, s_last = DAY.hold_number("last_mean_day", last_mean_day), SPREAD_D.hold_number("last_sd_days", last_sd_days)
    m_first = DAY.hold_number("first_mean_day", first_mean_day)
    s_first = SPREAD_D.hold_number("first_sd_days", first_sd_days)
    return m_first - m_last - 1, float(np.hypot(s_last, s_first))
