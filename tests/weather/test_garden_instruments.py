from __future__ import annotations

from datetime import date, timedelta

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from weather_files import days

from kailyard.weather.garden import teach_site, win_over_estimates
from kailyard.weather.record import DailyRecord, read_only

FIRST = date(2026, 4, 1)
COLD = DailyRecord(FIRST, read_only(np.full(60, 4.0)), read_only(np.full(60, 12.0)), read_only(np.full(60, 1.0)))


def test_without_readings_the_stated_offset_stands() -> None:
    offset = teach_site(COLD, {}, stated_c=-1.5)
    assert (offset.offset_c, offset.read_c, offset.nights, offset.weight) == (-1.5, None, 0, 0.0)
    assert offset.notes == ("No cold night read in the garden yet: the stated -1.5 °C stands.",)


def test_readings_weigh_n_in_n_plus_ten() -> None:
    # Ten nights, 3 °C colder than the station, stated -1: half and half, by the formula n/(n+k).
    offset = teach_site(COLD, dict.fromkeys(days(FIRST, 10), 1.0), stated_c=-1.0)
    assert offset.weight == 0.5
    assert offset.read_c == -3.0
    assert offset.offset_c == -2.0
    assert "10 cold nights" in offset.notes[0]


@given(st.floats(-5, 5), st.floats(-8, 8), st.integers(1, 60))
def test_the_estimate_lies_between_what_was_stated_and_read_and_nears_it(stated: float, read: float, n: int) -> None:
    fewer, more = (
        teach_site(COLD, dict.fromkeys(days(FIRST, k), 4.0 + read), stated_c=stated).offset_c for k in (n, 2 * n)
    )
    assert min(stated, read) - 1e-9 <= fewer <= max(stated, read) + 1e-9
    assert abs(more - read) <= abs(fewer - read) + 1e-9


def test_mild_nights_unpaired_and_misread_ones_are_not_counted_and_named() -> None:
    tmin = np.full(60, 4.0)
    tmin[1], tmin[2] = 14.0, np.nan
    record = DailyRecord(FIRST, read_only(tmin), COLD.tmax_c, COLD.rain_mm)
    readings = dict(zip(days(FIRST, 4), [3.0, 13.0, 3.0, -30.0], strict=True)) | {FIRST - timedelta(days=9): 1.0}
    offset = teach_site(record, readings, stated_c=0.0)
    assert offset.nights == 1
    assert offset.offset_c == pytest.approx(-1 / 11)
    said = " ".join(offset.notes)
    assert "1 night above 10 °C" in said
    assert "2 garden readings without a station minimum" in said
    assert "2026-04-04: garden minimum -30 °C" in said


def test_the_order_of_the_readings_does_not_matter() -> None:
    readings = {d: 1.0 + i / 7 for i, d in enumerate(days(FIRST, 20))}
    backwards = dict(reversed(readings.items()))
    assert teach_site(COLD, readings, stated_c=0.3) == teach_site(COLD, backwards, stated_c=0.3)


def test_the_gauge_wins_on_its_days_and_says_so() -> None:
    changed, notes = win_over_estimates(COLD, {FIRST: 7.5, FIRST + timedelta(days=3): 0.0})
    assert changed.rain_mm[:5].tolist() == [7.5, 1.0, 1.0, 0.0, 1.0]
    assert COLD.rain_mm[0] == 1.0
    assert np.array_equal(changed.tmin_c, COLD.tmin_c)
    assert not changed.rain_mm.flags.writeable
    assert notes == ("Rain of 2 days is the garden's own gauge: 7.5 mm, the station's 2.0 mm on 2 of them.",)


def test_a_reading_past_the_record_lengthens_it() -> None:
    changed, _ = win_over_estimates(COLD, {COLD.last + timedelta(days=2): 4.0})
    assert len(changed) == 62
    assert np.isnan(changed.tmin_c[-2:]).all()
    assert changed.rain_mm[-1] == 4.0


def test_readings_that_cannot_be_are_set_aside_and_named() -> None:
    gauge = {FIRST: -1.0, FIRST - timedelta(days=1): 3.0, date(9999, 1, 1): 3.0}
    changed, notes = win_over_estimates(COLD, gauge)
    assert np.array_equal(changed.rain_mm, COLD.rain_mm)
    assert [a.day for a in changed.set_aside] == [date(2026, 3, 31), FIRST, date(9999, 1, 1)]
    assert len(notes) == 3


def test_no_reading_changes_nothing() -> None:
    assert win_over_estimates(COLD, {}) == (COLD, ())
