"""What a germination test of few seeds tells of the lot."""

from __future__ import annotations

from typing import Annotated, NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from kailyard.science.checks import FloatArray, not_above
from kailyard.science.reckon import Quantity, reckoner

TESTED = Quantity("", 1, 10_000)
GERMINATED = Quantity("", 0, 10_000)
BETWEEN = Quantity("", 0.01, 0.999)

_STEPS = 4001
"""Steps of the angle from 0 to 90 degrees; the ends are right to 0.01 %."""


class Germination(NamedTuple):
    """The share of a lot that germinates."""

    low_pct: FloatArray
    middle_pct: FloatArray
    high_pct: FloatArray


@reckoner(
    gives={"low_pct": "%", "middle_pct": "%", "high_pct": "%"},
    source="Brown, Cai and DasGupta 2001, Statistical Science 16(2), 101-133, section 3.1.3 (Jeffreys interval)",
    status="published",
    example={"germinated": 17, "tested": 20},
)
def germination_of_lot(
    germinated: Annotated[ArrayLike, GERMINATED],
    tested: Annotated[ArrayLike, TESTED],
    *,
    between: Annotated[ArrayLike, BETWEEN] = 0.8,
) -> Germination:
    """Between which shares the germination of a whole lot lies, after so many of a few seeds came up.

    Parameters
    ----------
    germinated : array_like
        Seeds of the test that germinated, 0 to `tested`. [1]
    tested : array_like
        Seeds that were laid out, 1 to 10,000. [1]
    between : array_like
        Chance that the lot lies between low and high, 0.01 to 0.999. [1]

    Returns
    -------
    Germination
        Low, middle and high; NaN stays NaN. [%, %, %]

    Raises
    ------
    InputError
        If a value is out of range, or more germinated than were tested.

    Formula
    -------
    Points of the beta distribution with germinated + 1/2 and tested − germinated + 1/2, at the shares
        (1 − between) / 2, 1/2 and (1 + between) / 2.

    References
    ----------
    .. [1] L. D. Brown, T. T. Cai and A. DasGupta, "Interval estimation for a binomial proportion", Statistical Science
       16(2), 101-133, 2001, section 3.1.3. Computed on sin² of an angle, in which the density has no poles.
    """
    k, n, b = np.broadcast_arrays(
        GERMINATED.see("germinated", germinated), TESTED.see("tested", tested), BETWEEN.see("between", between)
    )
    not_above("germinated", k, "tested", n)
    angle = np.linspace(0.0, np.pi / 2, _STEPS)
    with np.errstate(divide="ignore", invalid="ignore"):
        weight = 2 * _times_log(k, np.sin(angle)) + 2 * _times_log(n - k, np.cos(angle))
    density = np.exp(weight - np.max(weight, axis=-1, keepdims=True))
    steps = (density[..., 1:] + density[..., :-1]) / 2
    run = np.concatenate([np.zeros((*k.shape, 1)), np.cumsum(steps, axis=-1)], axis=-1)
    ends = ((1 - b) / 2, np.full(b.shape, 0.5), (1 + b) / 2)
    return Germination(*(_point(run, angle, share) for share in ends))


def _times_log(count: FloatArray, x: FloatArray) -> FloatArray:
    """`count` times the logarithm of `x`, nothing where the count is nothing. (..., steps)"""
    c = count[..., None]
    return np.where(c == 0, 0.0, c * np.log(x))


def _point(run: FloatArray, angle: FloatArray, share: FloatArray) -> FloatArray:
    """The share of seeds below which `share` of the distribution lies. [%]"""
    flat = run.reshape(-1, run.shape[-1])
    found = [
        np.nan if np.isnan(row[-1]) else np.interp(s * row[-1], row, angle)
        for row, s in zip(flat, share.ravel(), strict=True)
    ]
    return np.asarray(100 * np.sin(np.reshape(found, share.shape)) ** 2)
