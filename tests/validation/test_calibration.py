"""What is learnt from entries is as sure as it may be and no surer; a learner that is too sure is found out."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace

import numpy as np
import pytest

from kailyard.season import view
from kailyard.season.learning import OBSERVED_SPREAD, Unknown, learn
from tools.validation._scores import EVEN_LIMIT, unevenness
from tools.validation.calibration import BINS, Set, all_ranked

SIMULATIONS = 300
LIMIT = EVEN_LIMIT[BINS][1]
"""Passed once in 1000 by ranks that are even."""

EXACT = Set("bean-bush", (7, 9), 0.0)
AS_SUPPOSED = Set("bean-bush", (7, 9), OBSERVED_SPREAD)
NOTHING = Set("sweet-corn", (0, 0), 0.0)

Learner = Callable[[Sequence[Unknown], int, str], Mapping[str, np.ndarray]]


def test_ranks_of_the_true_multiplier_are_even() -> None:
    for of in (AS_SUPPOSED, NOTHING):
        multiplier, _ = all_ranked(of, SIMULATIONS)
        assert unevenness(multiplier, BINS) < LIMIT, of


def test_ranks_of_the_true_first_picking_are_even() -> None:
    for of in (EXACT, NOTHING):
        _, harvest = all_ranked(of, SIMULATIONS)
        assert unevenness(harvest, BINS) < LIMIT, of


def too_sure(plantings: Sequence[Unknown], draws: int, seed: str) -> Mapping[str, np.ndarray]:
    """Spreads not widened from a well-known crop to this planting: half of what they are."""
    narrow = [
        replace(u, crop_spread=u.crop_spread / 2, cultivar_spread=u.cultivar_spread / 2, planting_spread=0.03)
        for u in plantings
    ]
    return learn(narrow, draws, seed)


def too_late(plantings: Sequence[Unknown], draws: int, seed: str) -> Mapping[str, np.ndarray]:
    """Everything 8 in 100 more than it needs."""
    return {id_: values + 0.08 for id_, values in learn(plantings, draws, seed).items()}


@pytest.mark.parametrize("wrong", [too_sure, too_late])
def test_a_wrong_learner_is_found_out(wrong: Learner, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(view, "learn", wrong)
    multiplier, harvest = all_ranked(NOTHING, SIMULATIONS)
    assert unevenness(multiplier, BINS) > 1.5 * LIMIT
    assert unevenness(harvest, BINS) > LIMIT
