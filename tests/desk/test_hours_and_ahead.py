"""What the desk tells of hours, and how fetched forecasts come into the season."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import numpy as np
import pytest
import service_answers as say
from service_answers import NOW, Services
from test_fetching import PLACE, Clock

from kailyard.demo.weather import demo_record
from kailyard.desk import ahead, hours
from kailyard.desk.desk import Desk
from kailyard.desk.fetch import fetch
from kailyard.desk.view import season_view
from kailyard.errors import DataError, UsageError
from kailyard.store.sqlite import create_store
from kailyard.weather.issued import IssuedForecast
from kailyard.weather.record import read_only
from kailyard.weather.services import _hosts


@pytest.fixture
def server(monkeypatch: pytest.MonkeyPatch) -> Iterator[Services]:
    made = Services()
    for host in _hosts.HOSTS:
        monkeypatch.setitem(_hosts.HOSTS, host, made.base)
    yield made
    made.close()


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[Desk]:
    made = Desk(tmp_path / "g", clock=Clock())
    made.clock.now = datetime(2026, 3, 1, 9, tzinfo=UTC)
    garden = made.entry("garden", happened=date(2026, 3, 1), payload=PLACE)
    made.clock.now = NOW
    create_store(tmp_path / "g", first=[garden]).close()
    made.store.add_weather(demo_record(), imported=NOW - timedelta(days=3), name="station")
    yield made
    made.close()


def table(desk: Desk, count: int = 30, name: str = "hours.csv") -> Path:
    path = desk.folder / name
    start = datetime(2026, 6, 11, 0, tzinfo=UTC)
    lines = [
        f"{(start + timedelta(hours=i)):%Y-%m-%d %H:%M},{10 + i % 24 + i // 24 % 3},36,0.{i // 24 % 4}"
        for i in range(count)
    ]
    path.write_text("\n".join(["when,temp,wind,rain", *lines]) + "\n", encoding="utf-8")
    return path


WORDS = "time=when; zone=UTC; temperature=temp; wind=wind; wind_unit=km/h; rain=rain"


def test_hours_are_told_as_well_as_each_is_known(desk: Desk, server: Services) -> None:
    hours.hours_file(desk, str(table(desk)), WORDS, as_days=False)
    fetch(desk, "open-meteo", agreed=True)
    got = hours.hours(desk, datetime(2026, 6, 10, tzinfo=UTC), datetime(2026, 6, 30, tzinfo=UTC))
    words = got.words("temp_c")
    assert words[0] == "made from days"  # the station's 10 June
    assert words[24] == words[53] == "observed"
    assert words[54] == "forecast"
    assert words[-1] == "unknown"
    assert got.words("wind_m_s")[0] == "unknown"
    assert got.record.wind_m_s[24] == 10.0
    assert got.words("wind_m_s")[60] == "forecast"


def test_as_it_was_known_earlier_no_later_hour_or_forecast_counts(desk: Desk, server: Services) -> None:
    fetch(desk, "open-meteo", agreed=True)
    at = datetime(2026, 6, 14, 12, tzinfo=UTC)
    assert hours.hours(desk, at, at).words() == ("forecast",)
    assert hours.hours(desk, at, at, as_known=date(2026, 6, 11)).words() == ("unknown",)


def test_a_later_forecast_wins_hour_by_hour_and_the_earlier_stays_kept(desk: Desk, server: Services) -> None:
    fetch(desk, "open-meteo", agreed=True)
    desk.clock.now += timedelta(hours=6)
    server.replies = [(200, {}, say.open_meteo(warmer_c=3.0))]
    fetch(desk, "open-meteo")
    at = datetime(2026, 6, 14, 4, tzinfo=UTC)
    assert hours.hours(desk, at, at).record.temp_c[0] == 9.0
    assert [k.forecast.days()[1].tmin_c for k in desk.store.forecasts()] == [6.0, 9.0]


def test_a_typed_forecast_has_hours_made_of_its_days(desk: Desk) -> None:
    days = [
        desk.entry("forecast", happened=NOW.date(), payload={"day": date(2026, 6, d), "tmin_c": 6.0, "tmax_c": 18.0})
        for d in (12, 13, 14)
    ]
    desk.keep(days)
    at = datetime(2026, 6, 13, 18, tzinfo=UTC)
    got = hours.hours(desk, at, at)
    assert got.words() == ("made from days",)
    assert 15 < got.record.temp_c[0] <= 18


def test_days_made_of_hours_fill_only_what_the_station_lacks(desk: Desk) -> None:
    said = hours.hours_file(desk, str(table(desk, count=24 * 9)), WORDS, as_days=True)
    kept = [k.record for k in desk.store.kept_weather()]
    assert len(kept) == 2
    station_ends = demo_record().last
    made = kept[1]
    assert np.isnan(made.tmin_c[: max(0, (station_ends - made.first).days + 1)]).all()
    assert "midnight to midnight" in " ".join(said.notes)
    assert "too warm" in " ".join(said.notes)


def test_the_same_hours_twice_are_kept_once(desk: Desk) -> None:
    hours.hours_file(desk, str(table(desk)), WORDS, as_days=False)
    said = hours.hours_file(desk, str(table(desk)), WORDS, as_days=False)
    assert said.notes[0].startswith("Just these hours are kept already")
    assert len(hours.hours_kept(desk)) == 1


def test_an_hourly_file_that_cannot_be_used_changes_nothing(desk: Desk) -> None:
    before = desk.store.weather_marks()
    with pytest.raises(UsageError, match="by which clock"):
        hours.hours_file(desk, str(table(desk)), None, as_days=False)
    with pytest.raises(DataError, match="no column 'heat'"):
        hours.hours_file(desk, str(table(desk)), "time=when; zone=UTC; temperature=heat", as_days=True)
    with pytest.raises(DataError, match="does not say which clock"):
        hours.hours_file(desk, str(table(desk)), "time=when; temperature=temp", as_days=True)
    assert desk.store.weather_marks() == before
    assert len(desk.store.kept_weather()) == 1


def test_a_fetched_forecast_shapes_the_season_from_the_day_of_issue_on(desk: Desk, server: Services) -> None:
    plain = season_view(desk).ensemble
    fetch(desk, "open-meteo", agreed=True)
    near = season_view(desk).ensemble
    j = near.today_index + 2
    assert (plain.forecast_days, near.forecast_days) == (0, 11)
    assert near.tmin_c[:, j].std() < plain.tmin_c[:, j].std() / 2
    assert abs(near.tmin_c[:, j].mean() - 6.0) < 1.5
    before = season_view(desk, as_known=date(2026, 6, 11)).ensemble
    assert np.array_equal(before.tmin_c, plain.tmin_c)


def issue_daily(desk: Desk, count: int, *, off_c: float, source: str = "open-meteo") -> None:
    """A forecast a day of the two days ahead, right but for `off_c`."""
    record = demo_record()
    for k in range(count):
        on = NOW.date() - timedelta(days=k + 4)
        i = (on - record.first).days
        low, high, rain = (getattr(record, n)[i : i + 3] for n in ("tmin_c", "tmax_c", "rain_mm"))
        at = datetime(on.year, on.month, on.day, 9, tzinfo=UTC)
        forecast = IssuedForecast(source, at, on, on, read_only(low + off_c), read_only(high + off_c), read_only(rain))
        desk.store.add_forecast(forecast, kept=at)


def test_what_forecasts_have_shown_of_themselves_is_told_and_used(desk: Desk, server: Services) -> None:
    fetch(desk, "open-meteo", agreed=True)
    stated = season_view(desk).ensemble
    issue_daily(desk, 60, off_c=3.0)
    taught = season_view(desk).ensemble
    found = ahead.learnt_skill(desk)["open-meteo"]
    assert found.off_c[0, 1] == pytest.approx(3.0, abs=0.01)
    j = taught.today_index + 2
    assert taught.tmin_c[:, j].mean() < stated.tmin_c[:, j].mean() - 1.5
    row = next(r for r in ahead.skill(desk).rows if r[:2] == ("open-meteo", "2"))
    assert row[3] == "3 °C"
    assert row[-1] == "yes"


def test_until_then_what_is_stated_stands_and_is_said_to(desk: Desk) -> None:
    issue_daily(desk, 3, off_c=3.0)
    assert ahead.learnt_skill(desk) == {}
    assert "stated of forecasts in general stands" in ahead.skill(desk).notes[0]
    assert len(ahead.issues(desk)[0]) == 3
