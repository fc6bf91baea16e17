"""Polynomials in place of exponentials and arc cosines: what a processor can do four at a time, without a branch.

Fitted where this is imported, from the formulas themselves, at Chebyshev's points; no constant is typed in. A test
holds the largest deviation from the plain path.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from numpy.polynomial import Chebyshev, Polynomial

from kailyard.science._air import AIR_C, saturation
from kailyard.science.checks import FloatArray


def _fitted(formula: Callable[[FloatArray], FloatArray], low: float, high: float, *, degree: int) -> tuple[float, ...]:
    """Coefficients, lowest power first, of the polynomial that meets `formula` at Chebyshev's points of the span."""
    fitted = Chebyshev.interpolate(formula, degree, domain=[low, high])
    powers = fitted.convert(kind=Polynomial, domain=[-1, 1], window=[-1, 1])
    return tuple(float(c) for c in powers.coef)


def _slope(temp_c: FloatArray) -> FloatArray:
    """FAO-56 eq. 13."""
    return np.asarray(4098 * saturation(temp_c) / np.square(temp_c + 237.3))


def _cap(x: FloatArray) -> FloatArray:
    """What lies above x of a sine between -1 and 1, on average over its turn, divided by (1 - x)^1.5.

    The integral is the root of 1 - x², less x times the arc cosine of x, over pi. What the division leaves is smooth
    from 0 to 1. (At 1 it is 0 over 0: Chebyshev's points stay clear of it.)
    """
    return np.asarray((np.sqrt(1 - x * x) - x * np.arccos(x)) / np.pi / (1 - x) ** 1.5)


SPAN_C = AIR_C.high
"""Temperatures are divided by this before they enter the two polynomials below."""
SATURATION = _fitted(lambda x: saturation(SPAN_C * x), -1.0, 1.0, degree=12)
SLOPE = _fitted(lambda x: _slope(SPAN_C * x), -1.0, 1.0, degree=12)
CAP = _fitted(_cap, 0.0, 1.0, degree=8)
