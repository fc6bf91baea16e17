"""How much of the reference evapotranspiration a crop takes: FAO-56 crop coefficients through the season.

The coefficients themselves vary by crop and stand in the handbook; what stands here are the equations around them.
"""

from __future__ import annotations

from typing import Annotated

import numpy as np
from numpy.typing import ArrayLike

from kailyard.science._water import HEIGHT_M, WIND_M_S, climate_term
from kailyard.science.checks import FloatArray
from kailyard.science.humidity import HUMIDITY_PCT
from kailyard.science.reckon import Quantity, reckoner

KC = Quantity("", 0, 2)
INFILTRATION_MM = Quantity("mm", 10, 40)
IRRIGATION_MM = Quantity("mm", 0, 2000)
SHARE = Quantity("", 0, 1)
WETTED = Quantity("", 0.01, 1)
DAY = Quantity("d", 0, 1000)
STAGE_DAYS = Quantity("d", 1, 1000)

_FAO = "Allen, Pereira, Raes and Smith 1998, FAO Irrigation and Drainage Paper 56"
_CLIMATE = {"wind_2m_m_s": 2.2, "humidity_min_pct": 30, "height_m": 0.4}


@reckoner(
    gives={"kc": ""},
    source=f"{_FAO}, eq. 62 (Kc mid), 70 (Kcb mid), 68 (alfalfa over grass, with 1.2 and 0.5 m)",
    status="published",
    example={"kc": 1.15, **_CLIMATE},
)
def adjusted_kc_mid(
    kc: Annotated[ArrayLike, KC],
    *,
    wind_2m_m_s: Annotated[ArrayLike, WIND_M_S],
    humidity_min_pct: Annotated[ArrayLike, HUMIDITY_PCT],
    height_m: Annotated[ArrayLike, HEIGHT_M],
) -> FloatArray:
    """Crop coefficient of mid-season in the garden's own wind and dryness.

    Parameters
    ----------
    kc : array_like
        Tabled single or basal coefficient (for 2 m/s and 45 %), 0 to 2. [1]
    wind_2m_m_s : array_like
        Mean wind of the stage at 2 m; held to 1 to 6. [m/s]
    humidity_min_pct : array_like
        Mean daily lowest relative humidity of the stage; held to 20 to 80. [%]
    height_m : array_like
        Mean height of the crop in the stage, 0 to 10. [m]

    Returns
    -------
    ndarray
        Of the shape the inputs broadcast to; NaN stays NaN. [1]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    Kc mid = Kc mid(table) + [0.04 (u₂ − 2) − 0.004 (RHmin − 45)] (h/3)^0.3
    with u₂ held between 1 and 6 m/s, RHmin between 20 and 80 %, h = height_m.

    References
    ----------
    .. [1] FAO-56, eq. 62, 68, 70.
    """
    return np.asarray(KC.see("kc", kc) + climate_term(wind_2m_m_s, humidity_min_pct, height_m))


@reckoner(gives={"kc": ""}, source=f"{_FAO}, eq. 65 (Kc end)", status="published", example={"kc": 0.6, **_CLIMATE})
def adjusted_kc_end(
    kc: Annotated[ArrayLike, KC],
    *,
    wind_2m_m_s: Annotated[ArrayLike, WIND_M_S],
    humidity_min_pct: Annotated[ArrayLike, HUMIDITY_PCT],
    height_m: Annotated[ArrayLike, HEIGHT_M],
) -> FloatArray:
    """Crop coefficient at the season's end: adjusted only from 0.45 upward, for a crop that dries off takes no notice.

    Parameters, returns and errors as `adjusted_kc_mid`. Reference: FAO-56, eq. 65.

    Formula
    -------
    Kc end = Kc end(table) + [0.04 (u₂ − 2) − 0.004 (RHmin − 45)] (h/3)^0.3 where Kc end(table) ≥ 0.45, else as tabled
    with u₂, RHmin and h as adjusted_kc_mid.
    """
    end = KC.see("kc", kc)
    return np.asarray(np.where(end >= 0.45, end + climate_term(wind_2m_m_s, humidity_min_pct, height_m), end))


@reckoner(
    gives={"kc": ""},
    source=f"{_FAO}, eq. 66",
    status="published",
    example={
        "day": 40,
        "initial_d": 25,
        "development_d": 25,
        "middle_d": 30,
        "late_d": 20,
        "kc_ini": 0.15,
        "kc_mid": 1.19,
        "kc_end": 0.35,
    },
)
def kc_on_day(
    day: Annotated[ArrayLike, DAY],
    *,
    initial_d: Annotated[ArrayLike, STAGE_DAYS],
    development_d: Annotated[ArrayLike, STAGE_DAYS],
    middle_d: Annotated[ArrayLike, STAGE_DAYS],
    late_d: Annotated[ArrayLike, STAGE_DAYS],
    kc_ini: Annotated[ArrayLike, KC],
    kc_mid: Annotated[ArrayLike, KC],
    kc_end: Annotated[ArrayLike, KC],
) -> FloatArray:
    """Crop coefficient on a day of the season: level, rising, level, falling, in straight lines.

    Parameters
    ----------
    day : array_like
        Days since planting, 0 to 1000; beyond the season the last value holds. [d]
    initial_d, development_d, middle_d, late_d : array_like
        Lengths of the four stages, 1 to 1000. [d]
    kc_ini, kc_mid, kc_end : array_like
        Single or basal coefficients, 0 to 2. [1]

    Returns
    -------
    ndarray
        Of the shape the inputs broadcast to; NaN stays NaN. [1]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    Kc i = Kc prev + (i − ΣLprev) / Lstage × (Kc next − Kc prev)
    with i = day, ΣLprev the lengths of the stages before, Lstage that of the one the day is in.
    (from memory; published values are met)

    References
    ----------
    .. [1] FAO-56, eq. 66.
    """
    rise = STAGE_DAYS.see("initial_d", initial_d)
    rising = STAGE_DAYS.see("development_d", development_d)
    fall = rise + rising + STAGE_DAYS.see("middle_d", middle_d)
    falling = STAGE_DAYS.see("late_d", late_d)
    first, middle, last = KC.see("kc_ini", kc_ini), KC.see("kc_mid", kc_mid), KC.see("kc_end", kc_end)
    i = DAY.see("day", day)
    up, down = np.clip((i - rise) / rising, 0, 1), np.clip((i - fall) / falling, 0, 1)
    return np.asarray(first + up * (middle - first) + down * (last - middle))


@reckoner(
    gives={"et": "mm"},
    source=f"{_FAO}, eq. 58",
    status="published",
    example={"kc": 0.6, "et0_mm": 5},
)
def crop_et_mm(kc: Annotated[ArrayLike, KC], et0_mm: Annotated[ArrayLike, Quantity("mm", -5, 30)]) -> FloatArray:
    """Water that a crop not short of it takes in a day.

    Parameters
    ----------
    kc : array_like
        Crop coefficient of the day, 0 to 2. [1]
    et0_mm : array_like
        Reference evapotranspiration, -5 to 30. [mm]

    Returns
    -------
    ndarray
        Of the shape the inputs broadcast to; NaN stays NaN. [mm]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    ETc = Kc ET₀ (from memory; published values are met)

    References
    ----------
    .. [1] FAO-56, eq. 58.
    """
    return np.asarray(KC.see("kc", kc) * Quantity("mm", -5, 30).see("et0_mm", et0_mm))


@reckoner(
    gives={"kc": ""},
    source=f"{_FAO}, eq. 59",
    status="published",
    example={"infiltration_mm": 20, "kc_light": 0.55, "kc_heavy": 0.7},
)
def kc_ini_between(
    infiltration_mm: Annotated[ArrayLike, INFILTRATION_MM],
    *,
    kc_light: Annotated[ArrayLike, KC],
    kc_heavy: Annotated[ArrayLike, KC],
) -> FloatArray:
    """Coefficient of the initial stage for wettings between light (10 mm) and heavy (40 mm).

    Parameters
    ----------
    infiltration_mm : array_like
        Mean depth of a wetting, 10 to 40. [mm]
    kc_light, kc_heavy : array_like
        As read from the charts for light and for heavy wettings, 0 to 2. [1]

    Returns
    -------
    ndarray
        Of the shape the inputs broadcast to; NaN stays NaN. [1]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    Kc ini = Kc ini(light) + (I − 10) / (40 − 10) × [Kc ini(heavy) − Kc ini(light)]
    with I = infiltration_mm. (from memory; published values are met)

    References
    ----------
    .. [1] FAO-56, eq. 59.
    """
    depth = INFILTRATION_MM.see("infiltration_mm", infiltration_mm)
    light = KC.see("kc_light", kc_light)
    return np.asarray(light + (depth - 10) / (40 - 10) * (KC.see("kc_heavy", kc_heavy) - light))


@reckoner(
    gives={"depth": "mm"},
    source=f"{_FAO}, eq. 61",
    status="published",
    example={"irrigation_mm": 12, "wetted_share": 0.4},
)
def depth_where_wetted_mm(
    irrigation_mm: Annotated[ArrayLike, IRRIGATION_MM], wetted_share: Annotated[ArrayLike, WETTED]
) -> FloatArray:
    """Depth on the wetted part of watering that wets only part of the ground.

    Parameters
    ----------
    irrigation_mm : array_like
        Watering, as depth over the whole bed, 0 to 2000. [mm]
    wetted_share : array_like
        Share of the surface wetted, 0.01 to 1. [1]

    Returns
    -------
    ndarray
        Of the shape the inputs broadcast to; NaN stays NaN. [mm]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    Iw = I / fw
    with I = irrigation_mm, fw = wetted_share. (from memory; published values are met)

    References
    ----------
    .. [1] FAO-56, eq. 61; over the bed such a part counts with its share (eq. 60).
    """
    return np.asarray(IRRIGATION_MM.see("irrigation_mm", irrigation_mm) / WETTED.see("wetted_share", wetted_share))


@reckoner(
    gives={"kc": ""},
    source=f"{_FAO}, eq. 60 (partly wetted), p. 196 (plastic mulch)",
    status="published",
    example={"kc": 1.05, "share": 0.4},
)
def reduced_kc(kc: Annotated[ArrayLike, KC], share: Annotated[ArrayLike, SHARE]) -> FloatArray:
    """Coefficient over the whole bed where only a share of it counts: wetted part, or what a mulch lets through.

    Parameters
    ----------
    kc : array_like
        0 to 2. [1]
    share : array_like
        Share of the ground wetted in the initial stage, or 1 less what the mulch saves (10 to 30 % of Kc, 5 to 15 % of
        Kcb under plastic), 0 to 1. [1]

    Returns
    -------
    ndarray
        Of the shape the inputs broadcast to; NaN stays NaN. [1]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    Kc ini = fw Kc ini(table), with fw = share. (from memory; published values are met)

    References
    ----------
    .. [1] FAO-56, eq. 60; p. 196, Example 45.
    """
    return np.asarray(KC.see("kc", kc) * SHARE.see("share", share))
