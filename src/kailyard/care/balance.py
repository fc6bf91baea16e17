"""One day of a bed's water for many plantings and possible seasons at once: FAO-56 with two coefficients, or with one.

What `science.soil_water_balance` gives day by day in two passes, in one step, so that readings and waterings can come
between the days. A test holds both to each other. Arrays spread against each other; nothing is checked here: what comes
from outside was checked where it came in.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class Surface:
    """The layer that dries by evaporation."""

    evaporable_mm: FloatArray
    """TEW."""
    readily_mm: FloatArray
    """REW, not above TEW."""


class Day(NamedTuple):
    """What a day asks. One coefficient: `kc_max` equal to `kcb`, which is then Kc."""

    et0_mm: FloatArray
    rain_mm: FloatArray
    runoff_mm: FloatArray
    kcb: FloatArray
    kc_max: FloatArray
    cover: FloatArray
    """Ground under leaves. [0 to 0.99]"""
    evaporates: FloatArray
    """Share of the evaporation that a mulch lets through. [0 to 1]"""
    available_mm: FloatArray
    """TAW with the roots of the day."""
    easy: FloatArray
    """Share p as tabled, for 5 mm a day."""


class Passed(NamedTuple):
    """What became of the day. All in mm over the bed, but for the stress."""

    surface_mm: FloatArray
    """Depletion of the wetted part of the surface at the day's end."""
    depletion_mm: FloatArray
    """Of the root zone at the day's end."""
    et_mm: FloatArray
    drained_mm: FloatArray
    stress: FloatArray
    """Ks: 1 while easy water lasts."""
    easy_mm: FloatArray
    """RAW of the day, p adjusted to its demand."""


def pass_day(
    day: Day,
    ground: Surface,
    surface_mm: FloatArray,
    depletion_mm: FloatArray,
    *,
    irrigation_mm: FloatArray | float = 0.0,
    wetted: FloatArray | float = 1.0,
) -> Passed:
    """The day from the depletions at its beginning; rain and watering come early in it.

    Formula: FAO-56 eq. 71, 74, 75, 77, 84, 85, 88 and the footnote to Table 22, as in `science.soil_water_balance`.
    `wetted` is the share of the ground that the last watering or rain wetted, 0.01 to 1.
    """
    rain = day.rain_mm - day.runoff_mm
    few = np.maximum(np.minimum(1.0 - day.cover, wetted), 0.01)
    tew = ground.evaporable_mm
    damp = np.maximum(surface_mm - rain - irrigation_mm / wetted, 0.0)
    spare = tew - ground.readily_mm
    kr = _held((tew - damp) / np.where(spare > 0.0, spare, 1.0), 0.0, 1.0)
    ke = np.minimum(kr * np.maximum(day.kc_max - day.kcb, 0.0), few * day.kc_max) * day.evaporates
    evaporated = np.minimum(ke * day.et0_mm, few * np.maximum(tew - damp, 0.0))
    into = rain + irrigation_mm
    taw = day.available_mm
    wish = day.kcb * day.et0_mm
    easy_mm = _held(day.easy + 0.04 * (5.0 - wish - evaporated), 0.1, 0.8) * taw
    left = taw - np.maximum(depletion_mm - into, 0.0)
    stress = _held(left / (taw - easy_mm), 0.0, 1.0)
    et = np.minimum(stress * wish + evaporated, np.maximum(left, 0.0))
    after = depletion_mm - into + et
    drained = np.maximum(-after, 0.0)
    return Passed(damp + evaporated / few, after + drained, et, drained, stress, easy_mm)


def _held(values: FloatArray, low: float, high: float) -> FloatArray:
    """`np.clip` without its wrapper, which costs more than the work on so few numbers."""
    return np.minimum(np.maximum(values, low), high)
