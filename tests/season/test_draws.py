"""The normal distribution on a table against the standard library's; strata as they are promised."""

from __future__ import annotations

from statistics import NormalDist

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from kailyard.season.draws import normal_chance, normal_point, strata, truncated_normal

EXACT = NormalDist()
"""Standard library, PEP 450: cdf by erf, inv_cdf by Wichura's algorithm AS 241 (1988)."""


@given(st.floats(-6.5, 6.5))
def test_the_chance_is_that_of_the_standard_normal(z: float) -> None:
    # Held to what the docstring promises.
    assert float(normal_chance(np.array([z]))[0]) == pytest.approx(EXACT.cdf(z), abs=1e-6)


@given(st.floats(1e-4, 1 - 1e-4))
def test_the_point_is_that_of_the_standard_normal(p: float) -> None:
    assert float(normal_point(np.array([p]))[0]) == pytest.approx(EXACT.inv_cdf(p), abs=2e-5)


@given(st.lists(st.floats(-10, 10), min_size=2, max_size=20))
def test_chance_never_falls_as_the_point_rises(points: list[float]) -> None:
    chances = normal_chance(np.sort(np.array(points)))
    assert np.all(np.diff(chances) >= 0)
    assert np.all((chances >= 0) & (chances <= 1))


@given(st.integers(1, 200), st.text(min_size=1, max_size=20))
def test_strata_are_every_share_once_and_the_same_every_time(draws: int, purpose: str) -> None:
    shares = strata(draws, purpose)
    assert np.allclose(np.sort(shares), (np.arange(draws) + 0.5) / draws)
    strata.cache_clear()
    assert np.array_equal(shares, strata(draws, purpose))


def test_strata_of_different_purposes_do_not_go_together() -> None:
    assert not np.array_equal(strata(50, "pea-1"), strata(50, "pea-2"))
    pairs = [np.corrcoef(strata(50, f"a{i}"), strata(50, f"b{i}"))[0, 1] for i in range(200)]
    # Under independence the mean of 200 correlations of 50 pairs has standard deviation 1/sqrt(49 * 200), 0.0101.
    assert abs(float(np.mean(pairs))) < 4 / np.sqrt(49 * 200)


def test_strata_cannot_be_written_into() -> None:
    with pytest.raises(ValueError, match="read-only"):
        strata(10, "x")[0] = 0.0


@given(st.floats(-4, 3.9), st.floats(0.05, 3), st.integers(5, 60))
def test_a_truncated_normal_keeps_within_its_ends_and_has_its_median(low: float, width: float, draws: int) -> None:
    high = min(low + width, 4.0)
    shares = (np.arange(draws) + 0.5) / draws
    points = truncated_normal(shares, np.full(draws, low), np.full(draws, high))
    assert np.all((points >= low) & (points <= high))
    middle = truncated_normal(np.array([0.5]), np.array([low]), np.array([high]))[0]
    assert float(middle) == pytest.approx(EXACT.inv_cdf((EXACT.cdf(low) + EXACT.cdf(high)) / 2), abs=0.01)
