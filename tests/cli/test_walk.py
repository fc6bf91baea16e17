"""The whole walk at the keyboard: from no garden to a sheet, why, a mistake withdrawn, and what was known when."""

from __future__ import annotations

import json
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from keyboard import COLUMNS, Keyboard, station_file

MAY_11 = date(2026, 5, 11)
LINES = ("holds", "near", "work", "look", "leave", "changed", "next")


def lines(sheet: dict[str, Any]) -> Iterator[dict[str, Any]]:
    for part in LINES:
        yield from sheet[part]


def in_every_form(keyboard: Keyboard, tmp_path: Path, *words: str) -> tuple[str, str, bytes]:
    page = tmp_path / "page.html"
    text = keyboard(*words, "--html", str(page))
    return text, keyboard(*words, "--json"), page.read_bytes()


def handle(answer: str) -> str:
    """The identifier that an answer names in 'Entry X. Undo ...'."""
    return answer.rpartition("Entry ")[2].partition(".")[0]


@pytest.fixture
def garden(keyboard: Keyboard, tmp_path: Path) -> Keyboard:
    """A small garden with a spring behind it, at noon of 11 May 2026."""
    k = keyboard
    made = k("new", "Nether Wold", "--lat", "48.2", "--lon", "9.1", "--elevation", "210", "--zone", "Etc/GMT-1")
    assert "kailyard weather FILE" in made
    winter = station_file(tmp_path / "winter.csv", date(2014, 1, 1), date(2026, 3, 1))
    assert "12 years" in k("weather", str(winter), "--columns", COLUMNS)
    k("bed", "bed-1", "--length", "3.6", "--width", "1.2", "--height", "30cm", "--at", "2,1")
    k("bed", "bed-2", "--length", "12ft", "--width", "4ft", "--soil", "clay loam")
    k("cultivar", "bean-bush", "Bellwether", "--days", "55", "--from", "sown", "--resists", "F,N")
    k.line("planting pea-1 --crop pea --bed bed-1 --start sown --count 80 --rows 2 --length 1.2m")
    k.line("planting bean-1 --crop bean-bush --bed bed-1 --start sown --cultivar Bellwether --place 1.2m")
    k.line("planting tomato-1 --crop tomato-indeterminate --bed bed-2 --start raised --count 4")
    k.line("planting lettuce-1 --crop lettuce-leaf --bed bed-1 --start sown --place 3 --length 0.6")
    k.on(date(2026, 4, 6))
    k.line("enter sow pea-1 160 seeds --on 2026-04-04")
    k.line("enter sow lettuce-1 --on yesterday")
    k.line("enter sow tomato-1 8 cells under-cover")
    k.on(MAY_11)
    spring = station_file(tmp_path / "spring.csv", date(2026, 3, 2), date(2026, 5, 10))
    k("weather", str(spring), "--columns", COLUMNS)
    k.line("enter stage pea-1 emerged --on 2026-04-22")
    k.line("enter look lettuce-1", "two true leaves", "sound")
    k("forecast", "2026-05-12", "3", "17", "0mm")
    return k


def test_every_line_of_the_sheet_answers_why_by_its_name(garden: Keyboard) -> None:
    sheet = json.loads(garden("sheet", "--json"))
    assert (sheet["garden"], sheet["first"]) == ("Nether Wold", "2026-05-11")
    names = [line["name"] for line in lines(sheet)]
    assert sheet["work"]
    assert len(names) == len(set(names))
    for name in names:
        why = json.loads(garden("why", name, "--json"))
        assert why["name"] == name
        assert why["reasons"]


def test_the_same_words_are_a_sheet_in_80_columns(garden: Keyboard) -> None:
    text = garden("sheet")
    assert text.startswith("Nether Wold")
    assert max(map(len, text.splitlines())) <= 80


def test_a_withdrawn_entry_is_as_if_never_entered(garden: Keyboard, tmp_path: Path) -> None:
    before = in_every_form(garden, tmp_path, "sheet", "--on", "2026-05-11")
    wrong = handle(garden.line("enter stage pea-1 first-flower"))
    assert in_every_form(garden, tmp_path, "sheet", "--on", "2026-05-11")[1] != before[1]
    garden("withdraw", wrong, "--text", "It was the neighbour's row.")
    assert in_every_form(garden, tmp_path, "sheet", "--on", "2026-05-11") == before
    kept = garden("daybook", "--planting", "pea-1")
    assert "withdrawn by" in kept
    assert "first-flower" in kept
    again = garden.type("withdraw", wrong)
    assert again.code == 5
    assert "withdrawn already" in again.err


def test_a_bed_measured_wrongly_is_as_before_once_that_is_withdrawn(garden: Keyboard) -> None:
    before = garden("bed", "--json")
    wrong = handle(garden("bed", "bed-1", "--length", "36m"))
    assert "36 m" in garden("bed", "bed-1")
    garden("withdraw", wrong)
    assert garden("bed", "--json") == before


def test_what_was_known_is_told_to_the_byte_after_everything_later(garden: Keyboard, tmp_path: Path) -> None:
    asked = ("sheet", "--as-known", "2026-05-11")
    then = in_every_form(garden, tmp_path, *asked)
    name = next(lines(json.loads(then[1])))["name"]
    why_then = garden("why", name, "--as-known", "2026-05-11", "--json")
    stages_then = garden("stages", "pea-1", "--as-known", "2026-05-11", "--json")
    garden.on(date(2026, 6, 2))
    k = garden
    later = station_file(tmp_path / "later.csv", date(2026, 4, 1), date(2026, 6, 1), seed=9)
    k("weather", str(later), "--columns", COLUMNS)
    k.line("enter stage pea-1 first-flower --on 2026-05-09")
    k.line("enter rain 22mm --on 2026-05-08")
    k.line("enter air-temperature -2 14 --on 2026-05-07")
    k.line("enter clear lettuce-1 --on 2026-05-10", "slugs")
    k.line("bed bed-1 --cover fleece --on 2026-05-01")
    k.line("planting bean-2 --crop bean-bush --bed bed-2 --start sown --on 2026-05-02")
    k.line("cultivar bean-bush Bellwether --days 70")
    k("garden", "--name", "Upper Wold", "--offset", "-3")
    k("withdraw", handle(k.line("enter sow bean-1 --on 2026-05-10")))
    assert k("sheet", "--on", "2026-05-11") != then[0]
    assert in_every_form(k, tmp_path, *asked) == then
    assert k("why", name, "--as-known", "2026-05-11", "--json") == why_then
    assert k("stages", "pea-1", "--as-known", "2026-05-11", "--json") == stages_then


def test_a_garden_goes_out_and_comes_back_whole(garden: Keyboard, tmp_path: Path) -> None:
    sheet = garden("sheet", "--on", "2026-05-11", "--json")
    garden("backup", str(tmp_path / "copy"))
    garden("restore", str(tmp_path / "copy"), str(tmp_path / "restored"))
    garden("export", str(tmp_path / "whole.json"))
    garden("import", str(tmp_path / "whole.json"), str(tmp_path / "imported"))
    for folder in ("restored", "imported"):
        assert garden("--garden", str(tmp_path / folder), "sheet", "--on", "2026-05-11", "--json") == sheet
    garden("--garden", str(tmp_path / "imported"), "export", str(tmp_path / "again.json"))
    assert (tmp_path / "again.json").read_bytes() == (tmp_path / "whole.json").read_bytes()


def test_a_garden_in_feet_takes_bare_feet_inches_and_fahrenheit(keyboard: Keyboard) -> None:
    k = keyboard
    k("new", "Long Acre", "--lat", "42.9", "--lon", "-87.9", "--units", "us", "--elevation", "660")
    k("bed", "bed-1", "--length", "12", "--width", "120cm", "--height", "12in")
    k.line("planting pea-1 --crop pea --bed bed-1 --start sown --spacing 2 --row 8 --place 1 --length 6")
    k("enter", "rain", "0.5")
    k("enter", "air-temperature", "23", "60")
    k("enter", "soil-temperature", "bed-1", "50", "depth-cm=2in")
    k("export", "whole.json")
    entries = {e["kind"]: e for e in json.loads(Path("whole.json").read_bytes())["entries"]}
    # NIST SP 811 (2008), appendix B.8: 1 ft = 0.3048 m, 1 in = 25.4 mm, t/°C = (t/°F - 32) / 1.8
    assert entries["garden"]["payload"]["elevation_m"] == pytest.approx(660 * 0.3048)
    bed = entries["bed"]["payload"]
    assert (bed["length_m"], bed["width_m"], bed["height_m"]) == pytest.approx((3.6576, 1.2, 0.3048))
    planting = entries["planting"]["payload"]
    assert (planting["spacing_cm"], planting["row_cm"]) == pytest.approx((5.08, 20.32))
    assert (planting["place_m"], planting["length_m"]) == pytest.approx((0.3048, 1.8288))
    assert (entries["rain"]["quantity"], entries["rain"]["unit"]) == (pytest.approx(12.7), "mm")
    air = entries["air-temperature"]["payload"]
    assert (air["tmin_c"], air["tmax_c"]) == pytest.approx((-5.0, 15.555555556))
    soil = entries["soil-temperature"]
    assert (soil["quantity"], soil["payload"]["depth_cm"]) == pytest.approx((10.0, 5.08))
    shown = k("daybook")
    assert "0.5 in" in shown
    assert "23 °F" in shown
    assert "12 ft" in k("bed")


def test_an_entry_that_puts_another_right_takes_its_place(garden: Keyboard) -> None:
    first = handle(garden.line("enter pick pea-1 2kg"))
    second = handle(garden.line("enter pick pea-1 0.2kg", "--puts-right", first))
    kept = garden("daybook", "--kind", "pick")
    assert f"put right by {second}" in kept
    assert f"(for {first})" in kept
    assert garden.type("enter", "pick", "pea-1", "3kg", "--puts-right", first).code == 5


def test_the_last_of_two_changes_in_one_second_holds(garden: Keyboard) -> None:
    from datetime import timedelta

    for length in ("3", "4", "5", "6"):
        garden.now -= timedelta(milliseconds=999)
        garden("bed", "bed-2", "--length", length)
    assert "6 m" in garden("bed", "bed-2")


def test_doubts_are_said_and_kept_all_the_same(garden: Keyboard) -> None:
    said = garden.line(
        "planting bean-2 --crop bean-bush --bed bed-1 --start sown --place 1 --length 4 --cultivar Belwether"
    )
    assert "It reaches to 5 m; the bed is 3.6 m long." in said
    assert "pea-1 (pea) stands in that part of the bed." in said
    assert "Did you mean 'Bellwether'?" in " ".join(said.split())
    assert "bean-2" in garden("planting")


def test_a_bed_can_go_once_all_in_it_is_over(garden: Keyboard) -> None:
    garden("planting", "tomato-1", "--bed", "bed-1")
    gone = garden("bed", "bed-2", "--remove")
    assert "bed-2" not in garden("bed")
    garden("withdraw", handle(gone))
    assert "bed-2" in garden("bed")


def test_the_entry_that_alone_names_the_garden_cannot_be_withdrawn(garden: Keyboard) -> None:
    garden("export", "whole.json")
    (first,) = [e["id"] for e in json.loads(Path("whole.json").read_bytes())["entries"] if e["kind"] == "garden"]
    assert garden.type("withdraw", first).code == 5
    changed = handle(garden("garden", "--name", "Upper Wold"))
    garden("withdraw", changed)
    assert "Nether Wold" in garden("garden")


def test_weather_read_twice_is_kept_once_and_bad_days_are_named(garden: Keyboard, tmp_path: Path) -> None:
    file = tmp_path / "odd.csv"
    file.write_text("day,low,high,rain\n2026-05-09,4,17,0\n2026-05-10,22,9,0\n2026-05-11,oops,17,1\n")
    said = " ".join(garden("weather", str(file), "--columns", COLUMNS).split())
    assert "odd.csv:3: 2026-05-10 minimum 22 °C, maximum 9 °C: minimum above maximum" in said
    assert "odd.csv:4: 2026-05-11" in said
    assert "kept already" in garden("weather", str(file), "--columns", COLUMNS)


def test_the_demo_is_printed_with_what_to_try_next_and_its_page_lies_beside_it(
    keyboard: Keyboard, tmp_path: Path
) -> None:
    printed = keyboard("demo", str(tmp_path / "demo"))
    assert printed.startswith("Lanthorn Garth")
    assert "What to try next" in printed
    page = (tmp_path / "demo" / "sheet.html").read_text(encoding="utf-8")
    assert page.lstrip().lower().startswith("<!doctype html>")
    assert "Lanthorn Garth" in page
    commands = [line.split("  ")[0] for line in printed.splitlines() if line.startswith("kailyard ")]
    assert len(commands) >= 4
    for command in commands:
        words = command.split()[1:]
        if "--help" not in words:
            keyboard("--garden", str(tmp_path / "demo"), *words)
