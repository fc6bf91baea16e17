"""The scores against their definitions, worked out another way."""

from __future__ import annotations

import math

import numpy as np
import pytest

from tools.validation._scores import EVEN_LIMIT, crps, fair_crps, place, unevenness


@pytest.mark.parametrize("seen", [-3.0, 0.2, 1.0, 7.5])
def test_crps_is_the_integral_of_the_squared_difference_of_steps(seen: float) -> None:
    # Matheson and Winkler 1976 as eq. 20 of Gneiting and Raftery 2007: integral of (F(x) - 1{x >= y})².
    sample = np.array([-1.0, 0.0, 0.0, 1.0, 2.5, 4.0])
    x = np.arange(-10, 10, 0.0005) + 0.00025
    steps = (sample[:, None] <= x).mean(axis=0) - (x >= seen)
    assert crps(sample, seen) == pytest.approx(float((steps**2).sum() * 0.0005), abs=0.002)


@pytest.mark.parametrize("seen", [-1.3, 0.0, 2.0])
def test_crps_of_a_large_normal_sample_comes_to_the_closed_form(seen: float) -> None:
    # Gneiting and Raftery 2007, sec. 4.2: CRPS(N(0, 1), y) = y (2 Phi(y) - 1) + 2 phi(y) - 1/sqrt(pi).
    sample = np.random.default_rng(5).normal(size=200_000)
    cumulated, density = 0.5 * math.erfc(-seen / math.sqrt(2)), math.exp(-seen * seen / 2) / math.sqrt(2 * math.pi)
    closed = seen * (2 * cumulated - 1) + 2 * density - 1 / math.sqrt(math.pi)
    assert crps(sample, seen) == pytest.approx(closed, abs=0.01)


def test_fair_crps_of_few_members_is_on_average_that_of_many() -> None:
    # Of a true normal forecast the expected CRPS is 1/sqrt(pi); Ferro 2014: the fair score keeps it with few members.
    rng = np.random.default_rng(6)
    few = rng.normal(size=(40_000, 5))
    seen = rng.normal(size=40_000)
    fair = np.mean([fair_crps(x, y) for x, y in zip(few, seen, strict=True)])
    plain = np.mean([crps(x, y) for x, y in zip(few, seen, strict=True)])
    assert fair == pytest.approx(1 / math.sqrt(math.pi), abs=0.01)
    assert plain == pytest.approx((1 + 1 / 5) / math.sqrt(math.pi), abs=0.01)


def test_place_counts_what_is_below_and_half_of_what_is_equal() -> None:
    assert place([1, 2, 2, 4], 2) == pytest.approx(0.5)
    assert place([1, 2, 2, 4], 0) == 0
    assert place([1, 2, 2, 4], 9) == 1


@pytest.mark.parametrize("bins", [10, 20])
def test_chi_square_of_even_places_passes_the_limits_as_often_as_said(bins: int) -> None:
    rng = np.random.default_rng(7)
    found = np.array([unevenness(rng.random(1000), bins) for _ in range(20_000)])
    in_100, in_1000 = EVEN_LIMIT[bins]
    assert np.mean(found > in_100) == pytest.approx(0.01, abs=0.0025)
    assert np.mean(found > in_1000) == pytest.approx(0.001, abs=0.0009)
    assert found.mean() == pytest.approx(bins - 1, rel=0.02)


def test_chi_square_by_hand() -> None:
    # Three places in the first half, one in the second: (3 - 2)²/2 + (1 - 2)²/2 = 1.
    assert unevenness([0.1, 0.2, 0.3, 1.0], 2) == pytest.approx(1.0)
