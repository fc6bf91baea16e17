"""Reference evapotranspiration hour by hour, and the clearness of the sky carried through the night."""

from __future__ import annotations

from typing import Annotated

import numpy as np
from numpy.typing import ArrayLike

from kailyard.science._air import AIR_C, saturation
from kailyard.science._blocks import in_blocks
from kailyard.science.checks import FloatArray, InputError
from kailyard.science.evapotranspiration import REFERENCE, WIND_M_S
from kailyard.science.humidity import ELEVATION_M, VAPOUR_KPA, atmospheric_pressure_kpa
from kailyard.science.net_radiation import KELVIN, LATENT_MM_PER_MJ, RATIO, SIGMA_DAY
from kailyard.science.radiation import RADIATION_MJ
from kailyard.science.reckon import Quantity, reckoner

HOURS_MJ = Quantity("MJ/m²", 0, 60, series=True)
SUN_DEG = Quantity("°", -90, 90, series=True)

_FAO = "Allen, Pereira, Raes and Smith 1998, FAO Irrigation and Drainage Paper 56"
_LOW_SUN_DEG = float(np.rad2deg(0.3))
"""Below it radiation over clear-sky radiation tells little (ASCE-EWRI 2005, p. 34)."""
_HOURLY = {"short": (37.0, (0.24, 0.96), (0.1, 0.5)), "tall": (66.0, (0.25, 1.7), (0.04, 0.2))}
"""Numerator; denominator by day and by night; share of net radiation in soil heat by day and by night."""
_AFTERNOON = {
    "temp_c": 38,
    "vapour_pressure_kpa": 3.445,
    "radiation_mj_m2": 2.45,
    "wind_2m_m_s": 3.3,
    "clear_share": 0.922,
    "elevation_m": 8,
}


@reckoner(
    gives={"clear_share": ""},
    source="ASCE-EWRI 2005, p. 34-36 (the last hour with the sun above 0.3 rad holds through the night)",
    status="published",
    example={
        "radiation_mj_m2": [1.9, 1.2, 0.4, 0, 0],
        "clear_sky_mj_m2": [2.2, 1.6, 0.7, 0, 0],
        "sun_elevation_deg": [41, 30, 10, -5, -18],
    },
)
def clear_share_through_night(
    radiation_mj_m2: Annotated[ArrayLike, HOURS_MJ],
    clear_sky_mj_m2: Annotated[ArrayLike, HOURS_MJ],
    *,
    sun_elevation_deg: Annotated[ArrayLike, SUN_DEG],
    before_first: Annotated[float, RATIO] = 0.7,
) -> FloatArray:
    """Solar radiation over clear-sky radiation, hour by hour, with the last good value kept while the sun is low.

    Parameters
    ----------
    radiation_mj_m2, clear_sky_mj_m2 : array_like, (..., hours)
        Of the hour, in order of time along the last axis, 0 to 60. [MJ/m²]
    sun_elevation_deg : array_like, (..., hours)
        Height of the sun in the middle of the hour. [°]
    before_first : float
        What holds until the sun first stands above 0.3 rad, 0 to 1. [1]

    Returns
    -------
    ndarray
        0.3 to 1 in the hours with a high sun (the standard's limits). An hour without radiation keeps the last. [1]

    Raises
    ------
    InputError
        If a value is out of range or there is no run of hours.

    Formula
    -------
    Rs/Rso, held between 0.3 and 1, of each hour with the sun above 0.3 rad (17.2°). An hour with a lower sun or none
        takes the value of the last such hour; before the first one before_first holds. (from memory)
    """
    Rs = HOURS_MJ.see("radiation_mj_m2", radiation_mj_m2)
    Rso = HOURS_MJ.see("clear_sky_mj_m2", clear_sky_mj_m2)
    Rs, Rso, height = np.broadcast_arrays(Rs, Rso, SUN_DEG.see("sun_elevation_deg", sun_elevation_deg))
    if Rs.ndim == 0:
        raise InputError("radiation_mj_m2: a run of hours is needed, along the last axis.")
    good = (height > _LOW_SUN_DEG) & (Rso > 0) & ~np.isnan(Rs)
    share = np.where(
        good, np.clip(Rs / np.where(good, Rso, 1.0), 0.3, 1.0), RATIO.hold_number("before_first", before_first)
    )
    last = np.maximum.accumulate(np.where(good, np.arange(Rs.shape[-1]), 0), axis=-1)
    return np.asarray(np.take_along_axis(share, last, axis=-1))


def _hour(
    T: FloatArray,
    ea: FloatArray,
    Rs: FloatArray,
    u2: FloatArray,
    share: FloatArray,
    P: FloatArray,
    *,
    sigma: float,
    cn: float,
    cd: tuple[float, float],
    soil: tuple[float, float],
) -> FloatArray:
    es = saturation(T)
    slope = 4098 * es / np.square(T + 237.3)
    gamma = 0.665e-3 * P
    Rnl = sigma * np.square(np.square(T + KELVIN)) * (0.34 - 0.14 * np.sqrt(ea)) * (1.35 * share - 0.35)
    Rn = 0.77 * Rs - Rnl
    day = Rn > 0
    G = np.where(day, soil[0], soil[1]) * Rn
    above = LATENT_MM_PER_MJ * slope * (Rn - G) + gamma * cn / (T + 273) * u2 * (es - ea)
    return np.asarray(above / (slope + gamma * (1 + np.where(day, *cd) * u2)))


@reckoner(gives={"et": "mm"}, source=f"{_FAO}, eq. 53 with 38-40, 45, 46", status="published", example=_AFTERNOON)
def fao_hourly_reference_et_mm(
    temp_c: Annotated[ArrayLike, AIR_C],
    *,
    vapour_pressure_kpa: Annotated[ArrayLike, VAPOUR_KPA],
    radiation_mj_m2: Annotated[ArrayLike, RADIATION_MJ],
    wind_2m_m_s: Annotated[ArrayLike, WIND_M_S],
    clear_share: Annotated[ArrayLike, RATIO],
    elevation_m: Annotated[ArrayLike, ELEVATION_M],
) -> FloatArray:
    """Reference evapotranspiration of an hour by FAO-56 Penman-Monteith.

    Parameters
    ----------
    temp_c : array_like
        Mean temperature of the hour, -60 to 60. [°C]
    vapour_pressure_kpa : array_like
        Vapour pressure of the air as it is, 0 to 20. [kPa]
    radiation_mj_m2 : array_like
        Solar radiation of the hour, 0 to 60. [MJ/m²]
    wind_2m_m_s : array_like
        Wind at 2 m, 0 to 60. [m/s]
    clear_share : array_like
        Solar radiation over that of a clear sky; by night as `clear_share_through_night` has it, or 0.4 to 0.6 in
        humid and 0.7 to 0.8 in dry places. [1]
    elevation_m : array_like
        Above sea level. [m]

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
    ET₀ = [0.408 Δ (Rn − G) + γ 37/(Thr + 273) u₂ (e°(Thr) − ea)] / [Δ + γ (1 + 0.34 u₂)]
    with Thr = temp_c, ea = vapour_pressure_kpa; Rn = 0.77 Rs less Rnl of hourly_net_longwave_mj_m2;
        G = 0.1 Rn where Rn > 0, else 0.5 Rn; γ from elevation_m. (from memory; published values are met)

    References
    ----------
    .. [1] FAO-56, eq. 53 and p. 74-75.
    """
    arrays = _seen(temp_c, vapour_pressure_kpa, radiation_mj_m2, wind_2m_m_s, clear_share, elevation_m)

    def hour(*weather: FloatArray) -> FloatArray:
        return _hour(*weather, sigma=SIGMA_DAY / 24, cn=37.0, cd=(0.34, 0.34), soil=(0.1, 0.5))

    return in_blocks(hour, *arrays)


@reckoner(
    gives={"et": "mm"},
    source="ASCE-EWRI 2005, standardized reference evapotranspiration, eq. 1, Table 1, hourly",
    status="published",
    example={**_AFTERNOON, "reference": "tall"},
)
def asce_hourly_reference_et_mm(
    temp_c: Annotated[ArrayLike, AIR_C],
    *,
    vapour_pressure_kpa: Annotated[ArrayLike, VAPOUR_KPA],
    radiation_mj_m2: Annotated[ArrayLike, RADIATION_MJ],
    wind_2m_m_s: Annotated[ArrayLike, WIND_M_S],
    clear_share: Annotated[ArrayLike, RATIO],
    elevation_m: Annotated[ArrayLike, ELEVATION_M],
    reference: Annotated[str, REFERENCE] = "short",
) -> FloatArray:
    """Reference evapotranspiration of an hour by the American standard: other constants by night than by day.

    Parameters
    ----------
    temp_c, vapour_pressure_kpa, radiation_mj_m2, wind_2m_m_s, clear_share, elevation_m
        As `fao_hourly_reference_et_mm`.
    reference : {'short', 'tall'}
        The sward: short like grass of 12 cm, tall like alfalfa of 50 cm.

    Returns
    -------
    ndarray
        Of the shape the inputs broadcast to; NaN stays NaN. Day is where net radiation is above 0. [mm]

    Raises
    ------
    InputError
        As `fao_hourly_reference_et_mm`; also if `reference` is neither word.

    Formula
    -------
    ETsz = [0.408 Δ (Rn − G) + γ Cn/(T + 273) u₂ (e°(T) − ea)] / [Δ + γ (1 + Cd u₂)]
    short: Cn = 37, Cd = 0.24 by day and 0.96 by night, G = 0.1 Rn and 0.5 Rn
    tall: Cn = 66, Cd = 0.25 by day and 1.7 by night, G = 0.04 Rn and 0.2 Rn
    with T = temp_c, σ = 2.042 × 10⁻¹⁰ MJ/K⁴/m² an hour; the rest as fao_hourly_reference_et_mm.
    (from memory; published values are met)

    References
    ----------
    .. [1] R. G. Allen et al. (eds), "The ASCE standardized reference evapotranspiration equation", ASCE-EWRI, 2005.
    """
    cn, cd, soil = _HOURLY[REFERENCE.hold("reference", reference)]
    arrays = _seen(temp_c, vapour_pressure_kpa, radiation_mj_m2, wind_2m_m_s, clear_share, elevation_m)

    def hour(*weather: FloatArray) -> FloatArray:
        return _hour(*weather, sigma=2.042e-10, cn=cn, cd=cd, soil=soil)

    return in_blocks(hour, *arrays)


def _seen(
    temp_c: ArrayLike,
    vapour_pressure_kpa: ArrayLike,
    radiation_mj_m2: ArrayLike,
    wind_2m_m_s: ArrayLike,
    clear_share: ArrayLike,
    elevation_m: ArrayLike,
) -> tuple[FloatArray, ...]:
    return (
        AIR_C.see("temp_c", temp_c),
        VAPOUR_KPA.see("vapour_pressure_kpa", vapour_pressure_kpa),
        RADIATION_MJ.see("radiation_mj_m2", radiation_mj_m2),
        WIND_M_S.see("wind_2m_m_s", wind_2m_m_s),
        RATIO.see("clear_share", clear_share),
        atmospheric_pressure_kpa(ELEVATION_M.see("elevation_m", elevation_m)),
    )
