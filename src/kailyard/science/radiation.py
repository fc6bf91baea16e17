"""Radiation of the sun: above the air, under a clear sky, and on the day as it was. FAO-56 throughout but for one.

Longitude is positive east, as everywhere in this package; FAO-56 counts it positive west.
"""

from __future__ import annotations

from typing import Annotated

import numpy as np
from numpy.typing import ArrayLike

from kailyard.science._blocks import in_blocks
from kailyard.science._fao_sun import SOLAR_CONSTANT, SunGeometry, above_the_air, geometry
from kailyard.science.checks import FloatArray
from kailyard.science.humidity import ELEVATION_M, PRESSURE_KPA, VAPOUR_KPA
from kailyard.science.reckon import Quantity, reckoner
from kailyard.science.sun import DAY_OF_YEAR, LATITUDE_DEG
from kailyard.science.sun_position import LONGITUDE_DEG, OFFSET_H

RADIATION_MJ = Quantity("MJ/m²", 0, 60)
"""Of a day or an hour; ours: above the air a polar midsummer day brings 48."""
CLOCK_H = Quantity("h", 0, 24)
SPAN_H = Quantity("h", 0.01, 24)

_FAO = "Allen, Pereira, Raes and Smith 1998, FAO Irrigation and Drainage Paper 56"
_JULY = {"latitude_deg": 50.8, "day_of_year": 187}


@reckoner(
    gives={"inverse_distance": "", "declination": "rad", "sunset_angle": "rad"},
    source=f"{_FAO}, eq. 23, 24, 25",
    status="published",
    example=_JULY,
)
def fao_sun(
    latitude_deg: Annotated[ArrayLike, LATITUDE_DEG], day_of_year: Annotated[ArrayLike, DAY_OF_YEAR]
) -> SunGeometry:
    """Inverse relative distance, declination and sunset hour angle as the FAO-56 equations take them.

    Plain formulas that belong to those equations; for where the sun stands take `sun_position`.

    Parameters
    ----------
    latitude_deg : array_like
        North positive, -90 to 90. [°]
    day_of_year : array_like
        1 to 366. [d]

    Returns
    -------
    SunGeometry
        Sunset angle 0 in polar night, pi under the midnight sun; NaN stays NaN. [1, rad, rad]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    dr = 1 + 0.033 cos(2π J / 365);  δ = 0.409 sin(2π J / 365 − 1.39);  ωs = arccos(−tan φ tan δ)
    with J = day_of_year, φ = latitude_deg in radians. (from memory; published values are met)

    References
    ----------
    .. [1] FAO-56, eq. 23, 24, 25.
    """
    phi = np.deg2rad(LATITUDE_DEG.see("latitude_deg", latitude_deg))
    return geometry(phi, DAY_OF_YEAR.see("day_of_year", day_of_year))


@reckoner(gives={"radiation": "MJ/m²"}, source=f"{_FAO}, eq. 21", status="published", example=_JULY)
def extraterrestrial_radiation_mj_m2(
    latitude_deg: Annotated[ArrayLike, LATITUDE_DEG], day_of_year: Annotated[ArrayLike, DAY_OF_YEAR]
) -> FloatArray:
    """Sun's radiation of a day above the air, on the level.

    Parameters
    ----------
    latitude_deg : array_like
        North positive, -90 to 90. [°]
    day_of_year : array_like
        1 to 366; broadcasts with `latitude_deg`. [d]

    Returns
    -------
    ndarray
        0 in the polar night; NaN stays NaN. Up to 1.2 % off in early September (its declination is plain). [MJ/m²]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    Ra = (24 × 60 / π) Gsc dr [ωs sin φ sin δ + cos φ cos δ sin ωs]
    with Gsc = 0.0820 MJ/m²/min, φ = latitude_deg in radians; dr, δ, ωs of fao_sun.
    (from memory; published values are met)

    References
    ----------
    .. [1] FAO-56, eq. 21.
    """
    phi = np.deg2rad(LATITUDE_DEG.see("latitude_deg", latitude_deg))
    return in_blocks(above_the_air, phi, DAY_OF_YEAR.see("day_of_year", day_of_year))


@reckoner(gives={"correction": "h"}, source=f"{_FAO}, eq. 32, 33", status="published", example={"day_of_year": 274})
def seasonal_correction_h(day_of_year: Annotated[ArrayLike, DAY_OF_YEAR]) -> FloatArray:
    """How far the sun is ahead of mean time, as the hourly FAO-56 equations take it.

    Parameters
    ----------
    day_of_year : array_like
        1 to 366. [d]

    Returns
    -------
    ndarray
        Same shape. [h]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    Sc = 0.1645 sin 2b − 0.1255 cos b − 0.025 sin b;  b = 2π (J − 81) / 364
    with J = day_of_year. (from memory; published values are met)

    References
    ----------
    .. [1] FAO-56, eq. 32, 33.
    """
    b = 2 * np.pi * (DAY_OF_YEAR.see("day_of_year", day_of_year) - 81) / 364
    return np.asarray(0.1645 * np.sin(2 * b) - 0.1255 * np.cos(b) - 0.025 * np.sin(b))


@reckoner(
    gives={"angle": "rad"},
    source=f"{_FAO}, eq. 31",
    status="published",
    example={"longitude_deg": -16.25, "day_of_year": 274, "clock_h": 14.5, "utc_offset_h": -1},
)
def solar_time_angle_rad(
    longitude_deg: Annotated[ArrayLike, LONGITUDE_DEG],
    day_of_year: Annotated[ArrayLike, DAY_OF_YEAR],
    *,
    clock_h: Annotated[ArrayLike, CLOCK_H],
    utc_offset_h: Annotated[ArrayLike, OFFSET_H],
) -> FloatArray:
    """Hour angle of the sun at a clock time, 0 at solar noon, negative before.

    Parameters
    ----------
    longitude_deg : array_like
        East positive. [°]
    day_of_year : array_like
        1 to 366. [d]
    clock_h : array_like
        Standard clock time: of an hourly value the middle of its hour. [h]
    utc_offset_h : array_like
        What that clock is ahead of UTC: the zone's meridian (east) over 15. [h]

    Returns
    -------
    ndarray
        Of the shape the inputs broadcast to; not folded into one turn. [rad]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    ω = π/12 {[t + 0.06667 (Lz − Lm) + Sc] − 12}
    with t = clock_h, Lm = −longitude_deg and Lz = −15 utc_offset_h (both counted west), Sc of seasonal_correction_h.
    (from memory; published values are met)

    References
    ----------
    .. [1] FAO-56, eq. 31 (its longitudes are positive west).
    """
    east = LONGITUDE_DEG.see("longitude_deg", longitude_deg)
    t, ahead = CLOCK_H.see("clock_h", clock_h), OFFSET_H.see("utc_offset_h", utc_offset_h)
    return np.asarray(np.pi / 12 * (t + 0.06667 * (east - 15 * ahead) + seasonal_correction_h(day_of_year) - 12))


@reckoner(
    gives={"radiation": "MJ/m²"},
    source=f"{_FAO}, eq. 28; at sunrise and sunset cut as in ASCE-EWRI 2005, eq. 55-56",
    status="published",
    example={
        "latitude_deg": 16.22,
        "longitude_deg": -16.25,
        "day_of_year": 274,
        "clock_h": 14.5,
        "utc_offset_h": -1,
    },
)
def hourly_extraterrestrial_radiation_mj_m2(
    latitude_deg: Annotated[ArrayLike, LATITUDE_DEG],
    longitude_deg: Annotated[ArrayLike, LONGITUDE_DEG],
    day_of_year: Annotated[ArrayLike, DAY_OF_YEAR],
    *,
    clock_h: Annotated[ArrayLike, CLOCK_H],
    utc_offset_h: Annotated[ArrayLike, OFFSET_H],
    span_h: Annotated[ArrayLike, SPAN_H] = 1.0,
) -> FloatArray:
    """Sun's radiation of an hour (or another short span) above the air, on the level.

    Parameters
    ----------
    latitude_deg, longitude_deg : array_like
        North and east positive. [°]
    day_of_year : array_like
        1 to 366. [d]
    clock_h : array_like
        Standard clock time in the middle of the span. [h]
    utc_offset_h : array_like
        What that clock is ahead of UTC. [h]
    span_h : array_like
        Length of the span, 0.01 to 24. [h]

    Returns
    -------
    ndarray
        0 with the sun down; what of the span is night counts for nothing; NaN stays NaN. [MJ/m²]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    Ra = (12 × 60 / π) Gsc dr [(ω2 − ω1) sin φ sin δ + cos φ cos δ (sin ω2 − sin ω1)]
    ω1 = ω − π t1 / 24;  ω2 = ω + π t1 / 24;  both held between −ωs and ωs (ASCE-EWRI)
    with t1 = span_h, ω of solar_time_angle_rad; dr, δ, ωs of fao_sun; Gsc = 0.0820 MJ/m²/min.
    (from memory; published values are met)

    References
    ----------
    .. [1] FAO-56, eq. 28-31.
    .. [2] R. G. Allen et al. (eds), "The ASCE standardized reference evapotranspiration equation", ASCE-EWRI, 2005,
       eq. 55-56.
    """
    phi = np.deg2rad(LATITUDE_DEG.see("latitude_deg", latitude_deg))
    dr, delta, ws = geometry(phi, DAY_OF_YEAR.see("day_of_year", day_of_year))
    w = solar_time_angle_rad(longitude_deg, day_of_year, clock_h=clock_h, utc_offset_h=utc_offset_h)
    w = (w + np.pi) % (2 * np.pi) - np.pi
    half = np.pi * SPAN_H.see("span_h", span_h) / 24
    w1, w2 = np.clip(w - half, -ws, ws), np.clip(w + half, -ws, ws)
    level = (w2 - w1) * np.sin(phi) * np.sin(delta) + np.cos(phi) * np.cos(delta) * (np.sin(w2) - np.sin(w1))
    return np.asarray(np.maximum(12 * 60 / np.pi * SOLAR_CONSTANT * dr * level, 0))


@reckoner(
    gives={"radiation": "MJ/m²"},
    source=f"{_FAO}, eq. 37",
    status="published",
    example={"extraterrestrial_mj_m2": 41.09, "elevation_m": 100},
)
def clear_sky_radiation_mj_m2(
    extraterrestrial_mj_m2: Annotated[ArrayLike, RADIATION_MJ], elevation_m: Annotated[ArrayLike, ELEVATION_M]
) -> FloatArray:
    """Sun's radiation on the ground under a clear sky, from elevation alone.

    Parameters
    ----------
    extraterrestrial_mj_m2 : array_like
        Radiation above the air, of a day or an hour, 0 to 60. [MJ/m²]
    elevation_m : array_like
        Above sea level, -450 to 6000. [m]

    Returns
    -------
    ndarray
        Of the shape the inputs broadcast to; NaN stays NaN. [MJ/m²]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    Rso = (0.75 + 2 × 10⁻⁵ z) Ra
    with z = elevation_m, Ra = extraterrestrial_mj_m2. (from memory; published values are met)

    References
    ----------
    .. [1] FAO-56, eq. 37.
    """
    Ra = RADIATION_MJ.see("extraterrestrial_mj_m2", extraterrestrial_mj_m2)
    return np.asarray((0.75 + 2e-5 * ELEVATION_M.see("elevation_m", elevation_m)) * Ra)


@reckoner(
    gives={"radiation": "MJ/m²"},
    source="ASCE-EWRI 2005, appendix D, eq. D.1-D.6",
    status="published",
    example={**_JULY, "pressure_kpa": 100.1, "vapour_pressure_kpa": 1.41},
)
def humid_clear_sky_radiation_mj_m2(
    latitude_deg: Annotated[ArrayLike, LATITUDE_DEG],
    day_of_year: Annotated[ArrayLike, DAY_OF_YEAR],
    *,
    pressure_kpa: Annotated[ArrayLike, PRESSURE_KPA],
    vapour_pressure_kpa: Annotated[ArrayLike, VAPOUR_KPA],
) -> FloatArray:
    """Sun's radiation of a day under a clear sky of known moisture: nearer the truth than `clear_sky_radiation_mj_m2`.

    Parameters
    ----------
    latitude_deg, day_of_year : array_like
        North positive; 1 to 366. [°, d]
    pressure_kpa : array_like
        Of the air at the place, 40 to 110. [kPa]
    vapour_pressure_kpa : array_like
        Actual vapour pressure, 0 to 20. [kPa]

    Returns
    -------
    ndarray
        Of the shape the inputs broadcast to; NaN stays NaN. Clean air is assumed (turbidity 1). [MJ/m²]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    Rso = (KB + KD) Ra;  W = 0.14 ea P + 2.1;  sin β = sin[0.85 + 0.3 φ sin(2π J / 365 − 1.39) − 0.42 φ²]
    KB = 0.98 exp[−0.00146 P / (Kt sin β) − 0.075 (W / sin β)^0.4],  Kt = 1
    KD = 0.35 − 0.36 KB where KB ≥ 0.15, else 0.18 + 0.82 KB
    with P = pressure_kpa, ea = vapour_pressure_kpa, φ = latitude_deg in radians. (from memory)

    References
    ----------
    .. [1] R. G. Allen et al. (eds), "The ASCE standardized reference evapotranspiration equation", ASCE-EWRI, 2005,
       appendix D.
    """
    phi = np.deg2rad(LATITUDE_DEG.see("latitude_deg", latitude_deg))
    J = DAY_OF_YEAR.see("day_of_year", day_of_year)
    P = PRESSURE_KPA.see("pressure_kpa", pressure_kpa)
    W = 0.14 * VAPOUR_KPA.see("vapour_pressure_kpa", vapour_pressure_kpa) * P + 2.1
    height = np.sin(0.85 + 0.3 * phi * np.sin(2 * np.pi * J / 365 - 1.39) - 0.42 * phi**2)
    height = np.maximum(height, 0.1)  # the library refet's floor; the standard has none, and the power below fails at 0
    beam = 0.98 * np.exp(-0.00146 * P / height - 0.075 * (W / height) ** 0.4)
    scattered = np.where(beam >= 0.15, 0.35 - 0.36 * beam, 0.18 + 0.82 * beam)
    return np.asarray((beam + scattered) * above_the_air(phi, J))
