"""Intervals of counts beside scipy's distributions: hypergeometric, binomial (beta) and Poisson (gamma)."""

from collections.abc import Callable

import numpy as np
import pytest

from kailyard.troubles.counting import CLUMPED, mean_interval, share_interval

Largest = Callable[[str, object, object, float], None]
_TAIL = 0.05


def test_shares_of_a_few_plants_beside_the_hypergeometric(largest: Largest) -> None:
    hypergeom = pytest.importorskip("scipy.stats").hypergeom
    ours, theirs = [], []
    for of in (1, 2, 5, 12, 30, 76):
        for looked_at in sorted({1, 2, 3, of // 2, of - 1, of} & set(range(1, of + 1))):
            for found in range(looked_at + 1):
                bearing = np.arange(found, of - (looked_at - found) + 1)
                at_least = hypergeom.sf(found - 1, of, bearing, looked_at)
                at_most = hypergeom.cdf(found, of, bearing, looked_at)
                fits = bearing[(at_least > _TAIL) & (at_most > _TAIL)]
                got = share_interval(found, looked_at, of)
                ours += [got.low * of, got.high * of]
                theirs += [fits[0], fits[-1]]
    largest("share of a few plants, in plants (scipy hypergeom)", ours, theirs, 1e-9)


def test_shares_of_many_beside_clopper_and_pearson(largest: Largest) -> None:
    beta = pytest.importorskip("scipy.stats").beta
    pairs = [(k, n) for n in (1, 5, 10, 40, 200) for k in range(0, n + 1, max(n // 10, 1))]
    got = [share_interval(k, n) for k, n in pairs]
    low = [0.0 if k == 0 else beta.ppf(_TAIL, k, n - k + 1) for k, n in pairs]
    high = [1.0 if k == n else beta.ppf(1 - _TAIL, k + 1, n - k) for k, n in pairs]
    largest("share of many, low (scipy beta)", [g.low for g in got], low, 1e-9)
    largest("share of many, high (scipy beta)", [g.high for g in got], high, 1e-9)


def test_means_beside_garwood(largest: Largest) -> None:
    gamma = pytest.importorskip("scipy.stats").gamma
    pairs = [(total, n) for n in (1, 5, 20) for total in (0, 1, 2, 3, 7, 20, 150)]
    got = [mean_interval(total, n) for total, n in pairs]
    clumps = [total / CLUMPED for total, _ in pairs]
    low = [0.0 if c == 0 else CLUMPED * gamma.ppf(_TAIL, c) / n for c, (_, n) in zip(clumps, pairs, strict=True)]
    high = [CLUMPED * gamma.ppf(1 - _TAIL, c + 1) / n for c, (_, n) in zip(clumps, pairs, strict=True)]
    largest("number on each plant, low (scipy gamma)", [g.low for g in got], low, 1e-6)
    largest("number on each plant, high (scipy gamma)", [g.high for g in got], high, 1e-6)
