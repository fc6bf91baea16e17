"""Hours in which leaves are wet, judged from the weather. Estimates all: no model here was fitted to a garden.

Rain wets leaves whatever the humidity: add its hours. 1 is wet, 0 dry, a missing value stays missing.
"""

from __future__ import annotations

from typing import Annotated

import numpy as np
from numpy.typing import ArrayLike

from kailyard.science._air import AIR_C
from kailyard.science.checks import FloatArray, InputError, not_above
from kailyard.science.humidity import HUMIDITY_PCT
from kailyard.science.reckon import Quantity, reckoner

LIMIT_PCT = Quantity("%", 50, 100)
DEPRESSION_C = Quantity("°C", 0, 80)
DEPRESSIONS_C = Quantity("°C", 0, 80, series=True)
WIND_M_S = Quantity("m/s", 0, 60)
WET_HOURS = Quantity("h", 0, 24)
RAIN_MM = Quantity("mm", 0, 2000)
START = Quantity("", 0, 1)


@reckoner(
    gives={"wet": ""},
    source="Sentelhas et al. 2008, Agric. For. Meteorol. 148:392-400 (conference version seen)",
    status="published",
    example={"humidity_pct": 92},
)
def wet_by_humidity(
    humidity_pct: Annotated[ArrayLike, HUMIDITY_PCT], *, limit_pct: Annotated[ArrayLike, LIMIT_PCT] = 90.0
) -> FloatArray:
    """Wet where relative humidity is at or above a limit: the plainest rule, right in about nine hours of ten.

    Parameters
    ----------
    humidity_pct : array_like
        Relative humidity of the hour, 0 to 100. [%]
    limit_pct : array_like
        90, or what a comparison at the place has shown (87 is in use too), 50 to 100. [%]

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
    wet = 1 where RH ≥ limit_pct (90 %), else 0.

    References
    ----------
    .. [1] P. C. Sentelhas et al., "Suitability of relative humidity as an estimator of leaf wetness duration", Agric.
       For. Meteorol. 148, 2008, pp. 392-400.
    """
    rh = HUMIDITY_PCT.see("humidity_pct", humidity_pct)
    limit = LIMIT_PCT.see("limit_pct", limit_pct)
    return np.asarray(np.where(np.isnan(rh + limit), np.nan, 1.0 * (rh >= limit)))


@reckoner(
    gives={"share": ""},
    source="ramp from 80 to 95 % in an open library of R. Hijmans",
    status="published",
    example={"humidity_pct": 88},
)
def wet_share_by_humidity(humidity_pct: Annotated[ArrayLike, HUMIDITY_PCT]) -> FloatArray:
    """Share of an hour that is wet: nothing below 80 %, all from 95 %, a straight line between.

    Parameters
    ----------
    humidity_pct : array_like
        Relative humidity of the hour, 0 to 100. [%]

    Returns
    -------
    ndarray
        0 to 1; NaN stays NaN. [1]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    share = (RH − 80) / 15, held between 0 and 1.
    """
    return np.asarray(np.clip((HUMIDITY_PCT.see("humidity_pct", humidity_pct) - 80) / 15, 0, 1))


@reckoner(
    gives={"hours": "h"},
    source="rule of an open library of R. Hijmans: each 5 mm wet one of the dry hours, 12 at most",
    status="published",
    example={"wet_h": 6, "rain_mm": 10},
)
def wet_hours_with_rain(wet_h: Annotated[ArrayLike, WET_HOURS], rain_mm: Annotated[ArrayLike, RAIN_MM]) -> FloatArray:
    """Wet hours of a day with its rain added, where the hours of the rain are not known.

    Parameters
    ----------
    wet_h : array_like
        Wet hours from humidity, 0 to 24. [h]
    rain_mm : array_like
        Rain of the day, 0 to 2000. [mm]

    Returns
    -------
    ndarray
        0 to 24; NaN stays NaN. [h]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    hours = wet_h + (1 − wet_h / 24) min(12, rain_mm / 5)
    """
    wet, rain = WET_HOURS.see("wet_h", wet_h), RAIN_MM.see("rain_mm", rain_mm)
    return np.asarray(wet + (1 - wet / 24) * np.minimum(12, rain / 5))


@reckoner(
    gives={"wet": ""},
    source="dew-point depression rule (attributed to Gillespie and co-workers; limits from memory)",
    status="memory",
    example={"depression_c": [3, 1.5, 2, 2.5, 2]},
)
def wet_by_dew_point_depression(
    depression_c: Annotated[ArrayLike, DEPRESSIONS_C],
    *,
    wet_below_c: Annotated[float, DEPRESSION_C] = 1.8,
    dry_above_c: Annotated[float, DEPRESSION_C] = 2.2,
    start: Annotated[float, START] = 0.0,
) -> FloatArray:
    """Wet from a dew-point depression at or below one limit until it is at or above another; between them no change.

    Parameters
    ----------
    depression_c : array_like, (..., hours)
        Temperature less dew point, in order of time, 0 to 80. A missing hour is missing and changes nothing. [°C]
    wet_below_c, dry_above_c : float
        The two limits, the first not above the second. [°C]
    start : float
        What holds before the first hour that tells, 0 dry or 1 wet. [1]

    Returns
    -------
    ndarray
        1 or 0; same shape. [1]

    Raises
    ------
    InputError
        If a value is out of range, the limits crossed, or `depression_c` a single number.

    Formula
    -------
    depression ≤ wet_below_c: wet. depression ≥ dry_above_c: dry. Between them the hour is as the one before.
    (the limits 1.8 and 2.2 °C from memory)
    """
    d = DEPRESSIONS_C.see("depression_c", depression_c)
    wet = DEPRESSION_C.hold_number("wet_below_c", wet_below_c)
    dry = DEPRESSION_C.hold_number("dry_above_c", dry_above_c)
    first = START.hold_number("start", start)
    not_above("wet_below_c", np.asarray(wet), "dry_above_c", np.asarray(dry))
    if d.ndim == 0:
        raise InputError("depression_c: a run of hours is needed, along the last axis.")
    tells = (d <= wet) | (d >= dry)
    said = np.concatenate([np.full((*d.shape[:-1], 1), first), np.where(d <= wet, 1.0, 0.0)], axis=-1)
    last = np.maximum.accumulate(np.where(tells, np.arange(1, d.shape[-1] + 1), 0), axis=-1)
    return np.asarray(np.where(np.isnan(d), np.nan, np.take_along_axis(said, last, axis=-1)))


@reckoner(
    gives={"wet": ""},
    source="Gleason et al. 1994, Plant Dis. 78:1011-1016; Kim et al. 2002, Plant Dis. 86:179-185 (seen in copies)",
    status="published",
    example={"temp_c": 20, "humidity_pct": 92, "canopy_wind_m_s": 0.5, "depression_c": 1.34},
)
def wet_by_tree(
    temp_c: Annotated[ArrayLike, AIR_C],
    humidity_pct: Annotated[ArrayLike, HUMIDITY_PCT],
    *,
    canopy_wind_m_s: Annotated[ArrayLike, WIND_M_S],
    depression_c: Annotated[ArrayLike, DEPRESSION_C],
) -> FloatArray:
    """Wet or dry by a published classification tree.

    As printed its last question is never answered yes below a gale, so that every hour with 2.5 m/s and more at the
    canopy is dry. Below 0 °C the square root of temperature fails: 0 is taken.

    Parameters
    ----------
    temp_c : array_like
        Temperature of the hour, -60 to 60. [°C]
    humidity_pct : array_like
        0 to 100. [%]
    canopy_wind_m_s : array_like
        Wind at canopy height (0.3 m in the original), 0 to 60: 10 m wind must be brought down first. [m/s]
    depression_c : array_like
        Temperature less dew point, 0 to 80. [°C]

    Returns
    -------
    ndarray
        1 or 0, of the shape all inputs broadcast to; NaN stays NaN. [1]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    1. DPD ≥ 3.7: dry.
    2. else W < 2.5: wet if 1.6064 √T + 0.0036 T² + 0.1531 RH − 0.4599 W DPD − 0.0035 T RH > 14.4674.
    3. else RH < 87.8: dry.
    4. else wet if 0.7921 √T + 0.0046 RH − 2.3889 W − 0.0390 T W + 1.0613 W DPD > 37.
    with DPD = depression_c, W = canopy_wind_m_s, T = temp_c.

    References
    ----------
    .. [1] M. L. Gleason et al., "Development and validation of an empirical model to estimate the duration of dew
       periods", Plant Dis. 78, 1994, pp. 1011-1016.
    .. [2] K. S. Kim, S. E. Taylor, M. L. Gleason and K. J. Koehler, Plant Dis. 86, 2002, pp. 179-185.
    """
    T = np.maximum(AIR_C.see("temp_c", temp_c), 0)
    RH = HUMIDITY_PCT.see("humidity_pct", humidity_pct)
    W = WIND_M_S.see("canopy_wind_m_s", canopy_wind_m_s)
    DPD = DEPRESSION_C.see("depression_c", depression_c)
    calm = 1.6064 * T**0.5 + 0.0036 * T**2 + 0.1531 * RH - 0.4599 * W * DPD - 0.0035 * T * RH > 14.4674
    windy = 0.7921 * T**0.5 + 0.0046 * RH - 2.3889 * W - 0.0390 * T * W + 1.0613 * W * DPD > 37.0
    wet = (DPD < 3.7) & np.where(W < 2.5, calm, (RH >= 87.8) & windy)
    return np.asarray(np.where(np.isnan(T + RH + W + DPD), np.nan, 1.0 * wet))
