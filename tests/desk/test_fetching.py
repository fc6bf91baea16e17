"""Weather from services, through a server on this machine: asked only on request, kept as it came, one line offline."""

from __future__ import annotations

import re
import socket
import subprocess
import sys
from collections.abc import Iterator
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import numpy as np
import pytest
import service_answers as say
from service_answers import NOW, STATION, Services

from kailyard import __version__
from kailyard.desk.clock import PretendedClock
from kailyard.desk.desk import Desk
from kailyard.desk.fetch import fetch, services
from kailyard.desk.http import FOLDER, LONGEST_WAIT_S, TRIES, Fetcher, Unreachable
from kailyard.errors import DataError, KailyardError, NotFound, UsageError
from kailyard.store.sqlite import create_store
from kailyard.weather.record import DailyRecord, read_only
from kailyard.weather.services import _hosts

PLACE = {"name": "Nether Wold", "latitude": 44.2034, "longitude": -38.6, "elevation_m": 60.0, "timezone": "Etc/GMT+3"}


@pytest.fixture
def server(monkeypatch: pytest.MonkeyPatch) -> Iterator[Services]:
    made = Services()
    for name in ("HTTP_PROXY", "http_proxy", "ALL_PROXY", "all_proxy"):
        monkeypatch.delenv(name, raising=False)
    for host in _hosts.HOSTS:
        monkeypatch.setitem(_hosts.HOSTS, host, made.base)
    monkeypatch.setattr("time.sleep", lambda s: None)
    yield made
    made.close()


class Clock:
    def __init__(self) -> None:
        self.now = NOW

    def __call__(self) -> datetime:
        return self.now


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[Desk]:
    made = Desk(tmp_path / "g", clock=Clock())
    first = [made.entry("garden", happened=date(2026, 3, 1), payload=PLACE)]
    create_store(tmp_path / "g", first=first).close()
    yield made
    made.close()


def test_nothing_is_sent_before_the_gardener_knows_what_and_agrees(desk: Desk, server: Services) -> None:
    said = fetch(desk, "open-meteo")
    assert server.asked == []
    assert said.title == "Nothing was fetched yet"
    words = " ".join(said.notes)
    assert "latitude 44.2, longitude -38.6" in words
    assert "127.0.0.1" in words
    assert "--agree" in words
    assert not (desk.folder / FOLDER).exists()
    fetch(desk, "open-meteo", agreed=True)
    assert len(server.asked) == 1
    assert next(s for s in services(desk) if s.name == "open-meteo").agreed
    desk.clock.now += timedelta(hours=1)
    fetch(desk, "open-meteo")  # said once for each service
    assert len(server.asked) == 2


def test_what_is_sent_is_the_place_to_a_kilometre_and_a_stated_name(desk: Desk, server: Services) -> None:
    fetch(desk, "open-meteo", agreed=True)
    ((path, headers),) = server.asked
    assert "latitude=44.2&longitude=-38.6&" in path
    assert "44.2034" not in path
    assert headers["user-agent"].startswith(f"kailyard/{__version__} (")
    assert set(headers) <= {"host", "user-agent", "accept", "accept-encoding", "connection"}


def test_a_forecast_is_kept_as_issued_with_its_hours_and_its_lead(desk: Desk, server: Services) -> None:
    said = fetch(desk, "open-meteo", agreed=True)
    (kept,) = desk.store.forecasts()
    assert (kept.forecast.source, kept.forecast.issued, kept.forecast.on) == ("open-meteo", NOW, date(2026, 6, 12))
    days = kept.forecast.days()
    # 00 h at UTC-3 is 03 h UTC: the coolest hour, 04 h UTC, and the warmest, 16 h UTC, lie within one day.
    assert (days[0].day, days[0].tmin_c, days[0].tmax_c, days[0].lead) == (date(2026, 6, 12), 6.0, 18.0, 1)
    assert [d.lead for d in days] == [1, *range(1, len(days))]
    # The hour of rain ends at 06 h UTC of 12, 14, ... June: it began at 02 h local, the same day.
    assert [d.rain_mm for d in days[:4]] == [4.5, 0.0, 4.5, 0.0]
    (hours,) = desk.store.hours(NOW, NOW, forecast=kept.id)
    at = int((datetime(2026, 6, 12, 5, tzinfo=UTC) - hours.record.first).total_seconds() // 3600)
    assert hours.record.rain_mm[at] == 4.5
    assert hours.record.radiation_mj_m2[at] == pytest.approx(1.8)  # 500 W/m² for an hour
    assert hours.record.pressure_kpa[at] == pytest.approx(100.82)
    assert desk.store.hours(NOW, NOW) == ()  # none of them counts as observed
    assert said.rows[0] == ("2026-06-12", "6 °C", "18 °C", "4.5 mm")
    assert "CC BY 4.0" in said.notes[-1]


def test_the_weather_service_is_asked_for_its_square_and_its_layers(desk: Desk, server: Services) -> None:
    fetch(desk, "nws", agreed=True)
    assert [path for path, _ in server.asked] == ["/points/44.2,-38.6", "/gridpoints/XXI/33,35"]
    (kept,) = desk.store.forecasts()
    assert kept.forecast.issued == datetime(2026, 6, 12, 8, 30, 11, tzinfo=UTC)
    first = kept.forecast.days()[0]
    assert first.day == date(2026, 6, 13)  # the 12th is not whole: its hours begin at 06 h UTC
    (hours,) = desk.store.hours(NOW, NOW, forecast=kept.id)
    assert hours.record.wind_m_s[0] == 5.0  # 18 km/h
    assert hours.record.rain_mm[6] == 0.5  # 3 mm in six hours
    assert np.isnan(hours.record.rain_mm[12])
    assert np.isnan(hours.record.radiation_mj_m2).all()


def test_a_station_s_days_are_read_with_their_flags(desk: Desk, server: Services) -> None:
    said = fetch(desk, "noaa-daily", station=STATION.lower(), since="2020", agreed=True)
    assert f"stations={STATION}" in server.asked[0][0]
    assert "startDate=2020-01-01&endDate=2026-06-11" in server.asked[0][0]
    assert "44.2" not in server.asked[0][0]
    (record,) = desk.store.weather_imports()
    assert len(record) == 400
    assert (record.tmax_c[0], record.rain_mm[0]) == (14.0, 2.5)
    assert np.isnan(record.tmin_c[7])
    assert "quality flag I" in " ".join(said.notes)


def test_computed_days_fill_only_what_the_station_lacks(desk: Desk, server: Services) -> None:
    cells = np.array([1.0, np.nan, 3.0])
    station = DailyRecord(date(2026, 6, 1), *(read_only(cells + k) for k in (0, 9, 0)), "own")
    desk.store.add_weather(station, imported=NOW - timedelta(hours=1))
    fetch(desk, "open-meteo-history", since="2025", agreed=True)
    assert "start_date=2025-01-01" in server.asked[0][0]
    filled = desk.store.weather_imports()[1]
    at = (date(2026, 6, 1) - filled.first).days
    assert np.isnan(filled.tmin_c[at])
    assert not np.isnan(filled.tmin_c[at + 1])
    assert np.isnan(filled.rain_mm[(date(2025, 3, 31) - filled.first).days])


def test_normals_are_stated_and_never_years(desk: Desk, server: Services) -> None:
    said = fetch(desk, "noaa-normals", station=STATION, agreed=True)
    (kept,) = desk.store.normals()
    assert kept.normals.tmin_c[0] == pytest.approx((21 - 32) / 1.8, abs=0.005)
    assert (kept.normals.rain_mm[0], kept.normals.rain_mm[11]) == (50.8, None)
    assert desk.store.weather_imports() == ()
    assert len(said.rows) == 12


def test_an_answer_that_still_stands_is_not_asked_for_again(desk: Desk, server: Services) -> None:
    server.headers = {"Cache-Control": "public, max-age=1800", "ETag": '"v1"'}
    fetch(desk, "open-meteo", agreed=True)
    desk.clock.now += timedelta(minutes=29)
    said = fetch(desk, "open-meteo")
    assert len(server.asked) == 1
    assert "kept already" in said.notes[0]
    assert len(desk.store.forecasts()) == 1
    desk.clock.now += timedelta(minutes=2)
    fetch(desk, "open-meteo")
    assert server.asked[1][1]["if-none-match"] == '"v1"'  # answered 304, without its body


def test_an_unchanged_answer_that_is_damaged_here_is_asked_for_anew(desk: Desk, server: Services) -> None:
    server.headers = {"ETag": '"v1"'}
    fetch(desk, "open-meteo", agreed=True)
    for file in (desk.folder / FOLDER).glob("*.json"):
        file.write_bytes(b"{")
    fetch(desk, "open-meteo")
    assert "if-none-match" not in server.asked[1][1]


@pytest.mark.parametrize("status", [429, 500, 503])
def test_a_busy_service_is_asked_again_after_a_pause(desk: Desk, server: Services, status: int) -> None:
    slept: list[float] = []
    server.replies = [(status, {}, b""), (status, {"Retry-After": "3"}, b"")]
    Fetcher(desk.folder, now=desk.now, sleep=slept.append).get("open-meteo", "/v1/forecast")
    assert slept == [1.0, 3.0]
    assert len(server.asked) == 3


def test_a_service_that_stays_busy_is_given_up(desk: Desk, server: Services) -> None:
    server.replies = [(503, {}, b"")] * 9
    with pytest.raises(Unreachable, match=r"busy or out of order \(status 503, asked 3 times\)"):
        fetch(desk, "open-meteo", agreed=True)
    assert len(server.asked) == TRIES
    assert desk.store.forecasts() == ()


@pytest.mark.parametrize("pause", ["3600", "Fri, 12 Jun 2026 15:00:00 GMT"])
def test_a_long_pause_that_a_service_asks_for_is_kept(desk: Desk, server: Services, pause: str) -> None:
    server.replies = [(429, {"Retry-After": pause}, b"")]
    with pytest.raises(Unreachable, match="asks to be left alone until 2026-06-12 15:00 UTC"):
        fetch(desk, "open-meteo", agreed=True)
    desk.clock.now += timedelta(minutes=59)
    with pytest.raises(Unreachable, match="left alone until 2026-06-12 15:00"):
        fetch(desk, "open-meteo")
    assert len(server.asked) == 1
    desk.clock.now += timedelta(minutes=2)
    fetch(desk, "open-meteo")
    assert len(desk.store.forecasts()) == 1
    assert LONGEST_WAIT_S < 3600


def test_offline_is_one_clear_line_and_nothing_is_lost(
    desk: Desk, server: Services, monkeypatch: pytest.MonkeyPatch
) -> None:
    fetch(desk, "open-meteo", agreed=True)
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        nobody = free.getsockname()[1]
    monkeypatch.setitem(_hosts.HOSTS, "open-meteo", f"http://127.0.0.1:{nobody}")
    with pytest.raises(Unreachable) as caught:
        fetch(desk, "open-meteo", agreed=True)
    assert re.fullmatch(
        r"127\.0\.0\.1 cannot be reached \(.*\): is there a network\? Nothing was .*", str(caught.value)
    )
    assert "\n" not in str(caught.value)
    assert caught.value.exit_code == 7
    assert len(desk.store.forecasts()) == 1


def test_a_service_that_says_nothing_is_not_waited_for_without_end(desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("kailyard.desk.http.TIMEOUT_S", 0.2)
    with socket.create_server(("127.0.0.1", 0)) as silent:
        monkeypatch.setitem(_hosts.HOSTS, "open-meteo", f"http://127.0.0.1:{silent.getsockname()[1]}")
        with pytest.raises(Unreachable, match=r"did not answer within 0\.2 s"):
            fetch(desk, "open-meteo", agreed=True)


def test_a_move_within_the_host_is_followed_and_to_another_refused(desk: Desk, server: Services) -> None:
    server.replies = [(301, {"Location": "/points/44.2,-38.60"}, b"")]
    fetch(desk, "nws", agreed=True)
    assert [p for p, _ in server.asked][1] == "/points/44.2,-38.60"
    server.replies = [(302, {"Location": "https://elsewhere.example/points/1,1"}, b"")]
    with pytest.raises(Unreachable, match=r"sends us on to elsewhere\.example, which nobody asked for"):
        fetch(desk, "nws")
    server.replies = [(301, {"Location": "/round"}, b"")] * 9
    with pytest.raises(Unreachable, match="circles"):
        fetch(desk, "nws")


def test_a_refusal_is_told_in_the_service_s_own_words(desk: Desk, server: Services) -> None:
    server.replies = [(400, {}, say.body({"error": True, "reason": "Latitude must be in range"}))]
    with pytest.raises(Unreachable, match=r"refuses \(status 400\): Latitude must be in range\. Nothing was changed"):
        fetch(desk, "open-meteo", agreed=True)
    server.replies = [(404, {}, say.body({"title": "Data Unavailable", "detail": "no such\x1b[2J point"}))]
    with pytest.raises(Unreachable) as caught:
        fetch(desk, "nws", agreed=True)
    assert "\x1b" not in str(caught.value)


BAD = [
    b"",
    b"<html>",
    b"[" * 5000,
    b"{}",
    b'{"hourly": {}, "hourly_units": {}}',
    b'{"hourly": {"time": ["2026-06-12T00:00"], "temperature_2m": ["warm"]}, "hourly_units": {"temperature_2m": "C"}}',
    b'{"hourly": {"time": ["soon"], "temperature_2m": [1]}, "hourly_units": {"temperature_2m": "\xc2\xb0C"}}',
    say.open_meteo(hourly_units={"temperature_2m": "hPa"}),
    b'{"properties": {"gridId": "../../etc", "gridX": 1, "gridY": 2}}',
    b'{"properties": {"temperature": {"uom": "wmoUnit:degC", "values": [{"validTime": "now", "value": 1}]}}}',
    b'[{"STATION": "OTHER", "DATE": "2026-06-01", "TMIN": "1.0"}]',
    b'[{"STATION": 5}]',
    b"[]",
]


@pytest.mark.parametrize("content", BAD)
@pytest.mark.parametrize("name", ["open-meteo", "open-meteo-history", "nws", "noaa-daily", "noaa-normals"])
def test_an_answer_of_another_form_is_told_and_nothing_is_kept(
    desk: Desk, server: Services, name: str, content: bytes
) -> None:
    server.replies = [(200, {}, content)] * 2
    with pytest.raises(KailyardError) as caught:
        fetch(desk, name, station=STATION, agreed=True)
    assert isinstance(caught.value, DataError | NotFound | UsageError)
    assert desk.store.weather_marks() == ()
    assert desk.store.weather_imports() == ()
    assert desk.store.normals() == ()


def test_words_that_cannot_be_used_are_refused_before_anything_is_sent(desk: Desk, server: Services) -> None:
    with pytest.raises(NotFound, match="Services: noaa-daily, noaa-normals, nws, open-meteo, open-meteo-history"):
        fetch(desk, "weather", agreed=True)
    with pytest.raises(UsageError, match="Which station"):
        fetch(desk, "noaa-daily", agreed=True)
    with pytest.raises(UsageError, match="Which station"):
        fetch(desk, "noaa-daily", station="A&dataset=x", agreed=True)
    with pytest.raises(UsageError, match="--since"):
        fetch(desk, "open-meteo-history", since="1890", agreed=True)
    assert server.asked == []


def test_on_a_pretended_day_nothing_is_fetched(desk: Desk, server: Services) -> None:
    desk.clock = PretendedClock(NOW)
    with pytest.raises(UsageError, match="pretended"):
        fetch(desk, "open-meteo", agreed=True)
    assert server.asked == []


def test_each_service_is_told_with_what_it_is_sent(desk: Desk, server: Services) -> None:
    listed = fetch(desk, None)
    assert [r[0] for r in listed.rows] == ["noaa-daily", "noaa-normals", "nws", "open-meteo", "open-meteo-history"]
    assert listed.rows[0][3] == "the station's identifier"
    assert server.asked == []


def test_addresses_stand_in_one_place() -> None:
    root = Path(_hosts.__file__).parents[2]
    known = [address.removeprefix("https://") for address in _hosts.HOSTS.values()]
    for file in root.rglob("*.py"):
        if file != Path(_hosts.__file__):
            assert not [host for host in known if host in file.read_text(encoding="utf-8")], file
    assert all(address.startswith("https://") for address in _hosts.HOSTS.values())


def test_the_network_is_imported_only_to_fetch(tmp_path: Path) -> None:
    code = (
        "import sys, kailyard.desk.fetch, kailyard.desk.view, kailyard.desk.weather;"
        "print(sorted({m.partition('.')[0] for m in sys.modules} & {'httpx2', 'httpx', 'anyio', 'httpcore'}))"
    )
    done = subprocess.run([sys.executable, "-c", code], check=True, capture_output=True, text=True)
    assert done.stdout.strip() == "[]"
