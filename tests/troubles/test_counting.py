"""Intervals of counts against printed limits and exact fractions; thresholds decided, or how many more plants."""

import math
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kailyard.garden.entries.count import Count, problem
from kailyard.garden.model import Entry
from kailyard.troubles.counting import (
    Interval,
    judge_mean,
    judge_share,
    mean_interval,
    share_interval,
    trend,
)


def _at_least(k: int, n: int, p: float) -> float:
    share = Fraction(p)
    return float(sum(math.comb(n, i) * share**i * (1 - share) ** (n - i) for i in range(k, n + 1)))


@pytest.mark.parametrize(("k", "n"), [(0, 5), (1, 10), (5, 10), (9, 10), (10, 10), (3, 50), (37, 200)])
def test_shares_of_very_many_are_clopper_and_pearsons(k: int, n: int) -> None:
    # Clopper and Pearson 1934: at the lower end k or more, at the upper k or fewer, come with a chance of 0.025.
    got = share_interval(k, n, level=0.95)
    assert (got.low == 0) == (k == 0)
    assert (got.high == 1) == (k == n)
    if k:
        assert _at_least(k, n, got.low) == pytest.approx(0.025, abs=1e-8)
    if k < n:
        assert 1 - _at_least(k + 1, n, got.high) == pytest.approx(0.025, abs=1e-8)


def test_ten_tosses_as_printed() -> None:
    # Widely printed 95 % limits (Pearson and Hartley, Biometrika Tables): 5 of 10 is 0.187 to 0.813, 0 of 10 to 0.308.
    five, none = share_interval(5, 10, level=0.95), share_interval(0, 10, level=0.95)
    assert (five.low, five.high) == (pytest.approx(0.187, abs=0.0005), pytest.approx(0.813, abs=0.0005))
    assert (none.low, none.high) == (0, pytest.approx(0.308, abs=0.0005))


@pytest.mark.parametrize(("k", "n", "of"), [(0, 4, 12), (2, 5, 12), (3, 3, 9), (6, 10, 30), (1, 20, 60)])
def test_shares_of_a_few_are_those_of_drawing_without_putting_back(k: int, n: int, of: int) -> None:
    # By enumeration of every number of bearing plants and every way to draw.
    def at_least(low: int, bearing: int) -> float:
        ways = sum(math.comb(bearing, i) * math.comb(of - bearing, n - i) for i in range(max(low, 0), n + 1))
        return ways / math.comb(of, n)

    got = share_interval(k, n, of)
    fits = [
        bearing
        for bearing in range(k, of - (n - k) + 1)
        if at_least(k, bearing) > 0.05 and 1 - at_least(k + 1, bearing) > 0.05
    ]
    assert (got.low, got.high) == (fits[0] / of, fits[-1] / of)


@given(st.integers(1, 40), st.data())
def test_when_all_are_looked_at_nothing_is_left_to_sampling(n: int, data: st.DataObject) -> None:
    k = data.draw(st.integers(0, n))
    got = share_interval(k, n, n)
    assert got.whole
    assert got.low == got.high == got.seen == k / n
    mean = mean_interval(3.0 * k, n, n)
    assert mean.whole
    assert mean.low == mean.high == mean.seen


def test_all_five_plants_looked_at_decide_it() -> None:
    # Five plants stand there, all looked at, one egg mass on one of them; the threshold of 1 a plant is not reached.
    assert judge_mean(1, 5, 1.0, 5).verdict == "below"
    assert judge_mean(5, 5, 1.0, 5).verdict == "above"
    assert judge_mean(5, 5, 1.0).verdict == "undecided"


@given(st.integers(1, 30), st.integers(0, 100), st.data())
def test_the_interval_holds_what_was_seen_and_narrows_with_more_plants(n: int, extra: int, data: st.DataObject) -> None:
    k = data.draw(st.integers(0, n))
    got = share_interval(k, n, n + extra)
    assert 0 <= got.low <= got.seen + 1e-12
    assert got.seen <= got.high + 1e-12 <= 1 + 1e-9
    open_ended = share_interval(k, n)
    assert got.high - got.low <= open_ended.high - open_ended.low + 1 / (n + extra) + 1e-9
    mean = mean_interval(2.0 * k, n, n + extra)
    assert mean.low - 1e-9 <= mean.seen <= mean.high + 1e-9


@pytest.mark.parametrize(
    ("half", "low", "high"),
    [(0, 0, 3.689), (1, 0.0253, 5.572), (3, 0.619, 8.767), (5, 1.623, 11.668), (10, 4.795, 18.390)],
)
def test_means_are_garwoods_widened_for_clumps(half: int, low: float, high: float) -> None:
    # Exact 95 % limits of a Poisson count (Garwood 1936; Pearson and Hartley, Biometrika Tables), from memory. Pests
    # clump: a count is taken as half as much evidence.
    got = mean_interval(2 * half, 10, level=0.95)
    assert got.low * 10 / 2 == pytest.approx(low, abs=0.0006)
    assert got.high * 10 / 2 == pytest.approx(high, abs=0.0006)
    assert mean_interval(0, 100).high < mean_interval(0, 10).high


def test_undecided_says_how_many_more_and_they_would_decide_it() -> None:
    # Threshold 1 beetle a plant: 10 on 5 plants of 60 is undecided; as many more as it says, alike, decide.
    judged = judge_mean(10, 5, 1.0, 60)
    assert judged.verdict == "undecided"
    assert judged.more is not None
    assert judge_mean(2 * (5 + judged.more), 5 + judged.more, 1.0, 60).verdict == "above"
    assert judge_mean(2 * (4 + judged.more), 4 + judged.more, 1.0, 60).verdict == "undecided"
    few = judge_share(1, 5, 0.3, 20)
    assert few.verdict == "undecided"
    assert few.more is not None
    assert few.more <= 15


@given(st.integers(1, 25), st.integers(0, 30), st.floats(0.01, 0.99), st.data())
def test_every_plant_looked_at_always_decides(n: int, extra: int, threshold: float, data: st.DataObject) -> None:
    k = data.draw(st.integers(0, n))
    judged = judge_share(k, n, threshold, n + extra)
    if judged.verdict == "undecided":
        assert judged.more is not None
        assert judged.more <= extra
    assert judge_share(k, n, threshold, n).verdict == ("above" if k / n >= threshold else "below")


def test_a_trend_is_told_only_where_the_counts_lie_apart() -> None:
    assert trend(share_interval(18, 20, 20), share_interval(4, 20, 20)) == "fewer"
    assert trend(share_interval(1, 20, 20), share_interval(9, 20, 20)) == "more"
    assert trend(Interval(0.5, 0.2, 0.8, False), Interval(0.4, 0.1, 0.7, False)) == "no telling"


def test_counts_that_cannot_be_are_refused() -> None:
    for k, n, of in ((6, 5, None), (1, 0, None), (1, 5, 4)):
        with pytest.raises(ValueError, match="no count is like that"):
            share_interval(k, n, of)
    with pytest.raises(ValueError, match="no count is like that"):
        mean_interval(-1, 5)
    assert math.isclose(mean_interval(0, 5, 5).high, 0)


def _said(**payload: object) -> str:
    from datetime import UTC, date, datetime

    made = Count(**{"trouble": "squash-bug", "looked_at": 5, **payload})
    when = datetime(2026, 7, 1, tzinfo=UTC)
    return problem(Entry("c1", "count", 1, date(2026, 7, 1), when, "zucchini-1", {}), made)


def test_an_entry_of_none_found_is_whole_and_one_of_nothing_is_not() -> None:
    assert _said(found_on=0) == ""
    assert _said(total=0, what="egg masses") == ""
    assert "0 where none was found" in _said()
    assert "cannot be found on more" in _said(found_on=6)
    assert "how many stand there" in _said(found_on=1, of=4)
    assert "one of the two is wrong" in _said(found_on=0, total=3)
    assert "one of the two is wrong" in _said(found_on=2, total=0)
    assert "There is no trouble" in _said(trouble="squash-bgu", found_on=0)
