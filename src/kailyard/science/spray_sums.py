"""The practitioner's own sums: how much a sprayer lays on the ground, and what to mix for a bed and no more.

Every rate and dilution of a product is the user's own, off the label: none stands here. The label is the law; wear what
it asks for, try the sprayer with clean water, and mix no more than the bed takes.
"""

from __future__ import annotations

from typing import Annotated, NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from kailyard.science.checks import FloatArray, InputError
from kailyard.science.garden_sums import ARITHMETIC
from kailyard.science.reckon import Quantity, reckoner

USED_L = Quantity("L", 0, 1e5)
TANK_L = Quantity("L", 0, 1e4)
PLOT_M2 = Quantity("m²", 0.1, 1e6)
BED_M2 = Quantity("m²", 0, 1e6)
SPRAY_ML_M2 = Quantity("mL/m²", 0.1, 5000)
LABEL_ML_M2 = Quantity("mL/m²", 0, 5000, off_label=True)
DILUTION_ML_L = Quantity("mL/L", 0, 1000, off_label=True)
FLOW_L_MIN = Quantity("L/min", 0, 200)
SPEED_M_S = Quantity("m/s", 0.05, 10)
SWATH_M = Quantity("m", 0.05, 50)

ACRE_128_M2 = 43560 / 128 * 0.3048**2
"""A 128th of an acre, 340.3 sq ft: on it as many fluid ounces are caught as go gallons to the acre."""

_EXTENSION = "extension sheets on hand-held sprayers (area test with refill; 1/128 acre)"


class SprayRate(NamedTuple):
    """What a sprayer lays on the ground."""

    rate: FloatArray
    """On a square metre. [mL/m²]"""
    rate_a_hectare: FloatArray
    """The same as field labels have it. [L/ha]"""


def _rate(ml_m2: FloatArray) -> SprayRate:
    return SprayRate(np.asarray(ml_m2), np.asarray(10 * ml_m2))


@reckoner(
    gives={"rate": "mL/m²", "rate_a_hectare": "L/ha"},
    source=f"{ARITHMETIC}; {_EXTENSION}",
    status="common practice",
    example={"used_l": 4.2, "plot_m2": 100},
)
def spray_rate_of_a_test(used_l: Annotated[ArrayLike, USED_L], plot_m2: Annotated[ArrayLike, PLOT_M2]) -> SprayRate:
    """What a sprayer lays on the ground: spray a measured plot with clean water, then measure what refills the tank.

    Or spray into a jug for the seconds that the plot took. On 31.6 m² (340 sq ft, a 128th of an acre) the fluid ounces
    caught are the gallons an acre.

    Parameters
    ----------
    used_l : array_like
        Water used on the plot, 0 to 100000. [L]
    plot_m2 : array_like
        Area of the plot, 0.1 to 1000000. [m²]

    Returns
    -------
    SprayRate
        At that walking pace, nozzle and pressure only; NaN stays NaN. [mL/m², L/ha]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    rate = water used / area;  1 mL/m² = 10 L/ha

    References
    ----------
    .. [1] 1/128 acre rule as in county and state extension sheets on sprayer calibration.
    """
    return _rate(1000 * USED_L.see("used_l", used_l) / PLOT_M2.see("plot_m2", plot_m2))


@reckoner(
    gives={"course": "m"},
    source="Barbosa, Koske and Parish, Ounces equal gallons: sprayer calibration, LSU AgCenter",
    status="published",
    example={"swath_m": 0.508},
)
def spray_course_m(
    swath_m: Annotated[ArrayLike, SWATH_M], *, plot_m2: Annotated[ArrayLike, PLOT_M2] = ACRE_128_M2
) -> FloatArray:
    """Length to walk so that a swath, band or row of a width covers a test plot: without more, a 128th of an acre.

    Over that course the fluid ounces caught from all nozzles of the swath are the gallons an acre.

    Parameters
    ----------
    swath_m : array_like
        Width sprayed in one pass, or from row to row, 0.05 to 50. [m]
    plot_m2 : array_like
        Area of the test, 0.1 to 1000000; 31.6 is a 128th of an acre. [m²]

    Returns
    -------
    ndarray
        NaN stays NaN. [m]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    course in feet = 340.3 × 12 / width in inches;  in general course = area of the test / width

    References
    ----------
    .. [1] Barbosa, Koske and Parish, "Ounces equal gallons: sprayer calibration", LSU AgCenter.
    """
    return np.asarray(PLOT_M2.see("plot_m2", plot_m2) / SWATH_M.see("swath_m", swath_m))


@reckoner(
    gives={"rate": "mL/m²", "rate_a_hectare": "L/ha"},
    source="Albany County Weed and Pest, Calibrating your sprayer (broadcast nozzle formula)",
    status="published",
    example={"flow_l_min": 0.6, "speed_m_s": 0.8333, "swath_m": 1},
)
def spray_rate_on_the_move(
    flow_l_min: Annotated[ArrayLike, FLOW_L_MIN],
    *,
    speed_m_s: Annotated[ArrayLike, SPEED_M_S],
    swath_m: Annotated[ArrayLike, SWATH_M],
) -> SprayRate:
    """What a sprayer lays on the ground, from the flow of its nozzles, the walking pace and the width of the swath.

    Parameters
    ----------
    flow_l_min : array_like
        Water caught from all nozzles of the swath in a minute, 0 to 200. [L/min]
    speed_m_s : array_like
        Walking pace, timed over a measured length with the full sprayer, 0.05 to 10. [m/s]
    swath_m : array_like
        Width sprayed in one pass, 0.05 to 50. [m]

    Returns
    -------
    SprayRate
        NaN stays NaN. [mL/m², L/ha]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    gallons per acre = 5940 × gallons per minute / (miles per hour × width in inches)
    5940 only turns the units: rate = flow / (speed × width)

    References
    ----------
    .. [1] Albany County Weed and Pest District, "Calibrating your sprayer".
    """
    flow = FLOW_L_MIN.see("flow_l_min", flow_l_min) * 1000 / 60
    return _rate(flow / (SPEED_M_S.see("speed_m_s", speed_m_s) * SWATH_M.see("swath_m", swath_m)))


@reckoner(
    gives={"area": "m²"},
    source=ARITHMETIC,
    status="common practice",
    example={"tank_l": 5, "spray_ml_m2": 42},
)
def area_of_a_tank_m2(
    tank_l: Annotated[ArrayLike, TANK_L], spray_ml_m2: Annotated[ArrayLike, SPRAY_ML_M2]
) -> FloatArray:
    """Ground that one filling of the tank covers.

    Parameters
    ----------
    tank_l : array_like
        What is in the tank, 0 to 10000. [L]
    spray_ml_m2 : array_like
        What the sprayer lays down, of `spray_rate_of_a_test`, 0.1 to 5000. [mL/m²]

    Returns
    -------
    ndarray
        NaN stays NaN. [m²]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    area = volume of the tank / spray on a unit of area

    References
    ----------
    .. [1] Definition.
    """
    return np.asarray(1000 * TANK_L.see("tank_l", tank_l) / SPRAY_ML_M2.see("spray_ml_m2", spray_ml_m2))


@reckoner(
    gives={"mix": "L"},
    source=ARITHMETIC,
    status="common practice",
    example={"area_m2": 2.97, "spray_ml_m2": 204},
)
def spray_for_a_bed_l(
    area_m2: Annotated[ArrayLike, BED_M2], spray_ml_m2: Annotated[ArrayLike, SPRAY_ML_M2]
) -> FloatArray:
    """Spray that a bed takes: mix so much and no more, for what is left over may go nowhere but where the label says.

    Parameters
    ----------
    area_m2 : array_like
        Ground or canopy to be sprayed, 0 to 1000000. [m²]
    spray_ml_m2 : array_like
        What the sprayer lays down, of `spray_rate_of_a_test`, or what the label asks for, 0.1 to 5000. [mL/m²]

    Returns
    -------
    ndarray
        NaN stays NaN. [L]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    mix = area × spray on a unit of area

    References
    ----------
    .. [1] Definition.
    """
    return np.asarray(BED_M2.see("area_m2", area_m2) * SPRAY_ML_M2.see("spray_ml_m2", spray_ml_m2) / 1000)


@reckoner(
    gives={"product": "mL", "product_a_litre": "mL/L"},
    source="1/128 method of calibration, hand sprayers and hand guns, extension teaching slides",
    status="common practice",
    example={"label_ml_m2": 0.25, "spray_ml_m2": 42, "tank_l": 5},
)
def product_for_a_tank_ml(
    *,
    label_ml_m2: Annotated[ArrayLike, LABEL_ML_M2],
    spray_ml_m2: Annotated[ArrayLike, SPRAY_ML_M2],
    tank_l: Annotated[ArrayLike, TANK_L],
) -> tuple[FloatArray, FloatArray]:
    """Product for a tank at the rate by area that YOUR label prints. The label is the law and stands above this sum.

    No rate stands here and none is guessed. A rate in grams goes in as if it were in millilitres: grams come out.

    Parameters
    ----------
    label_ml_m2 : array_like
        Rate by area, read off the label for this crop and this trouble, 0 to 5000. [mL/m²]
    spray_ml_m2 : array_like
        What this sprayer lays down, of `spray_rate_of_a_test`, 0.1 to 5000. [mL/m²]
    tank_l : array_like
        What is mixed, water and product together, 0 to 10000. [L]

    Returns
    -------
    product, product_a_litre : ndarray
        For the tank, and for a litre of it; NaN stays NaN. [mL, mL/L]

    Raises
    ------
    InputError
        If a value is out of range, or the product alone is more than the spray.

    Formula
    -------
    product for the tank = label rate by area × (volume of the tank / spray on the same area)

    References
    ----------
    .. [1] Extension teaching slides on the 1/128 method for hand sprayers and hand guns.
    """
    label, spray = LABEL_ML_M2.see("label_ml_m2", label_ml_m2), SPRAY_ML_M2.see("spray_ml_m2", spray_ml_m2)
    if np.any(label > spray):
        raise InputError(
            "label_ml_m2: more product than spray on the same ground. Look at the label and at both units."
        )
    each = 1000 * label / spray
    return np.asarray(each * TANK_L.see("tank_l", tank_l)), np.asarray(each + 0 * TANK_L.see("tank_l", tank_l))


@reckoner(
    gives={"product": "mL"},
    source=ARITHMETIC,
    status="common practice",
    example={"dilution_ml_l": 20, "mix_l": 5},
)
def product_for_a_mix_ml(
    dilution_ml_l: Annotated[ArrayLike, DILUTION_ML_L], mix_l: Annotated[ArrayLike, TANK_L]
) -> FloatArray:
    """Product for a mix at the dilution that YOUR label prints. The label is the law and stands above this sum.

    No dilution stands here and none is guessed. 2 % is 20 mL to the litre; typed units are turned: 2%, or 2 fl oz/gal.

    Parameters
    ----------
    dilution_ml_l : array_like
        Product in a litre of mix, read off the label, 0 to 1000. [mL/L]
    mix_l : array_like
        What is mixed, water and product together, 0 to 10000. [L]

    Returns
    -------
    ndarray
        NaN stays NaN. [mL]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    product = dilution × volume of the mix

    References
    ----------
    .. [1] Definition.
    """
    return np.asarray(DILUTION_ML_L.see("dilution_ml_l", dilution_ml_l) * TANK_L.see("mix_l", mix_l))
