"""Reference evapotranspiration from whatever a day's weather has, FAO-56's way, with a mark on what was estimated."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from kailyard.science._air import AIR_C, extremes
from kailyard.science.checks import FloatArray
from kailyard.science.evapotranspiration import WIND_M_S, fao_reference_et_mm
from kailyard.science.humidity import (
    ELEVATION_M,
    VAPOUR_KPA,
    vapour_pressure_from_dew_point_kpa,
    vapour_pressure_from_extremes_kpa,
    vapour_pressure_from_humidity_kpa,
    vapour_pressure_from_mean_humidity_kpa,
)
from kailyard.science.radiation import RADIATION_MJ, clear_sky_radiation_mj_m2, extraterrestrial_radiation_mj_m2
from kailyard.science.radiation_estimates import (
    SUNSHINE_H,
    radiation_from_sunshine_mj_m2,
    radiation_from_temperatures_mj_m2,
)
from kailyard.science.reckon import Quantity
from kailyard.science.sun import DAY_OF_YEAR, LATITUDE_DEG, fao_day_length_h

USUAL_WIND_M_S = 2.0
"""Where no wind is known: mean of over 2000 weather stations (FAO-56, p. 63)."""
DRYNESS_C = Quantity("°C", 0, 5)

WAYS = ("dew point", "highest and lowest humidity", "highest humidity", "mean humidity", "none")
"""What a day's vapour pressure was worked out from, by the number in `DayVapour.way`."""


class DayVapour(NamedTuple):
    """Actual vapour pressure of days, with the way in which each was found."""

    vapour_pressure_kpa: FloatArray
    way: NDArray[np.int64]
    """Index into `WAYS`."""


class DayEt(NamedTuple):
    """Reference evapotranspiration of days, and what of each day's weather was estimated."""

    et_mm: FloatArray
    humidity_estimated: NDArray[np.bool_]
    radiation_estimated: NDArray[np.bool_]
    """From temperature; radiation from sunshine counts as known."""
    wind_estimated: NDArray[np.bool_]


def vapour_pressure_of_days(
    tmin_c: ArrayLike,
    tmax_c: ArrayLike,
    *,
    dew_point_c: ArrayLike | None = None,
    humidity_max_pct: ArrayLike | None = None,
    humidity_min_pct: ArrayLike | None = None,
    humidity_mean_pct: ArrayLike | None = None,
) -> DayVapour:
    """Actual vapour pressure day by day, from the best humidity that each day has.

    Parameters
    ----------
    tmin_c, tmax_c : array_like
        Day's lowest and highest, -60 to 60. [°C]
    dew_point_c : array_like, optional
        -80 to 60, NaN where missing. [°C]
    humidity_max_pct, humidity_min_pct, humidity_mean_pct : array_like, optional
        0 to 100, NaN where missing. [%]

    Returns
    -------
    DayVapour
        NaN with way 4 ('none') where a day has no humidity at all; `reference_et_of_days` then estimates. [kPa, 1]

    Raises
    ------
    InputError
        If a value is out of range or a lowest above its highest.

    References
    ----------
    .. [1] FAO-56, p. 36-39 (order of worth), eq. 14, 17, 18, 19.
    """
    low, high = extremes(tmin_c, tmax_c)
    ways: list[FloatArray] = [np.asarray(np.nan)] * 4
    if dew_point_c is not None:
        ways[0] = vapour_pressure_from_dew_point_kpa(dew_point_c)
    if humidity_max_pct is not None:
        ways[2] = vapour_pressure_from_humidity_kpa(low, humidity_max_pct)
        if humidity_min_pct is not None:
            ways[1] = vapour_pressure_from_extremes_kpa(
                low, high, humidity_max_pct=humidity_max_pct, humidity_min_pct=humidity_min_pct
            )
    if humidity_mean_pct is not None:
        ways[3] = vapour_pressure_from_mean_humidity_kpa(low, high, humidity_mean_pct=humidity_mean_pct)
    *spread, _ = np.broadcast_arrays(*ways, low + high)
    table = np.stack([*spread, np.full(spread[0].shape, np.nan)])
    known = ~np.isnan(table)
    known[-1] = True
    way = np.argmax(known, axis=0)
    return DayVapour(np.asarray(np.take_along_axis(table, way[np.newaxis], axis=0)[0]), np.asarray(way))


def reference_et_of_days(
    tmin_c: ArrayLike,
    tmax_c: ArrayLike,
    *,
    latitude_deg: ArrayLike,
    day_of_year: ArrayLike,
    elevation_m: ArrayLike,
    vapour_pressure_kpa: ArrayLike | None = None,
    radiation_mj_m2: ArrayLike | None = None,
    sunshine_h: ArrayLike | None = None,
    wind_2m_m_s: ArrayLike | None = None,
    dryness_c: float = 0.0,
    coastal: bool = False,
) -> DayEt:
    """FAO-56 reference evapotranspiration from temperature and whatever else each day has.

    Missing humidity: the dew point is taken at the night's minimum, less `dryness_c`. Missing radiation: from sunshine,
    else from the swing of temperature, never above a clear sky. Missing wind: 2 m/s. A NaN is missing.

    Parameters
    ----------
    tmin_c, tmax_c : array_like
        Day's lowest and highest, -60 to 60; a NaN here leaves the day unknown. [°C]
    latitude_deg, day_of_year, elevation_m : array_like
        North positive; 1 to 366; above sea level. [°, d, m]
    vapour_pressure_kpa : array_like, optional
        Actual, 0 to 20; `vapour_pressure_of_days` finds it from humidity. [kPa]
    radiation_mj_m2, sunshine_h : array_like, optional
        Solar radiation, 0 to 60; hours of sunshine, not above daylight. [MJ/m², h]
    wind_2m_m_s : array_like, optional
        At 2 m, 0 to 60. [m/s]
    dryness_c : float
        How far the dew point lies below the minimum, 0 to 5: 0 in watered country, 2 to 3 in dry. [°C]
    coastal : bool
        Near a large water, where the swing of temperature is less for the same sun.

    Returns
    -------
    DayEt
        Each of the shape the inputs broadcast to. [mm, -, -, -]

    Raises
    ------
    InputError
        If a value is out of range or a pair out of order.

    References
    ----------
    .. [1] FAO-56, ch. 3 and 4: eq. 6, 35, 48, 50; p. 63 (wind); Example 20.
    """
    low, high = extremes(tmin_c, tmax_c)
    latitude = LATITUDE_DEG.see("latitude_deg", latitude_deg)
    J, z = DAY_OF_YEAR.see("day_of_year", day_of_year), ELEVATION_M.see("elevation_m", elevation_m)
    dryness = DRYNESS_C.hold_number("dryness_c", dryness_c)
    absent = np.asarray(np.nan)
    ea = absent if vapour_pressure_kpa is None else VAPOUR_KPA.see("vapour_pressure_kpa", vapour_pressure_kpa)
    Rs = absent if radiation_mj_m2 is None else RADIATION_MJ.see("radiation_mj_m2", radiation_mj_m2)
    u2 = absent if wind_2m_m_s is None else WIND_M_S.see("wind_2m_m_s", wind_2m_m_s)
    Ra = extraterrestrial_radiation_mj_m2(latitude, J)
    if sunshine_h is not None:
        n = SUNSHINE_H.see("sunshine_h", sunshine_h)
        sunny = radiation_from_sunshine_mj_m2(Ra, sunshine_h=n, daylight_h=fao_day_length_h(latitude, J))
        Rs = np.where(np.isnan(Rs), sunny, Rs)
    guess = radiation_from_temperatures_mj_m2(Ra, tmin_c=low, tmax_c=high, adjustment=0.19 if coastal else 0.16)
    guess = np.minimum(guess, clear_sky_radiation_mj_m2(Ra, z))
    damp = vapour_pressure_from_dew_point_kpa(np.maximum(low - dryness, AIR_C.low))
    no_ea, no_Rs, no_u2, spread = np.broadcast_arrays(np.isnan(ea), np.isnan(Rs), np.isnan(u2), low + high + J + z)
    et = fao_reference_et_mm(
        low,
        high,
        vapour_pressure_kpa=np.where(np.isnan(ea), damp, ea),
        radiation_mj_m2=np.where(np.isnan(Rs), guess, Rs),
        wind_2m_m_s=np.where(np.isnan(u2), USUAL_WIND_M_S, u2),
        latitude_deg=latitude,
        day_of_year=J,
        elevation_m=z,
    )
    there = ~np.isnan(spread)
    return DayEt(et, no_ea & there, no_Rs & there, no_u2 & there)
