"""What of the sun's radiation stays with a grassed surface, and what the soil below takes of that."""

from __future__ import annotations

from typing import Annotated

import numpy as np
from numpy.typing import ArrayLike

from kailyard.science._air import AIR_C, extremes
from kailyard.science.checks import FloatArray
from kailyard.science.humidity import VAPOUR_KPA
from kailyard.science.radiation import RADIATION_MJ
from kailyard.science.reckon import Choice, Quantity, reckoner

ALBEDO = Quantity("", 0, 1)
RATIO = Quantity("", 0, 1)
NET_MJ = Quantity("MJ/m²", -30, 60)
STEP = Choice(("day", "hour"))

SIGMA_DAY = 4.903e-9
"""Stefan-Boltzmann constant for a day. [MJ/K⁴/m²]"""
_SIGMA = {"day": SIGMA_DAY, "hour": SIGMA_DAY / 24}
LATENT_MM_PER_MJ = 0.408
"""Water that a MJ/m² evaporates, at 2.45 MJ/kg. [mm]"""
KELVIN = 273.16
"""The offset FAO-56 uses in its radiation equations."""

_FAO = "Allen, Pereira, Raes and Smith 1998, FAO Irrigation and Drainage Paper 56"


@reckoner(gives={"water": "mm"}, source=f"{_FAO}, eq. 20", status="published", example={"radiation_mj_m2": 12})
def evaporation_equivalent_mm(radiation_mj_m2: Annotated[ArrayLike, NET_MJ]) -> FloatArray:
    """Depth of water that so much energy evaporates.

    Parameters
    ----------
    radiation_mj_m2 : array_like
        Energy that goes into evaporating water, -30 to 60. [MJ/m²]

    Returns
    -------
    ndarray
        Same shape; NaN stays NaN. [mm]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    evaporation = R / λ = 0.408 R
    with R = radiation_mj_m2, λ = 2.45 MJ/kg. (from memory; published values are met)

    References
    ----------
    .. [1] FAO-56, eq. 20.
    """
    return np.asarray(LATENT_MM_PER_MJ * NET_MJ.see("radiation_mj_m2", radiation_mj_m2))


@reckoner(gives={"radiation": "MJ/m²"}, source=f"{_FAO}, eq. 39, Table 2.8", status="published", example={"temp_c": 20})
def black_body_radiation_mj_m2(
    temp_c: Annotated[ArrayLike, AIR_C], *, step: Annotated[str, STEP] = "day"
) -> FloatArray:
    """Radiation of a black body at a temperature, over a day or an hour.

    Parameters
    ----------
    temp_c : array_like
        Of the body, -60 to 60. [°C]
    step : {'day', 'hour'}
        Over how long.

    Returns
    -------
    ndarray
        Same shape; NaN stays NaN. [MJ/m²]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    σ TK⁴
    with TK = temp_c + 273.16, σ = 4.903 × 10⁻⁹ MJ/K⁴/m² for a day, a 24th of it for an hour.
    (from memory; published values are met)

    References
    ----------
    .. [1] FAO-56, eq. 39 and Table 2.8.
    """
    t = AIR_C.see("temp_c", temp_c)
    return np.asarray(_SIGMA[STEP.hold("step", step)] * (t + KELVIN) ** 4)


@reckoner(gives={"radiation": "MJ/m²"}, source=f"{_FAO}, eq. 38", status="published", example={"radiation_mj_m2": 14.5})
def net_shortwave_mj_m2(
    radiation_mj_m2: Annotated[ArrayLike, RADIATION_MJ], *, albedo: Annotated[ArrayLike, ALBEDO] = 0.23
) -> FloatArray:
    """Solar radiation less what the surface throws back.

    Parameters
    ----------
    radiation_mj_m2 : array_like
        Solar radiation of a day or an hour, 0 to 60. [MJ/m²]
    albedo : array_like
        Share of the sun's radiation that is thrown back: 0.23 for the grass reference. [1]

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
    Rns = (1 − α) Rs
    with α = albedo, Rs = radiation_mj_m2. (from memory; published values are met)

    References
    ----------
    .. [1] FAO-56, eq. 38.
    """
    Rs = RADIATION_MJ.see("radiation_mj_m2", radiation_mj_m2)
    return np.asarray((1 - ALBEDO.see("albedo", albedo)) * Rs)


@reckoner(
    gives={"radiation": "MJ/m²"},
    source=f"{_FAO}, eq. 39",
    status="published",
    example={"tmin_c": 19.1, "tmax_c": 25.1, "vapour_pressure_kpa": 2.1, "clear_share": 0.77},
)
def net_longwave_mj_m2(
    tmin_c: Annotated[ArrayLike, AIR_C],
    tmax_c: Annotated[ArrayLike, AIR_C],
    *,
    vapour_pressure_kpa: Annotated[ArrayLike, VAPOUR_KPA],
    clear_share: Annotated[ArrayLike, RATIO],
) -> FloatArray:
    """Warmth that a day's surface loses to the sky.

    Parameters
    ----------
    tmin_c, tmax_c : array_like
        Day's lowest and highest, -60 to 60. [°C]
    vapour_pressure_kpa : array_like
        Vapour pressure of the air as it is, 0 to 20. [kPa]
    clear_share : array_like
        Solar radiation over that of a clear sky, 0 to 1. [1]

    Returns
    -------
    ndarray
        Positive as a loss; NaN stays NaN. [MJ/m²]

    Raises
    ------
    InputError
        If a value is out of range or a minimum above its maximum.

    Formula
    -------
    Rnl = σ [(Tmax,K⁴ + Tmin,K⁴) / 2] (0.34 − 0.14 √ea) (1.35 Rs/Rso − 0.35)
    with TK = T + 273.16, σ = 4.903 × 10⁻⁹ MJ/K⁴/m² a day, ea = vapour_pressure_kpa, Rs/Rso = clear_share.
    (from memory; published values are met)

    References
    ----------
    .. [1] FAO-56, eq. 39.
    """
    low, high = extremes(tmin_c, tmax_c)
    ea = VAPOUR_KPA.see("vapour_pressure_kpa", vapour_pressure_kpa)
    share = RATIO.see("clear_share", clear_share)
    warm = SIGMA_DAY * ((high + KELVIN) ** 4 + (low + KELVIN) ** 4) / 2
    return np.asarray(warm * (0.34 - 0.14 * np.sqrt(ea)) * (1.35 * share - 0.35))


@reckoner(
    gives={"radiation": "MJ/m²"},
    source=f"{_FAO}, eq. 39 for an hour",
    status="published",
    example={"temp_c": 38, "vapour_pressure_kpa": 3.445, "clear_share": 0.92},
)
def hourly_net_longwave_mj_m2(
    temp_c: Annotated[ArrayLike, AIR_C],
    *,
    vapour_pressure_kpa: Annotated[ArrayLike, VAPOUR_KPA],
    clear_share: Annotated[ArrayLike, RATIO],
) -> FloatArray:
    """Warmth that an hour's surface loses to the sky.

    Parameters, returns and errors as `net_longwave_mj_m2`, with the hour's mean temperature. By night `clear_share` is
    that of two to three hours before sunset, else 0.4 to 0.6 in humid and 0.7 to 0.8 in dry places (FAO-56, p. 75).

    Formula
    -------
    Rnl = (σ / 24) TK⁴ (0.34 − 0.14 √ea) (1.35 Rs/Rso − 0.35)
    with TK = temp_c + 273.16, σ = 4.903 × 10⁻⁹ MJ/K⁴/m² a day, ea = vapour_pressure_kpa, Rs/Rso = clear_share.
    (from memory; published values are met)
    """
    t = AIR_C.see("temp_c", temp_c)
    ea = VAPOUR_KPA.see("vapour_pressure_kpa", vapour_pressure_kpa)
    share = RATIO.see("clear_share", clear_share)
    warm = SIGMA_DAY / 24 * (t + KELVIN) ** 4
    return np.asarray(warm * (0.34 - 0.14 * np.sqrt(ea)) * (1.35 * share - 0.35))


@reckoner(
    gives={"heat": "MJ/m²"},
    source=f"{_FAO}, eq. 43",
    status="published",
    example={"before_c": 14.1, "after_c": 18.8},
)
def monthly_soil_heat_mj_m2(before_c: Annotated[ArrayLike, AIR_C], after_c: Annotated[ArrayLike, AIR_C]) -> FloatArray:
    """Heat a day that the soil takes in a month, from the months before and after. For single days it is 0 (eq. 42).

    Parameters
    ----------
    before_c, after_c : array_like
        Mean temperature of the month before and of the month after, -60 to 60. [°C]

    Returns
    -------
    ndarray
        Of the shape the inputs broadcast to; NaN stays NaN. [MJ/m² a day]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    Gmonth,i = 0.07 (Tmonth,i+1 − Tmonth,i−1)
    with Tmonth,i+1 = after_c, Tmonth,i−1 = before_c.

    References
    ----------
    .. [1] FAO-56, eq. 43.
    """
    return np.asarray(0.07 * (AIR_C.see("after_c", after_c) - AIR_C.see("before_c", before_c)))


@reckoner(
    gives={"heat": "MJ/m²"},
    source=f"{_FAO}, eq. 44",
    status="published",
    example={"before_c": 29.2, "this_c": 30.2},
)
def monthly_soil_heat_so_far_mj_m2(
    before_c: Annotated[ArrayLike, AIR_C], this_c: Annotated[ArrayLike, AIR_C]
) -> FloatArray:
    """The same where the month after is not known yet: from the month before and this one.

    Returns and errors as `monthly_soil_heat_mj_m2`; `this_c` is this month's mean. Reference: FAO-56, eq. 44.

    Formula
    -------
    Gmonth,i = 0.14 (Tmonth,i − Tmonth,i−1)
    with Tmonth,i = this_c, Tmonth,i−1 = before_c.
    """
    return np.asarray(0.14 * (AIR_C.see("this_c", this_c) - AIR_C.see("before_c", before_c)))


@reckoner(
    gives={"heat": "MJ/m²"},
    source=f"{_FAO}, eq. 45, 46",
    status="published",
    example={"net_radiation_mj_m2": 1.749},
)
def hourly_soil_heat_mj_m2(net_radiation_mj_m2: Annotated[ArrayLike, NET_MJ]) -> FloatArray:
    """Heat that the soil under grass takes in an hour: a tenth of net radiation by day, half of its loss by night.

    Day is when net radiation is above 0. At dawn and dusk it may be below with the sun still up: the equations leave
    that open, and ASCE-EWRI 2005 draws the line here.

    Parameters
    ----------
    net_radiation_mj_m2 : array_like
        Net radiation of the hour, -30 to 60. [MJ/m²]

    Returns
    -------
    ndarray
        Same shape; NaN stays NaN. [MJ/m²]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    G = 0.1 Rn by day;  G = 0.5 Rn by night
    with Rn = net_radiation_mj_m2.

    References
    ----------
    .. [1] FAO-56, eq. 45, 46.
    """
    Rn = NET_MJ.see("net_radiation_mj_m2", net_radiation_mj_m2)
    return np.asarray(np.where(Rn > 0, 0.1 * Rn, 0.5 * Rn))
