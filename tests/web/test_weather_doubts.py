"""Doubtful days on the weather page, what the garden's thermometer taught, and a second station's form."""

from __future__ import annotations

import re
from datetime import date, timedelta
from html import unescape

import numpy as np
import pytest
from browsing import Browser
from markup_check import Checked

from kailyard.demo.weather import demo_record
from kailyard.desk.desk import Desk
from kailyard.desk.station_record import station_record
from kailyard.desk.stations import made_of_two
from kailyard.weather.record import DailyRecord, read_only

FLOOD = date(2020, 7, 10)


@pytest.fixture
def desk(here: Browser):
    made = Desk(here.folder, clock=here.clock, who="Idony")
    yield made
    made.close()


@pytest.fixture
def flooded(desk: Desk) -> None:
    """A second, later file of the same station, with 900 mm on one day."""
    record = demo_record()
    rain = np.array(record.rain_mm)
    rain[(FLOOD - record.first).days] = 900.0
    made = DailyRecord(record.first, record.tmin_c, record.tmax_c, read_only(rain), "station")
    desk.store.add_weather(made, imported=desk.now(), name="flood.csv")


def fields(page: str, near: str) -> dict[str, str]:
    """Hidden fields of the form in which `near` stands."""
    form = next(f for f in re.findall(r"<form.*?</form>", page, re.S) if near in f)
    return {
        name: unescape(value) for name, value in re.findall(r'<input type="hidden" name="(\w+)" value="([^"]*)">', form)
    }


def rain_of(desk: Desk, day: date) -> float:
    record, _ = station_record(desk, desk.garden(), None)
    return float(record.rain_mm[(day - record.first).days])


def test_a_doubtful_day_stands_on_the_page_and_a_button_sets_it_aside(here: Browser, desk: Desk, flooded: None) -> None:
    page = here.get("/weather").text
    assert Checked(page).problems == []
    words = Checked(page).text
    assert "To look at" in words
    assert "2020-07-10 rain: 900 mm" in words
    assert "rain beyond the record" in words
    sent = fields(page, "it is right, leave it")
    answer = here.send("/weather", at="/weather", **{**sent, "wish": "doubt-aside"})
    assert answer.status_code == 303
    words = Checked(here.get("/weather").text).text
    assert "To look at" not in words
    assert "2020-07-10 set aside" in words
    assert rain_of(desk, FLOOD) != 900.0
    aside = next(e for e in desk.store.entries() if e.kind == "weather-aside")
    here.send("/weather", at="/weather", wish="use", entry=aside.id)
    assert rain_of(desk, FLOOD) == 900.0


def test_left_it_stays_in_use_and_can_be_asked_about_again(here: Browser, desk: Desk, flooded: None) -> None:
    sent = fields(here.get("/weather").text, "it is right, leave it")
    for _ in range(2):
        assert here.send("/weather", at="/weather", **{**sent, "wish": "doubt-leave"}).status_code == 303
    words = Checked(here.get("/weather").text).text
    assert "To look at" not in words
    assert "1 looked at and left in use" in words
    assert rain_of(desk, FLOOD) == 900.0
    (left,) = [e for e in desk.store.entries() if e.kind == "weather-left"]
    here.send("/weather", at="/weather", wish="use", entry=left.id)
    assert "To look at" in Checked(here.get("/weather").text).text


def test_what_the_garden_s_thermometer_taught_is_shown(here: Browser, desk: Desk) -> None:
    station = demo_record()
    desk.keep(
        [
            desk.entry(
                "air-temperature",
                happened=(day := date(2025, 3, 1) + timedelta(days=i)),
                payload={"tmin_c": round(float(station.tmin_c[(day - station.first).days]) - 2.0, 1)},
                id_=f"t{i}",
            )
            for i in range(60)
        ]
    )
    page = here.get("/weather").text
    assert Checked(page).problems == []
    words = " ".join(Checked(page).text.split())
    assert "The garden's own thermometer" in words
    shown = dict(re.findall(r">(as read[^<]*|in spring|it may be wrong[^<]*)</td><td[^>]*><bdi>([^<]*)</bdi>", page))
    assert any(key.startswith("as read, mean of ") for key in shown)
    assert set(shown) >= {"in spring", "it may be wrong by (standard error)"}


def neighbour(first: date, last: date, colder: float = 1.5) -> bytes:
    station = demo_record()
    rows = ["date,tmin,tmax,rain"]
    for n in range((last - first).days + 1):
        day = first + timedelta(days=n)
        i = (day - station.first).days
        low, high, rain = station.tmin_c[i], station.tmax_c[i], station.rain_mm[i]
        if not np.isnan(low + high + rain):
            rows.append(f"{day},{low - colder:.1f},{high - colder:.1f},{rain:.1f}")
    return "\n".join(rows).encode()


COLUMNS = {
    "columns.date": "date",
    "columns.tmin": "tmin",
    "columns.tmax": "tmax",
    "columns.rain": "rain",
    "columns.temperature_unit": "C",
    "columns.rain_unit": "mm",
    "columns.date_format": "%Y-%m-%d",
    "columns.delimiter": "comma",
    "columns.decimal": ".",
}


def send(browser: Browser, content: bytes, name: str = "next.csv", **form: str):
    said = {"token": browser.token("/neighbour"), **COLUMNS, **form}
    return browser.client.post("/neighbour", data=said, files={"file": (name, content)}, follow_redirects=False)


def test_a_second_station_is_laid_beside_from_a_form_and_its_offsets_stay_shown(here: Browser, desk: Desk) -> None:
    assert "A second station" in here.get("/neighbour").text
    answer = send(here, neighbour(date(2015, 1, 1), date(2025, 12, 31)), how="fill")
    assert answer.status_code == 303, answer.text
    assert "days are in both records" in Checked(here.get("/neighbour").text).text
    page = here.get("/neighbour").text
    assert Checked(page).problems == []
    words = " ".join(Checked(page).text.split())
    for month in ("January", "July", "December"):  # own station less neighbour
        shown = re.search(rf"<bdi>{month}</bdi></td><td[^>]*><bdi>([^<]*)</bdi></td><td[^>]*><bdi>([^<]*)</bdi>", page)
        assert shown
        assert set(shown.groups()) <= {"1.5 °C", "2.7 °F"}
    assert "standard deviation" in words
    (made,) = made_of_two(desk)
    assert made.neighbour
    assert "lines or values set aside" not in Checked(here.get("/weather").text).text


def test_the_mean_of_both_takes_a_share_in_percent(here: Browser, desk: Desk) -> None:
    day = date(2020, 5, 3)
    record, _ = station_record(desk, desk.garden(), None)
    before = record.tmin_c[(day - record.first).days]
    answer = send(here, neighbour(date(2015, 1, 1), date(2025, 12, 31)), how="mean", weight="75%")
    assert answer.status_code == 303, answer.text
    record, _ = station_record(desk, desk.garden(), None)
    # A quarter of 1.5 °C colder.
    assert record.tmin_c[(day - record.first).days] == pytest.approx(before - 0.375, abs=0.06)


@pytest.mark.parametrize(
    ("form", "content", "says"),
    [
        ({"how": "mean", "weight": "100%"}, None, "more than 0 % and less than 100 %"),
        ({"how": "mean", "weight": "half"}, None, "is no share"),
        ({"columns.tmin": "cold"}, None, "no column"),
        ({}, neighbour(date(2025, 12, 1), date(2025, 12, 31)), "are needed to tell how they differ"),
    ],
)
def test_what_does_not_fit_keeps_nothing_and_what_was_typed(
    here: Browser, desk: Desk, form: dict[str, str], content: bytes | None, says: str
) -> None:
    before = desk.store.weather_ids()
    answer = send(here, content or neighbour(date(2015, 1, 1), date(2025, 12, 31)), **form)
    assert answer.status_code in (400, 422)
    page = unescape(answer.text)
    assert says in page
    assert "Nothing was kept" in page
    assert Checked(answer.text).problems == []
    for value in form.values():
        assert value in ("mean", "") or f'value="{value}"' in answer.text
    assert desk.store.weather_ids() == before


def test_without_a_file_or_a_record_it_says_so(here: Browser, door) -> None:
    assert "No file was chosen" in here.send("/neighbour", at="/neighbour", how="fill").text
    assert "no record yet" in door("empty").get("/neighbour").text
