"""Shared inside this folder: the bracket of the crop coefficients, and the straight line from easy water to none."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from kailyard.science.checks import FloatArray
from kailyard.science.humidity import HUMIDITY_PCT
from kailyard.science.reckon import Quantity

WIND_M_S = Quantity("m/s", 0, 60)
HEIGHT_M = Quantity("m", 0, 10)


def climate_term(wind_2m_m_s: ArrayLike, humidity_min_pct: ArrayLike, height_m: ArrayLike) -> FloatArray:
    """The bracket that eq. 62, 65, 70 and 72 share; wind and humidity held to the range FAO-56 gives it. [1]"""
    u2 = np.clip(WIND_M_S.see("wind_2m_m_s", wind_2m_m_s), 1, 6)
    dry = np.clip(HUMIDITY_PCT.see("humidity_min_pct", humidity_min_pct), 20, 80)
    h = HEIGHT_M.see("height_m", height_m)
    return np.asarray((0.04 * (u2 - 2) - 0.004 * (dry - 45)) * (h / 3) ** 0.3)


def shortfall(gone: FloatArray, whole: FloatArray, easy: FloatArray) -> FloatArray:
    """Eq. 74 and 84 without checks: 1 while the easy part lasts, then in a straight line to 0."""
    rest = whole - easy
    there = rest > 0
    return np.asarray(
        np.where(gone <= easy, 1.0, np.clip((whole - gone) / np.where(there, rest, 1.0), 0, 1) * there)
        + 0 * (gone + whole + easy)
    )
