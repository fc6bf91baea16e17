"""The 20 lookalike cases: tuned on one half and tried on the other, spoilt, and against cases made from the ranges.

Cases and table of signs were written by the same hand (the reference says so): they show that the two agree, not that
the table is right. What is shipped was tuned on no case.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from kailyard.handbook.signs import causes, causes_more, readings, readings_more, signs, signs_more
from kailyard.troubles.leanings import Setting, weights
from kailyard.troubles.likelihood import middle
from kailyard.troubles.weighing import weigh
from tools.validation.lookalikes import (
    EDGES,
    Case,
    Reading,
    brier,
    cases,
    expected_brier,
    halves,
    hits,
    lines,
    made,
    rank,
    reliability,
    spoilt_ranks,
    tuned_on,
)


@pytest.mark.parametrize("tuned", [0, 1], ids=["tuned on odd, tried on even", "tuned on even, tried on odd"])
def test_what_is_tuned_on_one_half_names_the_other(shared: Path, tuned: int) -> None:
    both = halves(shared)
    reading, other = tuned_on(both[tuned]), both[1 - tuned]
    ranks = [reading.rank(case) for case in other]
    assert hits(ranks, 1) >= 0.9
    assert hits(ranks, 3) == 1.0


def test_what_is_shipped_names_both_halves(shared: Path) -> None:
    for half in halves(shared):
        ranks = [rank(weigh(case.answers, Setting(case.crop)), case.cause) for case in half]
        assert hits(ranks, 1) >= 0.9
        assert hits(ranks, 3) == 1.0


def test_the_programs_own_way_agrees_with_one_worked_out_beside_it(shared: Path) -> None:
    """Same words, same slips, same weights: the same order and, 'none of the table' left out, the same chances."""
    beside = Reading((0.945, 0.7, 0.35, 0.085, 0.003), (0.15, 0.005), 1.0)
    once = np.array([[len(readings(c, s)) == 1 for s in signs()] for c in causes()])
    assert np.allclose(middle()[:-1][once], beside.yes[once])
    assert once.sum() > 0.99 * once.size
    for case in cases(shared):
        own = weigh(case.answers, Setting(case.crop)).middle[:-1]
        assert np.allclose(own / own.sum(), beside.chances(case), atol=0.02 if _widened(case) else 1e-9)


def _widened(case: Case) -> bool:
    """Whether a second guide widens a cell that the case asks about."""
    return any(s in case.answers for c, s in readings_more() if c not in causes_more() and s not in signs_more())


@pytest.mark.parametrize("how", ["flipped", "missing"])
def test_one_sign_in_five_wrong_or_missing_still_leaves_the_cause_near_the_top(shared: Path, how: str) -> None:
    ranks = spoilt_ranks(shared, how)
    least = {"flipped": (0.6, 0.8), "missing": (0.85, 0.95)}[how]
    assert hits(ranks, 1) >= least[0]
    assert hits(ranks, 3) >= least[1]


@pytest.mark.parametrize("asked", [8, 40])
def test_chances_mean_what_they_say_on_cases_made_from_the_ranges(asked: int) -> None:
    n = 2500
    made_cases = made("tomato-determinate", n, asked, seed=asked)
    # The score of one case lies between 0 and 2, so its mean is known to within 3 standard errors of at most that.
    score, expected = brier(made_cases), expected_brier(made_cases)
    hit = np.zeros_like(made_cases.chances)
    hit[np.arange(n), made_cases.truth] = 1.0
    error = float(((made_cases.chances - hit) ** 2).sum(axis=1).std() / np.sqrt(n))
    assert score == pytest.approx(expected, abs=3 * error)
    prior = weights(Setting("tomato-determinate"))[0]
    gain = ((prior[None, :] - hit) ** 2).sum(axis=1) - ((made_cases.chances - hit) ** 2).sum(axis=1)
    assert gain.mean() > 3 * gain.std() / np.sqrt(n), "better than knowing no sign"
    for stated, came, count in reliability(made_cases, EDGES):
        assert came == pytest.approx(stated, abs=3.5 * np.sqrt(stated * (1 - stated) / count) + 0.5 / count)


def test_the_cases_are_the_twenty_of_the_reference(shared: Path) -> None:
    assert len(cases(shared)) == 20
    assert {len(half) for half in halves(shared)} == {10}


def test_the_table_of_validation_can_be_printed(shared: Path) -> None:
    printed = list(lines(shared))
    assert sum("as shipped" in line for line in printed) == 4
