"""The ensemble: what is observed, what goes on from past years, what is never known too early."""

from __future__ import annotations

import dataclasses
from datetime import date, timedelta

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from weather_files import changed, invented_record

from kailyard.errors import DataError, KailyardError
from kailyard.weather.ensemble import Ensemble, ForecastDay, TooFewYears, build_ensemble
from kailyard.weather.record import DailyRecord, read_only
from kailyard.weather.runs import fill_gaps, fill_rain

RECORD = invented_record(date(1980, 1, 1), date(2026, 8, 31))
TODAY, START = date(2026, 6, 12), date(2025, 11, 1)


def build(record: DailyRecord = RECORD, today: date = TODAY, start: date = START, **more: object) -> Ensemble:
    return build_ensemble(record, today=today, start=start, **more)  # type: ignore[arg-type]


def at(record: DailyRecord, day: date) -> int:
    return (day - record.first).days


def same(one: Ensemble, other: Ensemble) -> bool:
    parts = [(getattr(one, f.name), getattr(other, f.name)) for f in dataclasses.fields(Ensemble) if f.name != "trend"]
    parts += [(getattr(one.trend, f.name), getattr(other.trend, f.name)) for f in dataclasses.fields(one.trend)]
    return all(np.array_equal(a, b) for a, b in parts)


def test_its_shape_and_days() -> None:
    ensemble = build()
    assert ensemble.today == TODAY
    assert ensemble.first == START
    assert ensemble.today_index == (TODAY - START).days
    days = ensemble.today_index + 550
    assert ensemble.tmin_c.shape == ensemble.tmax_c.shape == ensemble.rain_mm.shape == (40, days)
    assert ensemble.usual_tmin_c.shape == ensemble.usual_tmax_c.shape == ensemble.filled.shape == (days,)
    assert ensemble.traces == 40
    assert ensemble.forecast_days == 0
    assert ensemble.source == "invented station"
    for values in (ensemble.tmin_c, ensemble.tmax_c, ensemble.rain_mm, ensemble.usual_tmin_c, ensemble.filled):
        assert not values.flags.writeable


def test_the_observed_part_is_the_record_in_every_possible_season() -> None:
    ensemble = build()
    lo, hi = at(RECORD, START), at(RECORD, TODAY)
    for values, column in (
        (ensemble.tmin_c, RECORD.tmin_c),
        (ensemble.tmax_c, RECORD.tmax_c),
        (ensemble.rain_mm, RECORD.rain_mm),
    ):
        assert np.array_equal(values[:, : ensemble.today_index], np.tile(column[lo:hi], (40, 1)))


def test_the_plain_past_is_the_past_day_by_day() -> None:
    ensemble = build(use_trend=False)
    assert ensemble.years == tuple(range(2025, 1985, -1))
    for trace, year in enumerate(ensemble.years[1:], start=1):
        lo = at(RECORD, date(year, 6, 12))
        for values, column in (
            (ensemble.tmin_c, RECORD.tmin_c),
            (ensemble.tmax_c, RECORD.tmax_c),
            (ensemble.rain_mm, RECORD.rain_mm),
        ):
            assert np.array_equal(values[trace, ensemble.today_index :], column[lo : lo + 550])


def test_last_year_goes_on_to_yesterday_and_then_as_the_oldest_year_began() -> None:
    # 550 days from 12 June 2025 would end after today. So each year stands once for every day ahead.
    ensemble = build(use_trend=False)
    lo, oldest, i = at(RECORD, date(2025, 6, 12)), at(RECORD, date(1986, 6, 12)), ensemble.today_index
    assert np.array_equal(ensemble.tmin_c[0, i : i + 365], RECORD.tmin_c[lo : lo + 365])
    assert np.array_equal(ensemble.tmin_c[0, i + 365 :], RECORD.tmin_c[oldest : oldest + 185])
    assert np.array_equal(ensemble.rain_mm[0, i + 365 :], RECORD.rain_mm[oldest : oldest + 185])


def test_last_years_run_is_brought_to_todays_climate_year_by_year() -> None:
    # A record that warms by exactly 0.1 °C a year and has no other weather: every day ahead is its own climate.
    days = np.arange(len(RECORD))
    steady = changed(RECORD, tmin_c=5 + days * 0.1 / 365.25, tmax_c=15 + days * 0.1 / 365.25)
    ensemble = build(steady)
    ahead = ensemble.tmin_c[:, ensemble.today_index :]
    # Days of a year that is a day longer or shorter, and months that shift as one, leave a few thousandths.
    np.testing.assert_allclose(ahead[0], np.median(ahead, axis=0), atol=0.01)


def test_where_the_record_ends_before_today_the_oldest_year_bridges_the_days_between() -> None:
    behind = 6
    cut = at(RECORD, TODAY) - behind
    record = DailyRecord(RECORD.first, *(read_only(c[:cut]) for c in (RECORD.tmin_c, RECORD.tmax_c, RECORD.rain_mm)))
    ensemble = build(record, use_trend=False)
    assert ensemble.years[0] == 2025
    i, oldest = ensemble.today_index, at(RECORD, date(1986, 6, 12))
    bridge = slice(i + 365 - behind, i + 365)
    assert np.array_equal(ensemble.tmin_c[0, bridge], RECORD.tmin_c[oldest + 365 - behind : oldest + 365])
    assert np.array_equal(ensemble.tmin_c[0, i + 365 :], RECORD.tmin_c[oldest : oldest + 185])


def test_fewer_seasons_can_be_asked_for_and_the_newest_are_taken() -> None:
    assert build(most_traces=12).years == tuple(range(2025, 2013, -1))


@pytest.mark.parametrize("today", [date(2026, 6, 12), date(2024, 2, 29), date(2020, 1, 1), date(2023, 12, 31)])
def test_nothing_on_or_after_today_has_any_part(today: date) -> None:
    lo = at(RECORD, today)
    rng = np.random.default_rng(1)
    columns = {}
    for name in ("tmin_c", "tmax_c", "rain_mm"):
        column = getattr(RECORD, name).copy()
        column[lo:] = rng.uniform(0, 1, len(column) - lo) + (10 if name == "tmax_c" else 0)
        columns[name] = column
    cut = DailyRecord(RECORD.first, *(read_only(getattr(RECORD, n)[:lo]) for n in columns), source=RECORD.source)
    start = today - timedelta(days=100)
    original = build(today=today, start=start)
    assert same(original, build(changed(RECORD, **columns), today=today, start=start))
    assert same(original, build(cut, today=today, start=start))


def test_a_changed_yesterday_does_have_a_part() -> None:
    # Else the test above would pass on anything.
    tmin = RECORD.tmin_c.copy()
    tmin[at(RECORD, TODAY) - 1] -= 5
    assert not same(build(), build(changed(RECORD, tmin_c=tmin)))


def test_a_forecast_issued_after_today_has_no_part() -> None:
    later = ForecastDay(TODAY + timedelta(days=1), TODAY + timedelta(days=2), -20, -10, 99)
    assert same(build(), build(forecast=(later,)))


def test_the_29th_of_february_goes_on_from_the_28th_in_common_years() -> None:
    ensemble = build(today=date(2024, 2, 29), start=date(2024, 1, 1), use_trend=False)
    for trace, year in enumerate(ensemble.years):
        day = date(year, 2, 29 if year % 4 == 0 else 28)
        assert ensemble.tmin_c[trace, ensemble.today_index] == RECORD.tmin_c[at(RECORD, day)]
    assert ensemble.years[0] == 2023


def test_half_a_year_later_is_the_other_hemisphere() -> None:
    # The same weather dated 182 days later has its winter in July; the seasons built on a day 182 days later agree.
    south = DailyRecord(
        RECORD.first + timedelta(days=182), RECORD.tmin_c, RECORD.tmax_c, RECORD.rain_mm, "invented, south"
    )
    shift = timedelta(days=182)
    here = build(today=date(2026, 1, 10), start=date(2025, 10, 1), use_trend=False)
    there = build(south, today=date(2026, 1, 10) + shift, start=date(2025, 10, 1) + shift, use_trend=False)
    i = there.today_index
    july_mean = float((there.usual_tmin_c[i] + there.usual_tmax_c[i]) / 2)
    assert july_mean < 2  # mid July is midwinter there
    assert np.array_equal(there.tmin_c[:, :i], here.tmin_c[:, :i])
    # Leap days shift single runs by a day; the winter ahead, the warmth of the summer after and the spread do not move.
    np.testing.assert_allclose(there.tmean_c[:, i:].mean(), here.tmean_c[:, i:].mean(), atol=0.1)
    np.testing.assert_allclose(there.usual_tmin_c, here.usual_tmin_c, atol=0.35)


def test_under_five_usable_years_no_odds_are_given() -> None:
    short = invented_record(date(2022, 1, 1), date(2026, 8, 31))
    with pytest.raises(TooFewYears) as caught:
        build(short)
    assert isinstance(caught.value, KailyardError)
    said = str(caught.value)
    assert said.startswith("4 usable years of weather before 2026-06-12, 5 are needed: no odds are given.")
    assert "12 June" in said
    assert "2022-01-01 to 2026-06-11" in said
    assert "Import a longer record" in said


def test_a_record_that_begins_after_today_is_refused_too() -> None:
    with pytest.raises(TooFewYears, match="0 usable years"):
        build(today=date(1979, 6, 1), start=date(1979, 1, 1))


def test_from_five_to_nineteen_years_seasons_are_made_and_it_is_said_how() -> None:
    ensemble = build(invented_record(date(2019, 1, 1), date(2026, 8, 31)))
    assert ensemble.traces == 40
    assert set(ensemble.years) == set(range(2019, 2026))
    assert "Only 7 years of weather are usable" in ensemble.notes[0]
    assert "Made from 7 years" in ensemble.notes[0]
    assert not any("Only" in n for n in build().notes)


def test_a_year_with_too_many_missing_days_is_left_out_and_named() -> None:
    tmin = RECORD.tmin_c.copy()
    lo = at(RECORD, date(2000, 7, 1))
    tmin[lo : lo + 28] = np.nan  # 28 of 550 is more than 5 %
    ensemble = build(changed(RECORD, tmin_c=tmin))
    assert 2000 not in ensemble.years
    assert 1999 not in ensemble.years  # its 550 days reach into December 2000
    assert ensemble.years[-1] == 1984  # two older ones step in
    assert "Years left out for more than 5% of days missing: 2000 (28 days), 1999 (28 days)." in ensemble.notes


def test_a_year_with_few_missing_days_is_filled_and_the_days_counted() -> None:
    tmin, rain = RECORD.tmin_c.copy(), RECORD.rain_mm.copy()
    lo = at(RECORD, date(2000, 7, 1))
    tmin[lo : lo + 2] = np.nan
    rain[lo] = np.nan
    ensemble = build(changed(RECORD, tmin_c=tmin, rain_mm=rain), use_trend=False)
    trace = ensemble.years.index(2000)
    j = ensemble.today_index + (date(2000, 7, 1) - date(2000, 6, 12)).days
    step = (tmin[lo + 2] - tmin[lo - 1]) / 3
    np.testing.assert_allclose(ensemble.tmin_c[trace, j : j + 2], tmin[lo - 1] + step * np.array([1, 2]))
    assert ensemble.rain_mm[trace, j] == ensemble.rain_mm[trace + 1, j]
    assert any(n.startswith("2 missing days within the years used") for n in ensemble.notes)


def test_a_missing_observed_day_is_usual_weather_and_marked() -> None:
    tmin = RECORD.tmin_c.copy()
    tmin[at(RECORD, date(2026, 3, 5))] = np.nan
    ensemble = build(changed(RECORD, tmin_c=tmin))
    j = (date(2026, 3, 5) - START).days
    assert np.flatnonzero(ensemble.filled).tolist() == [j]
    high = RECORD.tmax_c[at(RECORD, date(2026, 3, 5))]
    assert np.all(ensemble.tmin_c[:, j] == min(ensemble.usual_tmin_c[j], high))
    assert np.all(ensemble.tmax_c[:, j] == high)
    assert "1 observed day missing: usual weather stands in." in ensemble.notes


def test_a_record_that_ends_early_says_so() -> None:
    n = at(RECORD, TODAY) - 9
    short = DailyRecord(RECORD.first, *(read_only(c[:n]) for c in (RECORD.tmin_c, RECORD.tmax_c, RECORD.rain_mm)))
    ensemble = build(short)
    assert np.flatnonzero(ensemble.filled).tolist() == list(range(ensemble.today_index - 9, ensemble.today_index))
    assert "The weather record ends 10 days before the day of the sheet. Import the days since." in ensemble.notes


def test_a_record_without_rain_says_that_its_rain_is_none() -> None:
    ensemble = build(changed(RECORD, rain_mm=np.full(len(RECORD), np.nan)))
    assert not ensemble.rain_mm.any()
    assert any("no rain" in n for n in ensemble.notes)


def test_an_observed_day_without_rain_has_usual_rain_and_is_counted() -> None:
    rain = RECORD.rain_mm.copy()
    rain[at(RECORD, date(2026, 3, 5))] = np.nan
    ensemble = build(changed(RECORD, rain_mm=rain))
    assert 0 < ensemble.rain_mm[0, (date(2026, 3, 5) - START).days] < 5
    assert not ensemble.filled.any()
    assert "Rain missing on 1 observed day: usual rain stands in." in ensemble.notes


def test_long_gaps_are_usual_weather_plus_the_neighbours_departure() -> None:
    slots = np.tile(np.arange(366), 4)
    wave = 10 - 10 * np.cos(2 * np.pi * (slots + 0.5) / 366)
    values = wave + 4
    values[500:520] = np.nan  # on a smooth wave 4 °C above itself everywhere: the fill must lie on it
    np.testing.assert_allclose(fill_gaps(values, slots), wave + 4, atol=1e-9)
    values[:3] = np.nan
    assert np.isfinite(fill_gaps(values, slots)).all()


def test_missing_rain_comes_whole_from_the_next_run() -> None:
    nan = np.nan
    runs = np.array([[nan, 1.0, nan], [2.0, nan, nan], [nan, 3.0, nan]])
    assert fill_rain(runs).tolist() == [[2.0, 1.0, 0.0], [2.0, 3.0, 0.0], [2.0, 3.0, 0.0]]


def test_the_trend_brings_the_past_to_todays_climate() -> None:
    warming = invented_record(date(1980, 1, 1), date(2026, 8, 31), warming_c_year=0.05)
    on, off = build(warming), build(warming, use_trend=False)
    i = on.today_index
    truth = invented_record(date(1980, 1, 1), date(2028, 8, 31), warming_c_year=0.05)
    lo = at(truth, TODAY)
    # Mean of the coming year without its chance weather: the wave, which sums to none, 10 °C and 46.9 years of trend.
    coming = 10 + 0.05 * (lo + 182) / 365.2425
    assert abs(on.tmean_c[:, i : i + 365].mean() - coming) < 0.25
    assert off.tmean_c[:, i : i + 365].mean() < coming - 0.8
    for slopes in (on.trend.tmin_c_year, on.trend.tmax_c_year):
        assert np.mean(slopes) == pytest.approx(0.05, abs=0.01)
        assert np.ptp(slopes) <= np.ptp(on.trend.tmin_raw)


def test_switching_the_trend_off_leaves_it_to_be_looked_at() -> None:
    on, off = build(), build(use_trend=False)
    assert on.trend.applied
    assert not off.trend.applied
    assert np.array_equal(on.trend.tmin_raw, off.trend.tmin_raw)
    assert np.array_equal(on.trend.tmin_c_year, off.trend.tmin_c_year)
    assert np.array_equal(on.rain_mm, off.rain_mm)


def test_each_run_is_moved_by_its_months_slope_times_the_years_between() -> None:
    warming = invented_record(date(1980, 1, 1), date(2026, 8, 31), warming_c_year=0.05)
    on, off = build(warming), build(warming, use_trend=False)
    july = on.today_index + (date(2026, 7, 16) - TODAY).days
    moved = on.tmin_c[:, july] - off.tmin_c[:, july]
    np.testing.assert_allclose(moved, on.trend.tmin_c_year[6] * (2026 - np.array(on.years)), rtol=0.02, atol=0.02)


def test_usual_weather_is_the_middle_of_the_possible_seasons() -> None:
    ensemble = build()
    i = ensemble.today_index
    off = (ensemble.tmin_c - ensemble.usual_tmin_c)[:, i:]
    assert abs(off.mean()) < 0.15
    assert np.abs(np.diff(ensemble.usual_tmin_c)).max() < 0.4


def test_a_start_after_today_or_a_horizon_of_no_day_is_refused() -> None:
    with pytest.raises(DataError, match="2026-06-13"):
        build(start=date(2026, 6, 13))
    with pytest.raises(ValueError, match="horizon_days"):
        build(horizon_days=0)
    with pytest.raises(ValueError, match="most_traces"):
        build(most_traces=4)


def test_today_may_be_the_first_day() -> None:
    ensemble = build(start=TODAY)
    assert ensemble.today_index == 0
    assert ensemble.tmin_c.shape == (40, 550)


def test_days_before_the_record_are_usual_weather() -> None:
    ensemble = build(today=date(1990, 3, 1), start=date(1979, 12, 20), horizon_days=200)
    assert np.flatnonzero(ensemble.filled).tolist() == list(range(12))


@given(
    today=st.dates(date(1996, 1, 1), date(2027, 6, 30)),
    back=st.integers(0, 400),
    holes=st.lists(st.tuples(st.integers(0, len(RECORD) - 1), st.integers(1, 40), st.sampled_from("nxr")), max_size=12),
    leads=st.lists(st.tuples(st.integers(0, 12), st.floats(-30, 30), st.booleans()), max_size=8),
    use_trend=st.booleans(),
)
@settings(max_examples=60, deadline=None)
def test_there_is_never_a_missing_value_nor_a_day_upside_down(
    today: date,
    back: int,
    holes: list[tuple[int, int, str]],
    leads: list[tuple[int, float, bool]],
    use_trend: bool,
) -> None:
    columns = {"n": RECORD.tmin_c.copy(), "x": RECORD.tmax_c.copy(), "r": RECORD.rain_mm.copy()}
    for where, length, which in holes:
        columns[which][where : where + length] = np.nan
    record = changed(RECORD, tmin_c=columns["n"], tmax_c=columns["x"], rain_mm=columns["r"])
    nan = float("nan")
    forecast = tuple(
        ForecastDay(today, today + timedelta(days=n), low, nan if half else low + 5, nan if half else 3.0)
        for n, low, half in leads
    )
    ensemble = build(record, today, today - timedelta(days=back), forecast=forecast, use_trend=use_trend)
    for values in (ensemble.tmin_c, ensemble.tmax_c, ensemble.rain_mm, ensemble.usual_tmin_c, ensemble.usual_tmax_c):
        assert np.isfinite(values).all()
    assert np.all(ensemble.tmin_c <= ensemble.tmax_c)
    assert np.all(ensemble.rain_mm >= 0)
    assert np.all(ensemble.tmin_c[:, :back] == ensemble.tmin_c[0, :back])
