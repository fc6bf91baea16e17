"""Learning from entries: against the closed form where there is one, against good sense where there is none."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kailyard.season.learning import GRID, OBSERVED_SPREAD, OUTLIER, Unknown, interval_chance, learn

DRAWS = 400


def leaf(id_: str, *, cultivar: str = "Lantern", crop: str = "bean", **changes: object) -> Unknown:
    return replace(Unknown(id_, crop, cultivar, 0.10, 0.08, 0.06, None), **changes)  # type: ignore[arg-type]


def between(low: float | None, high: float | None, amount: float = 100.0, spread: float = 0.03) -> np.ndarray:
    def reading(value: float | None) -> np.ndarray | None:
        return None if value is None else np.full((50, 1), value)

    return interval_chance(reading(low), reading(high), amount, spread).mean(axis=0)


def test_without_entries_the_prior_stands() -> None:
    # Variances of independent normal parts add: 0.10² + 0.08² + 0.06².
    draws = learn([leaf("a"), leaf("b", cultivar="")], DRAWS, "x")
    for values in draws.values():
        assert float(values.mean()) == pytest.approx(0.0, abs=0.005)
        assert float(values.std()) == pytest.approx(math.sqrt(0.02), rel=0.1)


@given(st.permutations(range(4)))
@settings(max_examples=10, deadline=None)
def test_the_order_of_plantings_does_not_matter(order: list[int]) -> None:
    leaves = [
        leaf("a", likelihood=between(80, 90)),
        leaf("b"),
        leaf("c", cultivar="", likelihood=between(120, None)),
        leaf("d", crop="pea", cultivar="Tall Tam"),
    ]
    first, second = learn(leaves, 40, "x"), learn([leaves[i] for i in order], 40, "x")
    assert all(np.array_equal(first[k], second[k]) for k in first)


def test_a_near_exact_observation_gives_the_normal_posterior() -> None:
    # Normal data with known variance and a normal prior (Gelman et al., Bayesian Data Analysis, 3rd ed. 2013, section
    # 2.5): precision of the posterior is the sum of precisions, its mean their weighted mean. Prior of the planting's
    # logarithm: variance 0.10² + 0.08² + 0.06². One observation of it with the variance of stage and walk together.
    seen, spread = 1.15, 0.05
    draws = learn([leaf("a", likelihood=between(100 * seen * 0.999, 100 * seen * 1.001, spread=spread))], DRAWS, "x")
    prior, noise = 0.02, spread**2 + OBSERVED_SPREAD**2
    precision = 1 / prior + 1 / noise
    assert float(draws["a"].mean()) == pytest.approx(math.log(seen) / noise / precision, abs=0.004)
    assert float(draws["a"].std()) == pytest.approx(math.sqrt(1 / precision), rel=0.06)


def test_a_sister_of_the_same_cultivar_learns_what_is_common() -> None:
    # The same, seen through the common part (crop and cultivar, variance 0.10² + 0.08²) of two plantings whose own
    # parts are independent: E[b | a] = common / (common + own + noise) × what was seen.
    seen, spread = 1.15, 0.05
    evidence = between(100 * seen * 0.999, 100 * seen * 1.001, spread=spread)
    draws = learn([leaf("a", likelihood=evidence), leaf("b"), leaf("c", cultivar="Wick")], DRAWS, "x")
    noise = spread**2 + OBSERVED_SPREAD**2
    total = 0.02 + noise
    same, other = 0.10**2 + 0.08**2, 0.10**2
    assert float(draws["b"].mean()) == pytest.approx(same / total * math.log(seen), abs=0.006)
    assert float(draws["b"].std()) == pytest.approx(math.sqrt(0.02 - same**2 / total), rel=0.08)
    # Another cultivar of the crop shares only the crop's part.
    assert float(draws["c"].mean()) == pytest.approx(other / total * math.log(seen), abs=0.006)


def test_plantings_without_a_named_cultivar_share_no_more_than_the_crop() -> None:
    evidence = between(129, 131, spread=0.05)
    named = learn([leaf("a", likelihood=evidence), leaf("b")], DRAWS, "x")
    unnamed = learn([leaf("a", cultivar="", likelihood=evidence), leaf("b", cultivar="")], DRAWS, "x")
    assert float(named["b"].mean()) > float(unnamed["b"].mean()) + 0.02
    assert float(unnamed["b"].mean()) > 0.02


def test_another_crop_learns_nothing() -> None:
    alone = learn([leaf("p", crop="pea")], 50, "x")
    beside = learn([leaf("p", crop="pea"), leaf("a", likelihood=between(70, 72))], 50, "x")
    assert np.array_equal(alone["p"], beside["p"])


def test_not_yet_moves_later_and_seen_moves_earlier() -> None:
    usual = learn([leaf("a")], DRAWS, "x")["a"]
    late = learn([leaf("a", likelihood=between(105, None))], DRAWS, "x")["a"]
    early = learn([leaf("a", likelihood=between(None, 90))], DRAWS, "x")["a"]
    assert float(late.mean()) > float(usual.mean()) + 0.05
    assert float(early.mean()) < float(usual.mean()) - 0.05
    assert float(late.std()) < float(usual.std())
    assert float(early.std()) < float(usual.std())


def test_no_reading_at_all_is_no_evidence() -> None:
    flat = between(None, None)
    assert np.ptp(flat) == pytest.approx(0.0, abs=1e-12)
    assert flat[0] == pytest.approx(1 + OUTLIER)


@pytest.mark.parametrize(("low", "high"), [(None, 0.0), (900.0, None), (100.0, 50.0), (1e9, 1e9), (0.0, 0.0)])
def test_what_cannot_be_does_not_break_the_odds(low: float | None, high: float | None) -> None:
    draws = learn([leaf("a", likelihood=between(low, high)), leaf("b")], 50, "x")
    for values in draws.values():
        assert np.all(np.isfinite(values))
        assert np.all(np.abs(values) < 1.0)


def test_one_slip_of_the_pen_does_not_rule_over_good_entries() -> None:
    good = [leaf(f"g{i}", likelihood=between(97, 103)) for i in range(3)]
    sound = learn([*good, leaf("b")], DRAWS, "x")["b"]
    slipped = learn([*good, leaf("b"), leaf("z", likelihood=between(None, 1.0))], DRAWS, "x")["b"]
    assert abs(float(slipped.mean()) - float(sound.mean())) < 0.03


def test_more_entries_never_widen_what_is_common() -> None:
    leaves, widths = [leaf("t")], []
    for i in range(4):
        widths.append(float(learn(leaves, DRAWS, "x")["t"].std()))
        leaves.append(leaf(f"a{i}", likelihood=between(110, 113, spread=0.05)))
    assert widths == sorted(widths, reverse=True)


@pytest.mark.parametrize("id_", ["bean", "a", "Lantern"])
def test_a_planting_called_as_its_crop_is_as_unsure_as_any(id_: str) -> None:
    # The parts are independent whatever the planting's name: 'garlic' is a likely name for the garlic.
    draws = learn([leaf(id_, cultivar="")], DRAWS, "x")[id_]
    assert float(draws.std()) == pytest.approx(math.sqrt(0.02), rel=0.1)


def test_the_grid_is_even_and_holds_the_usual_in_its_middle() -> None:
    assert np.allclose(np.diff(GRID), GRID[1] - GRID[0])
    assert GRID[len(GRID) // 2] == pytest.approx(0.0, abs=1e-12)
