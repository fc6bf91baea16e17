"""The practitioner's own sums: plants in a bed or a row, length, area and crop of rows.

Arithmetic from definitions. Where the trade's printed shortcuts differ, the difference is said at the function.
"""

from __future__ import annotations

from typing import Annotated

import numpy as np
from numpy.typing import ArrayLike

from kailyard.science._whole import down
from kailyard.science.checks import FloatArray
from kailyard.science.reckon import Choice, Quantity, reckoner

AREA_M2 = Quantity("m²", 0, 1e6)
LENGTH_M = Quantity("m", 0, 1e5)
SPACING_CM = Quantity("cm", 0.5, 2000)
COUNT = Quantity("", 0, 1e8)
OFFSET_GAIN = Quantity("", 1, 1.2)
YIELD_KG_M = Quantity("kg/m", 0, 100)
ROW_ENDS = Choice(("half a spacing free", "planted"))

EXACT_GAIN = 2 / 3**0.5
"""Plants in triangles over plants in squares at one spacing: rows stand 0.866 of the spacing apart."""

ARITHMETIC = "arithmetic from the definition"
_CM_IN_M = 100.0


@reckoner(gives={"plants": ""}, source=ARITHMETIC, status="common practice", example={"area_m2": 2.2, "spacing_cm": 15})
def plants_in_squares(
    area_m2: Annotated[ArrayLike, AREA_M2], spacing_cm: Annotated[ArrayLike, SPACING_CM]
) -> FloatArray:
    """Plants that an area feeds at one spacing every way, by area alone: a quotient, not whole rows.

    Parameters
    ----------
    area_m2 : array_like
        Of the bed, 0 to 1,000,000. [m²]
    spacing_cm : array_like
        From plant to plant and row to row, 0.5 to 2000. [cm]

    Returns
    -------
    ndarray
        Not rounded; `plants_in_whole_rows` says what fits. NaN stays NaN. [1]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    plants = area / spacing²

    References
    ----------
    .. [1] Definition.
    """
    spacing_m = SPACING_CM.see("spacing_cm", spacing_cm) / _CM_IN_M
    return np.asarray(AREA_M2.see("area_m2", area_m2) / spacing_m**2)


@reckoner(
    gives={"plants": ""}, source=ARITHMETIC, status="common practice", example={"area_m2": 9.29, "spacing_cm": 30}
)
def plants_in_triangles(
    area_m2: Annotated[ArrayLike, AREA_M2],
    spacing_cm: Annotated[ArrayLike, SPACING_CM],
    offset_gain: Annotated[ArrayLike, OFFSET_GAIN] = EXACT_GAIN,
) -> FloatArray:
    """Plants that an area feeds where every second row is shifted by half a spacing, by area alone.

    Parameters
    ----------
    area_m2 : array_like
        Of the bed, 0 to 1,000,000. [m²]
    spacing_cm : array_like
        From each plant to its six neighbours, 0.5 to 2000. [cm]
    offset_gain : array_like
        Gain over squares, 1 to 1.2: 1.1547 from geometry; worksheets print 1.13 to allow for the bed's edges. [1]

    Returns
    -------
    ndarray
        Not rounded; NaN stays NaN. [1]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    plants = gain × area / spacing², gain = 2/√3 = 1.1547

    References
    ----------
    .. [1] Definition: rows lie half the root of 3 of the spacing apart.
    """
    gain = OFFSET_GAIN.see("offset_gain", offset_gain)
    return np.asarray(plants_in_squares(area_m2, spacing_cm) * gain)


@reckoner(
    gives={"plants": ""},
    source=ARITHMETIC,
    status="common practice",
    example={"length_m": 2.44, "width_m": 1.83, "in_row_cm": 20, "between_rows_cm": 20},
)
def plants_in_whole_rows(
    *,
    length_m: Annotated[ArrayLike, LENGTH_M],
    width_m: Annotated[ArrayLike, LENGTH_M],
    in_row_cm: Annotated[ArrayLike, SPACING_CM],
    between_rows_cm: Annotated[ArrayLike, SPACING_CM],
) -> FloatArray:
    """Plants that fit a bed in whole rows, half a spacing free along each edge.

    Parameters
    ----------
    length_m, width_m : array_like
        Of the bed; rows run along its length. [m]
    in_row_cm, between_rows_cm : array_like
        From plant to plant and from row to row, 0.5 to 2000. [cm]

    Returns
    -------
    ndarray
        Whole plants; NaN stays NaN. [1]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    plants = ⌊length / spacing in the row⌋ × ⌊width / spacing between rows⌋

    References
    ----------
    .. [1] Definition.
    """
    along = LENGTH_M.see("length_m", length_m) * _CM_IN_M / SPACING_CM.see("in_row_cm", in_row_cm)
    across = LENGTH_M.see("width_m", width_m) * _CM_IN_M / SPACING_CM.see("between_rows_cm", between_rows_cm)
    return np.asarray(down(along) * down(across))


@reckoner(gives={"plants": ""}, source=ARITHMETIC, status="common practice", example={"row_m": 6, "spacing_cm": 7.5})
def plants_in_a_row(
    row_m: Annotated[ArrayLike, LENGTH_M],
    spacing_cm: Annotated[ArrayLike, SPACING_CM],
    *,
    row_ends: Annotated[str, ROW_ENDS] = "half a spacing free",
) -> FloatArray:
    """Plants, or stations for seed, in a row.

    Parameters
    ----------
    row_m : array_like
        Length of the row, 0 to 100,000. [m]
    spacing_cm : array_like
        0.5 to 2000. [cm]
    row_ends : {'half a spacing free', 'planted'}
        Planted to both ends there is one more: printed tables leave it out.

    Returns
    -------
    ndarray
        Whole plants; NaN stays NaN. [1]

    Raises
    ------
    InputError
        If a value is out of range or `row_ends` none of its words.

    Formula
    -------
    plants = ⌊row / spacing⌋, one more where both ends are planted

    References
    ----------
    .. [1] Definition.
    """
    more = ROW_ENDS.hold("row_ends", row_ends) == "planted"
    gaps = LENGTH_M.see("row_m", row_m) * _CM_IN_M / SPACING_CM.see("spacing_cm", spacing_cm)
    return np.asarray(down(gaps) + more)


@reckoner(gives={"length": "m"}, source=ARITHMETIC, status="common practice", example={"plants": 128, "spacing_cm": 13})
def row_length_m(plants: Annotated[ArrayLike, COUNT], spacing_cm: Annotated[ArrayLike, SPACING_CM]) -> FloatArray:
    """Length of row for a number of plants, half a spacing free at both ends.

    Parameters
    ----------
    plants : array_like
        Plants that are wanted. [1]
    spacing_cm : array_like
        From plant to plant in the row, 0.5 to 2000. [cm]

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
    row = plants × spacing

    References
    ----------
    .. [1] Definition.
    """
    return np.asarray(COUNT.see("plants", plants) * SPACING_CM.see("spacing_cm", spacing_cm) / _CM_IN_M)


@reckoner(
    gives={"area": "m²"}, source=ARITHMETIC, status="common practice", example={"row_m": 16, "between_rows_cm": 45}
)
def row_area_m2(row_m: Annotated[ArrayLike, LENGTH_M], between_rows_cm: Annotated[ArrayLike, SPACING_CM]) -> FloatArray:
    """Ground that rows take: their whole length times the distance between them.

    Parameters
    ----------
    row_m : array_like
        Length of all rows together, 0 to 100,000. [m]
    between_rows_cm : array_like
        From row to row, 0.5 to 2000. [cm]

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
    area = row × distance between rows

    References
    ----------
    .. [1] Definition.
    """
    return np.asarray(LENGTH_M.see("row_m", row_m) * SPACING_CM.see("between_rows_cm", between_rows_cm) / _CM_IN_M)


@reckoner(gives={"crop": "kg"}, source=ARITHMETIC, status="common practice", example={"row_m": 16, "yield_kg_m": 0.75})
def row_yield_kg(row_m: Annotated[ArrayLike, LENGTH_M], yield_kg_m: Annotated[ArrayLike, YIELD_KG_M]) -> FloatArray:
    """Crop to expect from a length of row.

    Parameters
    ----------
    row_m : array_like
        Length of all rows together, 0 to 100,000. [m]
    yield_kg_m : array_like
        Crop of a metre of row, from a table or one's own record, 0 to 100. [kg/m]

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
    crop = row × yield a metre

    References
    ----------
    .. [1] Definition.
    """
    return np.asarray(LENGTH_M.see("row_m", row_m) * YIELD_KG_M.see("yield_kg_m", yield_kg_m))
