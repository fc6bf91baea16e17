"""Input that is out of range is refused, with its name, range and place; missing values (NaN) pass through."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

FloatArray = NDArray[np.float64]


class InputError(ValueError):
    """A value no formula of this package can take. The message names the input, its range and the value's place."""


def _place(index: tuple[int, ...]) -> str:
    return f"{index[0]}" if len(index) == 1 else f"{index}"


def within(name: str, values: ArrayLike, low: float, high: float, unit: str) -> FloatArray:
    """Copy of `values` as float64, every one of them inside `low` to `high` (both included) or NaN.

    Parameters
    ----------
    name : str
        The input's name, for the message.
    values : array_like
        Any shape; a missing value (None) becomes NaN.
    low, high : float
        The range; whose it is stands beside the caller's formula.
    unit : str
        Of values and range; '' for pure numbers.

    Returns
    -------
    ndarray
        A new array of the same shape; the caller's is never written to.

    Raises
    ------
    InputError
        If a value lies outside, or is no number.
    """
    return _held(name, np.array(_numbers(name, values)), low, high, unit)


def seen_within(name: str, values: ArrayLike, low: float, high: float, unit: str) -> FloatArray:
    """As `within`, but without the copy where there is nothing to convert: the answer is then a read-only view.

    For long arrays that a formula only reads; a copy of 20 MB costs as much as a tenth of the formula.
    """
    x = _held(name, _numbers(name, values), low, high, unit).view()
    x.flags.writeable = False
    return x


def _numbers(name: str, values: ArrayLike) -> FloatArray:
    try:
        return np.asarray(values, dtype=np.float64)
    except (TypeError, ValueError):
        raise InputError(f"{name}: not numbers. Give one number or a table of numbers of even length.") from None


def _held(name: str, x: FloatArray, low: float, high: float, unit: str) -> FloatArray:
    if x.size and x.min() >= low and x.max() <= high:  # one pass each; false where a NaN is among them
        return x
    outside = (x < low) | (x > high)
    if np.any(outside):
        span = f"{low:g} to {high:g} {unit}".rstrip()
        where = np.argwhere(outside)
        first = tuple(int(i) for i in where[0])
        if x.ndim == 0:
            raise InputError(f"{name}: {float(x):g} is outside {span}.")
        count = f"{len(where)} of {x.size} values"
        raise InputError(f"{name}: {count} outside {span}; first is {x[first]:g} at index {_place(first)}.")
    return x


def not_above(low_name: str, low: FloatArray, high_name: str, high: FloatArray, *, equal: bool = True) -> None:
    """Refuse pairs in which `low` lies above `high` (or level with it where `equal` is False); NaN passes.

    Raises
    ------
    InputError
        Naming both, how many pairs, and the first.
    """
    wrong = np.asarray(low > high if equal else low >= high)
    if np.any(wrong):
        pair: Any = np.broadcast_arrays(low, high, wrong)
        first = tuple(int(i) for i in np.argwhere(pair[2])[0])
        what = "above" if equal else "not below"
        values = f"{float(pair[0][first]):g} and {float(pair[1][first]):g}"
        if not first:
            raise InputError(f"{low_name} is {what} {high_name}: {values}.")
        raise InputError(
            f"{low_name} is {what} {high_name} in {int(wrong.sum())} of {wrong.size} pairs; "
            f"first is {values} at index {_place(first)}."
        )
