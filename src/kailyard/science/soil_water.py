"""How much water a soil holds for roots, how much of it is easy, and what becomes of rain: FAO-56 and the NRCS."""

from __future__ import annotations

from typing import Annotated

import numpy as np
from numpy.typing import ArrayLike

from kailyard.science._water import shortfall
from kailyard.science.checks import FloatArray, not_above
from kailyard.science.reckon import Quantity, reckoner

WATER_SHARE = Quantity("m³/m³", 0, 0.8)
ROOT_M = Quantity("m", 0.01, 5)
SURFACE_M = Quantity("m", 0.05, 0.3)
FRACTION = Quantity("", 0.05, 0.9)
ET_MM = Quantity("mm", 0, 30)
DEPTH_MM = Quantity("mm", 0, 5000)
RAIN_MM = Quantity("mm", 0, 2000)
CURVE = Quantity("", 1, 100)
CONDUCTIVITY = Quantity("dS/m", 0, 50)
PERCENT = Quantity("%", 0, 100)
YIELD_FACTOR = Quantity("", 0.1, 3)

INCH_MM = 25.4

_FAO = "Allen, Pereira, Raes and Smith 1998, FAO Irrigation and Drainage Paper 56"
_SILT = {"field_capacity": 0.32, "wilting_point": 0.15}


def _held(field_capacity: ArrayLike, wilting_point: ArrayLike) -> tuple[FloatArray, FloatArray]:
    full, dry = WATER_SHARE.see("field_capacity", field_capacity), WATER_SHARE.see("wilting_point", wilting_point)
    not_above("wilting_point", dry, "field_capacity", full)
    return full, dry


@reckoner(gives={"water": "mm"}, source=f"{_FAO}, eq. 82", status="published", example={**_SILT, "root_depth_m": 0.8})
def total_available_water_mm(
    field_capacity: Annotated[ArrayLike, WATER_SHARE],
    wilting_point: Annotated[ArrayLike, WATER_SHARE],
    *,
    root_depth_m: Annotated[ArrayLike, ROOT_M],
) -> FloatArray:
    """Water that roots can draw from a soil filled to field capacity.

    Parameters
    ----------
    field_capacity, wilting_point : array_like
        Water content, 0 to 0.8. [m³/m³]
    root_depth_m : array_like
        Depth of the roots on that day, 0.01 to 5. [m]

    Returns
    -------
    ndarray
        Of the shape the inputs broadcast to; NaN stays NaN. [mm]

    Raises
    ------
    InputError
        If a value is out of range or wilting point above field capacity.

    Formula
    -------
    TAW = 1000 (θFC − θWP) Zr
    with θFC = field_capacity, θWP = wilting_point, Zr = root_depth_m. (from memory; published values are met)

    References
    ----------
    .. [1] FAO-56, eq. 82.
    """
    full, dry = _held(field_capacity, wilting_point)
    return np.asarray(1000 * (full - dry) * ROOT_M.see("root_depth_m", root_depth_m))


@reckoner(
    gives={"fraction": ""},
    source=f"{_FAO}, Table 22 footnote 2 and p. 162",
    status="published",
    example={"fraction": 0.4, "crop_et_mm": 3},
)
def easy_fraction(fraction: Annotated[ArrayLike, FRACTION], crop_et_mm: Annotated[ArrayLike, ET_MM]) -> FloatArray:
    """Share p of the available water that can go before growth suffers, adjusted to the day's demand.

    Parameters
    ----------
    fraction : array_like
        Share p as tabled, for a crop that takes 5 mm a day, 0.05 to 0.9. [1]
    crop_et_mm : array_like
        Crop (not reference) evapotranspiration, 0 to 30. [mm]

    Returns
    -------
    ndarray
        Held to 0.1 to 0.8; NaN stays NaN. [1]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    p = pTable + 0.04 (5 − ETc), held between 0.1 and 0.8
    with pTable = fraction, ETc = crop_et_mm.

    References
    ----------
    .. [1] FAO-56, Table 22, footnote 2.
    """
    p = FRACTION.see("fraction", fraction) + 0.04 * (5 - ET_MM.see("crop_et_mm", crop_et_mm))
    return np.asarray(np.clip(p, 0.1, 0.8))


@reckoner(
    gives={"water": "mm"},
    source=f"{_FAO}, eq. 83",
    status="published",
    example={"total_available_mm": 136, "fraction": 0.4},
)
def readily_available_water_mm(
    total_available_mm: Annotated[ArrayLike, DEPTH_MM], fraction: Annotated[ArrayLike, FRACTION]
) -> FloatArray:
    """Water that can be drawn before growth suffers.

    Parameters
    ----------
    total_available_mm : array_like
        0 to 5000. [mm]
    fraction : array_like
        Share p of it that is easy, tabled or adjusted, 0.05 to 0.9. [1]

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
    RAW = p TAW
    with p = fraction, TAW = total_available_mm. (from memory; published values are met)

    References
    ----------
    .. [1] FAO-56, eq. 83.
    """
    p = FRACTION.see("fraction", fraction)
    return np.asarray(DEPTH_MM.see("total_available_mm", total_available_mm) * p)


@reckoner(
    gives={"stress": ""},
    source=f"{_FAO}, eq. 84",
    status="published",
    example={"depletion_mm": 70, "total_available_mm": 110, "readily_available_mm": 44},
)
def water_stress(
    depletion_mm: Annotated[ArrayLike, DEPTH_MM],
    *,
    total_available_mm: Annotated[ArrayLike, DEPTH_MM],
    readily_available_mm: Annotated[ArrayLike, DEPTH_MM],
) -> FloatArray:
    """Share Ks of its wish that a crop gets at a depletion of the root zone: 1 until the easy water is gone.

    Parameters
    ----------
    depletion_mm : array_like
        Water gone from the root zone since it was at field capacity, 0 to 5000. [mm]
    total_available_mm, readily_available_mm : array_like
        The second not above the first. [mm]

    Returns
    -------
    ndarray
        0 to 1; NaN stays NaN. [1]

    Raises
    ------
    InputError
        If a value is out of range or the easy water above the whole.

    Formula
    -------
    Ks = (TAW − Dr) / (TAW − RAW) where Dr > RAW, else 1
    with Dr = depletion_mm, TAW = total_available_mm, RAW = readily_available_mm.
    (from memory; published values are met)

    References
    ----------
    .. [1] FAO-56, eq. 84.
    """
    Dr = DEPTH_MM.see("depletion_mm", depletion_mm)
    whole = DEPTH_MM.see("total_available_mm", total_available_mm)
    easy = DEPTH_MM.see("readily_available_mm", readily_available_mm)
    not_above("readily_available_mm", easy, "total_available_mm", whole)
    return shortfall(Dr, whole, easy)


@reckoner(
    gives={"stress": ""},
    source=f"{_FAO}, eq. 91 (with eq. 84: 92)",
    status="published",
    example={"conductivity_ds_m": 1.5, "threshold_ds_m": 1, "loss_pct_per_ds_m": 19, "yield_factor": 1.15},
)
def salt_stress(
    conductivity_ds_m: Annotated[ArrayLike, CONDUCTIVITY],
    *,
    threshold_ds_m: Annotated[ArrayLike, CONDUCTIVITY],
    loss_pct_per_ds_m: Annotated[ArrayLike, PERCENT],
    yield_factor: Annotated[ArrayLike, YIELD_FACTOR],
) -> FloatArray:
    """Share of its wish that a crop gets in salty ground; times `water_stress` where both press.

    Parameters
    ----------
    conductivity_ds_m, threshold_ds_m : array_like
        Of the saturated soil extract, as it is and where loss begins, 0 to 50. [dS/m]
    loss_pct_per_ds_m : array_like
        Yield lost for each dS/m above it, 0 to 100. [%]
    yield_factor : array_like
        Yield response factor Ky of the crop, 0.1 to 3. [1]

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
    Ks = 1 − b / (100 Ky) × (ECe − ECe,threshold)
    with b = loss_pct_per_ds_m, Ky = yield_factor; 1 below the threshold, never below 0.
    (from memory; published values are met)

    References
    ----------
    .. [1] FAO-56, eq. 91, 92.
    """
    over = CONDUCTIVITY.see("conductivity_ds_m", conductivity_ds_m) - CONDUCTIVITY.see("threshold_ds_m", threshold_ds_m)
    b, Ky = PERCENT.see("loss_pct_per_ds_m", loss_pct_per_ds_m), YIELD_FACTOR.see("yield_factor", yield_factor)
    return np.asarray(np.clip(1 - b / (Ky * 100) * np.maximum(over, 0), 0, 1))


@reckoner(
    gives={"water": "mm"},
    source=f"{_FAO}, eq. 73",
    status="published",
    example={"field_capacity": 0.23, "wilting_point": 0.1, "surface_depth_m": 0.1},
)
def total_evaporable_water_mm(
    field_capacity: Annotated[ArrayLike, WATER_SHARE],
    wilting_point: Annotated[ArrayLike, WATER_SHARE],
    *,
    surface_depth_m: Annotated[ArrayLike, SURFACE_M] = 0.1,
) -> FloatArray:
    """Water that can evaporate from the drying surface layer of a wetted soil.

    Parameters
    ----------
    field_capacity, wilting_point : array_like
        Water content, 0 to 0.8. [m³/m³]
    surface_depth_m : array_like
        Depth of soil that dries by evaporation, 0.10 to 0.15 for most soils. [m]

    Returns
    -------
    ndarray
        Of the shape the inputs broadcast to; NaN stays NaN. [mm]

    Raises
    ------
    InputError
        If a value is out of range or wilting point above field capacity.

    Formula
    -------
    TEW = 1000 (θFC − 0.5 θWP) Ze
    with θFC = field_capacity, θWP = wilting_point, Ze = surface_depth_m. (from memory; published values are met)

    References
    ----------
    .. [1] FAO-56, eq. 73.
    """
    full, dry = _held(field_capacity, wilting_point)
    return np.asarray(1000 * (full - 0.5 * dry) * SURFACE_M.see("surface_depth_m", surface_depth_m))


@reckoner(
    gives={"runoff": "mm"},
    source="USDA-NRCS National Engineering Handbook 630, ch. 10 (curve number, initial loss 0.2 S)",
    status="published",
    example={"rain_mm": 50, "curve_number": 80},
)
def curve_number_runoff_mm(
    rain_mm: Annotated[ArrayLike, RAIN_MM], curve_number: Annotated[ArrayLike, CURVE]
) -> FloatArray:
    """Rain of a storm that runs off the ground.

    Parameters
    ----------
    rain_mm : array_like
        Rain of the storm (or the day), 0 to 2000. [mm]
    curve_number : array_like
        Of soil and cover: the higher, the more runs off, 1 to 100. [1]

    Returns
    -------
    ndarray
        Never above the rain; NaN stays NaN. [mm]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    Q = (P − 0.2 S)² / (P + 0.8 S) where P > 0.2 S, else 0;  S = 25.4 (1000/CN − 10)
    with P = rain_mm, CN = curve_number. (from memory; published values are met)

    References
    ----------
    .. [1] USDA-NRCS, National Engineering Handbook, Part 630, ch. 10; TR-55, ch. 2.
    """
    P = RAIN_MM.see("rain_mm", rain_mm)
    S = INCH_MM * (1000 / CURVE.see("curve_number", curve_number) - 10)
    over = np.maximum(P - 0.2 * S, 0)
    return np.asarray(np.where(over > 0, over**2 / np.where(over > 0, P + 0.8 * S, 1.0), 0.0) + 0 * (P + S))


@reckoner(
    gives={"rain": "mm"},
    source="USDA-SCS National Engineering Handbook 623, ch. 2, monthly effective precipitation (from memory)",
    status="memory",
    example={"rain_mm": 75, "crop_et_mm": 150, "storage_mm": 75},
)
def monthly_effective_rain_mm(
    rain_mm: Annotated[ArrayLike, RAIN_MM],
    *,
    crop_et_mm: Annotated[ArrayLike, Quantity("mm", 0, 600)],
    storage_mm: Annotated[ArrayLike, Quantity("mm", 19, 200)] = 75.0,
) -> FloatArray:
    """Rain of a month that a crop can use, by an equation known here from memory only: for a first idea.

    Parameters
    ----------
    rain_mm : array_like
        Rain of the month, 0 to 2000. [mm]
    crop_et_mm : array_like
        Crop evapotranspiration of the month, 0 to 600. [mm]
    storage_mm : array_like
        Water that the soil can store for the crop, 19 to 200. [mm]

    Returns
    -------
    ndarray
        Never above rain or crop evapotranspiration, never below 0; NaN stays NaN. [mm]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    Pe = SF (0.70917 P^0.82416 − 0.11556) 10^(0.02426 ETc), in inches; not above P nor ETc
    SF = 0.531747 + 0.295164 D − 0.057697 D² + 0.003804 D³
    with P = rain_mm, ETc = crop_et_mm, D = storage_mm, all in inches. (from memory; page not seen)

    References
    ----------
    .. [1] USDA-SCS, National Engineering Handbook, Part 623, ch. 2 (from memory; page not seen).
    """
    P = RAIN_MM.see("rain_mm", rain_mm) / INCH_MM
    U = Quantity("mm", 0, 600).see("crop_et_mm", crop_et_mm) / INCH_MM
    D = Quantity("mm", 19, 200).see("storage_mm", storage_mm) / INCH_MM
    SF = 0.531747 + 0.295164 * D - 0.057697 * D**2 + 0.003804 * D**3
    Pe = SF * (0.70917 * P**0.82416 - 0.11556) * 10 ** (0.02426 * U)
    return np.asarray(INCH_MM * np.clip(Pe, 0, np.minimum(P, U)))
