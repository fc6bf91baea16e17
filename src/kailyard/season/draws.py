"""Stratified draws and the normal distribution on a table: what uncertainty is made of, without chance."""

from __future__ import annotations

import math
from functools import cache
from zlib import crc32

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]

_EDGE = 6.5
_STEPS = 2601
_Z = np.linspace(-_EDGE, _EDGE, _STEPS)
_P = np.array([0.5 * math.erfc(-z / math.sqrt(2)) for z in _Z.tolist()])


def normal_chance(z: FloatArray) -> FloatArray:
    """Chance that a standard normal is at or below `z`; from a table of `math.erfc`, error below 1e-6."""
    return np.asarray(np.interp(z, _Z, _P))


def normal_point(p: FloatArray) -> FloatArray:
    """The `z` at or below which a share `p` of a standard normal lies, held to -6.5 to 6.5."""
    return np.asarray(np.interp(p, _P, _Z))


@cache
def strata(draws: int, purpose: str) -> FloatArray:
    """The middles of `draws` equal shares of 0 to 1, in an order that belongs to `purpose`; the same every time."""
    order = np.random.Generator(np.random.PCG64(crc32(purpose.encode()))).permutation(draws)
    shares = (order + 0.5) / draws
    shares.setflags(write=False)
    return shares


def truncated_normal(shares: FloatArray, low: FloatArray, high: FloatArray) -> FloatArray:
    """Points of a standard normal held between `low` and `high`, at the given shares of what lies between."""
    a, b = normal_chance(low), normal_chance(high)
    return np.clip(normal_point(a + shares * (b - a)), low, high)
