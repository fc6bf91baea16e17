"""The practitioner's own sums: minutes to mow, pace by the stopwatch, efficiency from one's own clock, swaths, fuel.

Efficiency holds overlap, turns and trimming: whoever counts it does not narrow the swath as well.
"""

from __future__ import annotations

from typing import Annotated, NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from kailyard.science._whole import up
from kailyard.science.checks import FloatArray, not_above
from kailyard.science.garden_sums import ARITHMETIC
from kailyard.science.reckon import Quantity, reckoner

LAWN_M2 = Quantity("m²", 0, 1e7)
CUT_M = Quantity("m", 0.1, 10)
LAWN_M = Quantity("m", 0, 10_000)
OVERLAP_M = Quantity("m", 0, 2)
SPEED_M_S = Quantity("m/s", 0.1, 10)
EFFICIENCY = Quantity("", 0.1, 1)
TIME_MIN = Quantity("min", 0.1, 10_000)
COURSE_M = Quantity("m", 1, 1000)
SECONDS = Quantity("s", 1, 3600)
FUEL_L_HA = Quantity("L/ha", 0, 200)

_CAPACITY = "Hancock, Swetnam and Benson 1991, Univ. of Kentucky AEN-73; Iowa State Univ. PM 696, 2001"


class Mowing(NamedTuple):
    """How long a lawn takes, and how much an hour does."""

    minutes: FloatArray
    """[min]"""
    capacity: FloatArray
    """[m²/h]"""


@reckoner(
    gives={"minutes": "min", "capacity": "m²/h"},
    source=_CAPACITY,
    status="published",
    example={"area_m2": 400, "cut_m": 0.53, "speed_m_s": 1.1111, "efficiency": 0.8},
)
def mowing_minutes(
    area_m2: Annotated[ArrayLike, LAWN_M2],
    *,
    cut_m: Annotated[ArrayLike, CUT_M],
    speed_m_s: Annotated[ArrayLike, SPEED_M_S],
    efficiency: Annotated[ArrayLike, EFFICIENCY],
) -> Mowing:
    """Minutes that a lawn takes to mow, and the ground that an hour does.

    Parameters
    ----------
    area_m2 : array_like
        Of the lawn, 0 to 10000000. [m²]
    cut_m : array_like
        Cutting width of the mower, 0.1 to 10. [m]
    speed_m_s : array_like
        Pace while mowing, 0.1 to 10: a pushed mower goes 2.5 to 5 km/h (common practice). [m/s]
    efficiency : array_like
        Share of the full width and pace that is kept over turns, overlap and trimming, 0.1 to 1: 0.80 for lawn crews
        (published), 0.55 to 0.80 on small lawns with beds (common practice), or one's own of `field_efficiency`. [1]

    Returns
    -------
    Mowing
        NaN stays NaN. [min, m²/h]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    C = w s e;  t = area / C
    with w = cut_m, s = speed_m_s, e = efficiency; in US units C = w(ft) × s(mph) / 8.25 × e acres an hour.

    References
    ----------
    .. [1] Hancock, Swetnam and Benson, Univ. of Kentucky AEN-73, 1991.
    .. [2] Iowa State Univ. Extension, PM 696, 2001.
    """
    pace = CUT_M.see("cut_m", cut_m) * SPEED_M_S.see("speed_m_s", speed_m_s) * EFFICIENCY.see("efficiency", efficiency)
    area = LAWN_M2.see("area_m2", area_m2)
    return Mowing(np.asarray(area / pace / 60), np.asarray(pace * 3600 + 0 * area))


@reckoner(
    gives={"efficiency": ""},
    source=f"{_CAPACITY}, turned round",
    status="published",
    example={"area_m2": 400, "cut_m": 0.53, "speed_m_s": 1.1111, "minutes": 16},
)
def field_efficiency(
    area_m2: Annotated[ArrayLike, LAWN_M2],
    *,
    cut_m: Annotated[ArrayLike, CUT_M],
    speed_m_s: Annotated[ArrayLike, SPEED_M_S],
    minutes: Annotated[ArrayLike, TIME_MIN],
) -> FloatArray:
    """One's own efficiency from the clock: what share of the full width and pace was kept over turns and overlap.

    Parameters
    ----------
    area_m2 : array_like
        Of the lawn, 0 to 10000000. [m²]
    cut_m : array_like
        Cutting width of the mower, 0.1 to 10. [m]
    speed_m_s : array_like
        Pace on a straight run, of `pace_by_stopwatch_m_s`, 0.1 to 10. [m/s]
    minutes : array_like
        From the first swath to the last, turns and stops on the lawn included, 0.1 to 10000. [min]

    Returns
    -------
    ndarray
        Above 1 the clock, the width or the pace is wrong; NaN stays NaN. [1]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    e = area / (w s t)
    with w = cut_m, s = speed_m_s, t = minutes.

    References
    ----------
    .. [1] Iowa State Univ. Extension, PM 696, 2001: capacity by observation is area over hours in the field.
    """
    full = CUT_M.see("cut_m", cut_m) * SPEED_M_S.see("speed_m_s", speed_m_s) * 60
    return np.asarray(LAWN_M2.see("area_m2", area_m2) / (full * TIME_MIN.see("minutes", minutes)))


@reckoner(
    gives={"pace": "m/s"},
    source="Hancock, Swetnam and Benson 1991, Univ. of Kentucky AEN-73: a mile an hour is 88 ft in a minute",
    status="published",
    example={"course_m": 26.8224, "seconds": 24},
)
def pace_by_stopwatch_m_s(
    course_m: Annotated[ArrayLike, COURSE_M], seconds: Annotated[ArrayLike, SECONDS]
) -> FloatArray:
    """Pace of walking, mowing or spraying, from a measured length and a stopwatch.

    Parameters
    ----------
    course_m : array_like
        Measured length, gone at the working pace, 1 to 1000. [m]
    seconds : array_like
        Seconds that it took, 1 to 3600. [s]

    Returns
    -------
    ndarray
        NaN stays NaN. [m/s]

    Raises
    ------
    InputError
        If a value is out of range.

    Formula
    -------
    pace = length / time;  printed: miles an hour = 60 / seconds for 88 ft

    References
    ----------
    .. [1] Univ. of Kentucky AEN-73.
    """
    return np.asarray(COURSE_M.see("course_m", course_m) / SECONDS.see("seconds", seconds))


@reckoner(
    gives={"swaths": "", "way": "m"},
    source=f"{ARITHMETIC}; overlap 0.05 to 0.10 m, trade rule",
    status="common practice",
    example={"length_m": 25, "width_m": 16, "cut_m": 0.53, "overlap_m": 0.08},
)
def swaths_to_mow(
    *,
    length_m: Annotated[ArrayLike, LAWN_M],
    width_m: Annotated[ArrayLike, LAWN_M],
    cut_m: Annotated[ArrayLike, CUT_M],
    overlap_m: Annotated[ArrayLike, OVERLAP_M] = 0.08,
) -> tuple[FloatArray, FloatArray]:
    """Passes over a rectangle of lawn, each overlapping the one before, and the way walked in them.

    Parameters
    ----------
    length_m : array_like
        Of the lawn, along the passes, 0 to 10000. [m]
    width_m : array_like
        Of the lawn, across the passes, 0 to 10000. [m]
    cut_m : array_like
        Cutting width of the mower, 0.1 to 10. [m]
    overlap_m : array_like
        From pass to pass, less than the width, 0 to 2. [m]

    Returns
    -------
    swaths, way : ndarray
        Whole passes; the way without its turns; NaN stays NaN. [1, m]

    Raises
    ------
    InputError
        If a value is out of range, or the overlap not less than the width.

    Formula
    -------
    swaths = ⌈(width − overlap) / (cutting width − overlap)⌉;  way = swaths × length

    References
    ----------
    .. [1] Definition.
    """
    cut, lap = CUT_M.see("cut_m", cut_m), OVERLAP_M.see("overlap_m", overlap_m)
    not_above("overlap_m", lap, "cut_m", cut, equal=False)
    wide = LAWN_M.see("width_m", width_m)
    swaths = np.where(wide > 0, np.maximum(up(np.asarray((wide - lap) / (cut - lap))), 1), 0.0) + 0 * (wide + cut + lap)
    return np.asarray(swaths), np.asarray(swaths * LAWN_M.see("length_m", length_m))


@reckoner(
    gives={"fuel": "L"},
    source="Pirchio et al. 2019, Agriculture 9(8):178: 5.24 and 5.59 L/ha with a rotary mower",
    status="published",
    example={"area_m2": 400, "fuel_l_ha": 5.59},
)
def mowing_fuel_l(
    area_m2: Annotated[ArrayLike, LAWN_M2], fuel_l_ha: Annotated[ArrayLike, FUEL_L_HA] = 5.59
) -> FloatArray:
    """Petrol for one mowing. Fill a cold engine, out of doors.

    Parameters
    ----------
    area_m2 : array_like
        Of the lawn, 0 to 10000000. [m²]
    fuel_l_ha : array_like
        Petrol a hectare, 0 to 200: 5.2 to 5.6 measured in 2019, 10 to 33 with old mowers in thick grass in 1988, or
        one's own: litres filled over hectares mown. [L/ha]

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
    fuel = area × petrol a hectare

    References
    ----------
    .. [1] M. Pirchio et al., "Energetic aspects of turfgrass mowing", Agriculture 9(8), 2019, 178.
    """
    return np.asarray(LAWN_M2.see("area_m2", area_m2) * FUEL_L_HA.see("fuel_l_ha", fuel_l_ha) / 10_000)
