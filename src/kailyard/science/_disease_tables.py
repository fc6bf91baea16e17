"""What the disease models share: their quantities, reading of banded tables, hours needed by the temperature."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

from kailyard.science.checks import FloatArray
from kailyard.science.reckon import Quantity

WET_H = Quantity("h", 0, 1e5)
HUMID_H = Quantity("h", 0, 1e5)
DAYS_H = Quantity("h", 0, 24, series=True)
RAIN_MM = Quantity("mm", 0, 2000)
YES_NO = Quantity("", 0, 1)

Bands = Sequence[tuple[float, float, tuple[float, ...]]]
"""Each band of temperature, both ends included, with the least hours of value 1, 2, 3, ...; infinite: never."""


def known(values: NDArray[Any], *inputs: FloatArray) -> FloatArray:
    """`values` as numbers, missing where one of the inputs is."""
    total = inputs[0]
    for each in inputs[1:]:
        total = total + each
    return np.asarray(np.where(np.isnan(total), np.nan, values), dtype=np.float64)


def banded(temp_c: FloatArray, hours: FloatArray, bands: Bands) -> FloatArray:
    """Value of a table that has a row a band and columns by hours; 0 outside all bands, NaN stays NaN."""
    value = np.zeros(np.broadcast_shapes(temp_c.shape, hours.shape))
    for low, high, cuts in bands:
        inside = (temp_c >= low) & (temp_c <= high)
        value += inside * sum((hours >= cut).astype(np.float64) for cut in cuts)
    return known(value, temp_c, hours)


def rounded(x: FloatArray) -> FloatArray:
    """To the nearest whole number, halves upwards."""
    return np.asarray(np.floor(x + 0.5))


def whole_f(temp_c: FloatArray) -> FloatArray:
    """°C as the whole degree Fahrenheit in which the older tables are printed."""
    return rounded(temp_c * 1.8 + 32)


def hours_by_f(temp_c: FloatArray, rows: Sequence[tuple[float, float]]) -> FloatArray:
    """Hours that a table by whole °F asks for, straight lines between its rows; infinite beyond its ends."""
    f = whole_f(temp_c)
    at, hours = (np.array(column) for column in zip(*rows, strict=True))
    return np.asarray(np.interp(f, at, hours, left=np.inf, right=np.inf))
