from __future__ import annotations

from contextlib import suppress
from datetime import date, timedelta
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from weather_files import invented_record

from kailyard.errors import DataError
from kailyard.weather.ensemble import Ensemble, build_ensemble
from kailyard.weather.forecast import (
    RAIN_SKILL_BY_LEAD,
    SKILL_BY_LEAD,
    ForecastDay,
    blended,
    latest_by_day,
    takes_forecast_rain,
)
from kailyard.weather.reading import read_forecast

TODAY = date(2026, 6, 12)
RECORD = invented_record(date(1980, 1, 1), date(2026, 6, 11))
NAN = float("nan")


def told(issued: int, day: int, low: float = 5.0, high: float = 15.0, rain: float = NAN) -> ForecastDay:
    """Issue and day counted from today."""
    return ForecastDay(TODAY + timedelta(days=issued), TODAY + timedelta(days=day), low, high, rain)


def build(*forecast: ForecastDay) -> Ensemble:
    return build_ensemble(RECORD, today=TODAY, start=date(2026, 6, 1), forecast=forecast)


def test_skill_falls_with_lead() -> None:
    for skill in (SKILL_BY_LEAD, RAIN_SKILL_BY_LEAD):
        assert len(skill) == 10
        assert all(0 < b < a < 1 for a, b in pairwise(skill))
    assert all(rain < warmth for rain, warmth in zip(RAIN_SKILL_BY_LEAD, SKILL_BY_LEAD, strict=True))


def test_the_latest_issued_by_today_counts_for_each_day() -> None:
    old, new, tomorrow = told(-2, 1, 1), told(0, 1, 2), told(1, 1, 3)
    assert latest_by_day([new, old, tomorrow], TODAY) == (new,)
    assert latest_by_day([told(0, 3), told(-1, 2)], TODAY) == (told(-1, 2), told(0, 3))


def test_days_gone_by_and_leads_without_skill_do_not_count() -> None:
    assert latest_by_day([told(-3, -1), told(0, 11), told(-5, 6)], TODAY) == ()
    assert latest_by_day([told(0, 10), told(0, 0)], TODAY) == (told(0, 0), told(0, 10))


def test_a_perfect_forecast_leaves_nothing_of_the_run_and_a_worthless_one_all_of_it() -> None:
    runs = np.array([[1.0, 2.0, 3.0], [4.0, 5.0, 6.0]])
    usual, forecast = np.array([2.0, 2.0, 2.0]), np.array([9.0, 9.0, NAN])
    out = blended(forecast, np.array([1.0, 0.0, 1.0]), usual, runs)
    assert out.tolist() == [[9.0, 2.0, 3.0], [9.0, 5.0, 6.0]]


@pytest.mark.parametrize("skill", [0.3, 0.71, 0.97])
def test_the_spread_that_is_left_is_what_stays_unforeseen(skill: float) -> None:
    # Regression of y on x with correlation r: mean r·x, residual spread σ·√(1 - r²) (any statistics textbook). Drawn
    # so, a truth must be the like of the 50 possible seasons: all 51 ranks equally often.
    rng = np.random.default_rng(2)
    n = 4000
    truth = rng.normal(0, 3, n)
    forecast = skill * truth + np.sqrt(1 - skill**2) * rng.normal(0, 3, n)
    runs = rng.normal(0, 3, (50, n))
    out = blended(forecast, np.full(n, skill), np.zeros(n), runs)
    rank = (out < truth).sum(axis=0)
    assert np.mean(rank) == pytest.approx(25, abs=1)
    assert np.mean((rank >= 5) & (rank <= 45)) == pytest.approx(41 / 51, abs=0.03)


def test_a_near_forecast_gathers_the_seasons_and_a_far_one_hardly() -> None:
    plain, near, far = build(), build(told(0, 1, 2.0, 9.0)), build(told(0, 10, 2.0, 9.0))
    i = plain.today_index
    assert near.tmin_c[:, i + 1].std() < plain.tmin_c[:, i + 1].std() / 3
    assert abs(near.tmin_c[:, i + 1].mean() - 2.0) < 1.0
    assert far.tmin_c[:, i + 10].std() > plain.tmin_c[:, i + 10].std() * 0.9
    untouched = np.ones(plain.tmin_c.shape[1], dtype=bool)
    untouched[i + 1] = False
    assert np.array_equal(near.tmin_c[:, untouched], plain.tmin_c[:, untouched])
    assert (near.forecast_days, far.forecast_days) == (2, 11)


def test_the_seasons_keep_their_order_under_a_forecast() -> None:
    plain, near = build(), build(told(0, 3))
    j = plain.today_index + 3
    mean = near.tmean_c[:, j]
    assert np.array_equal(np.argsort(plain.tmean_c[:, j], kind="stable"), np.argsort(mean, kind="stable"))


def test_a_forecast_that_says_only_the_minimum_leaves_the_maximum() -> None:
    plain, half = build(), build(told(0, 5, 14.0, NAN))
    j = plain.today_index + 5
    later = half.tmin_c[:, j] < half.tmax_c[:, j]
    assert not np.array_equal(plain.tmin_c[:, j], half.tmin_c[:, j])
    assert np.mean(plain.tmax_c[:, j] == half.tmax_c[:, j]) > 0.5
    assert later.all()


@pytest.mark.parametrize("lead", range(1, 11))
def test_forecast_rain_falls_in_a_share_of_the_seasons_equal_to_its_skill(lead: int) -> None:
    plain, wet = build(), build(told(0, lead, rain=17.3))
    j = plain.today_index + lead
    taken = wet.rain_mm[:, j] == 17.3
    assert taken.mean() == pytest.approx(RAIN_SKILL_BY_LEAD[lead - 1], abs=1.5 / 40)
    assert np.array_equal(wet.rain_mm[~taken, j], plain.rain_mm[~taken, j])
    assert np.array_equal(np.delete(wet.rain_mm, j, axis=1), np.delete(plain.rain_mm, j, axis=1))


@given(st.floats(0, 1), st.floats(0, 1), st.integers(5, 60))
def test_seasons_that_take_the_rain_at_low_skill_take_it_at_high(a: float, b: float, traces: int) -> None:
    low, high = takes_forecast_rain(min(a, b), traces), takes_forecast_rain(max(a, b), traces)
    assert np.all(high | ~low)
    assert abs(high.mean() - max(a, b)) < 3 / traces


def test_a_forecast_past_a_short_horizon_is_left_out() -> None:
    ensemble = build_ensemble(RECORD, today=TODAY, start=TODAY, forecast=(told(0, 8),), horizon_days=5)
    assert ensemble.tmin_c.shape == (40, 5)


# Files


def test_a_small_table_is_read() -> None:
    text = b"day,tmin,tmax,rain\n2026-06-13,41,59,0.1\n2026-06-14,50,,\n"
    first, second = read_forecast(text, issued=TODAY, temperature_unit="F", rain_unit="in", name="f.csv")
    assert (first.issued, first.day, first.lead) == (TODAY, date(2026, 6, 13), 1)
    assert (first.tmin_c, first.tmax_c) == (5.0, 15.0)
    assert first.rain_mm == pytest.approx(2.54)
    assert np.isnan([second.tmax_c, second.rain_mm]).all()


def test_a_column_of_issue_days_is_read_and_rain_may_lack() -> None:
    text = b"issued,day,tmin,tmax\n2026-06-12,2026-06-14,5,15\n2026-06-11,2026-06-14,4,14\n"
    assert [f.lead for f in read_forecast(text)] == [3, 2]


def test_every_bad_row_is_named_at_once() -> None:
    text = """day,tmin,tmax,rain
2026-06-13,5,15,0
13.6.2026,5,15,0
2026-06-14,5
2026-06-15,warm,15,0
2026-06-16,15,5,0
2026-06-17,5,150,0
2026-06-13,5,15,0
2026-06-11,5,15,0
"""
    with pytest.raises(DataError) as caught:
        read_forecast(text.encode(), issued=TODAY, name="f.csv")
    assert caught.value.problems == (
        "f.csv:3: day '13.6.2026' is no date; write it as 2026-06-12.",
        "f.csv:4: 2 fields where the header has 4.",
        "f.csv:5: minimum 'warm' is not a number.",
        "f.csv:6: minimum 15 is above maximum 5.",
        "f.csv:7: maximum 150 is outside the possible, -70 to 57 °C.",
        "f.csv:8: 2026-06-13 stands on line 2 already.",
        "f.csv:9: 2026-06-11 lies before the day of issue, 2026-06-12.",
    )


@pytest.mark.parametrize(
    ("text", "rule"),
    [
        (b"day,tmin\n2026-06-13,5\n", "no column 'tmax'"),
        (b"day,tmin,tmax\n2026-06-13,5,9\n", "Say on which day"),
        (b"issued,day,tmin,tmax\n,2026-06-13,5,9\n", "issued '' is no date"),
        (b"issued,day,tmin,tmax\n", "no forecast day"),
        (b"", "empty"),
    ],
)
def test_a_forecast_that_cannot_be_used_says_why(text: bytes, rule: str) -> None:
    with pytest.raises(DataError, match=rule):
        read_forecast(text)


@given(st.binary(max_size=200))
@settings(max_examples=80, deadline=None)
def test_no_bytes_make_the_forecast_reader_fail_in_any_other_way(data: bytes) -> None:
    for text in (data, b"day,tmin,tmax\n" + data):
        with suppress(DataError):
            assert read_forecast(text, issued=TODAY)
