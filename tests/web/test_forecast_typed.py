"""A forecast typed on a page, several days at once; one that was fetched set aside; how far they are believed."""

from __future__ import annotations

import re
import sys
from collections.abc import Iterator
from datetime import date, timedelta
from html import unescape
from pathlib import Path

import numpy as np
import pytest
from browsing import Browser
from markup_check import Checked

from kailyard.demo.weather import demo_record
from kailyard.desk.ahead import BELIEVED_COLUMNS, belief
from kailyard.desk.desk import Desk
from kailyard.desk.typed_ahead import days_ahead
from kailyard.weather.forecast import RAIN_SKILL_BY_LEAD, SKILL_BY_LEAD
from kailyard.weather.normals import Normals
from kailyard.weather.services import _hosts
from kailyard.weather.skill import spread_ahead_c

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "desk"))
from service_answers import Services

TODAY = date(2026, 6, 12)


@pytest.fixture
def desk(here: Browser) -> Iterator[Desk]:
    made = Desk(here.folder, clock=here.clock, who="Idony")
    yield made
    made.close()


@pytest.fixture
def server(monkeypatch: pytest.MonkeyPatch) -> Iterator[Services]:
    made = Services()
    for host in _hosts.HOSTS:
        monkeypatch.setitem(_hosts.HOSTS, host, made.base)
    yield made
    made.close()


def row(n: int, day: str, low: str, high: str, rain: str = "") -> dict[str, str]:
    return {
        f"days.{n}.{name}": v for name, v in zip(("day", "low", "high", "rain"), (day, low, high, rain), strict=True)
    }


def send(browser: Browser, **form: str):
    said = {"wish": "type", "id": "f1", "issued": str(TODAY), **form}
    return browser.send("/forecast", at="/forecast", **said)


def typed_days(desk: Desk) -> list[tuple[str, float, float, float | None]]:
    return [
        (e.payload["day"], e.payload["tmin_c"], e.payload["tmax_c"], e.payload.get("rain_mm"))
        for e in desk.garden().entries
        if e.kind == "forecast" and e.id.startswith("f1")
    ]


def test_several_days_are_typed_at_once_in_any_unit_and_blank_rows_passed_over(here: Browser, desk: Desk) -> None:
    form = row(0, "2026-06-13", "7C", "70F", "0.2in") | row(2, "2026-06-15", "8C", "20C")
    answer = send(here, **form, **row(3, "2026-06-16", "", "", ""))
    assert answer.headers["location"] == "/forecast"
    assert typed_days(desk) == [
        ("2026-06-13", 7.0, pytest.approx((70 - 32) / 1.8), pytest.approx(5.08)),
        ("2026-06-15", 8.0, 20.0, None),
    ]
    page = here.get("/forecast").text
    assert Checked(page).problems == []
    assert "2026-06-13, 2026-06-15" in Checked(page).text
    ahead = {d.day: d for d in days_ahead(desk)}
    assert ahead[date(2026, 6, 13)].entry == "f1-0"


def test_sent_twice_it_is_kept_once_and_with_other_figures_refused(here: Browser, desk: Desk) -> None:
    form = row(0, "2026-06-13", "7C", "21C")
    assert send(here, **form).status_code == 303
    here.clock.move_on(minutes=3)
    assert send(here, **form).status_code == 303
    assert len(typed_days(desk)) == 1
    assert send(here, **row(0, "2026-06-13", "9C", "21C")).status_code == 409
    assert typed_days(desk)[0][1] == 7.0


@pytest.mark.parametrize(
    ("form", "says"),
    [
        ({}, "No day has a figure"),
        (row(0, "2026-06-13", "7", ""), "its highest temperature is missing"),
        (row(0, "2026-06-13", "mild", "21C"), "2026-06-13, low: 'mild' is no number"),
        (row(0, "2026-06-13", "22C", "11C"), "2026-06-13: "),
        (row(0, "2026-06-30", "7C", "21C"), "a forecast reaches 10 days"),
        (row(0, "2026-06-10", "7C", "21C"), "2026-06-10: "),
        (row(0, "Friday", "7C", "21C"), "day of row 1"),
        (row(0, "2026-06-14", "7C", "21C") | row(1, "2026-06-14", "8C", "22C"), "stands twice"),
        (row(0, "2026-06-14", "7C", "21C") | row(1, "2026-06-15", "8C", "x"), "high: 'x' is no number"),
        ({**row(0, "2026-06-14", "7C", "21C"), "issued": "2026-06-20"}, "lies after today"),
    ],
)
def test_a_wrong_row_keeps_no_row_and_what_was_typed_stays(
    here: Browser, desk: Desk, form: dict[str, str], says: str
) -> None:
    answer = send(here, **form)
    assert answer.status_code in (400, 422)
    assert says in unescape(answer.text)
    assert Checked(answer.text).problems == []
    for name, value in form.items():
        if value:
            assert re.search(rf'name="{re.escape(name)}" value="{re.escape(value)}"', answer.text), name
    assert typed_days(desk) == []


def test_a_typed_day_is_withdrawn_by_its_button(here: Browser, desk: Desk) -> None:
    send(here, **row(0, "2026-06-13", "7C", "21C"))
    assert 'aria-label="withdraw: 2026-06-13"' in here.get("/forecast").text
    assert here.send("/forecast", at="/forecast", wish="withdraw", entry="f1-0").status_code == 303
    assert typed_days(desk) == []
    assert date(2026, 6, 13) not in {d.day for d in days_ahead(desk) if d.entry == "f1-0"}


def test_enter_leads_to_the_pages_of_kinds_that_have_one(here: Browser) -> None:
    answer = here.get("/enter?kind=forecast")
    assert (answer.status_code, answer.headers["location"]) == (303, "/forecast#typed")
    assert here.get("/enter?kind=weather-aside").headers["location"] == "/weather"
    assert 'href="/forecast#typed"' in here.get("/enter").text
    assert 'id="typed"' in here.get("/forecast").text


def test_a_fetched_forecast_is_set_aside_by_a_button_and_used_again(
    here: Browser, desk: Desk, server: Services
) -> None:
    here.send("/forecast", at="/forecast", wish="fetch", service="open-meteo", agreed="1")
    assert any(d.by == "open-meteo" for d in days_ahead(desk))
    (kept,) = desk.store.forecasts()
    done = here.send("/forecast", at="/forecast", wish="aside", id="a1", forecast=kept.id, why="of <b>elsewhere</b>")
    assert done.status_code == 303
    page = here.get("/forecast").text
    assert Checked(page).problems == []
    assert "Set aside, not used: of <b>elsewhere</b>" in " ".join(Checked(page).text.split())
    assert not any(d.by == "open-meteo" for d in days_ahead(desk))
    assert here.send("/forecast", at="/forecast", wish="use", entry="a1").status_code == 303
    assert any(d.by == "open-meteo" for d in days_ahead(desk))


def test_until_it_is_learnt_the_stated_skill_is_shown_with_what_it_leaves_open(here: Browser, desk: Desk) -> None:
    (table,) = belief(desk)
    assert table.title.startswith("Stated, not learnt: ")
    assert table.columns == BELIEVED_COLUMNS
    assert [r[0] for r in table.rows] == [str(n) for n in range(1, 11)]
    assert [r[1].partition(",")[0] for r in table.rows] == [f"{100 * s:.0f}%" for s in SKILL_BY_LEAD]
    assert [r[3] for r in table.rows] == [f"{100 * s:.0f}%" for s in RAIN_SKILL_BY_LEAD]
    assert {r[4] for r in table.rows} == {"stated"}
    page = here.get("/forecast").text
    assert "How far a forecast is believed" in page
    assert table.title in Checked(page).text


def test_learnt_skill_says_by_how_many_and_what_is_taken_off(here: Browser, desk: Desk) -> None:
    station = demo_record()
    entries = []
    for i in range(40):
        day = date(2025, 4, 1) + timedelta(days=i)
        at = (day - station.first).days
        low, high = float(station.tmin_c[at]) + 2.0, float(station.tmax_c[at]) + 2.0
        if not np.isnan(low + high):
            entries.append(
                desk.entry(
                    "forecast",
                    happened=day - timedelta(days=1),
                    payload={"day": day, "tmin_c": low, "tmax_c": high},
                    id_=f"p{i}",
                )
            )
    desk.keep(entries)
    table = belief(desk)[0]
    assert table.title == "Learnt here: typed"
    first = table.rows[0]
    assert re.search(r"^\d+%, less [\d.]+ °[CF], ± [\d.]+ °[CF]$", first[1])
    typed_before = [e for e in desk.garden().entries if e.kind == "forecast" and not e.id.startswith("p")]
    lead_one = [e for e in typed_before if (date.fromisoformat(str(e.payload["day"])) - e.happened).days <= 1]
    met = sum(date.fromisoformat(str(e.payload["day"])) <= station.last for e in lead_one)
    assert first[4] == f"{len(entries) + met} met here"
    assert table.rows[9][4] == "stated"
    words = Checked(here.get("/forecast").text).text
    assert "Learnt here: typed" in words


def test_climate_s_spread_is_the_spread_of_that_time_of_year() -> None:
    station = demo_record()
    got = spread_ahead_c(station, TODAY)
    days = [station.first + timedelta(days=i) for i in range(len(station))]
    near = [i for i, d in enumerate(days) if (d.month, d.day) in {(6, k) for k in range(8, 28)}]
    for k, values in enumerate((station.tmin_c, station.tmax_c)):
        assert got[k, 4] == pytest.approx(np.nanstd(values[near]), rel=0.12)
    assert np.isnan(spread_ahead_c(station, station.first + timedelta(days=200))).all()


def test_normals_stand_beside_the_garden_s_own_means(here: Browser, desk: Desk) -> None:
    flat = tuple(float(k) for k in range(12))
    desk.store.add_normals(Normals("XXI00000001", "1991-2020", flat, flat, (None,) * 12, "credit"), kept=desk.now())
    page = here.get("/forecast").text
    assert Checked(page).problems == []
    words = Checked(page).text
    assert "own low" in words
    assert "Own: means of your record over the same years, 30 of them" in words or "of them at least" in words
    station = demo_record()
    days = [station.first + timedelta(days=i) for i in range(len(station))]
    july = [float(station.tmin_c[i]) for i, d in enumerate(days) if d.month == 7 and 1991 <= d.year <= 2020]
    mean = float(np.nanmean(july))
    shown = re.search(r"<bdi>July</bdi></td><td[^>]*><bdi>[^<]*</bdi></td><td[^>]*><bdi>([\d.]+) (°[CF])</bdi>", page)
    assert shown
    want = mean if shown[2] == "°C" else mean * 1.8 + 32
    assert float(shown[1]) == pytest.approx(want, abs=0.15)
