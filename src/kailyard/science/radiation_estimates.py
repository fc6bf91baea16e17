"""Solar radiation where it was not measured: from sunshine, from the day's temperatures, on a small island."""

from __future__ import annotations

from typing import Annotated

import numpy as np
from numpy.typing import ArrayLike

from kailyard.science._air import AIR_C, extremes
from kailyard.science.checks import FloatArray, not_above
from kailyard.science.radiation import RADIATION_MJ
from kailyard.science.reckon import Quantity, reckoner

SUNSHINE_H = Quantity("h", 0, 24)
ANGSTROM = Quantity("", 0, 1)
ADJUSTMENT = Quantity("", 0.1, 0.25)

_FAO = "Allen, Pereira, Raes and Smith 1998, FAO Irrigation and Drainage Paper 56"


@reckoner(
    gives={"radiation": "MJ/m²"},
    source=f"{_FAO}, eq. 35 (with a full day of sun: eq. 36)",
    status="published",
    example={"extraterrestrial_mj_m2": 25.1, "sunshine_h": 7.1, "daylight_h": 10.9},
)
def radiation_from_sunshine_mj_m2(
    extraterrestrial_mj_m2: Annotated[ArrayLike, RADIATION_MJ],
    *,
    sunshine_h: Annotated[ArrayLike, SUNSHINE_H],
    daylight_h: Annotated[ArrayLike, SUNSHINE_H],
    a: Annotated[ArrayLike, ANGSTROM] = 0.25,
    b: Annotated[ArrayLike, ANGSTROM] = 0.50,
) -> FloatArray:
    """Solar radiation of a day from its hours of sunshine (the Angström formula).

    Parameters
    ----------
    extraterrestrial_mj_m2 : array_like
        Radiation above the air (`extraterrestrial_radiation_mj_m2`), 0 to 60. [MJ/m²]
    sunshine_h, daylight_h : array_like
        Sunshine, and daylight as `fao_day_length_h` has it; sunshine not above daylight. [h]
    a, b : array_like
        Share that comes through on a sunless day, and what full sun adds; 0.25 and 0.50 where no local fit is known.

    Returns
    -------
    ndarray
        Of the shape the inputs broadcast to; NaN in the polar night; NaN stays NaN. [MJ/m²]

    Raises
    ------
    InputError
        If a value is out of range or sunshine above daylight.

    Formula
    -------
    Rs = (a + b n / N) Ra
    with n = sunshine_h, N = daylight_h, Ra = extraterrestrial_mj_m2. (from memory; published values are met)

    References
    ----------
    .. [1] FAO-56, eq. 35.
    """
    Ra = RADIATION_MJ.see("extraterrestrial_mj_m2", extraterrestrial_mj_m2)
    n, N = SUNSHINE_H.see("sunshine_h", sunshine_h), SUNSHINE_H.see("daylight_h", daylight_h)
    not_above("sunshine_h", n, "daylight_h", N)
    share = np.where(N > 0, n / np.where(N > 0, N, 1.0), np.nan)
    return np.asarray((ANGSTROM.see("a", a) + ANGSTROM.see("b", b) * share) * Ra)


@reckoner(
    gives={"radiation": "MJ/m²"},
    source=f"{_FAO}, eq. 50 (Hargreaves and Samani)",
    status="published",
    example={"extraterrestrial_mj_m2": 40.6, "tmin_c": 14.8, "tmax_c": 26.6},
)
def radiation_from_temperatures_mj_m2(
    extraterrestrial_mj_m2: Annotated[ArrayLike, RADIATION_MJ],
    *,
    tmin_c: Annotated[ArrayLike, AIR_C],
    tmax_c: Annotated[ArrayLike, AIR_C],
    adjustment: Annotated[ArrayLike, ADJUSTMENT] = 0.16,
) -> FloatArray:
    """Solar radiation of a day from the swing of its temperature: clear days swing more.

    The printed equation, which knows no sky: hold the answer to clear-sky radiation, as FAO-56 asks.

    Parameters
    ----------
    extraterrestrial_mj_m2 : array_like
        Radiation above the air (`extraterrestrial_radiation_mj_m2`), 0 to 60. [MJ/m²]
    tmin_c, tmax_c : array_like
        Day's lowest and highest, -60 to 60. [°C]
    adjustment : array_like
        Coefficient kRs: 0.16 inland, 0.19 on a coast, 0.1 to 0.25. [°C to the power of -0.5]

    Returns
    -------
    ndarray
        Of the shape the inputs broadcast to; NaN stays NaN. [MJ/m²]

    Raises
    ------
    InputError
        If a value is out of range or a minimum above its maximum.

    Formula
    -------
    Rs = kRs (Tmax − Tmin)^½ Ra
    with kRs = adjustment, Ra = extraterrestrial_mj_m2. (from memory; published values are met)

    References
    ----------
    .. [1] FAO-56, eq. 50.
    """
    low, high = extremes(tmin_c, tmax_c)
    k = ADJUSTMENT.see("adjustment", adjustment)
    return np.asarray(k * np.sqrt(high - low) * RADIATION_MJ.see("extraterrestrial_mj_m2", extraterrestrial_mj_m2))


@reckoner(
    gives={"radiation": "MJ/m²"},
    source=f"{_FAO}, eq. 51",
    status="published",
    example={"extraterrestrial_mj_m2": 38},
)
def radiation_on_an_island_mj_m2(extraterrestrial_mj_m2: Annotated[ArrayLike, RADIATION_MJ]) -> FloatArray:
    """Solar radiation at the coast of an island under 20 km wide and below 100 m, for monthly work only.

    Parameters
    ----------
    extraterrestrial_mj_m2 : array_like
        Radiation above the air, mean of a month, 0 to 60. [MJ/m²]

    Returns
    -------
    ndarray
        0 or more; NaN stays NaN. [MJ/m²]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    Rs = 0.7 Ra − b
    with b = 4 MJ/m² a day, Ra = extraterrestrial_mj_m2; never below 0. (from memory)

    References
    ----------
    .. [1] FAO-56, eq. 51 (b = 4 MJ/m²).
    """
    return np.asarray(np.maximum(0.7 * RADIATION_MJ.see("extraterrestrial_mj_m2", extraterrestrial_mj_m2) - 4, 0))
