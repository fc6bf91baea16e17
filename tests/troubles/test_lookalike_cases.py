"""The 20 lookalike cases: tuned on one half and tried on the other, spoilt, and against cases made from the ranges.

Cases and table of signs were written by the same hand (the reference says so): they show that the two agree, not that
the table is right. What is shipped was tuned on no case.
"""

from __future__ import annotations

from itertools import product
from pathlib import Path

import numpy as np
import pytest
from cases import Case, brier, cases, expected_brier, halves, hits, made, rank, reliability, spoilt

from kailyard.handbook.signs import HOW_OFTEN, causes, how_often, signs
from kailyard.troubles.leanings import Setting, weights
from kailyard.troubles.likelihood import columns, middle
from kailyard.troubles.weighing import weigh

WORDS = ((0.9, 0.6, 0.3, 0.05, 0.005), (0.95, 0.7, 0.35, 0.085, 0.01), (0.98, 0.8, 0.4, 0.12, 0.02))
"""Candidate readings of always, often, sometimes, rarely, never."""
SLIPS = ((0.02, 0.01), (0.1, 0.035), (0.2, 0.08))
"""Candidate chances of missing a sign, and of seeing one that is not there."""
SPREAD = (0.0, 0.5, 1.0)
"""Candidate powers on the weights before any sign; 0: all causes alike."""


class Reading:
    """One candidate, worked out beside the program's own way, for its own rows only."""

    def __init__(self, words: tuple[float, ...], slips: tuple[float, float], spread: float) -> None:
        at = np.array([[HOW_OFTEN.index(how_often(c, s)) for s in signs()] for c in causes()])
        shown = np.array(words)[at]
        self.yes = shown * (1 - slips[0]) + (1 - shown) * slips[1]
        self.spread = spread

    def chances(self, case: Case) -> np.ndarray:
        log = self.spread * np.log(weights(Setting(case.crop))[0][:-1])
        for sign, answer in case.answers.items():
            p = self.yes[:, columns()[sign]]
            log = log + np.log(p if answer == "yes" else 1 - p)
        p = np.exp(log - log.max())
        return np.asarray(p / p.sum())


def tuned_on(half: tuple[Case, ...]) -> Reading:
    """The candidate that gives the causes of `half` the highest mean log chance."""
    readings = [Reading(w, s, p) for w, s, p in product(WORDS, SLIPS, SPREAD)]
    return max(readings, key=lambda r: sum(np.log(r.chances(c)[causes().index(c.cause)]) for c in half))


@pytest.mark.parametrize("tuned", [0, 1], ids=["tuned on odd, tried on even", "tuned on even, tried on odd"])
def test_what_is_tuned_on_one_half_names_the_other(shared: Path, tuned: int) -> None:
    both = halves(shared)
    reading, other = tuned_on(both[tuned]), both[1 - tuned]
    ranks = []
    for case in other:
        chances = reading.chances(case)
        ranks.append(1 + int((chances > chances[causes().index(case.cause)]).sum()))
    assert hits(ranks, 1) >= 0.9
    assert hits(ranks, 3) == 1.0


def test_what_is_shipped_names_both_halves(shared: Path) -> None:
    for half in halves(shared):
        ranks = [rank(weigh(case.answers, Setting(case.crop)), case.cause) for case in half]
        assert hits(ranks, 1) >= 0.9
        assert hits(ranks, 3) == 1.0


def test_the_programs_own_way_agrees_with_one_worked_out_beside_it(shared: Path) -> None:
    """Same words, same slips, same weights: the same order and, 'none of the table' left out, the same chances."""
    beside = Reading((0.945, 0.7, 0.35, 0.085, 0.01), (0.1, 0.035), 1.0)
    assert np.allclose(middle()[:-1], beside.yes)
    for case in cases(shared):
        own = weigh(case.answers, Setting(case.crop)).middle[:-1]
        assert np.allclose(own / own.sum(), beside.chances(case), atol=1e-9)


@pytest.mark.parametrize("how", ["flipped", "missing"])
def test_one_sign_in_five_wrong_or_missing_still_leaves_the_cause_near_the_top(shared: Path, how: str) -> None:
    rng = np.random.default_rng(20260518)
    ranks = [
        rank(weigh(spoilt(case.answers, rng, how), Setting(case.crop)), case.cause)
        for case in cases(shared)
        for _ in range(10)
    ]
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
    for stated, came, count in reliability(made_cases, (0.0, 0.05, 0.2, 0.4, 0.6, 0.8, 0.95, 1.01)):
        assert came == pytest.approx(stated, abs=3.5 * np.sqrt(stated * (1 - stated) / count) + 0.5 / count)


def test_the_cases_are_the_twenty_of_the_reference(shared: Path) -> None:
    assert len(cases(shared)) == 20
    assert {len(half) for half in halves(shared)} == {10}
