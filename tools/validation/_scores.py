"""Scores of odds against what came about: CRPS, place in the odds, coverage, evenness."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from kailyard.season.odds import BEYOND, Odds

FloatArray = NDArray[np.float64]

EVEN_LIMIT = {10: (21.666, 27.877), 20: (36.191, 43.820)}
"""By number of bins: chi-square passed by 1 in 100 and by 1 in 1000 even samples, bins - 1 degrees of freedom.

NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.4, upper critical values (from memory; a test works them out).
"""


def crps(sample: ArrayLike, seen: float) -> float:
    """Continuous ranked probability score of a sample as it stands, each member with equal weight. 0 is best.

    `E|X - y| - E|X - X'| / 2`, Gneiting and Raftery, J. Am. Stat. Assoc. 102, 2007, eq. 21 [unit of the sample].
    """
    x = np.sort(np.asarray(sample, dtype=np.float64).ravel())
    return float(np.abs(x - seen).mean() - _half_spread(x))


def fair_crps(sample: ArrayLike, seen: float) -> float:
    """The score that an endless sample from the same odds would have on average; members must be independent.

    A plain CRPS punishes few members: by 1/n of the score of true normal odds. Ferro, Q. J. R. Meteorol. Soc. 140,
    2014, 1917-1923, eq. for the fair CRPS [unit of the sample]. Needs two members.
    """
    x = np.sort(np.asarray(sample, dtype=np.float64).ravel())
    n = len(x)
    return float(np.abs(x - seen).mean() - _half_spread(x) * n / (n - 1))


def _half_spread(x: FloatArray) -> float:
    """Half the mean difference between two members of a sorted sample, drawn with putting back."""
    n = len(x)
    return float((x * (2 * np.arange(1, n + 1) - n - 1)).sum() / n**2)


def place(sample: ArrayLike, seen: float) -> float:
    """Share of the sample below what was seen, half of those equal counted: PIT. [0 to 1]"""
    x = np.asarray(sample)
    return float((np.count_nonzero(x < seen) + 0.5 * np.count_nonzero(x == seen)) / x.size)


def unevenness(places: ArrayLike, bins: int) -> float:
    """Chi-square of places in 0 to 1 counted in equal bins against the same number in each."""
    p = np.clip(np.asarray(places, dtype=np.float64), 0.0, 1.0 - 1e-12)
    counts = np.bincount((p * bins).astype(np.int64), minlength=bins)
    even = len(p) / bins
    return float(((counts - even) ** 2).sum() / even)


@dataclass(frozen=True, slots=True)
class Judged:
    """One set of odds against the day that came about."""

    place: float
    covered: bool
    """Seen within the 80 % band, both its days included."""
    crps_days: float
    fair_days: float
    error_days: float
    """Middle of the odds less the day seen."""


def judged(days: NDArray[np.int32], seen: int, *, latest: int) -> Judged:
    """Odds over days (ordinals, any shape) judged; BEYOND and NEVER count as the day `latest`."""
    held = np.where(days >= BEYOND, np.int32(latest), days)
    odds = Odds(held)
    low, middle, high = (odds.quantile(q) for q in (0.1, 0.5, 0.9))
    assert low is not None
    assert middle is not None
    assert high is not None
    return Judged(
        place(held, seen),
        low.toordinal() <= seen <= high.toordinal(),
        crps(held, seen),
        fair_crps(held, seen),
        middle.toordinal() - seen,
    )


@dataclass(frozen=True, slots=True)
class Summed:
    """Figures over several sets of odds."""

    n: int
    mean_place: float
    covered: float
    crps_days: float
    fair_days: float
    mean_error_days: float
    mae_days: float
    rmse_days: float


def summed(all_of_them: Sequence[Judged]) -> Summed:
    """Means over sets of odds."""
    error = np.array([j.error_days for j in all_of_them])
    return Summed(
        len(all_of_them),
        float(np.mean([j.place for j in all_of_them])),
        float(np.mean([j.covered for j in all_of_them])),
        float(np.mean([j.crps_days for j in all_of_them])),
        float(np.mean([j.fair_days for j in all_of_them])),
        float(error.mean()),
        float(np.abs(error).mean()),
        float(np.sqrt((error**2).mean())),
    )
