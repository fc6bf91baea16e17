"""The invented weather is plausible. Nothing here is checked against a place: there is none."""

from __future__ import annotations

from datetime import date, timedelta

import numpy as np
import pytest

from kailyard.demo import DEMO_DATE
from kailyard.demo.weather import demo_record, on_day
from kailyard.weather.record import DailyRecord

YEARS = range(1986, 2026)


@pytest.fixture(scope="module")
def record() -> DailyRecord:
    return demo_record()


@pytest.fixture(scope="module")
def days(record: DailyRecord) -> list[date]:
    return [record.first + timedelta(days=i) for i in range(len(record))]


def test_the_record_reaches_from_1986_to_the_eve_of_the_demo_without_a_gap(record: DailyRecord) -> None:
    assert record.first == date(1986, 1, 1)
    assert record.last == DEMO_DATE - timedelta(days=1)
    for column in (record.tmin_c, record.tmax_c, record.rain_mm):
        assert len(column) == (record.last - record.first).days + 1
        assert np.isfinite(column).all()
        assert not column.flags.writeable


def test_minimum_lies_below_maximum_and_rain_is_never_negative(record: DailyRecord) -> None:
    assert (record.tmax_c - record.tmin_c).min() >= 0.9  # a degree, less rounding
    assert record.rain_mm.min() == 0.0


def test_cells_are_whole_tenths_as_a_station_reports_them(record: DailyRecord) -> None:
    for column in (record.tmin_c, record.tmax_c, record.rain_mm):
        np.testing.assert_allclose(column * 10, np.round(column * 10), atol=1e-9)


def test_summers_winters_and_rain_are_those_of_the_story(record: DailyRecord, days: list[date]) -> None:
    mean_c = (record.tmin_c + record.tmax_c) / 2
    month, year = np.array([d.month for d in days]), np.array([d.year for d in days])
    assert 20.0 <= mean_c[month == 7].mean() <= 21.0
    assert -4.0 <= mean_c[month == 1].mean() <= 0.0
    coldest = [record.tmin_c[year == y].min() for y in YEARS]
    assert -16.0 <= np.median(coldest) <= -13.0
    assert min(coldest) > -25.0
    rain_mm = [record.rain_mm[year == y].sum() for y in YEARS]
    assert 500 <= np.median(rain_mm) <= 650
    assert min(rain_mm) > 300
    assert max(rain_mm) < 900


def test_frost_ends_in_early_may_with_odd_late_years_and_comes_back_in_october(
    record: DailyRecord, days: list[date]
) -> None:
    last, first = [], []
    for y in YEARS:
        cold = [d for d, c in zip(days, record.tmin_c, strict=True) if d.year == y and c <= 0]
        last.append(max(d for d in cold if d.month < 7).replace(year=2001))
        first.append(min(d for d in cold if d.month > 7).replace(year=2001))
    assert date(2001, 4, 28) <= sorted(last)[20] <= date(2001, 5, 14)
    assert max(last) >= date(2001, 5, 22)
    assert date(2001, 10, 1) <= sorted(first)[20] <= date(2001, 10, 15)


def test_it_warms_by_about_a_quarter_of_a_degree_a_decade(record: DailyRecord, days: list[date]) -> None:
    mean_c = (record.tmin_c + record.tmax_c) / 2
    year = np.array([d.year for d in days])
    slope = np.polyfit(np.array(YEARS), [mean_c[year == y].mean() for y in YEARS], 1)[0]
    assert slope * 10 == pytest.approx(0.25, abs=0.1)


def test_spells_last_and_are_shared_by_minimum_and_maximum(record: DailyRecord, days: list[date]) -> None:
    # Less the mean of the calendar day, so that the season's own course is not taken for a spell.
    day_of_year = np.array([min(d.timetuple().tm_yday, 365) - 1 for d in days])
    usual = [np.bincount(day_of_year, c) / np.bincount(day_of_year) for c in (record.tmin_c, record.tmax_c)]
    low, high = record.tmin_c - usual[0][day_of_year], record.tmax_c - usual[1][day_of_year]
    assert 0.5 <= np.corrcoef(low, high)[0, 1] <= 0.95
    assert 0.5 <= np.corrcoef(low[1:], low[:-1])[0, 1] <= 0.9


def test_wet_days_follow_wet_days(record: DailyRecord) -> None:
    wet = record.rain_mm > 0
    assert wet[1:][wet[:-1]].mean() > wet[1:][~wet[:-1]].mean() + 0.1
    assert 0.2 <= wet.mean() <= 0.35


def test_the_spring_of_2026_is_warm_then_frosty_then_cool_then_warm() -> None:
    assert on_day(date(2026, 5, 15))[0] == pytest.approx(-1.5, abs=0.3)
    assert on_day(date(2026, 5, 14))[0] < 0.0
    days_after = [date(2026, 5, 16) + timedelta(days=i) for i in range(27)]
    assert all(on_day(d)[0] > 0 for d in days_after)

    def mean_c(first: date, last: date) -> float:
        stretch = [on_day(first + timedelta(days=i)) for i in range((last - first).days + 1)]
        return sum(low + high for low, high, _ in stretch) / 2 / len(stretch)

    late_april = mean_c(date(2026, 4, 23), date(2026, 5, 9))
    late_may = mean_c(date(2026, 5, 20), date(2026, 5, 29))
    june = mean_c(date(2026, 6, 4), date(2026, 6, 11))
    assert late_may < late_april < june
