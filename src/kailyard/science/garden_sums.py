"""The practitioner's own sums: plants in a bed or a row, seeds to order, length and area of rows, sowings in a span.

Arithmetic from definitions. Where the trade's printed shortcuts differ, the difference is said at the function.
"""

from __future__ import annotations

from typing import Annotated, NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from kailyard.science.checks import FloatArray, not_above
from kailyard.science.reckon import Choice, Quantity, reckoner

AREA_M2 = Quantity("m²", 0, 1e6)
LENGTH_M = Quantity("m", 0, 1e5)
SPACING_CM = Quantity("cm", 0.5, 2000)
COUNT = Quantity("", 0, 1e8)
GERMINATION_PCT = Quantity("%", 1, 100)
LOST_PCT = Quantity("%", 0, 99)
INSURANCE = Quantity("", 1, 10)
OFFSET_GAIN = Quantity("", 1, 1.2)
YIELD_KG_M = Quantity("kg/m", 0, 100)
DAY = Quantity("d", -366, 732)
DAYS = Quantity("d", 0, 732)
STEP_DAYS = Quantity("d", 1, 366)
ROW_ENDS = Choice(("half a spacing free", "planted"))

EXACT_GAIN = 2 / 3**0.5
"""Plants in triangles over plants in squares at one spacing: rows stand 0.866 of the spacing apart."""

_ARITHMETIC = "arithmetic from the definition"
_CM_IN_M = 100.0
_ROUNDING = 1e-9
"""What a quotient may lie off a whole number by the computer's own rounding."""


class Seeds(NamedTuple):
    """Seeds for a number of plants."""

    seeds: FloatArray
    """The quotient."""
    whole_seeds: FloatArray
    """Rounded up."""


def _down(x: FloatArray) -> FloatArray:
    return np.asarray(np.floor(x + _ROUNDING))


def _up(x: FloatArray) -> FloatArray:
    return np.asarray(np.ceil(x - _ROUNDING))


@reckoner(
    gives={"plants": ""}, source=_ARITHMETIC, status="common practice", example={"area_m2": 2.2, "spacing_cm": 15}
)
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

    References
    ----------
    .. [1] Definition.
    """
    spacing_m = SPACING_CM.see("spacing_cm", spacing_cm) / _CM_IN_M
    return np.asarray(AREA_M2.see("area_m2", area_m2) / spacing_m**2)


@reckoner(
    gives={"plants": ""}, source=_ARITHMETIC, status="common practice", example={"area_m2": 9.29, "spacing_cm": 30}
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
        Over squares, 1 to 1.2: 1.1547 from geometry; worksheets print 1.13 to allow for the bed's edges. [1]

    Returns
    -------
    ndarray
        Not rounded; NaN stays NaN. [1]

    Raises
    ------
    InputError
        If a value is out of range.

    References
    ----------
    .. [1] Definition: rows lie half the root of 3 of the spacing apart.
    """
    gain = OFFSET_GAIN.see("offset_gain", offset_gain)
    return np.asarray(plants_in_squares(area_m2, spacing_cm) * gain)


@reckoner(
    gives={"plants": ""},
    source=_ARITHMETIC,
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

    References
    ----------
    .. [1] Definition.
    """
    along = LENGTH_M.see("length_m", length_m) * _CM_IN_M / SPACING_CM.see("in_row_cm", in_row_cm)
    across = LENGTH_M.see("width_m", width_m) * _CM_IN_M / SPACING_CM.see("between_rows_cm", between_rows_cm)
    return np.asarray(_down(along) * _down(across))


@reckoner(gives={"plants": ""}, source=_ARITHMETIC, status="common practice", example={"row_m": 6, "spacing_cm": 7.5})
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
        Length, 0 to 100,000. [m]
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

    References
    ----------
    .. [1] Definition.
    """
    more = ROW_ENDS.hold("row_ends", row_ends) == "planted"
    gaps = LENGTH_M.see("row_m", row_m) * _CM_IN_M / SPACING_CM.see("spacing_cm", spacing_cm)
    return np.asarray(_down(gaps) + more)


@reckoner(
    gives={"seeds": "", "whole_seeds": ""},
    source=_ARITHMETIC,
    status="common practice",
    example={"plants": 113, "germination_pct": 80, "insurance": 1.2},
)
def seeds_to_sow(
    plants: Annotated[ArrayLike, COUNT],
    *,
    germination_pct: Annotated[ArrayLike, GERMINATION_PCT] = 100.0,
    lost_pct: Annotated[ArrayLike, LOST_PCT] = 0.0,
    insurance: Annotated[ArrayLike, INSURANCE] = 1.0,
) -> Seeds:
    """Seeds for the plants that are wanted. Losses divide: adding the missing percents to the count falls short.

    Parameters
    ----------
    plants : array_like
        Wanted in the end. [1]
    germination_pct : array_like
        Of the packet or of one's own test, 1 to 100. [%]
    lost_pct : array_like
        Of what came up, before it is a plant, 0 to 99. [%]
    insurance : array_like
        Times as many plants as are wanted, 1 to 10. [1]

    Returns
    -------
    Seeds
        The quotient, and rounded up; NaN stays NaN. [1, 1]

    Raises
    ------
    InputError
        If a value is out of range.

    References
    ----------
    .. [1] Definition.
    """
    alive = GERMINATION_PCT.see("germination_pct", germination_pct) / 100
    kept = 1 - LOST_PCT.see("lost_pct", lost_pct) / 100
    seeds = COUNT.see("plants", plants) * INSURANCE.see("insurance", insurance) / (alive * kept)
    return Seeds(np.asarray(seeds), _up(seeds))


@reckoner(
    gives={"seeds": ""},
    source=_ARITHMETIC,
    status="common practice",
    example={"row_m": 10, "spacing_cm": 10, "seeds_each": 3},
)
def seeds_at_stations(
    row_m: Annotated[ArrayLike, LENGTH_M],
    spacing_cm: Annotated[ArrayLike, SPACING_CM],
    *,
    seeds_each: Annotated[ArrayLike, COUNT],
    row_ends: Annotated[str, ROW_ENDS] = "half a spacing free",
) -> FloatArray:
    """Seeds for a row that is sown a few to each station and thinned to one.

    Parameters
    ----------
    row_m, spacing_cm, row_ends
        As `plants_in_a_row`. [m, cm]
    seeds_each : array_like
        To a station. [1]

    Returns
    -------
    ndarray
        NaN stays NaN. [1]

    Raises
    ------
    InputError
        As `plants_in_a_row`.

    References
    ----------
    .. [1] Definition.
    """
    stations = plants_in_a_row(row_m, spacing_cm, row_ends=row_ends)
    return np.asarray(stations * COUNT.see("seeds_each", seeds_each))


@reckoner(
    gives={"chance": ""},
    source=f"{_ARITHMETIC}; seeds fail one by one, not all together",
    status="common practice",
    example={"seeds_each": 3, "germination_pct": 80},
)
def chance_of_a_plant(
    seeds_each: Annotated[ArrayLike, COUNT], germination_pct: Annotated[ArrayLike, GERMINATION_PCT]
) -> FloatArray:
    """Chance that a station has at least one plant.

    Parameters
    ----------
    seeds_each : array_like
        To a station. [1]
    germination_pct : array_like
        1 to 100. [%]

    Returns
    -------
    ndarray
        0 to 1; too high where a whole station fails, to slugs or crust. NaN stays NaN. [1]

    Raises
    ------
    InputError
        If a value is out of range.

    References
    ----------
    .. [1] Definition.
    """
    fails = 1 - GERMINATION_PCT.see("germination_pct", germination_pct) / 100
    return np.asarray(1 - fails ** COUNT.see("seeds_each", seeds_each))


@reckoner(
    gives={"packets": ""}, source=_ARITHMETIC, status="common practice", example={"seeds": 118, "seeds_a_packet": 50}
)
def packets_to_order(
    seeds: Annotated[ArrayLike, COUNT], seeds_a_packet: Annotated[ArrayLike, Quantity("", 1, 1e8)]
) -> FloatArray:
    """Packets that hold so many seeds.

    Parameters
    ----------
    seeds : array_like
        Wanted. [1]
    seeds_a_packet : array_like
        As the packet says, 1 or more. [1]

    Returns
    -------
    ndarray
        Whole packets; NaN stays NaN. [1]

    Raises
    ------
    InputError
        If a value is out of range.

    References
    ----------
    .. [1] Definition.
    """
    held = Quantity("", 1, 1e8).see("seeds_a_packet", seeds_a_packet)
    return _up(np.asarray(COUNT.see("seeds", seeds) / held))


@reckoner(
    gives={"length": "m"}, source=_ARITHMETIC, status="common practice", example={"plants": 128, "spacing_cm": 13}
)
def row_length_m(plants: Annotated[ArrayLike, COUNT], spacing_cm: Annotated[ArrayLike, SPACING_CM]) -> FloatArray:
    """Length of row for a number of plants, half a spacing free at both ends.

    Parameters
    ----------
    plants : array_like
        Wanted. [1]
    spacing_cm : array_like
        In the row, 0.5 to 2000. [cm]

    Returns
    -------
    ndarray
        NaN stays NaN. [m]

    Raises
    ------
    InputError
        If a value is out of range.

    References
    ----------
    .. [1] Definition.
    """
    return np.asarray(COUNT.see("plants", plants) * SPACING_CM.see("spacing_cm", spacing_cm) / _CM_IN_M)


@reckoner(
    gives={"area": "m²"}, source=_ARITHMETIC, status="common practice", example={"row_m": 16, "between_rows_cm": 45}
)
def row_area_m2(row_m: Annotated[ArrayLike, LENGTH_M], between_rows_cm: Annotated[ArrayLike, SPACING_CM]) -> FloatArray:
    """Ground that rows take: their whole length times the distance between them.

    Parameters
    ----------
    row_m : array_like
        Of all rows together, 0 to 100,000. [m]
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

    References
    ----------
    .. [1] Definition.
    """
    return np.asarray(LENGTH_M.see("row_m", row_m) * SPACING_CM.see("between_rows_cm", between_rows_cm) / _CM_IN_M)


@reckoner(gives={"crop": "kg"}, source=_ARITHMETIC, status="common practice", example={"row_m": 16, "yield_kg_m": 0.75})
def row_yield_kg(row_m: Annotated[ArrayLike, LENGTH_M], yield_kg_m: Annotated[ArrayLike, YIELD_KG_M]) -> FloatArray:
    """Crop to expect from a length of row.

    Parameters
    ----------
    row_m : array_like
        Of all rows together, 0 to 100,000. [m]
    yield_kg_m : array_like
        From a table or one's own record, 0 to 100. [kg/m]

    Returns
    -------
    ndarray
        NaN stays NaN. [kg]

    Raises
    ------
    InputError
        If a value is out of range.

    References
    ----------
    .. [1] Definition.
    """
    return np.asarray(LENGTH_M.see("row_m", row_m) * YIELD_KG_M.see("yield_kg_m", yield_kg_m))


@reckoner(
    gives={"sowings": ""},
    source=_ARITHMETIC,
    status="common practice",
    example={"first_day": 130, "last_day": 196, "every_days": 14},
)
def sowings_in_a_span(
    first_day: Annotated[ArrayLike, DAY],
    last_day: Annotated[ArrayLike, DAY],
    *,
    every_days: Annotated[ArrayLike, STEP_DAYS],
) -> FloatArray:
    """Sowings from one day to another, so many days apart.

    Parameters
    ----------
    first_day, last_day : array_like
        Days of the year, the second not before the first; both may be sown on. [d]
    every_days : array_like
        1 to 366. [d]

    Returns
    -------
    ndarray
        Whole sowings; NaN stays NaN. [1]

    Raises
    ------
    InputError
        If a value is out of range or the span runs backwards.

    References
    ----------
    .. [1] Definition.
    """
    first, last = DAY.see("first_day", first_day), DAY.see("last_day", last_day)
    not_above("first_day", first, "last_day", last)
    return np.asarray(_down(np.asarray((last - first) / STEP_DAYS.see("every_days", every_days))) + 1)


@reckoner(gives={"day": "d"}, source=_ARITHMETIC, status="common practice", example={"day": 161, "days": 45})
def day_counted_back(day: Annotated[ArrayLike, DAY], days: Annotated[ArrayLike, DAYS]) -> FloatArray:
    """Day of the year that lies so many days before another: from the wanted harvest back to the sowing.

    Calendar days, as packets have them: what the weather does to them the sheet knows better.

    Parameters
    ----------
    day : array_like
        Day of the year, 1 January is 1. [d]
    days : array_like
        To count back, 0 to 732. [d]

    Returns
    -------
    ndarray
        Day of the same year; 0 and below lie in the year before. NaN stays NaN. [d]

    Raises
    ------
    InputError
        If a value is out of range.

    References
    ----------
    .. [1] Definition.
    """
    return np.asarray(DAY.see("day", day) - DAYS.see("days", days))
