"""Late blight of potato and tomato by the weather. Every rule is steep in its hours.

Leaf wetness is seldom measured in a garden: where it is estimated (`wetness`), say so beside the answer. A rule says
when weather favours a disease where its spores are about; it says nothing of whether they are.
"""

from __future__ import annotations

from typing import Annotated, NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from kailyard.science._air import AIR_C
from kailyard.science._disease_tables import DAYS_H, HUMID_H, Bands, banded, known, rounded, whole_f
from kailyard.science.checks import FloatArray, InputError
from kailyard.science.reckon import Quantity, reckoner

TMIN_DAYS_C = Quantity("°C", -60, 60, series=True)
TMEAN_DAYS_C = Quantity("°C", -60, 60, series=True)
RAIN_DAYS_MM = Quantity("mm", 0, 2000, series=True)
FAVOURABLE_DAYS = Quantity("d", 0, 7)
SEVERITY_SUM = Quantity("", 0, 1e5)

WALLIN: Bands = (
    (7.2, 11.6, (16, 19, 22, 25)),
    (11.7, 15.0, (13, 16, 19, 22)),
    (15.1, 26.6, (10, 13, 16, 19)),
)
"""Wallin 1962 in Krause, Massie and Hyre 1975: bands of whole tenths of a degree."""
MICHIGAN: Bands = ((45, 53, (16, 19, 22)), (54, 59, (13, 16, 19, 22)), (60, 80, (10, 13, 16, 19)))
"""The same hours as Michigan State University counts them, above 80 % humidity, by whole °F."""
SCHEDULE = ("none", "warning", "7-day interval", "5-day interval")
"""What the combined schedule says, by its number."""


@reckoner(
    gives={"severity": ""},
    source="Wallin 1962, Am. Potato J. 39:306-312; table as in Krause, Massie and Hyre 1975, Plant Dis. Rep. 59:95-98",
    status="published",
    example={"temp_c": 18, "humid_h": 14},
)
def late_blight_severity(temp_c: Annotated[ArrayLike, AIR_C], humid_h: Annotated[ArrayLike, HUMID_H]) -> FloatArray:
    """Severity value, 0 to 4, of one spell of humid hours for late blight of potato and tomato.

    Parameters
    ----------
    temp_c : array_like
        Mean temperature of the humid spell, -60 to 60. [°C]
    humid_h : array_like
        Hours in a row with a relative humidity of 90 % or more, 0 to 100000; rounded. [h]

    Returns
    -------
    ndarray
        0 below 7.2 and above 26.6 °C (those ends from memory); NaN stays NaN. [1]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    mean while humid   value 0   1       2       3       4
    7.2 to 11.6 °C     0-15 h    16-18   19-21   22-24   25 and more
    11.7 to 15.0 °C    0-12 h    13-15   16-18   19-21   22 and more
    15.1 to 26.6 °C    0-9 h     10-12   13-15   16-18   19 and more

    References
    ----------
    .. [1] J. R. Wallin, American Potato Journal 39, 1962, pp. 306-312.
    .. [2] R. A. Krause, L. B. Massie and R. A. Hyre, Plant Disease Reporter 59, 1975, pp. 95-98.
    """
    # The table is printed to a tenth of a degree, so it is looked up to one.
    temp = np.asarray(np.round(AIR_C.see("temp_c", temp_c), 1))
    return banded(temp, rounded(HUMID_H.see("humid_h", humid_h)), WALLIN)


@reckoner(
    gives={"severity": ""},
    source="Michigan State University, potato late blight page; Baker, Kirk, Stein and Andresen 2002",
    status="published",
    example={"temp_c": 18, "humid_h": 14},
)
def michigan_late_blight_severity(
    temp_c: Annotated[ArrayLike, AIR_C], humid_h: Annotated[ArrayLike, HUMID_H]
) -> FloatArray:
    """As `late_blight_severity`, from hours above 80 % in the station's hut: leaves stand damper than it.

    Parameters
    ----------
    temp_c : array_like
        Mean temperature of the humid spell, -60 to 60; looked up in whole °F as printed. [°C]
    humid_h : array_like
        Hours in a row with a relative humidity above 80 %, 0 to 100000; rounded. [h]

    Returns
    -------
    ndarray
        0 to 4; 0 below 45 and above 80 °F; NaN stays NaN. [1]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    mean while humid   value 0   1       2       3       4
    45 to 53 °F        0-15 h    16-18   19-21   22-24   -
    54 to 59 °F        0-12 h    13-15   16-18   19-21   22-24
    60 to 80 °F        0-9 h     10-12   13-15   16-18   19-21

    References
    ----------
    .. [1] K. M. Baker, W. W. Kirk, J. M. Stein and J. A. Andresen, 2002; Michigan State University.
    """
    f = whole_f(AIR_C.see("temp_c", temp_c))
    return banded(f, rounded(HUMID_H.see("humid_h", humid_h)), MICHIGAN)


class SmithDays(NamedTuple):
    """What each day completes."""

    period: FloatArray
    """1 where this day and the one before both meet both limits. [1]"""
    near_miss: FloatArray
    """1 where both minima do, but a day had only 10 humid hours. [1]"""
    half: FloatArray
    """1 where this day or the one before meets both limits, and no period is made. [1]"""


def _pairs(
    tmin_days_c: ArrayLike, humid_days_h: ArrayLike, least_h: float
) -> tuple[FloatArray, FloatArray, FloatArray, FloatArray]:
    low, humid = TMIN_DAYS_C.see("tmin_days_c", tmin_days_c), DAYS_H.see("humid_days_h", humid_days_h)
    if low.ndim == 0 or low.shape != humid.shape:
        raise InputError("tmin_days_c and humid_days_h: runs of days of the same length are needed.")
    return low, humid, known(1.0 * ((low >= 10) & (humid >= least_h)), low, humid), known(1.0 * (low >= 10), low)


def _before(days: FloatArray) -> FloatArray:
    """What held on the day before; nothing is known of the one before the first, so it is taken as 0."""
    return np.concatenate([np.zeros((*days.shape[:-1], 1)), days[..., :-1]], axis=-1)


@reckoner(
    gives={"period": "", "near_miss": "", "half": ""},
    source="Smith 1956, Plant Pathology 5:83-87; UK Met Office, Smith periods",
    status="published",
    example={"tmin_days_c": [9, 11, 12, 13], "humid_days_h": [12, 11, 12, 8]},
)
def smith_days(tmin_days_c: Annotated[ArrayLike, TMIN_DAYS_C], humid_days_h: Annotated[ArrayLike, DAYS_H]) -> SmithDays:
    """Days that complete a Smith period for late blight: two in a row, mild and long humid.

    Parameters
    ----------
    tmin_days_c : array_like, (..., days)
        Lowest temperature of each day, -60 to 60. [°C]
    humid_days_h : array_like, (..., days)
        Hours of each day with a relative humidity of 90 % or more, 0 to 24. [h]

    Returns
    -------
    SmithDays
        The first day of a run completes nothing; NaN spoils its day and the next. [1]

    Raises
    ------
    InputError
        If a value is out of range or the runs differ in length.

    Formula
    -------
    period: minimum ≥ 10 °C and ≥ 11 h with RH ≥ 90 % on this day and on the one before
    near miss: both minima ≥ 10 °C, 10 h or more on both, 11 not on both
    half period: one such day

    References
    ----------
    .. [1] L. P. Smith, "Potato blight forecasting by 90 per cent humidity criteria", Plant Pathology 5, 1956, 83-87.
    """
    low, humid, meets, mild = _pairs(tmin_days_c, humid_days_h, 11)
    period = meets * _before(meets)
    near = known(mild * (humid >= 10), low, humid)
    near_miss = near * _before(near) * (1 - period)
    half = np.maximum(meets, _before(meets)) * (1 - period)
    return SmithDays(period, near_miss, half)


@reckoner(
    gives={"period": ""},
    source="Hutton criteria: AHDB and James Hutton Institute, project 11120018, 2014-2017",
    status="published",
    example={"tmin_days_c": [9, 11, 12, 13], "humid_days_h": [12, 6, 7, 5]},
)
def hutton_days(
    tmin_days_c: Annotated[ArrayLike, TMIN_DAYS_C], humid_days_h: Annotated[ArrayLike, DAYS_H]
) -> FloatArray:
    """Days that complete a Hutton period for late blight, which replaced the Smith period in Great Britain in 2017.

    Blight was seen to infect at 8 °C and slightly at 6 °C, so a cooler garden is not safe.

    Parameters
    ----------
    tmin_days_c : array_like, (..., days)
        Lowest temperature of each day, -60 to 60. [°C]
    humid_days_h : array_like, (..., days)
        Hours of each day with a relative humidity of 90 % or more, 0 to 24. [h]

    Returns
    -------
    ndarray
        1 or 0; the first day of a run completes nothing; NaN spoils its day and the next. [1]

    Raises
    ------
    InputError
        If a value is out of range or the runs differ in length.

    Formula
    -------
    period: minimum ≥ 10 °C and ≥ 6 h with RH ≥ 90 % on this day and on the one before

    References
    ----------
    .. [1] AHDB and James Hutton Institute, project 11120018, 2014-2017; S. Dancey, thesis, 2018.
    """
    _, _, meets, _ = _pairs(tmin_days_c, humid_days_h, 6)
    return np.asarray(meets * _before(meets))


@reckoner(
    gives={"favourable": ""},
    source="Hyre 1954, Plant Dis. Rep. 38 (figures recalled)",
    status="memory",
    example={"tmean_days_c": [18] * 10, "tmin_days_c": [12] * 10, "rain_days_mm": [4] * 10},
)
def rain_favourable_days(
    *,
    tmean_days_c: Annotated[ArrayLike, TMEAN_DAYS_C],
    tmin_days_c: Annotated[ArrayLike, TMIN_DAYS_C],
    rain_days_mm: Annotated[ArrayLike, RAIN_DAYS_MM],
) -> FloatArray:
    """Rain-favourable days for late blight: cool for five days, wet for ten, and not cold on the day.

    Parameters
    ----------
    tmean_days_c : array_like, (..., days)
        Mean temperature of each day, -60 to 60. [°C]
    tmin_days_c : array_like, (..., days)
        Lowest temperature of each day, -60 to 60. [°C]
    rain_days_mm : array_like, (..., days)
        Rain of each day, 0 to 2000. [mm]

    Returns
    -------
    ndarray
        1 or 0; the days before the run count as dry, so the first nine may be told too low; NaN spoils what it
        enters. [1]

    Raises
    ------
    InputError
        If a value is out of range or the runs differ in length.

    Formula
    -------
    favourable: mean of 5 days < 25.5 °C, rain of 10 days ≥ 30 mm, minimum of the day ≥ 7.2 °C (from memory)

    References
    ----------
    .. [1] R. A. Hyre, Plant Disease Reporter 38, 1954.
    """
    mean = TMEAN_DAYS_C.see("tmean_days_c", tmean_days_c)
    low = TMIN_DAYS_C.see("tmin_days_c", tmin_days_c)
    rain = RAIN_DAYS_MM.see("rain_days_mm", rain_days_mm)
    if mean.ndim == 0 or not mean.shape == low.shape == rain.shape:
        raise InputError("tmean_days_c, tmin_days_c and rain_days_mm: runs of days of the same length are needed.")
    cool = _of_last(mean, 5) / np.minimum(np.arange(1, mean.shape[-1] + 1), 5)
    wet = _of_last(rain, 10)
    return known(1.0 * ((cool < 25.5) & (wet >= 30) & (low >= 7.2)), cool, wet, low)


def _of_last(days: FloatArray, count: int) -> FloatArray:
    """Sum of each day with those just before it, `count` in all."""
    ahead = np.concatenate([np.zeros((*days.shape[:-1], count - 1)), days], axis=-1)
    return np.asarray(np.lib.stride_tricks.sliding_window_view(ahead, count, axis=-1).sum(axis=-1))


@reckoner(
    gives={"message": ""},
    source="Krause, Massie and Hyre 1975, Plant Dis. Rep. 59:95-98 (combined schedule, recalled)",
    status="memory",
    example={"favourable_days": 5, "severity_sum": 4},
)
def blight_schedule(
    favourable_days: Annotated[ArrayLike, FAVOURABLE_DAYS], severity_sum: Annotated[ArrayLike, SEVERITY_SUM]
) -> FloatArray:
    """What the combined schedule of 1975 says of late blight: 0 none, 1 warning, 2 a 7-day, 3 a 5-day interval.

    The intervals are those of growers who spray. A garden looks at its plants in their place; the label stands above.

    Parameters
    ----------
    favourable_days : array_like
        Rain-favourable days among the last seven, 0 to 7. [d]
    severity_sum : array_like
        Severity values of the last seven days together, 0 to 100000. [1]

    Returns
    -------
    ndarray
        Number of the message; NaN stays NaN. [1]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    severity values       none   warning   7-day   5-day
    0 to 4 such days      0-3    4         5-6     7 and more
    5 to 7 such days      0-2    3         4       5 and more
    (from memory)
    """
    days = FAVOURABLE_DAYS.see("favourable_days", favourable_days)
    total = SEVERITY_SUM.see("severity_sum", severity_sum)
    few = sum(1.0 * (total >= cut) for cut in (4, 5, 7))
    many = sum(1.0 * (total >= cut) for cut in (3, 4, 5))
    return known(np.asarray(np.where(days >= 5, many, few)), days, total)
