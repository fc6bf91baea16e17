"""The practitioner's own sums: what a spreader lays down, what a bed takes of something strewn, in how many passes.

Rates are the user's own, off a label or a soil test. Where something strewn is a pesticide (bait, weed and feed) its
label is the law.
"""

from __future__ import annotations

from typing import Annotated

import numpy as np
from numpy.typing import ArrayLike

from kailyard.science.checks import FloatArray
from kailyard.science.garden_sums import ARITHMETIC
from kailyard.science.reckon import Quantity, reckoner
from kailyard.science.spray_sums import BED_M2, PLOT_M2

WEIGHT_G = Quantity("g", 0, 1e7)
RATE_G_M2 = Quantity("g/m²", 0, 1e5, off_label=True)
PASSES = Quantity("", 1, 10)
CONTENT_PCT = Quantity("%", 0.1, 100)

_SPREADERS = (
    "Consumer Reports, How to calibrate a drop spreader, Oct 2006; Rutgers Snyder Farm, Fertilizer spreader calibration"
)


@reckoner(gives={"rate": "g/m²"}, source=_SPREADERS, status="published", example={"caught_g": 226.8, "plot_m2": 4.645})
def spread_rate_g_m2(caught_g: Annotated[ArrayLike, WEIGHT_G], plot_m2: Annotated[ArrayLike, PLOT_M2]) -> FloatArray:
    """What a spreader lays down: run it over a measured plot, or catch it there, and weigh what is gone.

    The area of one pass is the width of the hopper times the length walked.

    Parameters
    ----------
    caught_g : array_like
        Weight caught, or gone out of the hopper, 0 to 10000000. [g]
    plot_m2 : array_like
        Area of the test, 0.1 to 1000000. [m²]

    Returns
    -------
    ndarray
        NaN stays NaN. [g/m²]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    rate = weight used / area;  area of a pass = width of the hopper × length

    References
    ----------
    .. [1] Consumer Reports, "How to calibrate a drop spreader", October 2006.
    .. [2] D. Kopec, "Calibrating a drop spreader for home lawns", Univ. of Arizona, 1999 (hopper width times length).
    """
    return np.asarray(WEIGHT_G.see("caught_g", caught_g) / PLOT_M2.see("plot_m2", plot_m2))


@reckoner(
    gives={"weight": "g", "weight_a_pass": "g", "rate_a_pass": "g/m²"},
    source=f"{ARITHMETIC}; {_SPREADERS} (two passes at half the rate)",
    status="common practice",
    example={"area_m2": 4.8, "rate_g_m2": 4.88, "passes": 2},
)
def weight_to_spread_g(
    area_m2: Annotated[ArrayLike, BED_M2],
    rate_g_m2: Annotated[ArrayLike, RATE_G_M2],
    *,
    passes: Annotated[ArrayLike, PASSES] = 1.0,
) -> tuple[FloatArray, FloatArray, FloatArray]:
    """What a bed or lawn takes of something strewn, whole and for each of several passes. Of bait the label is the law.

    Two passes at right angles, each at half the rate, leave fewer stripes. Scatter from a weighed cup, do not pour.

    Parameters
    ----------
    area_m2 : array_like
        To be covered, 0 to 1000000. [m²]
    rate_g_m2 : array_like
        Rate of the label or the soil test, 0 to 100000. [g/m²]
    passes : array_like
        Times that the ground is gone over, 1 to 10. [1]

    Returns
    -------
    weight, weight_a_pass, rate_a_pass : ndarray
        NaN stays NaN. [g, g, g/m²]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    weight = area × rate;  for a pass both weight and rate are divided by the passes

    References
    ----------
    .. [1] Rutgers Snyder Farm, "Fertilizer spreader calibration" (two half-rate passes); Univ. of Minnesota Extension,
       "Calibrating your spreader" (two directions at half rate).
    """
    area, rate = BED_M2.see("area_m2", area_m2), RATE_G_M2.see("rate_g_m2", rate_g_m2)
    n = PASSES.see("passes", passes)
    return np.asarray(area * rate + 0 * n), np.asarray(area * rate / n), np.asarray(rate / n + 0 * area)


@reckoner(
    gives={"product": "g", "product_rate": "g/m²"},
    source=f"{ARITHMETIC}: grades print N, P2O5 and K2O in percent of weight",
    status="common practice",
    example={"area_m2": 400, "nutrient_g_m2": 4.8824, "content_pct": 20},
)
def product_for_a_nutrient_g(
    area_m2: Annotated[ArrayLike, BED_M2],
    nutrient_g_m2: Annotated[ArrayLike, RATE_G_M2],
    content_pct: Annotated[ArrayLike, CONTENT_PCT],
) -> tuple[FloatArray, FloatArray]:
    """Fertiliser that carries so much of a nutrient to a bed or lawn; take the need from a soil test.

    Parameters
    ----------
    area_m2 : array_like
        To be fed, 0 to 1000000. [m²]
    nutrient_g_m2 : array_like
        Nutrient wanted, on the same footing as the grade (P2O5, not P), 0 to 100000. [g/m²]
    content_pct : array_like
        What the bag holds of it by weight; of slow feeds what of it comes free in time, 0.1 to 100. [%]

    Returns
    -------
    product, product_rate : ndarray
        NaN stays NaN. [g, g/m²]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    product on a unit of area = nutrient wanted / content as a share of 1;  product = area × that

    References
    ----------
    .. [1] Definition.
    """
    area = BED_M2.see("area_m2", area_m2)
    rate = RATE_G_M2.see("nutrient_g_m2", nutrient_g_m2) / CONTENT_PCT.see("content_pct", content_pct) * 100
    return np.asarray(area * rate), np.asarray(rate + 0 * area)
