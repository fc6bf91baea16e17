"""Winter chill, hour by hour: what each hour adds. Sums of different models mean different things: never mix them.

Each function gives the share of every hour; add them up (`numpy.cumsum` along the last axis) for the season's course.
"""

from __future__ import annotations

from typing import Annotated

import numpy as np
from numpy.typing import ArrayLike

from kailyard.science.checks import FloatArray, InputError
from kailyard.science.reckon import Choice, Quantity, reckoner

HOURS_C = Quantity("°C", -60, 60, series=True)
UNITS = Quantity("", -1, 1, series=True)
KELVIN = Choice(("273", "273.15"))
SCALE = Choice(("°C", "°F"))

_UTAH = {
    "°C": (np.array([1.4, 2.4, 9.1, 12.4, 15.9, 18.0]), np.array([0, 0.5, 1, 0.5, 0, -0.5, -1])),
    "°F": (np.array([34.0, 36, 48, 54, 60, 65]), np.array([0, 0.5, 1, 0.5, 0, -0.5, -1])),
}
"""Upper bounds (each belongs to the class below it) and weights; the two scales are not exact conversions."""

_DYNAMIC = "Fishman, Erez and Couvillon 1987, J. Theor. Biol. 124:473-483 and 126:309-321; Erez et al. 1990"
_NIGHT = {"temp_c": [12, 9, 6, 4, 2, 0, -1, 1]}


def _hours(temp_c: ArrayLike) -> FloatArray:
    t = HOURS_C.see("temp_c", temp_c)
    if t.ndim == 0:
        raise InputError("temp_c: a run of hours is needed, along the last axis.")
    return t


@reckoner(
    gives={"hours": "h"},
    source="chilling hours between 0 and 7.2 °C (32 to 45 °F); horticultural texts",
    status="published",
    example=_NIGHT,
)
def chilling_hours(temp_c: Annotated[ArrayLike, HOURS_C]) -> FloatArray:
    """1 for each hour at 0 to 7.2 °C, bounds included, else 0.

    Parameters
    ----------
    temp_c : array_like, (..., hours)
        Hourly temperature, -60 to 60. [°C]

    Returns
    -------
    ndarray
        Same shape; NaN stays NaN. [h]

    Raises
    ------
    InputError
        If a value is out of range or `temp_c` a single number.

    Formula
    -------
    1 where 0 ≤ T ≤ 7.2 °C, else 0.

    References
    ----------
    .. [1] General horticulture texts (32 to 45 °F).
    """
    t = _hours(temp_c)
    return np.asarray(np.where(np.isnan(t), np.nan, 1.0 * ((t >= 0) & (t <= 7.2))))


@reckoner(
    gives={"hours": "h"},
    source="Weinberger 1950, Proc. Am. Soc. Hort. Sci. 56:122-128",
    status="published",
    example=_NIGHT,
)
def cold_hours(temp_c: Annotated[ArrayLike, HOURS_C]) -> FloatArray:
    """1 for each hour at or below 7.2 °C, freezing hours included, else 0: the older count.

    Parameters, returns and errors as `chilling_hours`.

    Formula
    -------
    1 where T ≤ 7.2 °C, else 0.

    References
    ----------
    .. [1] J. H. Weinberger, "Chilling requirements of peach varieties", Proc. Am. Soc. Hort. Sci. 56, 1950,
       pp. 122-128.
    """
    t = _hours(temp_c)
    return np.asarray(np.where(np.isnan(t), np.nan, 1.0 * (t <= 7.2)))


@reckoner(
    gives={"units": ""},
    source="Richardson, Seeley and Walker 1974, HortScience 9:331-332 (bounds as restated in °C and in °F)",
    status="published",
    example=_NIGHT,
)
def utah_units(temp_c: Annotated[ArrayLike, HOURS_C], *, scale: Annotated[str, SCALE] = "°C") -> FloatArray:
    """Chill units of each hour by the Utah model: warm hours take away what cold ones gave.

    Parameters
    ----------
    temp_c : array_like, (..., hours)
        Hourly temperature, -60 to 60. [°C]
    scale : {'°C', '°F'}
        Whose table of bounds: the Celsius and the Fahrenheit one are not exact conversions of each other.

    Returns
    -------
    ndarray
        -1 to 1; same shape; NaN stays NaN. [1]

    Raises
    ------
    InputError
        If a value is out of range, `temp_c` a single number or `scale` neither word.

    Formula
    -------
    up to 1.4 °C 0; to 2.4 °C ½; to 9.1 °C 1; to 12.4 °C ½; to 15.9 °C 0; to 18.0 °C −½; above −1
    in the °F form the same weights up to 34, 36, 48, 54, 60 and 65 °F.

    References
    ----------
    .. [1] E. A. Richardson, S. D. Seeley and D. R. Walker, "A model for estimating the completion of rest", HortScience
       9, 1974, pp. 331-332.
    """
    t = _hours(temp_c)
    bounds, weights = _UTAH[SCALE.hold("scale", scale)]
    value = np.round(t * 1.8 + 32, 6) if scale == "°F" else t
    units = weights[np.searchsorted(bounds, value, side="left")]
    return np.asarray(np.where(np.isnan(t), np.nan, units))


@reckoner(
    gives={"hour": "h"},
    source="Richardson, Seeley and Walker 1974, as described: from the autumn hour with the lowest running total",
    status="published",
    example={"units": [0.4, -0.5, 0.5, 1, 1]},
)
def utah_start(units: Annotated[ArrayLike, UNITS]) -> FloatArray:
    """Hour from which a season of Utah units is to be added up: the one after which the running total is lowest.

    Parameters
    ----------
    units : array_like, (..., hours)
        Hours of `utah_units`, from late summer on; a missing hour counts as 0. [1]

    Returns
    -------
    ndarray, (...)
        Number of hours to leave out at the beginning; 0 where the total never falls below nothing. [h]

    Raises
    ------
    InputError
        If a value is out of range or `units` a single number.

    Formula
    -------
    Add the units up from the first hour; the season begins after the hour at which that sum is lowest.
    """
    u = UNITS.see("units", units)
    if u.ndim == 0:
        raise InputError("units: a run of hours is needed, along the last axis.")
    total = np.cumsum(np.nan_to_num(u), axis=-1)
    total = np.concatenate([np.zeros((*u.shape[:-1], 1)), total], axis=-1)
    return np.asarray(np.argmin(total, axis=-1).astype(np.float64))


@reckoner(gives={"portions": ""}, source=_DYNAMIC, status="published", example={"temp_c": [6] * 40})
def dynamic_portions(temp_c: Annotated[ArrayLike, HOURS_C], *, kelvin: Annotated[str, KELVIN] = "273") -> FloatArray:
    """Chill portions that each hour completes, by the Dynamic model.

    A precursor forms in the cold and is undone by warmth; once it is whole, part of it is kept for good. Short series
    therefore give 0, and above some 13 °C steady nothing forms.

    Parameters
    ----------
    temp_c : array_like, (..., hours)
        Hourly temperature in order of time, -60 to 60. A missing hour is missing in the answer and leaves the
        precursor as it was. [°C]
    kelvin : {'273', '273.15'}
        What stands for 0 °C. The model was written with 273; the other differs by a quarter in frost, a tenth in cool
        mixed weather, under 3 % between 4 and 11 °C.

    Returns
    -------
    ndarray
        Same shape. [1]

    Raises
    ------
    InputError
        If a value is out of range, `temp_c` a single number or `kelvin` neither constant.

    Formula
    -------
    xs = (A0/A1) exp[(E1 − E0)/T];  k1 = A1 exp(−E1/T);  ξ = s/(1 + s),  s = exp[1.6 × 277 (T − 277)/T]
    each hour: x_end = xs − (xs − x_start) exp(−k1)
    x_end ≥ 1: the hour completes ξ x_end portions and the next begins at x_end (1 − ξ); else it begins at x_end
    with T = temp_c + kelvin, E0 = 4153.5, E1 = 12888.8 K, A0 = 139500, A1 = 2.567 × 10¹⁸ an hour.

    References
    ----------
    .. [1] S. Fishman, A. Erez and G. A. Couvillon, "The temperature dependence of dormancy breaking in plants", J.
       Theor. Biol. 124, 1987, pp. 473-483, and 126, pp. 309-321.
    .. [2] A. Erez et al., "The dynamic model for rest completion in peach buds", Acta Hortic. 276, 1990, pp. 165-174.
    """
    t = np.moveaxis(_hours(temp_c), -1, 0)
    T = t + float(KELVIN.hold("kelvin", kelvin))
    xs = 139500 / 2.567e18 * np.exp((12888.8 - 4153.5) / T)
    left = np.exp(-2.567e18 * np.exp(-12888.8 / T))
    lift = np.minimum(1.6 * 277 * (T - 277) / T, 700)  # far below overflow, far above any summer
    kept = np.exp(lift) / (1 + np.exp(lift))
    portions = np.zeros_like(T)
    x: FloatArray = np.zeros(T.shape[1:])
    missing = np.asarray(np.isnan(t))
    gaps = np.asarray(missing.any(axis=tuple(range(1, t.ndim))))
    for hour in range(len(T)):
        end = xs[hour] - (xs[hour] - x) * left[hour]
        whole = end >= 1
        portions[hour] = np.where(whole, kept[hour] * end, 0.0)
        after = np.where(whole, end * (1 - kept[hour]), end)
        x = np.where(missing[hour], x, after) if gaps[hour] else after
    portions[missing] = np.nan
    return np.asarray(np.moveaxis(portions, 0, -1))
