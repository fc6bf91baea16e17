"""Each rule of judging speaks where its fault is planted and is silent where the weather is whole."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime
from pathlib import Path

import numpy as np
import pytest
from weather_files import invented_record

from kailyard.weather.hour_columns import HourColumns
from kailyard.weather.hour_table import read_hours
from kailyard.weather.hours import hourly
from kailyard.weather.judging import Days, asked_about, doubts, rules, set_bad_aside
from kailyard.weather.judging_hours import hour_doubts, hour_rules, set_bad_hours_aside
from kailyard.weather.options import ColumnMap, ReadOptions
from kailyard.weather.reading import read_record
from kailyard.weather.record import DailyRecord, read_only

RECORD = invented_record(date(2000, 1, 1), date(2025, 12, 31))
SUMMER = (date(2012, 7, 10) - RECORD.first).days


def spoilt(record: DailyRecord = RECORD, **cells: tuple[slice, object]) -> DailyRecord:
    columns = {n: np.array(getattr(record, n)) for n in ("tmin_c", "tmax_c", "rain_mm")}
    for name, (where, what) in cells.items():
        columns[name][where] = what(columns[name][where]) if callable(what) else what
    return replace(record, **{n: read_only(c) for n, c in columns.items()})


def found(record: DailyRecord, name: str, beside: DailyRecord | None = None) -> list[tuple[int, int, bool]]:
    rule = next(r for r in rules() if name == r.NAME)
    return [(f.at, f.days, f.sure) for f in rule.finds(Days(record, beside))]


def test_every_rule_has_a_name_of_its_own_and_is_silent_on_whole_weather() -> None:
    names = [r.NAME for r in (*rules(), *hour_rules())]
    assert len(set(names)) == len(names)
    assert all(r.HELP for r in (*rules(), *hour_rules()))
    assert set_bad_aside(RECORD) is RECORD
    assert doubts(RECORD, RECORD) == ()


def test_a_spike_is_set_aside_and_only_it() -> None:
    bad = spoilt(tmax_c=(slice(SUMMER, SUMMER + 1), lambda v: v + 25))
    judged = set_bad_aside(bad, file="own.csv")
    assert np.isnan(judged.tmax_c[SUMMER])
    assert judged.tmin_c[SUMMER] == RECORD.tmin_c[SUMMER]
    assert np.count_nonzero(np.isnan(judged.tmax_c)) == 1
    (line,) = judged.set_aside
    assert (line.day, line.rule, line.file) == (date(2012, 7, 10), "spike", "own.csv")
    assert "maximum" in line.value


def test_a_lesser_spike_is_asked_about_and_kept() -> None:
    for size in np.arange(8.0, 25.0, 0.5):
        bad = spoilt(tmin_c=(slice(SUMMER, SUMMER + 1), lambda v, size=size: v - size))
        if found(bad, "spike") == [(SUMMER, 1, False)]:
            break
    else:
        pytest.fail("no size is asked about")
    assert not np.isnan(set_bad_aside(bad).tmin_c[SUMMER])
    (asked,) = asked_about(doubts(bad))
    assert asked.startswith("Please look at 2012-07-10: minimum:")


def test_a_stuck_sensor() -> None:
    one = spoilt(tmin_c=(slice(SUMMER, SUMMER + 20), 11.3))
    assert found(one, "stuck") == [(SUMMER, 20, True)]
    both = spoilt(tmin_c=(slice(SUMMER, SUMMER + 6), 11.3), tmax_c=(slice(SUMMER, SUMMER + 6), 21.3))
    assert found(both, "stuck") == [(SUMMER, 6, True)]
    rain = spoilt(rain_mm=(slice(SUMMER, SUMMER + 5), 4.2))
    assert found(rain, "stuck") == [(SUMMER, 5, False)]
    dry = spoilt(rain_mm=(slice(SUMMER, SUMMER + 60), 0.0))
    assert found(dry, "stuck") == []


def test_fahrenheit_under_a_celsius_heading_and_the_other_way_round() -> None:
    def to_f(v: np.ndarray) -> np.ndarray:
        return v * 1.8 + 32

    def to_c(v: np.ndarray) -> np.ndarray:
        return (v - 32) / 1.8

    part = slice(SUMMER, SUMMER + 40)
    assert (SUMMER, 40, True) in found(spoilt(tmin_c=(part, to_f), tmax_c=(part, to_f)), "another unit")
    colder = found(spoilt(tmin_c=(part, to_c), tmax_c=(part, to_c)), "another unit")
    assert sum(n for _, n, sure in colder if sure) >= 36


def test_a_nought_for_a_missing_reading() -> None:
    day = slice(SUMMER, SUMMER + 1)
    assert found(spoilt(tmin_c=(day, 0.0), tmax_c=(day, 0.0)), "nought for missing") == [
        (SUMMER, 1, True),
        (SUMMER, 1, True),
    ]
    winter = (date(2012, 1, 10) - RECORD.first).days
    assert found(spoilt(tmin_c=(slice(winter, winter + 1), 0.0)), "nought for missing") == []


def test_a_year_that_is_anothers_or_another_places() -> None:
    year = slice((date(2012, 1, 1) - RECORD.first).days, (date(2012, 12, 31) - RECORD.first).days)
    before = slice((date(2008, 1, 1) - RECORD.first).days, (date(2008, 12, 31) - RECORD.first).days)
    copied = spoilt(tmin_c=(year, RECORD.tmin_c[before]), tmax_c=(year, RECORD.tmax_c[before]))
    assert found(copied, "a year that does not belong") == [(year.start, 365, True)]
    assert "figure by figure those of 2008" in str(set_bad_aside(copied).set_aside[0])
    turned = spoilt(tmin_c=(year, lambda v: np.roll(v, 182)), tmax_c=(year, lambda v: np.roll(v, 182)))
    assert found(turned, "a year that does not belong") == [(year.start, 366, True)]


def test_rain_beyond_the_record_is_asked_about() -> None:
    flood = spoilt(rain_mm=(slice(SUMMER, SUMMER + 1), 900.0))
    assert found(flood, "rain beyond the record") == [(SUMMER, 1, False)]
    assert set_bad_aside(flood) is flood


def test_a_shift_of_a_day_against_the_neighbour() -> None:
    rng = np.random.default_rng(3)
    beside = spoilt(
        tmin_c=(slice(None), lambda v: v + rng.normal(0, 1, len(v))),
        tmax_c=(slice(None), lambda v: v + rng.normal(0, 1, len(v))),
    )
    part = slice(SUMMER, SUMMER + 100)
    assert found(RECORD, "a day's shift", beside) == []
    late = spoilt(tmin_c=(part, RECORD.tmin_c[SUMMER - 1 : SUMMER + 99]))
    ((at, n, sure),) = found(late, "a day's shift", beside)
    assert not sure
    assert abs(at - SUMMER) < 30
    assert abs(at + n - SUMMER - 100) < 30


def test_a_gauge_against_its_neighbour() -> None:
    blocked = spoilt(rain_mm=(slice(SUMMER, SUMMER + 120), lambda v: v * 0.02))
    assert found(RECORD, "gauge against gauge", RECORD) == []
    heard = found(blocked, "gauge against gauge", RECORD)
    assert heard
    assert all(at < SUMMER + 120 and at + n > SUMMER and not sure for at, n, sure in heard)
    inches = spoilt(rain_mm=(slice(None), lambda v: v / 25.4))
    assert sum(n for _, n, _ in found(inches, "gauge against gauge", RECORD)) > 1000


def test_a_file_is_judged_when_it_is_read() -> None:
    bad = spoilt(tmax_c=(slice(SUMMER, SUMMER + 1), lambda v: v + 25))
    days = [date.fromordinal(RECORD.first.toordinal() + i) for i in range(len(RECORD))]
    rows = zip(days, bad.tmin_c, bad.tmax_c, bad.rain_mm, strict=True)
    text = "day,low,high,rain\n" + "".join(f"{d},{a:.1f},{b:.1f},{r:.1f}\n" for d, a, b, r in rows)
    record = read_record(text.encode(), ReadOptions("own.csv", columns=ColumnMap("day", "low", "high", "rain")))
    assert np.isnan(record.tmax_c[SUMMER])
    assert [(a.rule, a.file) for a in record.set_aside] == [("spike", "own.csv")]


def test_an_hour_that_jumps_and_hours_that_stand_still() -> None:
    first = 400_000
    temp = 15 + 6 * np.sin(np.arange(200) / 24 * 2 * np.pi)
    whole = hourly(first + np.arange(200), {"temp_c": temp}, source="invented")
    assert set_bad_hours_aside(whole) is whole
    assert hour_doubts(whole) == ()
    jump = temp.copy()
    jump[90] -= 20
    jump[120:160] = 12.0
    judged = set_bad_hours_aside(hourly(first + np.arange(200), {"temp_c": jump}, source="invented"), file="h.csv")
    assert np.flatnonzero(np.isnan(judged.temp_c)).tolist() == [90, *range(120, 160)]
    assert [a.rule for a in judged.set_aside] == ["spike of an hour", "stuck for hours"]
    front = temp.copy()
    front[90:] -= 15  # a front stays
    assert set_bad_hours_aside(hourly(first + np.arange(200), {"temp_c": front}, source="")).set_aside == ()


@pytest.mark.shared
def test_the_known_bad_hour_of_new_york_is_found_and_no_other(shared: Path) -> None:
    # The note on the data: JFK 2013-05-09T02:00Z, 13.1 °F between 57.0 and 57.2 °F.
    file = shared / "data" / "weather" / "nyc_hourly_2013.csv.gz"
    for station in ("EWR", "JFK", "LGA"):
        words = f"time=time_utc; zone=UTC; temperature=temp_f; temperature_unit=°F; where=station={station}"
        record = read_hours(file, HourColumns.parse(words))
        bad = [a for a in record.set_aside if a.rule in {r.NAME for r in hour_rules()}]
        assert hour_doubts(record) == ()
        if station != "JFK":
            assert bad == []
            continue
        (line,) = bad
        assert (line.day, line.rule) == (date(2013, 5, 9), "spike of an hour")
        assert "temperature from 02:00 UTC: -10.5 °C between 13.9 °C and 14.0 °C" in line.value  # from °F by hand
        assert np.isnan(
            record.temp_c[int((datetime(2013, 5, 9, 2, tzinfo=UTC) - record.first).total_seconds() // 3600)]
        )
