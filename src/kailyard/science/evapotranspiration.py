"""Water that a short even grass sward, never short of it, gives to the air in a day: reference evapotranspiration.

`fao_reference_et_mm` is the one to use; `hargreaves_et_mm` where nothing but temperature is known. Values may fall a
little below 0 on a damp winter day, which is dew: the equations are left as printed.
"""

from __future__ import annotations

from typing import Annotated, NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from kailyard.science._air import AIR_C, extremes, saturation
from kailyard.science._blocks import in_blocks
from kailyard.science._fao_sun import above_the_air
from kailyard.science.checks import FloatArray
from kailyard.science.humidity import ELEVATION_M, PRESSURE_KPA, VAPOUR_KPA, atmospheric_pressure_kpa
from kailyard.science.net_radiation import KELVIN, LATENT_MM_PER_MJ, NET_MJ, SIGMA_DAY
from kailyard.science.radiation import RADIATION_MJ, humid_clear_sky_radiation_mj_m2
from kailyard.science.reckon import Choice, Quantity, reckoner
from kailyard.science.sun import DAY_OF_YEAR, LATITUDE_DEG

WIND_M_S = Quantity("m/s", 0, 60)
HEIGHT_M = Quantity("m", 0.5, 100)
DEFICIT_KPA = Quantity("kPa", -5, 20)
REFERENCE = Choice(("short", "tall"))
CLEAR_SKY = Choice(("simple", "humid"))

_FAO = "Allen, Pereira, Raes and Smith 1998, FAO Irrigation and Drainage Paper 56"
_ASCE_SIGMA = 4.901e-9
_DAILY = {"short": (900.0, 0.34), "tall": (1600.0, 0.38)}
"""Numerator and denominator constants of ASCE-EWRI 2005, Table 1, for a day."""
_JULY = {
    "tmin_c": 12.3,
    "tmax_c": 21.5,
    "vapour_pressure_kpa": 1.409,
    "radiation_mj_m2": 22.07,
    "wind_2m_m_s": 2.078,
    "latitude_deg": 50.8,
    "day_of_year": 187,
    "elevation_m": 100,
}


class PenmanMonteith(NamedTuple):
    """The two parts of reference evapotranspiration; their sum is the whole."""

    radiation_term: FloatArray
    wind_term: FloatArray


@reckoner(
    gives={"wind": "m/s"},
    source=f"{_FAO}, eq. 47",
    status="published",
    example={"wind_m_s": 3.2, "height_m": 10},
)
def wind_at_2m_m_s(wind_m_s: Annotated[ArrayLike, WIND_M_S], height_m: Annotated[ArrayLike, HEIGHT_M]) -> FloatArray:
    """Wind at 2 m over short grass from wind at another height.

    Parameters
    ----------
    wind_m_s : array_like
        Wind as measured, 0 to 60. [m/s]
    height_m : array_like
        At which it was measured, 0.5 to 100. [m]

    Returns
    -------
    ndarray
        Of the shape the inputs broadcast to; NaN stays NaN. Where no wind at all is known FAO-56 takes 2 m/s. [m/s]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    u2 = uz 4.87 / ln(67.8 z − 5.42)
    with uz = wind_m_s, z = height_m. (from memory; published values are met)

    References
    ----------
    .. [1] FAO-56, eq. 47; p. 63 for the 2 m/s.
    """
    z = HEIGHT_M.see("height_m", height_m)
    return np.asarray(WIND_M_S.see("wind_m_s", wind_m_s) * 4.87 / np.log(67.8 * z - 5.42))


@reckoner(
    gives={"radiation_term": "mm", "wind_term": "mm"},
    source=f"{_FAO}, eq. 6",
    status="published",
    example={
        "tmean_c": 16.9,
        "net_radiation_mj_m2": 13.28,
        "soil_heat_mj_m2": 0,
        "deficit_kpa": 0.589,
        "wind_2m_m_s": 2.078,
        "pressure_kpa": 100.1,
    },
)
def penman_monteith_terms_mm(
    tmean_c: Annotated[ArrayLike, AIR_C],
    *,
    net_radiation_mj_m2: Annotated[ArrayLike, NET_MJ],
    soil_heat_mj_m2: Annotated[ArrayLike, NET_MJ] = 0.0,
    deficit_kpa: Annotated[ArrayLike, DEFICIT_KPA],
    wind_2m_m_s: Annotated[ArrayLike, WIND_M_S],
    pressure_kpa: Annotated[ArrayLike, PRESSURE_KPA],
) -> PenmanMonteith:
    """The FAO Penman-Monteith equation for a day, in its two parts, from what stands in it.

    Parameters
    ----------
    tmean_c : array_like
        Half of minimum plus maximum, -60 to 60. [°C]
    net_radiation_mj_m2, soil_heat_mj_m2 : array_like
        Rn and G; G is 0 for a day. [MJ/m²]
    deficit_kpa : array_like
        Vapour pressure deficit, -5 to 20. [kPa]
    wind_2m_m_s : array_like
        Wind at 2 m, 0 to 60. [m/s]
    pressure_kpa : array_like
        Of the air at the place, 40 to 110. [kPa]

    Returns
    -------
    PenmanMonteith
        Each of the shape the inputs broadcast to; NaN stays NaN. [mm, mm]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    ET₀ = [0.408 Δ (Rn − G) + γ 900/(T + 273) u₂ (es − ea)] / [Δ + γ (1 + 0.34 u₂)]
    radiation term: 0.408 Δ (Rn − G) over the lower bracket; wind term: the rest
    with es − ea = deficit_kpa; Δ of saturation_slope_kpa_c, γ of psychrometric_constant_kpa_c.
    (from memory; published values are met)

    References
    ----------
    .. [1] FAO-56, eq. 6.
    """
    T, u2 = AIR_C.see("tmean_c", tmean_c), WIND_M_S.see("wind_2m_m_s", wind_2m_m_s)
    Rn = NET_MJ.see("net_radiation_mj_m2", net_radiation_mj_m2)
    G = NET_MJ.see("soil_heat_mj_m2", soil_heat_mj_m2)
    gamma = 0.665e-3 * PRESSURE_KPA.see("pressure_kpa", pressure_kpa)
    slope = 4098 * saturation(T) / (T + 237.3) ** 2
    below = slope + gamma * (1 + 0.34 * u2)
    deficit = DEFICIT_KPA.see("deficit_kpa", deficit_kpa)
    return PenmanMonteith(
        np.asarray(0.408 * slope * (Rn - G) / below), np.asarray(gamma * 900 / (T + 273) * u2 * deficit / below)
    )


def _day(
    low: FloatArray,
    high: FloatArray,
    ea: FloatArray,
    Rs: FloatArray,
    u2: FloatArray,
    Rso: FloatArray,
    P: FloatArray,
    G: FloatArray,
    *,
    sigma: float,
    least_share: float,
    cn: float,
    cd: float,
) -> FloatArray:
    """Eq. 6 with 38, 39, 40 (ASCE-EWRI 2005 eq. 1 with 15-18): one stretch of days."""
    T = (high + low) / 2
    es = (saturation(high) + saturation(low)) / 2
    slope = 4098 * saturation(T) / np.square(T + 237.3)
    gamma = 0.665e-3 * P
    share = np.clip(Rs / Rso, least_share, 1)
    warm = sigma / 2 * (np.square(np.square(high + KELVIN)) + np.square(np.square(low + KELVIN)))
    Rnl = warm * (0.34 - 0.14 * np.sqrt(ea)) * (1.35 * share - 0.35)
    Rn = 0.77 * Rs - Rnl
    above = LATENT_MM_PER_MJ * slope * (Rn - G) + gamma * cn / (T + 273) * u2 * (es - ea)
    return np.asarray(above / (slope + gamma * (1 + cd * u2)))


def _sky(Ra: FloatArray, z: FloatArray) -> FloatArray:
    """Clear-sky radiation, eq. 37; in the polar night a trace, so that 0 over 0 counts as overcast."""
    return np.maximum((0.75 + 2e-5 * z) * Ra, 1e-9)


@reckoner(gives={"et": "mm"}, source=f"{_FAO}, eq. 6 with 7-13, 21-25, 37-40", status="published", example=_JULY)
def fao_reference_et_mm(
    tmin_c: Annotated[ArrayLike, AIR_C],
    tmax_c: Annotated[ArrayLike, AIR_C],
    *,
    vapour_pressure_kpa: Annotated[ArrayLike, VAPOUR_KPA],
    radiation_mj_m2: Annotated[ArrayLike, RADIATION_MJ],
    wind_2m_m_s: Annotated[ArrayLike, WIND_M_S],
    latitude_deg: Annotated[ArrayLike, LATITUDE_DEG],
    day_of_year: Annotated[ArrayLike, DAY_OF_YEAR],
    elevation_m: Annotated[ArrayLike, ELEVATION_M],
    soil_heat_mj_m2: Annotated[ArrayLike, NET_MJ] = 0.0,
) -> FloatArray:
    """Reference evapotranspiration of a day by FAO-56 Penman-Monteith, from weather.

    Parameters
    ----------
    tmin_c, tmax_c : array_like
        Day's lowest and highest, -60 to 60. [°C]
    vapour_pressure_kpa : array_like
        Vapour pressure of the air as it is, 0 to 20; one of `vapour_pressure_from_...` finds it. [kPa]
    radiation_mj_m2 : array_like
        Solar radiation of the day, 0 to 60. [MJ/m²]
    wind_2m_m_s : array_like
        Wind at 2 m, 0 to 60; other heights through `wind_at_2m_m_s`. [m/s]
    latitude_deg, day_of_year, elevation_m : array_like
        North positive; 1 to 366; above sea level. Best of shapes that spread only as far as they vary. [°, d, m]
    soil_heat_mj_m2 : array_like
        0 for a day; `monthly_soil_heat_mj_m2` for means of months. [MJ/m²]

    Returns
    -------
    ndarray
        Of the shape the inputs broadcast to; NaN stays NaN. [mm]

    Raises
    ------
    InputError
        If a value is out of range or a minimum above its maximum.

    Formula
    -------
    ET₀ = [0.408 Δ (Rn − G) + γ 900/(T + 273) u₂ (es − ea)] / [Δ + γ (1 + 0.34 u₂)]
    T = (Tmax + Tmin) / 2;  es = [e°(Tmax) + e°(Tmin)] / 2;  Rn = (1 − 0.23) Rs − Rnl;  Rso = (0.75 + 2 × 10⁻⁵ z) Ra
    with ea = vapour_pressure_kpa, Rs = radiation_mj_m2, u₂ = wind_2m_m_s, G = soil_heat_mj_m2, z = elevation_m;
        Δ, γ, Ra and Rnl as the methods of their names have them. (from memory; published values are met)

    References
    ----------
    .. [1] R. G. Allen, L. S. Pereira, D. Raes and M. Smith, "Crop evapotranspiration", FAO Irrig. Drain. Paper 56,
       1998, eq. 6 and Box 11.
    """
    low, high = extremes(tmin_c, tmax_c)
    ea = VAPOUR_KPA.see("vapour_pressure_kpa", vapour_pressure_kpa)
    Rs = RADIATION_MJ.see("radiation_mj_m2", radiation_mj_m2)
    u2 = WIND_M_S.see("wind_2m_m_s", wind_2m_m_s)
    phi, J = np.deg2rad(LATITUDE_DEG.see("latitude_deg", latitude_deg)), DAY_OF_YEAR.see("day_of_year", day_of_year)
    z = ELEVATION_M.see("elevation_m", elevation_m)
    G = NET_MJ.see("soil_heat_mj_m2", soil_heat_mj_m2)
    Rso, P = _sky(in_blocks(above_the_air, phi, J), z), atmospheric_pressure_kpa(z)

    def day(*weather: FloatArray) -> FloatArray:
        return _day(*weather, sigma=SIGMA_DAY, least_share=0.0, cn=900.0, cd=0.34)

    return in_blocks(day, low, high, ea, Rs, u2, Rso, P, G)


@reckoner(
    gives={"et": "mm"},
    source="ASCE-EWRI 2005, standardized reference evapotranspiration, eq. 1, Table 1; clear sky eq. 19 or appendix D",
    status="published",
    example={**_JULY, "reference": "tall"},
)
def asce_reference_et_mm(
    tmin_c: Annotated[ArrayLike, AIR_C],
    tmax_c: Annotated[ArrayLike, AIR_C],
    *,
    vapour_pressure_kpa: Annotated[ArrayLike, VAPOUR_KPA],
    radiation_mj_m2: Annotated[ArrayLike, RADIATION_MJ],
    wind_2m_m_s: Annotated[ArrayLike, WIND_M_S],
    latitude_deg: Annotated[ArrayLike, LATITUDE_DEG],
    day_of_year: Annotated[ArrayLike, DAY_OF_YEAR],
    elevation_m: Annotated[ArrayLike, ELEVATION_M],
    reference: Annotated[str, REFERENCE] = "short",
    clear_sky: Annotated[str, CLEAR_SKY] = "simple",
) -> FloatArray:
    """Reference evapotranspiration of a day by the American standard, for a short (grass) or tall (alfalfa) sward.

    Parameters
    ----------
    tmin_c, tmax_c, vapour_pressure_kpa, radiation_mj_m2, wind_2m_m_s, latitude_deg, day_of_year, elevation_m
        As `fao_reference_et_mm`.
    reference : {'short', 'tall'}
        The sward: short like grass of 12 cm, tall like alfalfa of 50 cm.
    clear_sky : {'simple', 'humid'}
        Clear-sky radiation from elevation alone, or from moisture and pressure too (some 1 % apart in the answer).

    Returns
    -------
    ndarray
        Of the shape the inputs broadcast to; NaN stays NaN. [mm]

    Raises
    ------
    InputError
        As `fao_reference_et_mm`; also if `reference` or `clear_sky` is none of its words.

    Formula
    -------
    ETsz = [0.408 Δ (Rn − G) + γ Cn/(T + 273) u₂ (es − ea)] / [Δ + γ (1 + Cd u₂)],  G = 0
    with Cn = 900, Cd = 0.34 for the short sward, 1600 and 0.38 for the tall; Rs/Rso held between 0.3 and 1,
        σ = 4.901 × 10⁻⁹ MJ/K⁴/m² a day; the rest as fao_reference_et_mm. (from memory; published values are met)

    References
    ----------
    .. [1] R. G. Allen et al. (eds), "The ASCE standardized reference evapotranspiration equation", ASCE-EWRI, 2005.
    """
    low, high = extremes(tmin_c, tmax_c)
    ea = VAPOUR_KPA.see("vapour_pressure_kpa", vapour_pressure_kpa)
    Rs = RADIATION_MJ.see("radiation_mj_m2", radiation_mj_m2)
    u2 = WIND_M_S.see("wind_2m_m_s", wind_2m_m_s)
    phi, J = np.deg2rad(LATITUDE_DEG.see("latitude_deg", latitude_deg)), DAY_OF_YEAR.see("day_of_year", day_of_year)
    z = ELEVATION_M.see("elevation_m", elevation_m)
    cn, cd = _DAILY[REFERENCE.hold("reference", reference)]
    P = atmospheric_pressure_kpa(z)
    if CLEAR_SKY.hold("clear_sky", clear_sky) == "simple":
        Rso = _sky(in_blocks(above_the_air, phi, J), z)
    else:
        humid = humid_clear_sky_radiation_mj_m2(latitude_deg, J, pressure_kpa=P, vapour_pressure_kpa=ea)
        Rso = np.maximum(humid, 1e-9)

    def day(*weather: FloatArray) -> FloatArray:
        return _day(*weather, sigma=_ASCE_SIGMA, least_share=0.3, cn=cn, cd=cd)

    return in_blocks(day, low, high, ea, Rs, u2, Rso, P, np.asarray(0.0))


@reckoner(
    gives={"et": "mm"},
    source=f"{_FAO}, eq. 52 (Hargreaves and Samani 1985)",
    status="published",
    example={"tmin_c": 14.8, "tmax_c": 26.6, "latitude_deg": 45.7167, "day_of_year": 196},
)
def hargreaves_et_mm(
    tmin_c: Annotated[ArrayLike, AIR_C],
    tmax_c: Annotated[ArrayLike, AIR_C],
    *,
    latitude_deg: Annotated[ArrayLike, LATITUDE_DEG],
    day_of_year: Annotated[ArrayLike, DAY_OF_YEAR],
) -> FloatArray:
    """Reference evapotranspiration from temperature alone; too high in damp places, too low where wind blows.

    For spans of five days and more rather than single days, as its makers say.

    Parameters
    ----------
    tmin_c, tmax_c : array_like
        Day's lowest and highest, -60 to 60. [°C]
    latitude_deg, day_of_year : array_like
        North positive; 1 to 366. [°, d]

    Returns
    -------
    ndarray
        Of the shape the inputs broadcast to; below 0 under a mean of -17.8 °C; NaN stays NaN. [mm]

    Raises
    ------
    InputError
        If a value is out of range or a minimum above its maximum.

    Formula
    -------
    ET₀ = 0.0023 (Tmean + 17.8) (Tmax − Tmin)^½ Ra
    with Tmean = (Tmax + Tmin) / 2 and Ra in mm a day: 0.408 × extraterrestrial_radiation_mj_m2.
    (from memory; published values are met)

    References
    ----------
    .. [1] FAO-56, eq. 52 (radiation above the air in mm).
    """
    low, high = extremes(tmin_c, tmax_c)
    phi, J = np.deg2rad(LATITUDE_DEG.see("latitude_deg", latitude_deg)), DAY_OF_YEAR.see("day_of_year", day_of_year)
    Ra_mm = LATENT_MM_PER_MJ * in_blocks(above_the_air, phi, J)
    return in_blocks(
        lambda low, high, Ra: np.asarray(0.0023 * ((low + high) / 2 + 17.8) * np.sqrt(high - low) * Ra),
        low,
        high,
        Ra_mm,
    )
