"""The practitioner's own sums: seeds for plants, packets, sowings in a span, days counted back.

Arithmetic from definitions. Where the trade's printed shortcuts differ, the difference is said at the function.
"""

from __future__ import annotations

from typing import Annotated, NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from kailyard.science._whole import down, up
from kailyard.science.checks import FloatArray, not_above
from kailyard.science.garden_sums import ARITHMETIC, COUNT, LENGTH_M, ROW_ENDS, SPACING_CM, plants_in_a_row
from kailyard.science.reckon import Quantity, reckoner

GERMINATION_PCT = Quantity("%", 1, 100)
LOST_PCT = Quantity("%", 0, 99)
INSURANCE = Quantity("", 1, 10)
PACKET = Quantity("", 1, 1e8)
DAY = Quantity("d", -366, 732)
DAYS = Quantity("d", 0, 732)
STEP_DAYS = Quantity("d", 1, 366)


class Seeds(NamedTuple):
    """Seeds for a number of plants."""

    seeds: FloatArray
    """The quotient."""
    whole_seeds: FloatArray
    """Rounded up."""


@reckoner(
    gives={"seeds": "", "whole_seeds": ""},
    source=ARITHMETIC,
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
        Plants that are wanted in the end. [1]
    germination_pct : array_like
        Seeds in a hundred that come up, of the packet or of one's own test, 1 to 100. [%]
    lost_pct : array_like
        Of what came up, what is lost before it is a plant, 0 to 99. [%]
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

    Formula
    -------
    seeds = plants × insurance / [germination × (1 − lost)], both as shares of 1

    References
    ----------
    .. [1] Definition.
    """
    alive = GERMINATION_PCT.see("germination_pct", germination_pct) / 100
    kept = 1 - LOST_PCT.see("lost_pct", lost_pct) / 100
    seeds = COUNT.see("plants", plants) * INSURANCE.see("insurance", insurance) / (alive * kept)
    return Seeds(np.asarray(seeds), up(seeds))


@reckoner(
    gives={"seeds": ""},
    source=ARITHMETIC,
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
        Seeds to a station. [1]

    Returns
    -------
    ndarray
        NaN stays NaN. [1]

    Raises
    ------
    InputError
        As `plants_in_a_row`.

    Formula
    -------
    seeds = plants_in_a_row × seeds_each

    References
    ----------
    .. [1] Definition.
    """
    stations = plants_in_a_row(row_m, spacing_cm, row_ends=row_ends)
    return np.asarray(stations * COUNT.see("seeds_each", seeds_each))


@reckoner(
    gives={"chance": ""},
    source=f"{ARITHMETIC}; seeds fail one by one, not all together",
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
        Seeds to a station. [1]
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

    Formula
    -------
    chance = 1 − (1 − germination)^seeds_each

    References
    ----------
    .. [1] Definition.
    """
    fails = 1 - GERMINATION_PCT.see("germination_pct", germination_pct) / 100
    return np.asarray(1 - fails ** COUNT.see("seeds_each", seeds_each))


@reckoner(
    gives={"packets": ""}, source=ARITHMETIC, status="common practice", example={"seeds": 118, "seeds_a_packet": 50}
)
def packets_to_order(seeds: Annotated[ArrayLike, COUNT], seeds_a_packet: Annotated[ArrayLike, PACKET]) -> FloatArray:
    """Packets that hold so many seeds.

    Parameters
    ----------
    seeds : array_like
        Seeds that are wanted. [1]
    seeds_a_packet : array_like
        Seeds in a packet, as it says, 1 or more. [1]

    Returns
    -------
    ndarray
        Whole packets; NaN stays NaN. [1]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    packets = ⌈seeds / seeds a packet⌉

    References
    ----------
    .. [1] Definition.
    """
    held = PACKET.see("seeds_a_packet", seeds_a_packet)
    return up(np.asarray(COUNT.see("seeds", seeds) / held))


@reckoner(
    gives={"sowings": ""},
    source=ARITHMETIC,
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

    Formula
    -------
    sowings = ⌊(last_day − first_day) / every_days⌋ + 1

    References
    ----------
    .. [1] Definition.
    """
    first, last = DAY.see("first_day", first_day), DAY.see("last_day", last_day)
    not_above("first_day", first, "last_day", last)
    return np.asarray(down(np.asarray((last - first) / STEP_DAYS.see("every_days", every_days))) + 1)


@reckoner(gives={"day": "d"}, source=ARITHMETIC, status="common practice", example={"day": 161, "days": 45})
def day_counted_back(day: Annotated[ArrayLike, DAY], days: Annotated[ArrayLike, DAYS]) -> FloatArray:
    """Day of the year that lies so many days before another: from the wanted harvest back to the sowing.

    Calendar days, as packets have them: what the weather does to them the sheet knows better.

    Parameters
    ----------
    day : array_like
        Day of the year to count back from: 1 January is 1. [d]
    days : array_like
        Days to count back, 0 to 732. [d]

    Returns
    -------
    ndarray
        Day of the same year; 0 and below lie in the year before. NaN stays NaN. [d]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    sowing day = day − days

    References
    ----------
    .. [1] Definition.
    """
    return np.asarray(DAY.see("day", day) - DAYS.see("days", days))
