from __future__ import annotations

from datetime import date

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from kailyard.weather.record import DailyRecord, SetAside, merge, read_only

NAN = float("nan")


def record(day: int, tmin: list[float], tmax: list[float], rain: list[float], source: str = "") -> DailyRecord:
    first = date(2020, 1, day)
    return DailyRecord(first, read_only(tmin), read_only(tmax), read_only(rain), source)


def test_the_later_record_wins_where_it_has_a_value() -> None:
    old = record(1, [1, 2, 3], [11, 12, 13], [0, 0, 0], "old")
    new = record(2, [NAN, 5, 6], [9, NAN, 16], [7, NAN, NAN], "new")
    both = merge([old, new])
    assert (both.first, both.last, both.source) == (date(2020, 1, 1), date(2020, 1, 4), "old; then new")
    assert both.tmin_c.tolist() == [1, 2, 5, 6]
    assert both.tmax_c.tolist() == [11, 9, 13, 16]
    np.testing.assert_array_equal(both.rain_mm, [0, 7, 0, NAN])


def test_days_between_two_records_are_missing() -> None:
    both = merge([record(1, [1], [2], [0]), record(4, [1], [2], [0])])
    np.testing.assert_array_equal(both.tmin_c, [1, NAN, NAN, 1])


def test_a_minimum_that_merging_puts_above_the_maximum_is_set_aside_with_it() -> None:
    both = merge([record(1, [1], [4], [0]), record(1, [6], [NAN], [NAN])])
    assert np.isnan([both.tmin_c[0], both.tmax_c[0]]).all()
    (aside,) = both.set_aside
    assert aside.day == date(2020, 1, 1)
    assert aside.value == "minimum 6 °C, maximum 4 °C"


def test_what_was_set_aside_is_kept_from_all() -> None:
    asides = [SetAside(3, None, "x", "not a number", "a.csv"), SetAside(9, None, "y", "gap", "b.csv")]
    one, two = (
        DailyRecord(date(2020, 1, 1), read_only([1]), read_only([2]), read_only([0]), set_aside=(a,)) for a in asides
    )
    assert merge([one, two]).set_aside == tuple(asides)
    assert str(asides[0]) == "a.csv:3: x: not a number"


def test_nothing_cannot_be_merged() -> None:
    with pytest.raises(ValueError, match="at least one"):
        merge([])


cells = st.lists(st.one_of(st.just(NAN), st.floats(0, 9)), min_size=1, max_size=9)


@given(st.lists(st.tuples(st.integers(1, 20), cells), min_size=2, max_size=6))
def test_merging_step_by_step_is_merging_at_once(parts: list[tuple[int, list[float]]]) -> None:
    records = [record(day, v, [10 + x for x in v], v) for day, v in parts]
    at_once, by_steps = merge(records), merge([merge(records[:-1]), records[-1]])
    for name in ("tmin_c", "tmax_c", "rain_mm"):
        np.testing.assert_array_equal(getattr(at_once, name), getattr(by_steps, name))
