"""Windows: when they are open, and what is lost by working too early, in time, late."""

from __future__ import annotations

from datetime import date

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from kailyard.season.odds import BEYOND, NEVER, Odds, later
from kailyard.season.windows import Loss, Window

DAY = date(2026, 6, 12)
D = DAY.toordinal()


def window(opens: object, shuts: object, due: object = None, **loss: float) -> Window:
    def days(value: object) -> np.ndarray:
        return np.atleast_2d(np.array(value, dtype=np.int32))

    return Window(
        name="pick/x",
        says="Pick",
        where="bed 1",
        opens=days(opens),
        shuts=days(shuts),
        due=None if due is None else days(due),
        loss=Loss(**{"late_per_day": 0.1, "late_most": 0.8, "early_per_day": 0.2, "early_most": 0.5, **loss}),
        lost="it goes over",
        minutes=10.0,
    )


near = st.integers(D - 10, D + 10) | st.sampled_from([int(BEYOND), int(NEVER)])


@given(arrays(np.int64, (3, 4), elements=near), arrays(np.int64, (3, 4), elements=near), st.integers(-12, 12))
@settings(max_examples=200, deadline=None)
def test_it_is_open_in_the_samples_whose_span_holds_the_day(opens: np.ndarray, shuts: np.ndarray, at: int) -> None:
    # Samples that never open, or shut before they open, must not take anything from the others.
    day = date.fromordinal(D + at)
    expected = np.mean((opens <= D + at) & (D + at <= shuts))
    assert window(opens, shuts).open_on(day) == pytest.approx(expected)


@pytest.mark.parametrize(
    ("at", "lost"),
    [(-10, 0.5), (-2, 0.4), (-1, 0.2), (0, 0.0), (5, 0.0), (6, 0.1), (8, 0.3), (30, 0.8)],
)
def test_too_early_costs_by_the_day_then_nothing_then_late_costs_by_the_day(at: int, lost: float) -> None:
    # Opens on day 0, shuts on day 5; 0.2 a day early, 0.5 at most; 0.1 a day late, 0.8 at most.
    w = window(D, D + 5)
    assert w.expected_loss(date.fromordinal(D + at)) == pytest.approx(lost)


@pytest.mark.parametrize(("at", "lost"), [(2, 0.0), (3, 0.1), (5, 0.3), (6, 0.8)])
def test_where_work_is_due_before_it_shuts_waiting_costs_from_then_and_all_is_lost_after(at: int, lost: float) -> None:
    assert window(D, D + 5, due=D + 2).expected_loss(date.fromordinal(D + at)) == pytest.approx(lost)


@pytest.mark.parametrize("gone", [BEYOND, NEVER])
def test_what_never_opens_is_lost_by_no_wait(gone: np.int32) -> None:
    w = window(gone, gone, due=gone)
    first, later_on = w.expected_loss(DAY), w.expected_loss(date(2026, 12, 1))
    assert first == later_on == 0.5


def test_loss_is_the_mean_over_all_samples() -> None:
    # One sample in time, one 1 day early, one 2 days late, one never: (0 + 0.2 + 0.2 + 0.5) / 4.
    w = window([D, D + 1, D - 9, NEVER], [D + 9, D + 9, D - 2, NEVER])
    assert w.expected_loss(DAY) == pytest.approx(0.9 / 4)


@given(
    arrays(np.int64, (2, 3), elements=st.integers(D - 9, D + 9)),
    st.integers(0, 9),
    st.integers(0, 9),
    st.integers(-20, 30),
)
@settings(max_examples=100, deadline=None)
def test_loss_stays_a_share_and_never_falls_once_it_is_open(opens: np.ndarray, a: int, b: int, at: int) -> None:
    w = window(opens, opens + a + b, due=opens + a)
    here, after = (w.expected_loss(date.fromordinal(D + n)) for n in (at, at + 1))
    assert 0.0 <= here <= 0.8
    if at >= 9:
        assert after >= here


@given(arrays(np.int64, (3, 4), elements=near), st.integers(-30, 30))
def test_moving_days_leaves_beyond_and_never_as_they_are(days: np.ndarray, n: int) -> None:
    moved = later(days.astype(np.int32), n)
    assert np.array_equal(moved[days < BEYOND], days[days < BEYOND] + n)
    assert np.array_equal(moved[days >= BEYOND], days[days >= BEYOND])


@given(arrays(np.int64, (3, 4), elements=near))
def test_odds_add_up(days: np.ndarray) -> None:
    odds = Odds(days.astype(np.int32))
    within = sum(odds.chances(date.fromordinal(D - 10), date.fromordinal(D + 10)))
    assert within + odds.never + odds.beyond == pytest.approx(1.0)
    assert odds.by(date.fromordinal(D + 10)) == pytest.approx(within)
    shown = odds.summary()
    assert sum(shown.chances) == pytest.approx(within)


@given(arrays(np.int64, (3, 5), elements=near), st.sampled_from([0.1, 0.5, 0.9]))
def test_a_quantile_is_the_first_day_by_which_that_share_has_come(days: np.ndarray, share: float) -> None:
    odds = Odds(days.astype(np.int32))
    got = odds.quantile(share)
    if got is None:
        assert np.mean(days < BEYOND) < share
    else:
        assert odds.by(got) >= share - 1e-12
        assert odds.by(date.fromordinal(got.toordinal() - 1)) < share


def test_a_window_that_some_samples_never_open_is_shown_without_complaint() -> None:
    shown = window([D, D, BEYOND, NEVER], [D + 5, D + 5, BEYOND, NEVER]).span(DAY, date(2026, 7, 12))
    assert shown.never == 0.25
    assert shown.beyond == 0.25
    assert max(shown.chances) == 0.5
