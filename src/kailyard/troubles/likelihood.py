"""How often words are right: 'always', 'often' and the rest as ranges of chances, and the chance of each answer.

The words are our reading of the guides, so no word is one number. The middle of its range is what one would bet; the
ranges are walked through by a fixed design, the same for every question, so that nothing hangs on chance or on the
order in which things were answered.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache, lru_cache
from types import MappingProxyType

import numpy as np
from numpy.typing import NDArray

from kailyard.handbook.signs import HowOften, causes, readings, signs

FloatArray = NDArray[np.float64]

RANGES: Mapping[HowOften, tuple[float, float]] = MappingProxyType(
    {
        "always": (0.9, 0.99),
        "often": (0.5, 0.9),
        "sometimes": (0.2, 0.5),
        "rarely": (0.02, 0.15),
        "never": (0.0, 0.006),
    }
)
"""Chance that a cause shows a sign, by the word."""

MISSED = (0.05, 0.25)
"""Chance that a sign which is there is answered with 'no'."""

MISTAKEN = (0.001, 0.009)
"""Chance that a sign which is not there is answered with 'yes'."""

OTHER_SHOWS = (0.02, 0.2)
"""Chance of each sign where the cause is none of the table."""

DESIGN = 128
"""Points of the fixed design that walks through the ranges."""

OTHER = "other"
"""Name of the cause that is none of the table. It stands last."""


@cache
def rows() -> tuple[str, ...]:
    """Names of the rows of every array: the causes of the table, then 'other'."""
    return (*causes(), OTHER)


@cache
def columns() -> Mapping[str, int]:
    """Place of each sign."""
    return MappingProxyType({id_: n for n, id_ in enumerate(signs())})


@cache
def ends() -> tuple[FloatArray, FloatArray]:
    """Low and high chance of every cell, from the rarest of its words to the most frequent; (rows, signs)."""
    words = [[readings(c, s) for s in columns()] for c in causes()]
    low = [[RANGES[word[-1]][0] for word in row] for row in words]
    high = [[RANGES[word[0]][1] for word in row] for row in words]
    other = [[end] * len(columns()) for end in OTHER_SHOWS]
    return np.array([*low, other[0]]), np.array([*high, other[1]])


def seen(shown: FloatArray, missed: FloatArray | float, mistaken: FloatArray | float) -> FloatArray:
    """Chance of the answer 'yes', from the chance that the sign is there."""
    return np.asarray(shown * (1.0 - missed) + (1.0 - shown) * mistaken)


@cache
def middle() -> FloatArray:
    """Chance that each cause makes the gardener answer 'yes', at the middle of all ranges; (rows, signs)."""
    low, high = ends()
    made = seen((low + high) / 2, sum(MISSED) / 2, sum(MISTAKEN) / 2)
    made.setflags(write=False)
    return made


@cache
def walked(sign: str) -> FloatArray:
    """The same over the design, for one sign: each cell goes through its range once; (DESIGN, rows)."""
    at = columns()[sign]
    low, high = (end[:, at] for end in ends())
    shown = low + (high - low) * design(len(rows()), 1 + at)
    slips = design(2, 100_000 + at)
    made = seen(
        shown,
        (MISSED[0] + (MISSED[1] - MISSED[0]) * slips[:, 0])[:, None],
        (MISTAKEN[0] + (MISTAKEN[1] - MISTAKEN[0]) * slips[:, 1])[:, None],
    )
    made.setflags(write=False)
    return made


@lru_cache(maxsize=1024)
def design(width: int, seed: int) -> FloatArray:
    """A Latin hypercube: every column holds the middles of DESIGN equal parts of 0 to 1, shuffled; (DESIGN, width)."""
    rng = np.random.default_rng([DESIGN, seed])
    parts = (np.arange(DESIGN) + 0.5) / DESIGN
    made = np.stack([rng.permutation(parts) for _ in range(width)], axis=1)
    made.setflags(write=False)
    return made
