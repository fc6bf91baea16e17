"""Fetching and hourly files from the browser: what is sent is said, agreed to, and what came is shown."""

from __future__ import annotations

import re
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from browsing import Browser

from kailyard.desk.desk import Desk
from kailyard.weather.services import _hosts

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "desk"))
from service_answers import Services


@pytest.fixture
def server(monkeypatch: pytest.MonkeyPatch) -> Iterator[Services]:
    made = Services()
    for host in _hosts.HOSTS:
        monkeypatch.setitem(_hosts.HOSTS, host, made.base)
    monkeypatch.setattr("time.sleep", lambda s: None)
    yield made
    made.close()


def words(browser: Browser) -> str:
    return re.sub(r"\s+", " ", re.sub(r"<[^>]*>", " ", browser.get("/forecast").text))


def marks(browser: Browser) -> tuple[str, ...]:
    desk = Desk(browser.folder)
    try:
        return desk.store.weather_marks()
    finally:
        desk.close()


def test_the_page_says_what_would_be_sent_and_sends_nothing(here: Browser, server: Services) -> None:
    page = words(here)
    assert re.search(
        r"Sends the garden.{1,6}s place to a hundredth of a degree, latitude [-\d.]+, longitude [-\d.]+", page
    )
    assert "I agree that this is sent" in page
    refused = here.send("/forecast", at="/forecast", wish="fetch", service="open-meteo")
    assert refused.status_code == 400
    assert "say first that you agree" in refused.text
    assert server.asked == []


def test_a_forecast_is_fetched_shown_as_issued_and_once_agreed_not_asked_again(here: Browser, server: Services) -> None:
    done = here.send("/forecast", at="/forecast", wish="fetch", service="open-meteo", agreed="1")
    assert done.headers["location"] == "/forecast"
    page = words(here)
    assert "Kept as it was issued" in page
    assert "open-meteo, issued 2026-06-12 14:00 UTC" in page
    assert len(server.asked) == 1
    form = re.search(r'value="open-meteo">.*?</form>', here.get("/forecast").text, re.S)
    assert form
    assert "I agree" not in form[0]
    assert here.send("/forecast", at="/forecast", wish="fetch", service="open-meteo").status_code == 303


def test_offline_the_page_says_so_in_one_line_and_keeps_all(
    here: Browser, server: Services, monkeypatch: pytest.MonkeyPatch
) -> None:
    here.send("/forecast", at="/forecast", wish="fetch", service="nws", agreed="1")
    kept = marks(here)
    assert kept
    monkeypatch.setitem(_hosts.HOSTS, "nws", "http://127.0.0.1:9")
    answer = here.send("/forecast", at="/forecast", wish="fetch", service="nws", agreed="1")
    assert answer.status_code == 503
    assert "is there a network? Nothing was changed; what is kept stays." in answer.text
    assert marks(here) == kept


def send_file(browser: Browser, content: bytes, **fields: str):
    form = {"token": browser.token("/forecast"), "wish": "read", **fields}
    return browser.client.post("/forecast", data=form, files={"file": ("h.csv", content)}, follow_redirects=False)


def test_an_hourly_file_is_read_by_what_was_said_of_it(here: Browser) -> None:
    rows = "\n".join(f"2026-06-11 {h:02d}:00,{50 + h},{h}" for h in range(24))
    said = {"columns.time": "when", "columns.zone": "UTC", "columns.temperature": "temp", "columns.wind": "w"}
    said |= {"columns.temperature_unit": "°F", "columns.wind_unit": "mph", "columns.delimiter": "comma"}
    done = send_file(here, f"when,temp,w\n{rows}\n".encode(), **said)
    assert done.status_code == 303, done.text
    page = words(here)
    assert "Read 24 hours of h.csv" in page
    assert "hours with temperature 24, wind 24" in page
    assert len(marks(here)) == 1


@pytest.mark.parametrize(
    ("change", "says"),
    [
        ({"columns.zone": ""}, "does not say which clock"),
        ({"columns.temperature": "heat"}, "no column &#39;heat&#39;"),
        ({"columns.temperature_unit": "lux"}, "is no unit of temperature"),
        ({"columns.zone": "Nether/Wold"}, "write UTC"),
        ({"columns.snow": "s"}, "is not described by"),
    ],
)
def test_what_cannot_be_read_is_told_and_what_was_typed_is_kept(
    here: Browser, change: dict[str, str], says: str
) -> None:
    said = {"columns.time": "when", "columns.zone": "UTC", "columns.temperature": "temp", **change}
    answer = send_file(here, b"when,temp\n2026-06-11 00:00,9\n", **said)
    assert answer.status_code in (400, 422)
    assert says in answer.text
    assert "Nothing was kept" in answer.text
    assert 'value="when"' in answer.text
    assert marks(here) == ()


def test_a_form_without_its_token_fetches_nothing(door: Callable[..., Browser], server: Services) -> None:
    here = door()
    answer = here.client.post("/forecast", data={"wish": "fetch", "service": "open-meteo", "agreed": "1"})
    assert answer.status_code == 403
    assert server.asked == []
