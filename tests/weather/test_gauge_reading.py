"""A reading of the garden's gauge: asked about where it lies fourfold off the station, silent where it may be."""

from __future__ import annotations

from datetime import date, timedelta

import numpy as np
import pytest

from kailyard.weather.gauge_reading import reading_question
from kailyard.weather.record import DailyRecord, read_only

FIRST = date(2026, 5, 1)
RAIN = [0, 0, 5, 12, 0, 0, 3, 0, 20, 1, 0, 0, 0, 8, 8, 0, 0, 2, 0, 0, 15, 0, 0, 0, 0, 0, 6, 0, 0, 0]


def station(rain: list[float] = RAIN) -> DailyRecord:
    warm = read_only(np.full(len(rain), 12.0))
    return DailyRecord(FIRST, warm, read_only(np.full(len(rain), 20.0)), read_only(np.array(rain, float)), "station")


def day(n: int) -> date:
    return FIRST + timedelta(days=n)


@pytest.mark.parametrize("times", [4.0, 25.4])
def test_a_reading_so_many_times_the_station_is_asked_about(times: float) -> None:
    # 25.4: inches kept as if they were millimetres, or the other way round (1 in = 25.4 mm exactly).
    asked = reading_question(station(), {day(20): 15.0 * times}, day(20))
    assert "The station had 15.0 mm" in asked


@pytest.mark.parametrize("mm", [15.0, 40.0, 55.0])
def test_less_than_fourfold_is_a_storm(mm: float) -> None:
    assert reading_question(station(), {day(20): mm}, day(20)) == ""


def test_the_day_before_counts_for_gauges_are_read_in_the_morning() -> None:
    assert reading_question(station(), {day(21): 55.0}, day(21)) == ""
    assert reading_question(station(), {day(24): 55.0}, day(24))


def test_a_small_shower_of_one_s_own_is_not_asked_about() -> None:
    assert reading_question(station(), {day(24): 9.0}, day(24)) == ""


def test_readings_together_a_fourth_of_the_station_are_asked_about() -> None:
    # A blocked gauge: each reading alone could be a shower that went by.
    read = {day(n): RAIN[n] / 4.2 for n in (3, 8, 13, 14, 20)}
    assert "the station had 63.0 mm" in reading_question(station(), read, day(20))
    right = {d: mm * 3 for d, mm in read.items()}
    assert reading_question(station(), right, day(20)) == ""


def test_beyond_the_record_or_where_it_has_gaps_nothing_is_asked() -> None:
    assert reading_question(station(), {day(60): 80.0}, day(60)) == ""
    gaps = [np.nan] * len(RAIN)
    assert reading_question(station(gaps), {day(20): 80.0}, day(20)) == ""
    assert reading_question(station(), {}, day(20)) == ""
