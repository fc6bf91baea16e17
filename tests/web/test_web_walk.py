"""A garden made and kept from the browser alone: place, bed, plantings, weather, facts, daybook, formulas."""

from __future__ import annotations

import gzip
import math
import re
from collections.abc import Callable, Iterator
from datetime import date, timedelta
from pathlib import Path

import pytest
from browsing import Browser, SetClock
from markup_check import Checked
from starlette.testclient import TestClient

from kailyard.desk.desk import Desk
from kailyard.handbook.load import load_handbook
from kailyard.handbook.types import Fact
from kailyard.web.app import create_app


@pytest.fixture
def bare(tmp_path: Path, clock: SetClock) -> Iterator[Browser]:
    """A browser at a folder that holds nothing."""
    folder = tmp_path / "new"
    folder.mkdir()
    with TestClient(create_app(folder, clock=clock), base_url="http://localhost:8347") as client:
        yield Browser(client, folder, clock)


def words(browser: Browser, path: str) -> str:
    return Checked(browser.get(path).text).text


def mark(browser: Browser, path: str) -> str:
    return re.search(r'name="mark" value="([0-9a-f]{20})"', browser.get(path).text)[1]


def station_csv(years: int = 8, *, low: float = 4.0, unit: str = "C") -> bytes:
    """An invented station: the year as a wave with a shift for every year, and days that differ as days do."""
    rows = ["day,low,high,rain"]
    first = date(2026, 6, 11) - timedelta(days=365 * years)
    for n in range(365 * years + 1):
        day = first + timedelta(days=n)
        warm = 10 - abs((day.timetuple().tm_yday - 200) / 9.0) + (day.year % 3)
        spell = 3.1 * math.sin(1.7 * n) + 2.3 * math.sin(0.41 * n)
        tmin, tmax = low + warm + spell, low + warm + spell + 9 + 2.2 * math.sin(2.9 * n)
        if unit == "F":
            tmin, tmax = tmin * 1.8 + 32, tmax * 1.8 + 32
        rows.append(f"{day},{tmin:.1f},{tmax:.1f},{n % 4}")
    return "\n".join(rows).encode()


COLUMNS = {"columns.date": "day", "columns.tmin": "low", "columns.tmax": "high", "columns.rain": "rain"}
MORE = {"columns.temperature_unit": "C", "columns.rain_unit": "mm", "columns.date_format": "%Y-%m-%d",
        "columns.delimiter": "comma", "columns.decimal": "."}  # fmt: skip


def upload(browser: Browser, content: bytes, name: str = "station.csv", **fields: str):
    form = {"token": browser.token("/weather"), **fields}
    return browser.client.post("/weather", data=form, files={"file": (name, content)}, follow_redirects=False)


def kept_weather(browser: Browser) -> int:
    desk = Desk(browser.folder)
    try:
        return len(desk.store.kept_weather())
    finally:
        desk.close()


GARDEN = {"name": "Tern Bank", "latitude": "52.2", "longitude": "-4.1", "timezone": "UTC", "units": "metric"}


def test_from_an_empty_folder_to_a_sheet_without_a_terminal(bare: Browser) -> None:
    for path in ("/", "/beds", "/plantings", "/daybook", "/climate"):
        answer = bare.get(path)
        assert (answer.status_code, answer.headers.get("location")) == (303, "/garden"), path
    assert "A new garden" in words(bare, "/garden")
    assert bare.send("/garden", at="/garden", **GARDEN).headers["location"] == "/weather"
    assert "The garden is made" in words(bare, "/weather")
    page = words(bare, "/garden")
    assert "What it still needs" in page
    bed = {"cells.length": "12ft", "cells.width": "4ft"}
    assert bare.send("/beds", at="/beds", mark=mark(bare, "/beds"), wish="new", **bed).status_code == 303
    rows = (
        "planting\tcrop\tbed\tstart\tplanned\npea-1\tpea\tbed-1\tsown\t\nbean-1\tbean-bush\tbed-1\tsown\t2026-06-14\n"
    )
    form = {"wish": "paste", "pasted": rows}
    assert bare.send("/plantings", at="/plantings", mark=mark(bare, "/plantings"), **form).status_code == 303
    assert upload(bare, station_csv(), **COLUMNS, **MORE).status_code == 303
    assert "Read station.csv: 2921 days" in words(bare, "/weather")
    sheet = bare.get("/")
    assert sheet.status_code == 200
    assert "bean-1" in sheet.text
    assert "What it still needs" not in words(bare, "/garden")
    assert words(bare, "/climate").count("Frost") >= 1


def test_a_new_garden_is_refused_whole_where_one_value_is_wrong(bare: Browser) -> None:
    for wrong, says in (
        ({"latitude": "95"}, "Latitude 95: degrees from -66 to 66"),
        ({"longitude": "west"}, "Longitude: 'west' is no number"),
        ({"timezone": "Nowhere/Town"}, "There is no time zone 'Nowhere/Town'"),
        ({"elevation": "high"}, "Height above the sea: 'high' is no number"),
        ({"name": " "}, "name"),
    ):
        answer = bare.send("/garden", at="/garden", **{**GARDEN, **wrong})
        assert answer.status_code in (400, 422)
        assert says in Checked(answer.text).text
        assert not (bare.folder / "garden.db").exists()


def test_a_garden_is_made_once_and_its_settings_put_right_and_taken_back(bare: Browser) -> None:
    assert bare.send("/garden", at="/garden", **GARDEN).status_code == 303
    bare.clock.move_on(minutes=1)
    changed = {**GARDEN, "name": "Tern Bank & Son", "elevation": "400ft", "offset": "-1.5C"}
    assert bare.send("/garden", at="/garden", **changed).status_code == 303
    desk = Desk(bare.folder)
    # 1 ft is 0.3048 m exactly: NIST SP 811 (2008), appendix B.8.
    assert desk.garden().site.elevation_m == pytest.approx(121.92, abs=1e-9)
    assert desk.garden().site.minimum_offset_c == -1.5
    desk.close()
    undo = re.search(r'name="undo" value="([^"]+)"', bare.get("/garden").text)[1]
    assert bare.send("/garden", at="/garden", undo=undo).status_code == 303
    assert 'value="Tern Bank"' in bare.get("/garden").text
    assert 'name="undo"' not in bare.get("/garden").text, "what was first entered is not taken back"
    assert bare.send("/garden", at="/garden", undo=undo).status_code == 409


@pytest.mark.parametrize(
    ("content", "fields", "says"),
    [
        (b"", {}, "station.csv: the file is empty"),
        (bytes(range(256)) * 40, {}, "station.csv"),
        (b"day,low,high\n2026-01-01,1,2\n", {}, "say which column is what"),
        (b"day,low,high\n2026-01-01,1,2\n", {"columns.date": "day"}, "Say which column holds the lowest temperature"),
        (station_csv(), {**COLUMNS, **MORE, "columns.tmin": "tief"}, "tief"),
        (station_csv(), {**COLUMNS, **MORE, "columns.rain_unit": "ell"}, "rain unit 'ell': write mm, in or tenths mm"),
        (station_csv(unit="F"), {**COLUMNS, **MORE}, "°F"),
    ],
    ids=["empty", "binary", "undeclared", "half declared", "no such column", "no such unit", "wrong unit"],
)
def test_a_file_that_cannot_be_used_is_one_clear_line_and_changes_nothing(
    here: Browser, content: bytes, fields: dict[str, str], says: str
) -> None:
    before = kept_weather(here)
    answer = upload(here, content, **fields)
    assert answer.status_code in (400, 422), answer.text[:400]
    assert says in Checked(answer.text).text
    assert "Nothing was kept." in Checked(answer.text).text
    assert kept_weather(here) == before


PNG = b"\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR\x00\x00\x00\x01"
FALSE = {
    "a picture's ending": ("station.png", station_csv(), "ends in one of .csv"),
    "a program's ending": ("station.csv.exe", station_csv(), "ends in one of .csv"),
    "a page's ending, packed": ("station.html.gz", gzip.compress(station_csv()), "ends in one of .csv"),
    "a picture as a table": ("station.csv", PNG, "binary, not plain text"),
    "a picture packed": ("station.csv.gz", gzip.compress(PNG), "binary, not plain text"),
    "an archive as a table": ("station.csv", b"PK\x03\x04\x14\x00\x00\x00", "binary, not plain text"),
    "a page as a table": ("station.csv", b"<!DOCTYPE html><html><body><table><tr><td>1</td></tr></table>", "column"),
    "packed, not said": ("station.csv", gzip.compress(station_csv()), "let its name end in .gz"),
    "said, not packed": ("station.csv.gz", station_csv(), "is not packed"),
}


@pytest.mark.parametrize("which", FALSE)
def test_a_file_under_a_false_name_or_with_another_content_is_refused(here: Browser, which: str) -> None:
    # OWASP ASVS 5.0.0, 5.2.2: ending and content are held to each other.
    name, content, says = FALSE[which]
    answer = upload(here, content, name=name, **COLUMNS, **MORE)
    assert answer.status_code == 422, answer.text[:400]
    assert says in Checked(answer.text).text
    assert "Nothing was kept." in Checked(answer.text).text
    assert kept_weather(here) == 1


@pytest.mark.parametrize("name", ["station.csv", "STATION.TXT", "station", "station.csv.gz", "a.b.dat"])
def test_a_file_under_its_own_name_is_taken(here: Browser, name: str) -> None:
    content = gzip.compress(station_csv()) if name.endswith("gz") else station_csv()
    assert upload(here, content, name=name, **COLUMNS, **MORE).status_code == 303
    assert kept_weather(here) == 2


def test_a_huge_file_is_refused_before_it_is_read(here: Browser) -> None:
    answer = upload(here, b"0" * 40_000_001)
    assert answer.status_code == 413
    assert "at most 40,000,000 bytes" in Checked(answer.text).text
    assert kept_weather(here) == 1


def test_no_file_chosen_is_said(here: Browser) -> None:
    answer = here.send("/weather", at="/weather")
    assert answer.status_code == 400
    assert "No file was chosen" in Checked(answer.text).text


def test_a_file_name_is_never_a_path(here: Browser) -> None:
    assert upload(here, station_csv(), name="../../etc/<b>x</b>.csv", **COLUMNS, **MORE).status_code == 303
    page = here.get("/weather")
    assert Checked(page.text).problems == []
    assert "<b>x</b>" not in page.text
    assert not list(here.folder.parent.rglob("*x*.csv"))


def test_what_was_set_aside_is_shown_by_rule_and_line(here: Browser) -> None:
    lines = station_csv().decode().splitlines()
    lines[10] = lines[10].rsplit(",", 3)[0] + ",30.0,5.0,0"
    assert upload(here, "\n".join(lines).encode(), **COLUMNS, **MORE).status_code == 303
    page = words(here, "/weather")
    assert "set aside, listed below" in page
    assert "Set aside in" in page
    assert "line 11" in page


# --- the handbook -----------------------------------------------------------------------------------------------------


def set_fact(browser: Browser, crop: str, key: str, value: str, **more: str):
    page = browser.get(f"/handbook/{crop}", params={"change": key}).text
    was = re.search(r'name="was" value="([^"]*)"', page)
    form = {"key": key, "was": was[1] if was else "", "value": value, "wish": "set", **more}
    return browser.send(f"/handbook/{crop}", at=f"/handbook/{crop}", **form)


def test_every_crop_shows_its_facts_with_status_and_source(here: Browser) -> None:
    for crop in re.findall(r'href="/handbook/([a-z-]+)"', here.get("/handbook").text):
        answer = here.get(f"/handbook/{crop}")
        checked = Checked(answer.text)
        assert (answer.status_code, checked.problems) == (200, []), crop
        assert any(status in checked.text for status in ("published", "common practice", "memory"))
    assert "Handbook" in words(here, "/handbook?gaps=1")


def test_a_crops_page_says_what_it_crosses_with(here: Browser) -> None:
    said = words(here, "/handbook/zucchini")
    assert "Cucurbita pepo: it crosses with" in said
    assert "pumpkins" in said
    assert "Cucurbita maxima: no other crop of the handbook crosses with it." in words(
        here, "/handbook/winter-squash-maxima"
    )


def leant_on(page: str) -> Fact:
    """A number of a crop that some line of the sheet rests on."""
    facts = {f"{fact.file}:{fact.line}": fact for those in load_handbook().facts.values() for fact in those.values()}
    places = re.findall(r'class="ground">[^<]*?(crops/[a-z-]+\.csv:\d+)<', page)
    return next(facts[place] for place in places if not isinstance(facts[place].value, str))


def test_ones_own_fact_wins_in_the_handbook_and_in_the_sheets_why(here: Browser) -> None:
    before = here.get("/").text
    fact = leant_on(before)
    assert "facts.csv" not in before
    mine = f"{fact.number * 1.01:.3f}"
    at = f"/handbook/{fact.subject}"
    assert set_fact(here, fact.subject, fact.quantity, mine, note="counted in our own beds").status_code == 303
    page = words(here, at)
    assert "yours" in page
    assert "in place of" in page
    assert "counted in our own beds" in page
    after = here.get("/").text
    assert re.search(r'class="ground">yours: [^<]*facts\.csv:\d+<', after), "the sheet's reasons say whose it is"
    assert f"{fact.file}:{fact.line}<" not in after
    assert here.send(at, at=at, key=fact.quantity, wish="drop").status_code == 303
    assert "counted in our own beds" not in words(here, at)
    assert "facts.csv" not in here.get("/").text


def test_a_fact_is_typed_in_other_units_and_kept_in_its_own(here: Browser) -> None:
    # 41 °F is 5 °C: NIST SP 811 (2008), appendix B.8, (41 - 32) / 1.8.
    key = "sown>emerged>1>base_c"
    assert set_fact(here, "pea", key, "41F").status_code == 303
    assert f'"{key}"'.replace(">", "&gt;") in here.get("/handbook/pea").text
    own = (here.folder / "facts.csv").read_text("utf-8")
    assert re.search(r"^pea,sown,emerged,1,base_c,5,°C,", own, re.MULTILINE)


@pytest.mark.parametrize(
    ("value", "says"),
    [("warm", "is no number"), ("", "type a value"), ("900", "Nothing was changed"), ("4 parsecs", "not understood")],
)
def test_a_bad_fact_is_one_clear_line_and_nothing_is_written(here: Browser, value: str, says: str) -> None:
    answer = set_fact(here, "pea", "sown>emerged>1>base_c", value)
    assert answer.status_code in (400, 422)
    assert says in Checked(answer.text).text
    assert not (here.folder / "facts.csv").exists()


def test_a_fact_changed_meanwhile_is_a_conflict(here: Browser) -> None:
    assert set_fact(here, "pea", "sown>emerged>1>base_c", "3").status_code == 303
    answer = here.send("/handbook/pea", at="/handbook/pea", key="sown>emerged>1>base_c", value="4", was="9 °C")
    assert answer.status_code == 409


# --- the daybook ------------------------------------------------------------------------------------------------------


def test_an_entry_is_put_right_on_the_page_that_entered_it(here: Browser) -> None:
    found = re.search(r'href="/daybook\?entry=([^"]+)" aria-label="open pick', here.get("/daybook?kind=pick").text)[1]
    page = here.get(f"/daybook?entry={found}").text
    assert Checked(page).problems == []
    assert f"/enter?right={found}&amp;back=daybook" in page
    assert "Put right" in here.get(f"/enter?right={found}&back=daybook").text


def test_what_was_put_right_stands_beside_what_took_its_place(here: Browser) -> None:
    desk = Desk(here.folder)
    new = next(e for e in desk.store.entries() if e.supersedes and e.kind == "rain")
    desk.close()
    assert "for an earlier one" in words(here, f"/daybook?entry={new.id}")
    assert "put right" in words(here, f"/daybook?entry={new.supersedes}")


def test_an_entry_is_withdrawn_and_shown_as_such(here: Browser) -> None:
    found = re.search(r'href="/daybook\?entry=([^"]+)" aria-label="open rain', here.get("/daybook?kind=rain").text)[1]
    form = {"entry": found, "text": "gauge was upside down"}
    assert here.send("/daybook", at="/daybook", **form).status_code == 303
    after = here.get(f"/daybook?entry={found}").text
    assert 'class="out"' in after
    assert "withdrawn" in Checked(after).text
    assert here.send("/daybook", at="/daybook", **form).status_code == 409


@pytest.mark.parametrize(
    ("query", "holds"),
    [
        ("kind=pick", lambda e, g: e.kind == "pick"),
        ("target=pea-2", lambda e, g: e.target == "pea-2"),
        ("who=Wenna", lambda e, g: e.who == "Wenna"),
        ("since=2026-06-01&until=2026-06-05", lambda e, g: date(2026, 6, 1) <= e.happened <= date(2026, 6, 5)),
        ("bed=bed-3", lambda e, g: e.target == "bed-3" or (e.target in g and g[e.target].bed == "bed-3")),
        ("kind=stage&who=Idony", lambda e, g: e.kind == "stage" and e.who == "Idony"),
    ],
)
def test_the_daybook_is_filtered(here: Browser, query: str, holds: Callable[..., bool]) -> None:
    desk = Desk(here.folder)
    plantings = desk.garden().plantings
    expected = [e.id for e in reversed(desk.store.entries()) if holds(e, plantings)]
    desk.close()
    assert expected
    seen = re.findall(r'<tr id="([^"]+)" role="row">', here.get(f"/daybook?{query}").text)
    assert seen == expected[:60]


def test_days_the_wrong_way_round_are_said(here: Browser) -> None:
    answer = here.get("/daybook?since=2026-06-05&until=2026-06-01")
    assert answer.status_code == 400
    assert "lies after" in Checked(answer.text).text


# --- the reckoner -----------------------------------------------------------------------------------------------------


def test_every_formula_answers_its_own_example(here: Browser) -> None:
    found = re.findall(r'href="/reckoner/([^"]+)"', here.get("/reckoner").text)
    assert len(found) > 30
    from kailyard.desk.reckon import method
    from kailyard.web.pages.reckon import example

    for name in found:
        given = {f"given.{key}": value for key, value in example(method(name).methods[0]).items()}
        page = here.get(f"/reckoner/{name}", params=given).text
        checked = Checked(page)
        assert checked.problems == [], name
        assert 'role="status" class="reckoned"' in page, name


def test_what_is_read_off_a_label_stands_blank_until_somebody_types_it(here: Browser) -> None:
    for name, field in (
        ("product_for_a_tank_ml", "label_ml_m2"),
        ("product_for_a_mix_ml", "dilution_ml_l"),
        ("weight_to_spread_g", "rate_g_m2"),
    ):
        page = here.get(f"/reckoner/{name}").text
        assert "label is the law" in page
        assert re.search(rf'<input name="given.{field}" value="" [^>]*required>', page), name
    asked = "given.label_ml_m2=&given.spray_ml_m2=42&given.tank_l=5"
    assert "needs label_ml_m2" in words(here, f"/reckoner/product_for_a_tank_ml?{asked}")


def test_a_formula_shows_its_equation_and_says_what_each_input_is(here: Browser) -> None:
    page = words(here, "/reckoner/saturation_vapour_pressure_kpa")
    assert "e°(T) = 0.6108 exp[17.27 T / (T + 237.3)]" in page  # FAO-56, eq. 11
    assert "Air temperature. −60 to 60 °C." in page


def test_a_formula_gives_the_printed_value_and_its_source(here: Browser) -> None:
    # FAO-56, chapter 3, example 3: 24.5 °C gives 3.075 kPa. Typed in °F: 76.1 °F is 24.5 °C.
    for typed in ("24.5", "76.1F"):
        page = words(here, f"/reckoner/saturation_vapour_pressure_kpa?given.temp_c={typed}")
        assert "3.07" in page
        assert "FAO" in page


@pytest.mark.parametrize(
    ("given", "says"), [("given.temp_c=900", "temp_c"), ("given.temp_c=warm", "temp_c"), ("given.temp_c=", "temp_c")]
)
def test_bad_input_is_one_clear_line(here: Browser, given: str, says: str) -> None:
    page = here.get(f"/reckoner/saturation_vapour_pressure_kpa?{given}").text
    line = re.search(r'<p class="wrong" role="alert">([^<]*)</p>', page)
    assert line
    assert says in line[1]
