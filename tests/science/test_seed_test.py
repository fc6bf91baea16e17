"""A germination test of few seeds, against the beta distribution of a reference table and against laws it must keep."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from kailyard.science.checks import InputError
from kailyard.science.seed_test import germination_of_lot


def below(x: float, a: float, b: float) -> float:
    """Regularized incomplete beta function of halves, by the recurrences DLMF 8.17.20 and 8.17.21.

    It begins at I(1/2, 1/2) = 2/pi arcsin(sqrt x), the arcsine law. DLMF: Digital Library of Mathematical Functions.
    """
    p, q, value = 0.5, 0.5, 2 / math.pi * math.asin(math.sqrt(x))
    while p < a:
        value -= math.exp(p * math.log(x) + q * math.log1p(-x) - math.log(p) - log_beta(p, q))
        p += 1
    while q < b:
        value += math.exp(p * math.log(x) + q * math.log1p(-x) - math.log(q) - log_beta(p, q))
        q += 1
    return value


def log_beta(p: float, q: float) -> float:
    return math.lgamma(p) + math.lgamma(q) - math.lgamma(p + q)


@pytest.mark.parametrize(
    ("germinated", "tested"), [(0, 10), (1, 10), (5, 10), (10, 10), (17, 20), (43, 50), (396, 400)]
)
@pytest.mark.parametrize("between", [0.5, 0.8, 0.95])
def test_ends_are_those_of_the_beta_distribution(germinated: int, tested: int, between: float) -> None:
    # Brown, Cai and DasGupta 2001, section 3.1.3: equal tails of Beta(x + 1/2, n - x + 1/2); its distribution function
    # by another way than ours.
    a, b = germinated + 0.5, tested - germinated + 0.5
    got = germination_of_lot(germinated, tested, between=between)
    shares = [below(float(pct) / 100, a, b) for pct in got]
    assert shares == pytest.approx([(1 - between) / 2, 0.5, (1 + between) / 2], abs=1e-4)


@given(st.integers(1, 200), st.data())
def test_the_middle_lies_between_and_dead_seed_mirrors_live_seed(tested: int, data: st.DataObject) -> None:
    germinated = data.draw(st.integers(0, tested))
    got, other = germination_of_lot(germinated, tested), germination_of_lot(tested - germinated, tested)
    assert 0 <= got.low_pct < got.middle_pct < got.high_pct <= 100
    assert float(got.low_pct) == pytest.approx(100 - float(other.high_pct), abs=0.01)


def test_more_seeds_say_more() -> None:
    few, many = germination_of_lot(8, 10), germination_of_lot(80, 100)
    assert many.high_pct - many.low_pct < few.high_pct - few.low_pct


def test_arrays_go_in_and_come_out_and_nan_stays() -> None:
    got = germination_of_lot([8.0, np.nan], [10, 10])
    assert got.low_pct.shape == (2,)
    assert np.isnan(got.middle_pct[1])
    assert not np.isnan(got.middle_pct[0])


@pytest.mark.parametrize(("germinated", "tested"), [(11, 10), (-1, 10), (0, 0)])
def test_more_than_was_tested_is_refused(germinated: int, tested: int) -> None:
    with pytest.raises(InputError):
        germination_of_lot(germinated, tested)
