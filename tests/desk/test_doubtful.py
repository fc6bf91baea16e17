"""Doubtful days of the weather: asked about, set aside, left; fetched records judged; a forecast set aside."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import numpy as np
import pytest
import service_answers as say
from service_answers import NOW, STATION, Services
from test_fetching import PLACE, Clock

from kailyard.demo.weather import demo_record
from kailyard.desk import hours
from kailyard.desk.ahead import believed, issues
from kailyard.desk.desk import Desk
from kailyard.desk.doubtful import doubtful, left_in_use, settle
from kailyard.desk.fetch import fetch
from kailyard.desk.station_record import with_own_rain
from kailyard.desk.view import season_view
from kailyard.desk.weather import forecast, weather
from kailyard.desk.weather_aside import OWN_GAUGE, in_use, use_again
from kailyard.errors import Conflict, NotFound, UsageError
from kailyard.store.sqlite import create_store
from kailyard.weather.judging import doubts, set_bad_aside
from kailyard.weather.record import DailyRecord, merge, read_only
from kailyard.weather.services import _hosts

FLOOD = date(2020, 7, 10)


@pytest.fixture
def server(monkeypatch: pytest.MonkeyPatch) -> Iterator[Services]:
    made = Services()
    for host in _hosts.HOSTS:
        monkeypatch.setitem(_hosts.HOSTS, host, made.base)
    yield made
    made.close()


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[Desk]:
    made = Desk(tmp_path / "g", clock=Clock(), who="Idony")
    made.clock.now = datetime(2026, 3, 1, 9, tzinfo=UTC)
    garden = made.entry("garden", happened=date(2026, 3, 1), payload=PLACE)
    made.clock.now = NOW
    create_store(tmp_path / "g", first=[garden]).close()
    yield made
    made.close()


def flooded() -> DailyRecord:
    """The demo's weather, with 900 mm on one day: more than any record has, less than the world's."""
    record = demo_record()
    rain = np.array(record.rain_mm)
    rain[(FLOOD - record.first).days] = 900.0
    return DailyRecord(record.first, record.tmin_c, record.tmax_c, read_only(rain), "station")


def rain_of(desk: Desk, day: date) -> float:
    from kailyard.desk.station_record import station_record

    record, _ = station_record(desk, desk.garden(), None)
    return float(record.rain_mm[(day - record.first).days])


def test_a_doubtful_day_is_asked_about_until_it_is_set_aside(desk: Desk) -> None:
    desk.store.add_weather(flooded(), imported=NOW, name="own")
    (asked,) = doubtful(desk)
    assert (asked.first, asked.last, asked.rule) == (FLOOD, FLOOD, "rain beyond the record")
    assert any("Please look at 2020-07-10 of " in note for note in weather(desk, None).notes)
    assert rain_of(desk, FLOOD) == 900.0
    said = settle(desk, asked.key, first=str(FLOOD), last=str(FLOOD), leaving=False, id_="d1")
    assert said == "Set aside of own: 2020-07-10. It stays kept and is not used."
    assert np.isnan(rain_of(desk, FLOOD))
    assert doubtful(desk) == ()
    use_again(desk, "d1")
    assert rain_of(desk, FLOOD) == 900.0
    assert len(doubtful(desk)) == 1


def test_what_is_left_is_used_and_not_asked_about_until_that_is_withdrawn(desk: Desk) -> None:
    desk.store.add_weather(flooded(), imported=NOW, name="own")
    (asked,) = doubtful(desk)
    for _ in range(2):  # the form sent twice
        settle(desk, asked.key, first=str(FLOOD), last=str(FLOOD), leaving=True, id_="d1")
    assert doubtful(desk) == ()
    assert rain_of(desk, FLOOD) == 900.0
    (left,) = left_in_use(desk)
    assert (left.first, left.name, left.who) == (FLOOD, "own", "Idony")
    assert sum(e.kind == "weather-left" for e in desk.store.entries()) == 1
    assert use_again(desk, "d1").startswith("It is asked about again")
    assert len(doubtful(desk)) == 1
    with pytest.raises(Conflict):
        use_again(desk, "d1")


def test_a_day_that_two_records_have_is_set_aside_in_both(desk: Desk) -> None:
    desk.store.add_weather(flooded(), imported=NOW - timedelta(days=1), name="own")
    longer = flooded()
    low = np.array(longer.tmin_c)
    low[0] += 0.1
    desk.store.add_weather(
        DailyRecord(longer.first, read_only(low), longer.tmax_c, longer.rain_mm, "both"), imported=NOW, name="both"
    )
    (asked,) = doubtful(desk)
    assert asked.name == "both"
    assert len(asked.records) == 2
    settle(desk, asked.key, first=str(FLOOD), last=str(FLOOD), leaving=False, id_="d1")
    assert np.isnan(rain_of(desk, FLOOD))


def test_a_sure_fault_in_a_record_kept_before_it_was_judged_is_asked_about(desk: Desk) -> None:
    record = demo_record()
    high = np.array(record.tmax_c)
    at = (FLOOD - record.first).days
    high[at] += 30.0
    spiked = DailyRecord(record.first, record.tmin_c, read_only(high), record.rain_mm, "station")
    desk.store.add_weather(spiked, imported=NOW - timedelta(days=1), name="old")
    desk.store.add_weather(set_bad_aside(spiked, file="own"), imported=NOW, name="own")
    (asked,) = doubtful(desk)
    assert (asked.name, asked.first, asked.rule) == ("old", FLOOD, "spike")
    # The later reading has nothing for that day, so the earlier one's figure is still in use.
    assert merge(desk.store.weather_imports()).tmax_c[at] == high[at]
    settle(desk, asked.key, first=str(FLOOD), last=str(FLOOD), leaving=False, id_="d1")
    assert np.isnan(merge(in_use(desk, desk.garden().entries)).tmax_c[at])


def test_the_keyboard_leaves_days_too(desk: Desk) -> None:
    desk.store.add_weather(flooded(), imported=NOW, name="own")
    (asked,) = doubtful(desk)
    short = asked.records[0][:8]
    with pytest.raises(UsageError, match="Which days are right"):
        weather(desk, None, aside={"left": short})
    with pytest.raises(UsageError, match="has the days"):
        weather(desk, None, aside={"left": short, "first": "1900-01-01"})
    with pytest.raises(UsageError, match="--leave RECORD"):
        weather(desk, None, aside={"left": short, "record": short})
    made = weather(desk, None, aside={"left": short, "first": str(FLOOD), "why": "the dam broke"})
    assert made.title == "Left in use of own: 2020-07-10"
    assert doubtful(desk) == ()


def gauge(desk: Desk, share: float, days: int = 80, *, every: int = 1) -> None:
    """Readings of the garden's gauge: so much of what the station had."""
    station = demo_record()
    first = date(2024, 6, 1)
    at = (first - station.first).days
    desk.keep(
        [
            desk.entry(
                "rain",
                happened=first + timedelta(days=i),
                quantity=round(float(np.nan_to_num(station.rain_mm[at + i])) * share, 1),
                unit="mm",
                id_=f"r{i}",
            )
            for i in range(0, days, every)
        ]
    )


def test_a_gauge_that_lost_most_of_the_rain_is_asked_about_and_its_days_can_be_set_aside(desk: Desk) -> None:
    desk.store.add_weather(demo_record(), imported=NOW, name="own")
    gauge(desk, 0.05)
    (asked,) = doubtful(desk)
    assert asked.records == (OWN_GAUGE,)
    assert asked.own
    assert "far less than the station: " in asked.what
    assert any("of own-gauge: rain" in note for note in weather(desk, None).notes)
    today = desk.today(desk.garden())
    _, note = with_own_rain(demo_record(), desk.garden().entries, today)
    assert note.startswith("Rain of 80 days is the garden's own gauge")
    settle(desk, asked.key, first=str(asked.first), last=str(asked.last), leaving=False, id_="g1")
    changed, _ = with_own_rain(demo_record(), desk.garden().entries, today)
    at = (asked.first - changed.first).days
    station = demo_record()
    assert changed.rain_mm[at : at + 60].tolist() == station.rain_mm[at : at + 60].tolist()
    assert doubtful(desk) == ()


@pytest.mark.parametrize(("share", "every"), [(0.8, 1), (1.3, 1), (0.05, 2)])
def test_a_gauge_like_the_station_s_or_seldom_read_is_not_asked_about(desk: Desk, share: float, every: int) -> None:
    desk.store.add_weather(demo_record(), imported=NOW, name="own")
    gauge(desk, share, every=every)
    assert doubtful(desk) == ()


def test_a_fetched_record_is_judged_before_it_is_kept(desk: Desk, server: Services) -> None:
    import json

    query = {"stations": [STATION], "startDate": ["2020-01-01"], "endDate": ["2026-06-11"]}
    rows = json.loads(say.noaa_daily(query))
    rows[200]["TMAX"], rows[200]["TMIN"] = "46.0", "4.0"  # 46 °C among 14 to 20 °C
    for i in range(300, 320):
        rows[i]["TMIN"] = "6.6"
    server.replies = [(200, {}, say.body(rows))]
    said = fetch(desk, "noaa-daily", station=STATION, since="2020", agreed=True)
    (record,) = desk.store.weather_imports()
    assert np.isnan(record.tmax_c[200])
    assert np.isnan(record.tmin_c[300:320]).all()
    assert {a.rule for a in record.set_aside} >= {"spike", "stuck"}
    words = " ".join(said.notes)
    assert "× spike" in words
    assert "noaa-daily" in words


def test_hours_are_asked_about_and_the_days_they_make_are_judged(desk: Desk) -> None:
    start = datetime(2026, 5, 1, tzinfo=UTC)
    temp = [round(10 + 6 * np.sin(2 * np.pi * (i - 9) / 24) + i // 24 % 5 * 0.7, 1) for i in range(24 * 40)]
    temp[300:322] = [8.8] * 22
    lines = [f"{(start + timedelta(hours=i)):%Y-%m-%d %H:%M},{t}" for i, t in enumerate(temp)]
    path = desk.folder / "h.csv"
    path.write_text("\n".join(["when,temp", *lines]) + "\n", encoding="utf-8")
    said = hours.hours_file(desk, str(path), "time=when; zone=UTC; temperature=temp", as_days=True)
    words = " ".join(said.notes)
    assert "Please look at 2026-05-13: temperature from" in words
    assert "kept and used" in words


def test_a_fetched_forecast_is_set_aside_as_a_whole_and_used_again(desk: Desk, server: Services) -> None:
    desk.store.add_weather(demo_record(), imported=NOW - timedelta(days=3), name="station")
    fetch(desk, "open-meteo", agreed=True)
    at = datetime(2026, 6, 14, 12, tzinfo=UTC)
    ((shown,), kept) = issues(desk)
    assert kept == 1
    assert hours.hours(desk, at, at).words() == ("forecast",)
    with_it = season_view(desk).ensemble
    listed = forecast(desk, ()).notes
    assert any(note.startswith(f"{shown.id[:8]}: open-meteo, issued") for note in listed)
    with pytest.raises(UsageError, match="as a whole"):
        weather(desk, None, aside={"record": shown.id, "first": "2026-06-13"})
    with pytest.raises(NotFound):
        forecast(desk, (), aside="nothing")
    made = forecast(desk, (), aside=shown.id[:8], why="for another place")
    assert made.title == "Set aside of the forecast of open-meteo issued 2026-06-12 14:00 UTC: the whole of it"
    assert believed(desk) == ()
    assert hours.hours(desk, at, at).words() == ("unknown",)
    without = season_view(desk).ensemble
    assert not np.array_equal(with_it.tmin_c, without.tmin_c)
    ((shown,), _) = issues(desk)
    assert shown.aside is not None
    assert shown.aside.why == "for another place"
    assert len(desk.store.forecasts()) == 1, "it stays kept"
    use_again(desk, shown.aside.entry)
    assert believed(desk) != ()
    assert np.array_equal(season_view(desk).ensemble.tmin_c, with_it.tmin_c)


def test_the_rules_are_silent_on_the_demo_s_own_weather() -> None:
    assert doubts(demo_record()) == ()
