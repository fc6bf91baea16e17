"""Thermal clocks and tables of next days, each against a loop a child could follow."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import numpy as np
import pytest
from gardens import seasons
from hypothesis import given, settings
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from kailyard.season.clock import CALENDAR, Clock, Clocks, ResponseKey, take_next
from kailyard.season.odds import BEYOND, NEVER
from kailyard.weather.record import read_only

FIRST = 738_000

# Whole degrees, with many days of none: plateaus, and sums that are met exactly.
daily_degrees = st.integers(1, 4).flatmap(
    lambda traces: st.integers(1, 25).flatmap(
        lambda days: arrays(np.float64, (traces, days), elements=st.sampled_from([0.0, 0.0, 1.0, 2.0, 5.0]))
    )
)


def naive_reach(daily: np.ndarray, trace: int, target: float) -> int:
    stand = 0.0
    for j, degrees in enumerate(daily[trace]):
        stand += degrees
        if stand >= target:
            return FIRST + j
    return int(BEYOND)


@given(daily_degrees, st.lists(st.integers(-2, 130), min_size=1, max_size=5))
@settings(max_examples=150, deadline=None)
def test_a_sum_is_reached_on_the_first_day_that_ends_with_it(daily: np.ndarray, targets: list[int]) -> None:
    clock = Clock.of_daily(daily, FIRST)
    target = np.tile(np.array(targets, dtype=np.float64), (len(daily), 1))
    got = clock.reach(target)
    for trace in range(len(daily)):
        assert got[trace].tolist() == [naive_reach(daily, trace, t) for t in targets]


@given(daily_degrees, st.lists(st.integers(-3, 30), min_size=1, max_size=5))
@settings(max_examples=150, deadline=None)
def test_a_reading_is_the_sum_of_all_days_up_to_it(daily: np.ndarray, offsets: list[int]) -> None:
    clock = Clock.of_daily(daily, FIRST)
    days = np.tile(np.array(offsets, dtype=np.int32) + FIRST, (len(daily), 1))
    got = clock.reading(days)
    for trace in range(len(daily)):
        expected = [daily[trace][: max(offset + 1, 0)].sum() for offset in offsets]
        assert got[trace].tolist() == expected
    assert np.array_equal(clock.reading(FIRST + offsets[0])[:, 0], got[:, 0])


@pytest.mark.parametrize("end", [BEYOND, NEVER])
def test_what_begins_beyond_the_horizon_is_reached_beyond_it(end: np.int32) -> None:
    clock = Clock.of_daily(np.ones((2, 10)), FIRST)
    start = np.full((2, 3), end, dtype=np.int32)
    assert np.all(clock.reach(clock.reading(start) + 0.5) == BEYOND)


@given(daily_degrees, st.integers(-1, 24), st.integers(0, 20))
@settings(max_examples=150, deadline=None)
def test_the_last_start_is_the_last_day_after_which_enough_still_passes(
    daily: np.ndarray, end: int, needed: int
) -> None:
    clock = Clock.of_daily(daily, FIRST)
    days = daily.shape[1]
    end = min(end, days - 1)
    got = clock.last_start(
        np.full((len(daily), 1), FIRST + end, dtype=np.int32), np.full((len(daily), 1), float(needed))
    )
    for trace in range(len(daily)):
        fit = [s for s in range(-1, days) if daily[trace][s + 1 : end + 1].sum() >= needed and s <= end]
        # Before the first day lies nothing: `first` - 1 stands both for that day and for 'none'. After `end` nothing
        # passes, so that a plateau after it counts only where nothing is needed.
        if needed > 0:
            assert got[trace, 0] - FIRST == max(fit, default=-1)
        else:
            assert got[trace, 0] - FIRST >= end


@given(daily_degrees, st.data())
@settings(max_examples=100, deadline=None)
def test_no_trace_is_read_for_another(daily: np.ndarray, data: st.DataObject) -> None:
    # Rows lie end to end in one search: each alone must give the same days as all together.
    target = data.draw(arrays(np.float64, (len(daily), 3), elements=st.integers(0, 140 * 64).map(lambda n: n / 64)))
    together = Clock.of_daily(daily, FIRST).reach(target)
    for trace in range(len(daily)):
        alone = Clock.of_daily(daily[trace : trace + 1], FIRST).reach(target[trace : trace + 1])
        assert np.array_equal(alone[0], together[trace])


def small(tmin: np.ndarray, tmax: np.ndarray) -> Clocks:
    """Clocks over made-up days."""
    base = seasons(date(2026, 5, 1))
    ensemble = replace(
        base,
        first=date.fromordinal(FIRST),
        today_index=0,
        tmin_c=read_only(tmin),
        tmax_c=read_only(tmax),
        years=tuple(range(2000, 2000 + len(tmin))),
    )
    return Clocks(ensemble, garden_tmin_c=tmin)


temperatures = st.integers(1, 3).flatmap(
    lambda traces: st.integers(1, 30).flatmap(
        lambda days: arrays(np.float64, (traces, days), elements=st.sampled_from([-3.0, 0.0, 4.0, 12.0, 27.0, 35.0]))
    )
)


@given(temperatures, st.sampled_from([-3.0, 0.0, 1.0]), st.integers(-2, 34))
@settings(max_examples=100, deadline=None)
def test_the_next_cold_night_is_the_first_at_or_below_the_threshold(
    tmin: np.ndarray, threshold: float, after: int
) -> None:
    clocks = small(tmin, tmin + 5)
    got = clocks.cold_after(threshold, np.full((len(tmin), 1), FIRST + after, dtype=np.int32))
    for trace in range(len(tmin)):
        cold = [j for j in range(tmin.shape[1]) if tmin[trace, j] <= threshold and j >= after]
        assert got[trace, 0] == (FIRST + cold[0] if cold else BEYOND)


@given(temperatures, st.sampled_from([-3.0, 0.0, 1.0]), st.integers(-4, 34), st.integers(-4, 34))
@settings(max_examples=100, deadline=None)
def test_the_last_cold_night_lies_within_the_span_or_there_is_none(
    tmin: np.ndarray, threshold: float, first: int, last: int
) -> None:
    clocks = small(tmin, tmin + 5)
    got = clocks.last_cold(threshold, FIRST + first, FIRST + last)
    for trace in range(len(tmin)):
        cold = [j for j in range(tmin.shape[1]) if tmin[trace, j] <= threshold and first <= j <= last]
        assert got[trace, 0] == (FIRST + cold[-1] if cold else FIRST + first - 1)


def mean_of_last(row: np.ndarray, j: int, span: int) -> float:
    part = row[max(0, j - span + 1) : j + 1]
    return sum(part.tolist()) / len(part)


@given(temperatures, st.integers(1, 6), st.sampled_from([0.5, 8.1, 15.3]), st.integers(0, 30))
@settings(max_examples=100, deadline=None)
def test_the_soil_counts_as_warm_by_the_mean_of_its_last_days(
    tmin: np.ndarray, span: int, threshold: float, after: int
) -> None:
    clocks = small(tmin, tmin + 5)
    start = np.full((len(tmin), 1), FIRST + after, dtype=np.int32)
    warm, cool = clocks.warm_soil_after(threshold, span, start), clocks.cool_soil_after(threshold, span, start)
    for trace in range(len(tmin)):
        means = [mean_of_last(clocks.soil_c[trace], j, span) for j in range(tmin.shape[1])]
        if any(abs(m - threshold) < 1e-9 for m in means):
            return
        for got, hit in ((warm, lambda m: m >= threshold), (cool, lambda m: m <= threshold)):
            days = [j for j, m in enumerate(means) if j >= after and hit(m)]
            assert got[trace, 0] == (FIRST + days[0] if days else BEYOND)


@given(temperatures, st.integers(1, 4), st.integers(0, 6))
@settings(max_examples=100, deadline=None)
def test_a_day_is_fit_for_harvest_when_it_lies_in_no_heat_nor_in_a_short_break_of_it(
    tmax: np.ndarray, span: int, shortest: int
) -> None:
    heat = 26.5
    clocks = small(tmax - 5, tmax)
    fit, unfit = clocks.fit_for_harvest(heat, span, shortest)
    traces, days = tmax.shape
    for trace in range(traces):
        hot = [mean_of_last(tmax[trace], j, span) >= heat for j in range(days)]
        good = [not h and not in_short_break(hot, j, shortest) for j, h in enumerate(hot)]
        for after in range(days + 1):
            for table, wanted in ((fit, True), (unfit, False)):
                at = [j for j in range(after, days) if good[j] is wanted]
                got = take_next(table, np.full((traces, 1), FIRST + after, dtype=np.int32), FIRST)[trace, 0]
                assert got == (FIRST + at[0] if at else BEYOND)


def in_short_break(hot: list[bool], j: int, shortest: int) -> bool:
    before, after = any(hot[:j]), any(hot[j:])
    low, high = j, j
    while low > 0 and not hot[low - 1]:
        low -= 1
    while high < len(hot) - 1 and not hot[high + 1]:
        high += 1
    return before and after and high - low + 1 < shortest


def test_two_legs_with_one_response_share_a_clock_and_a_calendar_counts_days() -> None:
    clocks = Clocks(seasons(date(2026, 5, 1)), garden_tmin_c=seasons(date(2026, 5, 1)).tmin_c)
    key = ResponseKey("linear", 10.0, None, None, None, soil=False)
    assert clocks.clock(key) is clocks.clock(ResponseKey("linear", 10.0, None, None, None, soil=False))
    calendar = clocks.clock(CALENDAR)
    start = np.full((clocks.traces, 1), clocks.today, dtype=np.int32)
    assert np.all(calendar.reach(calendar.reading(start) + 60.0) == clocks.today + 60)
