"""The practitioner's own sums: soil, compost and mulch by volume, depth, bag, part and weight."""

from __future__ import annotations

from typing import Annotated

import numpy as np
from numpy.typing import ArrayLike

from kailyard.science._whole import up
from kailyard.science.checks import FloatArray, InputError
from kailyard.science.garden_sums import ARITHMETIC
from kailyard.science.reckon import Quantity, reckoner
from kailyard.science.spray_sums import BED_M2

DEPTH_CM = Quantity("cm", 0, 300)
VOLUME_L = Quantity("L", 0, 1e7)
BAG_L = Quantity("L", 0.1, 5000)
FILLED_M2 = Quantity("m²", 0.01, 1e6)
SETTLES_PCT = Quantity("%", 0, 80)
DENSITY_KG_M3 = Quantity("kg/m³", 20, 2500)
PARTS = Quantity("", 0, 1000, series=True)

_CORNELL = "Cornell Composting, compost volume (area times depth)"


@reckoner(gives={"volume": "L"}, source=_CORNELL, status="published", example={"area_m2": 2.97, "depth_cm": 30})
def bed_volume_l(
    area_m2: Annotated[ArrayLike, BED_M2],
    depth_cm: Annotated[ArrayLike, DEPTH_CM],
    *,
    settles_pct: Annotated[ArrayLike, SETTLES_PCT] = 0.0,
) -> FloatArray:
    """Soil, compost or mulch that fills a bed, or covers it, to a depth.

    Printed shortcuts are rounded: 0.0031 cubic yards for a square foot an inch deep is 0.5 % too much.

    Parameters
    ----------
    area_m2 : array_like
        Of the bed, inside its boards, 0 to 1000000. [m²]
    depth_cm : array_like
        Depth when all has settled, 0 to 300. [cm]
    settles_pct : array_like
        What the loose heap loses of its volume by settling, 0 to 80: judged from one's own last filling. [%]

    Returns
    -------
    ndarray
        Loose, as it is bought or tipped; NaN stays NaN. [L]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    volume = area × depth / (1 − settling as a share of 1)
    printed in cubic yards: area in square feet × depth in inches × 0.0031

    References
    ----------
    .. [1] Cornell Composting, compost volume formula.
    """
    kept = 1 - SETTLES_PCT.see("settles_pct", settles_pct) / 100
    return np.asarray(10 * BED_M2.see("area_m2", area_m2) * DEPTH_CM.see("depth_cm", depth_cm) / kept)


@reckoner(gives={"depth": "cm"}, source=_CORNELL, status="published", example={"volume_l": 764.6, "area_m2": 30.1})
def depth_of_a_load_cm(
    volume_l: Annotated[ArrayLike, VOLUME_L], area_m2: Annotated[ArrayLike, FILLED_M2]
) -> FloatArray:
    """How deep a load lies once it is spread over a bed.

    Parameters
    ----------
    volume_l : array_like
        Of the load, 0 to 10000000. [L]
    area_m2 : array_like
        Of the bed, 0.01 to 1000000. [m²]

    Returns
    -------
    ndarray
        Loose; NaN stays NaN. [cm]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    depth = volume / area

    References
    ----------
    .. [1] Cornell Composting, compost volume formula turned round.
    """
    return np.asarray(VOLUME_L.see("volume_l", volume_l) / FILLED_M2.see("area_m2", area_m2) / 10)


@reckoner(gives={"bags": ""}, source=ARITHMETIC, status="common practice", example={"volume_l": 891, "bag_l": 40})
def bags_to_buy(volume_l: Annotated[ArrayLike, VOLUME_L], bag_l: Annotated[ArrayLike, BAG_L]) -> FloatArray:
    """Bags that hold a volume.

    Parameters
    ----------
    volume_l : array_like
        Wanted, of `bed_volume_l`, 0 to 10000000. [L]
    bag_l : array_like
        Volume in a bag, as it says, 0.1 to 5000. [L]

    Returns
    -------
    ndarray
        Whole bags; NaN stays NaN. [1]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    bags = ⌈volume / volume in a bag⌉

    References
    ----------
    .. [1] Definition.
    """
    return up(np.asarray(VOLUME_L.see("volume_l", volume_l) / BAG_L.see("bag_l", bag_l)))


@reckoner(
    gives={"volumes": "L"},
    source=ARITHMETIC,
    status="common practice",
    example={"mix_l": 60, "parts": [2, 1, 1]},
)
def volumes_of_parts_l(
    mix_l: Annotated[float, VOLUME_L],
    parts: Annotated[ArrayLike, PARTS],
    *,
    settles_pct: Annotated[float, SETTLES_PCT] = 0,
) -> FloatArray:
    """What to measure out of each part of a mix that is given by parts: 2 of this, 1 of that.

    Fine stuff fills the gaps of coarse stuff, so a mix comes out smaller than its parts: measure once, and say by how
    much the next time.

    Parameters
    ----------
    mix_l : float
        Mix that is wanted, 0 to 10000000. [L]
    parts : array_like, (parts,)
        Parts by volume, in any order, 0 to 1000. [1]
    settles_pct : float
        What the mix loses against the sum of its parts, 0 to 80. [%]

    Returns
    -------
    ndarray
        In the order of `parts`. [L]

    Raises
    ------
    InputError
        If a value is out of range, a part is missing, or all parts are 0.

    Formula
    -------
    volume of a part = mix / (1 − loss as a share of 1) × part / sum of all parts

    References
    ----------
    .. [1] Definition.
    """
    each = np.atleast_1d(PARTS.see("parts", parts))
    total = float(np.sum(each))
    if not total > 0:
        raise InputError("parts: give every part a number, and at least one of them more than 0.")
    kept = 1 - SETTLES_PCT.hold_number("settles_pct", settles_pct) / 100
    return np.asarray(VOLUME_L.hold_number("mix_l", mix_l) / kept * each / total)


@reckoner(
    gives={"weight": "kg"},
    source=f"{ARITHMETIC}; compost 593 to 712 kg/m³ (1000 to 1200 lb a cubic yard), Deschutes Recycling",
    status="published",
    example={"volume_l": 764.6, "density_kg_m3": 650},
)
def load_weight_kg(
    volume_l: Annotated[ArrayLike, VOLUME_L], density_kg_m3: Annotated[ArrayLike, DENSITY_KG_M3]
) -> FloatArray:
    """What a load weighs, before somebody carries it or a trailer takes it: mind the axle's limit and your back.

    Parameters
    ----------
    volume_l : array_like
        Of the load, 0 to 10000000. [L]
    density_kg_m3 : array_like
        Weight of a cubic metre: moist compost 593 to 712, and more when wet, 20 to 2500. [kg/m³]

    Returns
    -------
    ndarray
        NaN stays NaN. [kg]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    weight = volume × density

    References
    ----------
    .. [1] Deschutes Recycling, compost page (1000 to 1200 lb a cubic yard, moist).
    """
    return np.asarray(VOLUME_L.see("volume_l", volume_l) * DENSITY_KG_M3.see("density_kg_m3", density_kg_m3) / 1000)
