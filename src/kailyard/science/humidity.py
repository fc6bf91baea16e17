"""Vapour pressure from whatever humidity there is, over water at every temperature (below 0 °C too, as FAO-56 has it).

In order of worth for a day: dew point, highest with lowest relative humidity, the highest alone, the mean. The mean
alone gives some 5 % too much.
"""

from __future__ import annotations

from typing import Annotated

import numpy as np
from numpy.typing import ArrayLike

from kailyard.science._air import AIR_C, extremes, saturation
from kailyard.science.checks import FloatArray, InputError, not_above
from kailyard.science.reckon import Choice, Quantity, reckoner

DEW_C = Quantity("°C", -80, 60)
HUMIDITY_PCT = Quantity("%", 0, 100)
VAPOUR_KPA = Quantity("kPa", 0, 20)
"""Ours: saturated air at 60 °C holds 19.9 kPa."""
ELEVATION_M = Quantity("m", -450, 6000)
PRESSURE_KPA = Quantity("kPa", 40, 110)

VENTILATION = Choice(("aspirated", "natural draught", "indoors"))
_PSYCHROMETER = {"aspirated": 0.000662, "natural draught": 0.000800, "indoors": 0.001200}

_FAO = "Allen, Pereira, Raes and Smith 1998, FAO Irrigation and Drainage Paper 56"
_DAY = {"tmin_c": 18, "tmax_c": 25}


@reckoner(gives={"pressure": "kPa"}, source=f"{_FAO}, eq. 7", status="published", example={"elevation_m": 1800})
def atmospheric_pressure_kpa(elevation_m: Annotated[ArrayLike, ELEVATION_M]) -> FloatArray:
    """Mean pressure of the air at an elevation.

    Parameters
    ----------
    elevation_m : array_like
        Above sea level, -450 to 6000. [m]

    Returns
    -------
    ndarray
        Same shape. [kPa]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    P = 101.3 [(293 − 0.0065 z) / 293]^5.26
    with z = elevation_m. (from memory; published values are met)

    References
    ----------
    .. [1] FAO-56, eq. 7.
    """
    z = ELEVATION_M.see("elevation_m", elevation_m)
    return np.asarray(101.3 * ((293 - 0.0065 * z) / 293) ** 5.26)


@reckoner(gives={"gamma": "kPa/°C"}, source=f"{_FAO}, eq. 8", status="published", example={"pressure_kpa": 81.8})
def psychrometric_constant_kpa_c(pressure_kpa: Annotated[ArrayLike, PRESSURE_KPA]) -> FloatArray:
    """Psychrometric constant at a pressure of the air (latent heat held at 2.45 MJ/kg).

    Parameters
    ----------
    pressure_kpa : array_like
        Of the air at the place, 40 to 110. [kPa]

    Returns
    -------
    ndarray
        Same shape. [kPa/°C]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    γ = cp P / (ε λ) = 0.665 × 10⁻³ P
    with P = pressure_kpa, cp = 1.013 × 10⁻³ MJ/kg/°C, ε = 0.622, λ = 2.45 MJ/kg.
    (from memory; published values are met)

    References
    ----------
    .. [1] FAO-56, eq. 8.
    """
    return np.asarray(0.665e-3 * PRESSURE_KPA.see("pressure_kpa", pressure_kpa))


@reckoner(gives={"pressure": "kPa"}, source=f"{_FAO}, eq. 11", status="published", example={"temp_c": 24.5})
def saturation_vapour_pressure_kpa(temp_c: Annotated[ArrayLike, AIR_C]) -> FloatArray:
    """Vapour pressure of saturated air over water.

    Parameters
    ----------
    temp_c : array_like
        Air temperature, -60 to 60. [°C]

    Returns
    -------
    ndarray
        Same shape; NaN stays NaN. [kPa]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    e°(T) = 0.6108 exp[17.27 T / (T + 237.3)]
    with T = temp_c.

    References
    ----------
    .. [1] FAO-56, eq. 11 (the Tetens form).
    """
    return saturation(AIR_C.see("temp_c", temp_c))


@reckoner(gives={"slope": "kPa/°C"}, source=f"{_FAO}, eq. 13", status="published", example={"temp_c": 20})
def saturation_slope_kpa_c(temp_c: Annotated[ArrayLike, AIR_C]) -> FloatArray:
    """How fast saturation vapour pressure rises with temperature.

    Parameters
    ----------
    temp_c : array_like
        Air temperature, -60 to 60. [°C]

    Returns
    -------
    ndarray
        Same shape; NaN stays NaN. [kPa/°C]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    Δ = 4098 {0.6108 exp[17.27 T / (T + 237.3)]} / (T + 237.3)²
    with T = temp_c. (from memory; published values are met)

    References
    ----------
    .. [1] FAO-56, eq. 13.
    """
    t = AIR_C.see("temp_c", temp_c)
    return np.asarray(4098 * saturation(t) / (t + 237.3) ** 2)


@reckoner(gives={"pressure": "kPa"}, source=f"{_FAO}, eq. 12", status="published", example=_DAY)
def mean_saturation_vapour_pressure_kpa(
    tmin_c: Annotated[ArrayLike, AIR_C], tmax_c: Annotated[ArrayLike, AIR_C]
) -> FloatArray:
    """Saturation vapour pressure of a day: mean of those at minimum and maximum (that at the mean is too low).

    Parameters
    ----------
    tmin_c, tmax_c : array_like
        Day's lowest and highest, -60 to 60. [°C]

    Returns
    -------
    ndarray
        Of the shape the inputs broadcast to; NaN stays NaN. [kPa]

    Raises
    ------
    InputError
        If a value is out of range or a minimum above its maximum.

    Formula
    -------
    es = [e°(Tmax) + e°(Tmin)] / 2
    with e° of saturation_vapour_pressure_kpa.

    References
    ----------
    .. [1] FAO-56, eq. 12.
    """
    low, high = extremes(tmin_c, tmax_c)
    return np.asarray((saturation(high) + saturation(low)) / 2)


@reckoner(gives={"pressure": "kPa"}, source=f"{_FAO}, eq. 14, 48", status="published", example={"dew_point_c": 12})
def vapour_pressure_from_dew_point_kpa(dew_point_c: Annotated[ArrayLike, DEW_C]) -> FloatArray:
    """Actual vapour pressure from the dew point.

    With the night's minimum in place of the dew point it is the FAO-56 estimate for missing humidity (eq. 48), for well
    watered surroundings; in dry places take 2 to 3 °C off the minimum first.

    Parameters
    ----------
    dew_point_c : array_like
        -80 to 60. [°C]

    Returns
    -------
    ndarray
        Same shape; NaN stays NaN. [kPa]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    ea = e°(Tdew) = 0.6108 exp[17.27 Tdew / (Tdew + 237.3)]
    with Tdew = dew_point_c; eq. 48 puts Tmin in its place. (from memory; published values are met)

    References
    ----------
    .. [1] FAO-56, eq. 14; eq. 48 and p. 58 for the estimate.
    """
    return saturation(DEW_C.see("dew_point_c", dew_point_c))


@reckoner(
    gives={"pressure": "kPa"},
    source=f"{_FAO}, eq. 17",
    status="published",
    example={**_DAY, "humidity_max_pct": 82, "humidity_min_pct": 54},
)
def vapour_pressure_from_extremes_kpa(
    tmin_c: Annotated[ArrayLike, AIR_C],
    tmax_c: Annotated[ArrayLike, AIR_C],
    *,
    humidity_max_pct: Annotated[ArrayLike, HUMIDITY_PCT],
    humidity_min_pct: Annotated[ArrayLike, HUMIDITY_PCT],
) -> FloatArray:
    """Actual vapour pressure of a day from highest and lowest relative humidity.

    Parameters
    ----------
    tmin_c, tmax_c : array_like
        Day's lowest and highest, -60 to 60. [°C]
    humidity_max_pct : array_like
        Day's highest relative humidity, taken to come with the minimum, 0 to 100. [%]
    humidity_min_pct : array_like
        Day's lowest relative humidity, taken to come with the maximum, 0 to 100. [%]

    Returns
    -------
    ndarray
        Of the shape the inputs broadcast to; NaN stays NaN. [kPa]

    Raises
    ------
    InputError
        If a value is out of range or a minimum above its maximum.

    Formula
    -------
    ea = [e°(Tmin) RHmax / 100 + e°(Tmax) RHmin / 100] / 2
    with e° of saturation_vapour_pressure_kpa. (from memory; published values are met)

    References
    ----------
    .. [1] FAO-56, eq. 17.
    """
    low, high = extremes(tmin_c, tmax_c)
    damp = HUMIDITY_PCT.see("humidity_max_pct", humidity_max_pct)
    dry = HUMIDITY_PCT.see("humidity_min_pct", humidity_min_pct)
    not_above("humidity_min_pct", dry, "humidity_max_pct", damp)
    return np.asarray((saturation(low) * damp / 100 + saturation(high) * dry / 100) / 2)


@reckoner(
    gives={"pressure": "kPa"},
    source=f"{_FAO}, eq. 18 (with the day's minimum) and 54 (with an hour's mean)",
    status="published",
    example={"temp_c": 28, "humidity_pct": 90},
)
def vapour_pressure_from_humidity_kpa(
    temp_c: Annotated[ArrayLike, AIR_C], humidity_pct: Annotated[ArrayLike, HUMIDITY_PCT]
) -> FloatArray:
    """Actual vapour pressure from relative humidity and the temperature at which it was read.

    For an hour its means; for a day the highest humidity with the minimum temperature, where no lowest is known.

    Parameters
    ----------
    temp_c : array_like
        -60 to 60. [°C]
    humidity_pct : array_like
        0 to 100. [%]

    Returns
    -------
    ndarray
        Of the shape the inputs broadcast to; NaN stays NaN. [kPa]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    ea = e°(T) RH / 100
    with T = temp_c (for a day Tmin with RHmax), e° of saturation_vapour_pressure_kpa.
    (from memory; published values are met)

    References
    ----------
    .. [1] FAO-56, eq. 18, 54.
    """
    t, rh = AIR_C.see("temp_c", temp_c), HUMIDITY_PCT.see("humidity_pct", humidity_pct)
    return np.asarray(saturation(t) * rh / 100)


@reckoner(
    gives={"pressure": "kPa"},
    source=f"{_FAO}, eq. 19",
    status="published",
    example={**_DAY, "humidity_mean_pct": 68},
)
def vapour_pressure_from_mean_humidity_kpa(
    tmin_c: Annotated[ArrayLike, AIR_C],
    tmax_c: Annotated[ArrayLike, AIR_C],
    *,
    humidity_mean_pct: Annotated[ArrayLike, HUMIDITY_PCT],
) -> FloatArray:
    """Actual vapour pressure of a day from its mean relative humidity: the last resort, some 5 % too high.

    Parameters, returns and errors as `vapour_pressure_from_extremes_kpa`. Reference: FAO-56, eq. 19.

    Formula
    -------
    ea = RHmean / 100 × [e°(Tmax) + e°(Tmin)] / 2
    with e° of saturation_vapour_pressure_kpa. (from memory; published values are met)
    """
    low, high = extremes(tmin_c, tmax_c)
    rh = HUMIDITY_PCT.see("humidity_mean_pct", humidity_mean_pct)
    return np.asarray(rh / 100 * (saturation(high) + saturation(low)) / 2)


@reckoner(
    gives={"pressure": "kPa"},
    source=f"{_FAO}, eq. 15, 16",
    status="published",
    example={"dry_bulb_c": 25.6, "wet_bulb_c": 19.5, "pressure_kpa": 87.9},
)
def vapour_pressure_from_wet_bulb_kpa(
    dry_bulb_c: Annotated[ArrayLike, AIR_C],
    wet_bulb_c: Annotated[ArrayLike, AIR_C],
    *,
    pressure_kpa: Annotated[ArrayLike, PRESSURE_KPA] = 101.3,
    ventilation: Annotated[str, VENTILATION] = "aspirated",
) -> FloatArray:
    """Actual vapour pressure from a pair of thermometers, one of them kept wet.

    Parameters
    ----------
    dry_bulb_c, wet_bulb_c : array_like
        The two readings, -60 to 60, wet not above dry. [°C]
    pressure_kpa : array_like
        Of the air at the place, 40 to 110. [kPa]
    ventilation : {'aspirated', 'natural draught', 'indoors'}
        How the wet bulb is aired.

    Returns
    -------
    ndarray
        Of the shape the inputs broadcast to; NaN stays NaN. [kPa]

    Raises
    ------
    InputError
        If a value is out of range, wet above dry, or the two tell of less than no vapour.

    Formula
    -------
    ea = e°(Twet) − a P (Tdry − Twet)
    with a = 0.000662 aspirated, 0.000800 in natural draught, 0.001200 indoors without draught.

    References
    ----------
    .. [1] FAO-56, eq. 15, 16 and p. 38.
    """
    dry, wet = AIR_C.see("dry_bulb_c", dry_bulb_c), AIR_C.see("wet_bulb_c", wet_bulb_c)
    not_above("wet_bulb_c", wet, "dry_bulb_c", dry)
    P = PRESSURE_KPA.see("pressure_kpa", pressure_kpa)
    a = _PSYCHROMETER[VENTILATION.hold("ventilation", ventilation)]
    ea = np.asarray(saturation(wet) - a * P * (dry - wet))
    if np.any(ea < 0):
        raise InputError(
            "wet_bulb_c: so far below dry_bulb_c there would be less than no vapour. Look at the readings."
        )
    return ea
