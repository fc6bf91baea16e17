"""Hourly tables of any kind: units, clocks, stamps, hours that are none, and days made of them."""

from __future__ import annotations

import csv
from contextlib import suppress
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kailyard.errors import DataError, UsageError
from kailyard.units import turned
from kailyard.weather.hour_columns import QUANTITIES, HourColumns
from kailyard.weather.hour_days import MOST_HOURS_MISSING, days_of_hours
from kailyard.weather.hour_table import BAD_TIME, HOUR_TWICE, NO_SUCH_HOUR, WHICH_OF_TWO, read_hours
from kailyard.weather.hours import HourlyRecord, hour_begins, hour_number, hourly, merge_hours

PLACE = ZoneInfo("Europe/Amsterdam")
NEW_YORK = (
    "time=time_utc; where=station=EWR; temperature=temp_f; temperature_unit=F; dew_point=dewp_f; humidity=rh; "
    "wind=wind_mph; wind_unit=mph; rain=precip_in; rain_unit=in; pressure=pressure_hpa"
)
FALLON = (
    "date=date; hour=hour; zone=-08:00; temperature=t_f; temperature_unit=F; dew_point=tdew_f; wind=wind3m_mph; "
    "wind_unit=mph; wind_height_m=3; radiation=rad_langley_h; radiation_unit=langley"
)


def read(words: str, *lines: str) -> HourlyRecord:
    return read_hours(("\n".join(lines) + "\n").encode(), HourColumns.parse(words), name="own.csv")


@pytest.mark.parametrize(
    ("quantity", "unit", "said", "wanted"),
    [
        # NIST SP 811 (2008), B.8 and B.9: factors as printed.
        ("wind", "m/s", "5", 5.0),
        ("wind", "km/h", "36", 10.0),
        ("wind", "mph", "10", 4.4704),
        ("wind", "kt", "10", 5.144444),
        ("pressure", "hPa", "1013.25", 101.325),
        ("pressure", "mb", "1013.25", 101.325),
        ("pressure", "kPa", "101.325", 101.325),
        ("pressure", "inHg", "29.92", 29.92 * 3.386389),
        ("pressure", "mmHg", "760", 760 * 0.1333224),
        ("temperature", "°C", "-3.5", -3.5),
        ("temperature", "F", "32", 0.0),
        ("temperature", "K", "273.15", 0.0),
        ("temperature", "tenths C", "-35", -3.5),
        ("dew_point", "C", "7", 7.0),
        ("humidity", "%", "55", 55.0),
        ("humidity", "share", "0.55", 55.0),
        ("rain", "mm", "2.5", 2.5),
        ("rain", "in", "0.1", 2.54),
        ("rain", "tenths mm", "25", 2.5),
        ("radiation", "MJ/m2", "1.5", 1.5),
        ("radiation", "W/m2", "500", 1.8),
        ("radiation", "langley", "60", 60 * 0.04184),
        ("radiation", "J/cm2", "150", 1.5),
        ("radiation", "kWh/m2", "0.5", 1.8),
    ],
)
def test_units_of_all_kinds_become_ours(quantity: str, unit: str, said: str, wanted: float) -> None:
    word = "temperature" if quantity == "dew_point" else quantity
    record = read(f"time=t; zone=UTC; {quantity}=x; {word}_unit={unit}", "t,x", f"2026-06-12 13:00,{said}")
    (value,) = record.columns[QUANTITIES[quantity][0]]
    assert value == pytest.approx(wanted, abs=0.0006)  # kept to a thousandth
    assert turned(1, "in", "mm") == pytest.approx(25.4)


def test_a_unit_that_measures_something_else_is_refused() -> None:
    with pytest.raises(UsageError, match="wind_unit 'hPa' is no unit of speed"):
        HourColumns.parse("time=t; wind=w; wind_unit=hPa")
    with pytest.raises(UsageError, match="radiation_unit 'lux'"):
        HourColumns.parse("time=t; radiation=r; radiation_unit=lux")


@pytest.mark.parametrize(
    ("zone", "said", "utc"),
    [
        ("UTC", "2026-06-12 13:00", 13),
        ("+02:00", "2026-06-12 13:00", 11),
        ("-0530", "2026-06-12 13:30", 19),
        ("Europe/Amsterdam", "2026-06-12T13:00", 11),
        ("Europe/Amsterdam", "2026-12-12T13:00", 12),
        ("Europe/Amsterdam", "2026-06-12T13:00Z", 13),  # what the time says itself stands above the declared clock
        ("", "2026-06-12T13:00+02:00", 11),
        ("UTC", "2026-06-12T12:51", 13),
    ],
)
def test_every_clock_becomes_utc(zone: str, said: str, utc: int) -> None:
    record = read(f"time=t; zone={zone}; temperature=x", "t,x", f"{said},9")
    assert record.first.hour == utc
    assert record.first.tzinfo is UTC


def test_a_clock_that_nobody_declared_is_never_guessed() -> None:
    with pytest.raises(DataError, match="does not say which clock"):
        read("time=t; temperature=x", "t,x", "2026-06-12 13:00,9")
    with pytest.raises(UsageError, match="Nether/Wold"):
        HourColumns.parse("time=t; temperature=x; zone=Nether/Wold")


def test_the_hour_that_spring_leaves_out_is_none_and_makes_no_gap() -> None:
    # The European Union's clocks went from 02:00 to 03:00 on 29 March 2026 (Directive 2000/84/EC: last Sunday).
    rows = [f"2026-03-29 0{h}:00,{h}" for h in (0, 1, 2, 3)]
    record = read("time=t; zone=Europe/Amsterdam; temperature=x", "t,x", *rows)
    assert record.temp_c.tolist() == [0, 1, 3]
    assert [(a.line, a.rule) for a in record.set_aside] == [(4, NO_SUCH_HOUR)]


def test_the_hour_that_autumn_has_twice_is_two_hours_in_the_order_of_the_file() -> None:
    rows = [f"2026-10-25 {h},{i}" for i, h in enumerate(["01:00", "02:00", "02:00", "03:00"])]
    record = read("time=t; zone=Europe/Amsterdam; temperature=x", "t,x", *rows)
    assert record.temp_c.tolist() == [0, 1, 2, 3]
    assert not record.set_aside


def test_where_it_stands_once_nobody_can_say_which_it_is() -> None:
    rows = [f"2026-10-25 0{h}:00,{h}" for h in (1, 2, 3)]
    record = read("time=t; zone=Europe/Amsterdam; temperature=x", "t,x", *rows)
    assert np.isnan(record.temp_c[1:3]).all()
    assert [a.rule for a in record.set_aside] == [WHICH_OF_TWO]


def test_sums_that_end_at_the_stamp_belong_to_the_hour_before_and_readings_do_not() -> None:
    words = "time=t; zone=UTC; temperature=x; rain=r; stamp={}"
    rows = ("t,x,r", "2026-06-12 13:00,9,2", "2026-06-12 14:00,10,3")
    begins, ends = read(words.format("begins"), *rows), read(words.format("ends"), *rows)
    assert (begins.first.hour, begins.rain_mm.tolist(), begins.temp_c.tolist()) == (13, [2, 3], [9, 10])
    assert ends.first.hour == 12
    assert ends.rain_mm[:2].tolist() == [2, 3]
    assert np.isnan(ends.rain_mm[2])
    assert ends.temp_c[1:].tolist() == [9, 10]


def test_day_and_hour_may_stand_apart_and_24_is_the_next_midnight() -> None:
    record = read("date=d; hour=h; zone=UTC; temperature=x", "d,h,x", "2026-06-12,23,1", "2026-06-12,24,2")
    assert record.last == datetime(2026, 6, 13, tzinfo=UTC)
    assert record.temp_c.tolist() == [1, 2]


def test_each_thing_set_aside_is_named_with_its_line() -> None:
    record = read(
        "time=t; zone=UTC; temperature=x; wind=w; humidity=h",
        "t,x,w,h",
        "2026-06-12 00:00,9,1,50",
        "when,9,1,50",
        "2026-06-12 01:00,warm,1,101",
        "2026-06-12 01:20,8,1,50",
        "2026-06-12 02:00,9,468,50",
        "2026-06-12 03:00,9,1",
        "2026-06-12 04:00,,NA,140",
    )
    assert [(a.line, a.rule) for a in record.set_aside] == [
        (3, BAD_TIME),
        (4, "not a number"),
        (5, HOUR_TWICE),
        (6, "outside the possible, 0 to 115 m/s"),
        (7, "line cut short"),
        (8, "outside the possible, 0 to 100 %"),
    ]
    assert record.humidity_pct[1] == 100.0  # 101 %: a hygrometer's drift


def test_a_wrong_unit_stops_the_file() -> None:
    rows = [f"2026-06-12 {h:02d}:00,{60 + h}" for h in range(24)]
    with pytest.raises(DataError, match="temperature values are impossible in °C"):
        read("time=t; zone=UTC; temperature=x", "t,x", *rows)


@pytest.mark.parametrize(
    ("words", "rule"),
    [
        ("temperature=x", "which column holds the time"),
        ("date=d; temperature=x", "which column holds the time"),
        ("time=t", "name at least one of"),
        ("time=t; temperature=x; stamp=middle", "begins or ends"),
        ("time=t; temperature=x; colour=red", "not understood"),
        ("time=t; temperature=x; header_line=two", "whole number"),
        ("time=t; temperature=x; time_format=%Q", "time_format"),
    ],
)
def test_a_declaration_that_cannot_be_used_says_why(words: str, rule: str) -> None:
    with pytest.raises(UsageError, match=rule):
        HourColumns.parse(words)


@given(st.binary(max_size=120))
@settings(max_examples=60, deadline=None)
def test_no_bytes_make_the_reader_fail_in_any_other_way(data: bytes) -> None:
    for content in (data, b"t,x\n" + data, b"t,x\n2026-06-12 13:00,9\n" + data):
        with suppress(DataError):
            read_hours(content, HourColumns.parse("time=t; zone=Europe/Amsterdam; temperature=x"), name="f.csv")


# Days


def hours(first: datetime, values: list[float], rain: float = 0.5) -> HourlyRecord:
    at = np.arange(len(values)) + hour_number(first)
    return hourly(at, {"temp_c": np.array(values), "rain_mm": np.full(len(values), rain)}, source="invented hours")


def length(day: date) -> int:
    """Hours of a day on the clock of Amsterdam."""
    return 23 if day == date(2026, 3, 29) else 25 if day == date(2026, 10, 25) else 24


@given(st.integers(0, 8000), st.integers(30, 200))
@settings(max_examples=40, deadline=None)
def test_a_day_runs_from_midnight_to_midnight_where_the_garden_is(start: int, count: int) -> None:
    first = datetime(2026, 1, 1, tzinfo=UTC) + timedelta(hours=start)
    record = hours(first, np.sin(np.arange(count)).tolist())
    by_day: dict[date, list[float]] = {}
    for i in range(count):
        by_day.setdefault((first + timedelta(hours=i)).astimezone(PLACE).date(), []).append(record.temp_c[i])
    try:
        days = days_of_hours(record, PLACE)
    except DataError:
        assert all(len(v) < length(d) - MOST_HOURS_MISSING for d, v in by_day.items())
        return
    for i in range(len(days)):
        own = by_day[days.first + timedelta(days=i)]
        if not np.isnan(days.tmin_c[i]):
            assert (days.tmin_c[i], days.tmax_c[i]) == (min(own), max(own))
            assert days.rain_mm[i] == pytest.approx(0.5 * len(own))


def test_days_of_23_and_25_hours_are_days() -> None:
    first = datetime(2026, 3, 28, 23, tzinfo=UTC)  # midnight of 29 March in Amsterdam
    days = days_of_hours(hours(first, [1.0] * 23), PLACE)
    assert (len(days), days.rain_mm[0]) == (1, 11.5)
    first = datetime(2026, 10, 24, 22, tzinfo=UTC)
    days = days_of_hours(hours(first, [1.0] * 25), PLACE)
    assert (len(days), days.rain_mm[0]) == (1, 12.5)


def test_a_day_with_three_hours_missing_has_no_low() -> None:
    first = datetime(2026, 6, 11, 22, tzinfo=UTC)
    whole = [float(h) for h in range(48)]
    two, three = list(whole), list(whole)
    two[2:4] = [np.nan] * 2
    three[2:5] = [np.nan] * 3
    assert days_of_hours(hours(first, two), PLACE).tmin_c.tolist() == [0, 24]
    days = days_of_hours(hours(first, three), PLACE)
    assert np.isnan(days.tmin_c[0])
    assert days.tmax_c[1] == 47


def test_later_hours_win_value_by_value() -> None:
    first = datetime(2026, 6, 12, tzinfo=UTC)
    one, two = hours(first, [1, 2, 3]), hours(first + timedelta(hours=1), [np.nan, 9, 10])
    assert merge_hours([one, two]).temp_c.tolist() == [1, 2, 9, 10]
    assert hour_begins(hour_number(first)) == first


# Records of the world


def test_new_york_2013_in_miles_inches_and_fahrenheit(shared: Path) -> None:
    """NOAA hourly observations by way of nycflights13 (CC0); the hour of 1048 mph is a known fault of that file."""
    record = read_hours(shared / "data" / "weather" / "nyc_hourly_2013.csv.gz", HourColumns.parse(NEW_YORK))
    assert [(a.line, a.value) for a in record.set_aside] == [(1011, "wind 1048.36 (468.659 m/s)")]
    assert record.first == datetime(2013, 1, 1, 6, tzinfo=UTC)
    assert record.temp_c[0] == pytest.approx((39.02 - 32) / 1.8, abs=0.0006)
    days = days_of_hours(record, ZoneInfo("America/New_York"))
    assert np.count_nonzero(~np.isnan(days.tmin_c)) >= 350
    assert np.all(days.tmin_c[~np.isnan(days.tmin_c)] <= days.tmax_c[~np.isnan(days.tmin_c)])


def test_hours_on_the_hour_miss_part_of_a_day_s_extremes(shared: Path) -> None:
    """AgriMet Fallon 2015: the days of its hours against the agency's own daily lowest and highest."""
    folder = shared / "data" / "weather"
    record = read_hours(folder / "agrimet_FALN_hourly_2015.csv.gz", HourColumns.parse(FALLON))
    days = days_of_hours(record, HourColumns.parse(FALLON).clock() or UTC)
    with (folder / "agrimet_FALN_daily_2015.csv").open(encoding="utf-8") as file:
        own = list(csv.DictReader(file))
    low, high, sun = (np.array([float(d[c]) for d in own]) for c in ("tmin_f", "tmax_f", "rad_langley"))
    too_warm = days.tmin_c - (low - 32) / 1.8
    too_cool = (high - 32) / 1.8 - days.tmax_c
    # The reading on the hour can never pass the day's own extreme, but for the tenth to which both are printed.
    assert np.nanmin(too_warm) > -0.1
    assert np.nanmin(too_cool) > -0.1
    # What `docs/explanation/possible-seasons.md` says of it: some 0.8 and 0.7 °C.
    assert np.nanmean(too_warm) == pytest.approx(0.8, abs=0.05)
    assert np.nanmean(too_cool) == pytest.approx(0.7, abs=0.05)
    # Sums of hourly langleys are spot readings too: alike over the year, not day by day.
    of_day = np.add.reduceat(record.radiation_mj_m2, np.arange(0, len(record), 24)) / 0.04184
    assert np.nanmean(of_day) == pytest.approx(float(np.mean(sun)), rel=0.01)
