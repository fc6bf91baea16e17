"""Shared inside this folder: the air's temperature range, a day's two extremes, and saturation without checks."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from kailyard.science.checks import FloatArray, not_above
from kailyard.science.reckon import Quantity

AIR_C = Quantity("°C", -60, 60)
"""Ours: wide enough for any garden, narrow enough to stop Fahrenheit above 140 °F and Kelvin."""


def extremes(tmin_c: ArrayLike, tmax_c: ArrayLike) -> tuple[FloatArray, FloatArray]:
    """A day's lowest and highest, in range and in order, as views."""
    low, high = AIR_C.see("tmin_c", tmin_c), AIR_C.see("tmax_c", tmax_c)
    not_above("tmin_c", low, "tmax_c", high)
    return low, high


def saturation(temp_c: FloatArray) -> FloatArray:
    """FAO-56 eq. 11: vapour pressure of saturated air over water. [kPa]"""
    return np.asarray(0.6108 * np.exp(17.27 * temp_c / (temp_c + 237.3)))
