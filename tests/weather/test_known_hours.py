"""Each hour as well as it is known, and nothing beyond."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kailyard.errors import DataError
from kailyard.weather.hour_columns import HourColumns
from kailyard.weather.hour_days import days_of_hours
from kailyard.weather.hour_table import read_hours
from kailyard.weather.hours import HOUR_COLUMNS, HourlyRecord, hour_number, hourly
from kailyard.weather.known_hours import FORECAST, MADE, OBSERVED, UNKNOWN, KnownDays, KnownHours, known_hours

NOON = datetime(2026, 6, 12, 12, tzinfo=UTC)
HOUR = timedelta(hours=1)


def record(first: datetime, count: int, **columns: float) -> HourlyRecord:
    at = hour_number(first) + np.arange(count)
    return hourly(at, {name: np.full(count, value) for name, value in columns.items()}, source="x")


def days(first: date, lows: list[float], highs: list[float]) -> KnownDays:
    return KnownDays(first, np.array(lows), np.array(highs))


def known(first: datetime, last: datetime, **more: object) -> KnownHours:
    given_ = {"observed": None, "forecast": None, "now": NOON, "days": None, "latitude": 44.2, "longitude": 0.0}
    return known_hours(first, last, **{**given_, **more})  # type: ignore[arg-type]


def test_observed_wins_over_forecast_and_this_over_made_from_days_and_beyond_is_unknown() -> None:
    got = known(
        NOON - 6 * HOUR,
        NOON + 60 * HOUR,
        observed=record(NOON - 6 * HOUR, 5, temp_c=9.0, wind_m_s=2.0),
        forecast=record(NOON - 4 * HOUR, 12, temp_c=11.0, wind_m_s=3.0, rain_mm=0.4),
        days=days(date(2026, 6, 11), [5, 6, 7, 8], [15, 16, 17, 18]),
    )
    temp = got.states["temp_c"]
    assert temp[:5].tolist() == [OBSERVED] * 5
    assert temp[5:14].tolist() == [FORECAST] * 9
    assert set(temp[14:48].tolist()) == {MADE}
    assert got.record.temp_c[:6].tolist() == [9] * 5 + [11]
    assert set(got.states["wind_m_s"][14:].tolist()) == {UNKNOWN}
    assert np.isnan(got.record.wind_m_s[14:]).all()
    assert got.states["rain_mm"][:3].tolist() == [UNKNOWN, UNKNOWN, FORECAST]
    assert got.words("wind_m_s")[4:6] == ("observed", "forecast")
    assert got.whole("temp_c", "wind_m_s").tolist() == [True] * 14 + [False] * 53
    # The days end on 14 June at midnight; what lies after is not made up.
    assert temp[-1] == UNKNOWN


def test_what_was_observed_later_than_now_plays_no_part() -> None:
    got = known(NOON, NOON + 3 * HOUR, observed=record(NOON, 4, temp_c=9.0))
    assert got.states["temp_c"].tolist() == [OBSERVED, UNKNOWN, UNKNOWN, UNKNOWN]


def test_humidity_follows_from_dew_point_as_fao_56_has_it() -> None:
    # FAO-56, table 2.3: saturation vapour pressure 1.705 kPa at 15 °C, 2.338 kPa at 20 °C: 72.9 %.
    got = known(NOON, NOON, observed=record(NOON, 1, temp_c=20.0, dew_point_c=15.0))
    assert got.record.humidity_pct[0] == pytest.approx(100 * 1.705 / 2.338, abs=0.1)
    assert got.states["humidity_pct"][0] == OBSERVED
    made = known(
        NOON,
        NOON,
        observed=record(NOON, 1, dew_point_c=15.0),
        days=days(date(2026, 6, 11), [5] * 3, [20] * 3),
    )
    assert made.states["temp_c"][0] == MADE
    assert made.states["humidity_pct"][0] == UNKNOWN  # not from a temperature that was made


def test_a_made_day_runs_between_its_low_and_high_by_the_sun() -> None:
    first = datetime(2026, 6, 12, tzinfo=UTC)
    for longitude in (0.0, -90.0, 150.0):
        at = first - timedelta(hours=longitude / 15)
        got = known(at, at + 23 * HOUR, days=days(date(2026, 6, 11), [4, 6, 8], [14, 20, 22]), longitude=longitude)
        temps = got.record.temp_c
        assert set(got.states["temp_c"].tolist()) == {MADE}
        assert 3 <= int(np.argmin(temps)) <= 5  # sunrise in June at 44° north is shortly after 4 h
        assert 13 <= int(np.argmax(temps)) <= 15
        assert (temps.min(), temps.max()) == (pytest.approx(6, abs=0.6), pytest.approx(20, abs=0.1))


def test_a_day_that_is_missing_leaves_its_hours_unknown() -> None:
    got = known(NOON - 24 * HOUR, NOON + 24 * HOUR, days=days(date(2026, 6, 10), [4, np.nan, 6, 7], [14, 15, 16, 17]))
    assert UNKNOWN in got.states["temp_c"]


def test_where_the_sun_does_not_set_hours_are_not_made() -> None:
    got = known(NOON, NOON, days=days(date(2026, 6, 11), [4, 5, 6], [14, 15, 16]), latitude=69.0)
    assert got.states["temp_c"].tolist() == [UNKNOWN]


@given(st.integers(0, 60), st.integers(1, 60), st.integers(-40, 40), st.integers(1, 60), st.integers(-40, 40))
@settings(max_examples=60, deadline=None)
def test_a_cell_is_missing_just_where_nothing_is_known(a: int, b: int, c: int, d: int, e: int) -> None:
    got = known(
        NOON - 20 * HOUR,
        NOON + a * HOUR,
        observed=record(NOON + c * HOUR, b, temp_c=1.0, wind_m_s=2.0),
        forecast=record(NOON + e * HOUR, d, temp_c=3.0, rain_mm=0.0),
        days=days(date(2026, 6, 12), [5.0], [15.0]),
    )
    for column in HOUR_COLUMNS:
        assert np.array_equal(np.isnan(got.record.columns[column]), got.states[column] == UNKNOWN)
    assert len(got.record) == a + 21


def test_a_span_that_runs_backwards_is_refused() -> None:
    with pytest.raises(DataError, match="check the span"):
        known(NOON, NOON - 2 * HOUR)


def test_hours_made_from_days_against_hours_observed(shared: Path) -> None:
    """AgriMet Fallon 2015, a desert valley: what `docs/explanation/possible-seasons.md` says of made hours."""
    columns = HourColumns.parse("date=date; hour=hour; zone=-08:00; temperature=t_f; temperature_unit=F")
    seen = read_hours(shared / "data" / "weather" / "agrimet_FALN_hourly_2015.csv.gz", columns)
    made_of = days_of_hours(seen, columns.clock() or UTC)
    got = known(
        seen.first,
        seen.last,
        now=seen.last,
        days=KnownDays(made_of.first, made_of.tmin_c, made_of.tmax_c),
        latitude=39.46,
        longitude=-118.78,
    )
    error = got.record.temp_c - seen.temp_c
    known_ = ~np.isnan(error)
    assert known_.mean() > 0.95
    assert abs(float(np.mean(error[known_]))) < 1.0
    assert float(np.sqrt(np.mean(error[known_] ** 2))) == pytest.approx(2.9, abs=0.1)
