"""Wrong words: one clear line, the right exit code, and a garden that is as it was, to the byte."""

from __future__ import annotations

from pathlib import Path

import pytest
from keyboard import Keyboard

USAGE, DATA, THERE_IS_NONE, CONFLICT = 2, 3, 4, 5

REFUSED: list[tuple[list[str], int, str]] = [
    # beds
    (["bed", "bed-3", "--length", "3.6 hands"], USAGE, "--length: 'hands' in '3.6 hands' is not understood"),
    (["bed", "bed-3", "--length", "20C"], USAGE, "--length: '20C' is no number of m"),
    (["bed", "bed-3", "--length", "0"], DATA, "length_m"),
    (["bed", "bed-99"], THERE_IS_NONE, "no bed 'bed-99'"),
    (["bed", "bed-99", "--soil", "loam"], USAGE, "needs its measures"),
    (["bed", "Bed 99", "--length", "3", "--width", "1"], USAGE, "no identifier"),
    (["bed", "pea-1", "--length", "3", "--width", "1"], CONFLICT, "'pea-1' is a planting"),
    (["bed", "bed-3", "--bearing", "400"], USAGE, "--bearing 400"),
    (["bed", "bed-3", "--at", "4.5"], USAGE, "--at '4.5'"),
    (["bed", "bed-3", "--remove"], CONFLICT, "not over"),
    (["bed", "bed-3", "--remove", "--soil", "clay"], USAGE, "--remove stands alone"),
    (["bed", "--soil", "clay"], USAGE, "Which bed?"),
    (["bed", "bed-3", "--soil", "clay", "--on", "2026-06-13"], USAGE, "lies after today"),
    # cultivars
    (["cultivar", "pea", "Nobody", "--days", "60"], USAGE, "from what"),
    (["cultivar", "peas", "Nobody"], THERE_IS_NONE, "Did you mean pea"),
    (["cultivar", "pea", "Nobody", "--days", "soon", "--from", "sown"], USAGE, "--days: 'soon' is no number"),
    (["cultivar", "pea", "Nobody", "--remove"], THERE_IS_NONE, "First Packet"),
    # plantings
    (["planting", "pea-9"], THERE_IS_NONE, "Did you mean pea-"),
    (["planting", "pea-9", "--crop", "pea"], USAGE, "--bed and --start"),
    (["planting", "pea-9", "--crop", "bean", "--bed", "bed-3", "--start", "sown"], THERE_IS_NONE, "bean-bush"),
    (["planting", "pea-9", "--crop", "pea", "--bed", "bed-33", "--start", "sown"], THERE_IS_NONE, "no bed 'bed-33'"),
    (["planting", "bed-3", "--crop", "pea", "--bed", "bed-3", "--start", "sown"], CONFLICT, "'bed-3' is a bed"),
    (["planting", "pea-1", "--count", "many"], USAGE, "--count: 'many' is no whole number"),
    (["planting", "pea-1", "--planned", "June"], USAGE, "--planned: 'June' is no day"),
    (["planting", "pea-1", "--remove"], CONFLICT, "kailyard enter clear pea-1"),
    (["planting", "pea-1", "--start", "thrown"], USAGE, "thrown"),
    # entries
    (["enter", "stga", "pea-1"], THERE_IS_NONE, "Did you mean stage"),
    (["enter", "stage"], USAGE, "say which planting"),
    (["enter", "stage", "pea-9", "emerged"], THERE_IS_NONE, "Did you mean pea-"),
    (["enter", "stage", "pea-1"], USAGE, "say stage"),
    (["enter", "stage", "pea-1", "frist-flower"], USAGE, "Did you mean first-flower"),
    (["enter", "stage", "pea-1", "emerged", "sometimes"], USAGE, "'sometimes' fits nothing that is still open"),
    (["enter", "stage", "pea-1", "emerged", "--on", "2026-06-13"], USAGE, "lies after today"),
    (["enter", "stage", "pea-1", "emerged", "--on", "Friday"], USAGE, "--on: 'Friday' is no day"),
    (["enter", "stage", "pea-1", "emerged", "stage=mature"], USAGE, "given twice"),
    (["enter", "stage", "pea-1", "emerged", "shre=1"], USAGE, "Did you mean share="),
    (["enter", "hurt", "bean-1", "frost", "60"], USAGE, "A percentage needs its sign"),
    (["enter", "hurt", "bean-1", "frost"], USAGE, "say share"),
    (["enter", "pick", "head-1", "12"], USAGE, "'12' of what? Write 1.2kg or 12 heads"),
    (["enter", "rain"], USAGE, "say how much, a number of 7mm"),
    (["enter", "rain", "1.2kg"], USAGE, "a word too many"),
    (["enter", "rain", "9999mm"], DATA, "lies outside 0 to 2000 mm"),
    (["enter", "air-temperature", "55F", "3C"], DATA, "lies above"),
    (["enter", "note", "bed-3"], USAGE, "write its text"),
    (["enter", "note", "bed-33", "dry"], THERE_IS_NONE, "bed-3"),
    (["enter", "note", "bed-3", "dry\x07"], DATA, "U+0007"),
    (["enter", "harden", "tomato-1", "slowly"], USAGE, "a word too many"),
    (["enter", "bed", "bed-3"], USAGE, "`kailyard bed`"),
    (["enter", "clear", "bed-3"], THERE_IS_NONE, "no planting 'bed-3'"),
    (["enter", "rain", "7mm", "--puts-right", "nothing"], THERE_IS_NONE, "--puts-right: no entry 'nothing'"),
    (["withdraw", "nothing-of-the-kind"], THERE_IS_NONE, "no entry"),
    # the daybook
    (["daybook", "--planting", "pea-9"], THERE_IS_NONE, "pea-"),
    (["daybook", "--kind", "stga"], THERE_IS_NONE, "stage"),
    (["daybook", "--most", "0"], USAGE, "--most 0"),
    (["daybook", "--since", "2026-06-02", "--until", "2026-06-01"], USAGE, "lies after"),
    # weather
    (["weather", "nowhere.csv"], DATA, "nowhere.csv"),
    (["weather", "empty.csv"], DATA, "the file is empty"),
    (["weather", "binary.dat"], DATA, "binary.dat:1: no reader knows this form"),
    (["weather", "table.csv", "--columns", "date=day"], USAGE, "tmin, tmax"),
    (["weather", "--station", "X"], USAGE, "Which file?"),
    (["forecast", "2026-06-13", "7"], USAGE, "write the day, its low, its high"),
    (["forecast", "2026-06-13", "21", "7"], DATA, "lies above"),
    (["forecast", "2026-06-11", "7", "21"], DATA, "before the day of issue"),
    (["forecast", "2026-06-13", "7", "21mm"], USAGE, "TMAX: '21mm' is no number of °C"),
    (["forecast", "2026-06-13", "7", "21", "--file", "x.csv"], USAGE, "not both"),
    (["forecast", "--file", "half.csv"], DATA, "low or high is missing on 2026-06-14"),
    (["forecast", "--issued", "today"], USAGE, "--issued needs a forecast"),
    # what is asked
    (["sheet", "--days", "99"], USAGE, "1 to 31 days"),
    (["why", "pick/nothing-1"], THERE_IS_NONE, "Nearest"),
    (["stages", "tomato-9"], THERE_IS_NONE, "tomato-1"),
    (["handbook", "show", "sea-kale"], THERE_IS_NONE, "no crop 'sea-kale'"),
    (["handbook", "show", "pea", "colour"], THERE_IS_NONE, "says nothing of 'colour'"),
    (["handbook"], USAGE, "check | show | gaps"),
    # keeping
    (["demo", "garden"], CONFLICT, "There is a garden"),
    (["new", "Again", "--lat", "45", "--lon", "5"], CONFLICT, "There is a garden"),
    (["new", "Polar", "elsewhere", "--lat", "71", "--lon", "5"], USAGE, "--lat 71: degrees from -66 to 66"),
    (["new", "Nowhere", "elsewhere", "--lat", "45", "--lon", "5", "--zone", "Mars/Base"], USAGE, "time zone"),
    (["new", "", "elsewhere", "--lat", "45", "--lon", "5"], DATA, "name is empty"),
    (["garden", "--lat", "far"], USAGE, "--lat: 'far' is no number"),
    (["backup", "full"], CONFLICT, "full exists already"),
    (["restore", "full", "again"], THERE_IS_NONE, "There is no backup at full"),
    (["restore", "nowhere", "again"], THERE_IS_NONE, "There is no backup"),
    (["export", "table.csv"], CONFLICT, "table.csv exists already"),
    (["export", "no/such/folder/x.json"], DATA, "cannot be written"),
    (["import", "table.csv", "again"], DATA, "cannot be read"),
    (["import", "nowhere.json", "again"], DATA, "nowhere.json cannot be read"),
    # reckoning
    (["reckon", "day_lenght"], THERE_IS_NONE, "day_length_h"),
    (["reckon", "day_length_h", "latitude_deg=45"], USAGE, "day_of_year (1 to 366 d)"),
    (["reckon", "day_length_h", "latitude_deg=95", "day_of_year=1"], USAGE, "latitude_deg: 95 is outside -90 to 90 °"),
    (["reckon", "day_length_h", "latitude_deg=far", "day_of_year=1"], USAGE, "latitude_deg takes -90 to 90 °"),
    (["reckon", "day_length_h", "latidude=45"], USAGE, "Did you mean latitude_deg="),
    (["reckon", "day_length_h", "latitude_deg=1e999", "day_of_year=1"], USAGE, "latitude_deg"),
    (["reckon", "single", "tmin=1"], THERE_IS_NONE, "may be single_sine_degree_days or single_triangle_degree_days"),
    (["reckon", "simple", "tmin=@nowhere.csv:low", "tmax=9", "lower=3"], USAGE, "tmin_c takes -60 to 60 °C"),
    (["reckon", "simple", "tmin=@table.csv:lo", "tmax=9", "lower=3"], USAGE, "it has day, low, high"),
    (["reckon", "simple", "tmin=@binary.dat:low", "tmax=9", "lower=3"], USAGE, "binary.dat"),
    (["reckon", "simple", "tmin=1,2", "tmax=9,9,9", "lower=3"], USAGE, "tmin_c has 2 values, tmax_c has 3 values"),
    (["reckon", "simple", "tmin=3..1", "tmax=9", "lower=3"], USAGE, "a grid is written like tmin_c=20..30/2"),
    (["reckon", "simple", "tmin=1..3", "tmax=4..6", "lower=0..2"], USAGE, "one or two"),
]


@pytest.fixture
def beside(at_demo: Keyboard, tmp_path: Path) -> Keyboard:
    (tmp_path / "empty.csv").touch()
    (tmp_path / "binary.dat").write_bytes(bytes(range(256)))
    (tmp_path / "table.csv").write_text("day,low,high\n2026-06-01,7,21\n")
    (tmp_path / "half.csv").write_text("day,tmin,tmax\n2026-06-13,2,21\n2026-06-14,7,\n")
    (tmp_path / "full").mkdir()
    (tmp_path / "full" / "something").touch()
    return at_demo


@pytest.mark.parametrize(("words", "code", "says"), [pytest.param(*case, id=" ".join(case[0])) for case in REFUSED])
def test_wrong_words_are_refused_in_one_line_and_change_nothing(
    words: list[str], code: int, says: str, beside: Keyboard, tmp_path: Path
) -> None:
    before = {path: path.read_bytes() for path in sorted(tmp_path.rglob("*")) if path.is_file()}
    said = beside.type(*words)
    assert (said.code, said.out) == (code, ""), said.err
    assert says in said.err
    assert len(said.err.splitlines()) == 1
    assert said.err.startswith("kailyard: ")
    assert {path: path.read_bytes() for path in sorted(tmp_path.rglob("*")) if path.is_file()} == before


@pytest.mark.parametrize("words", [["sheet"], ["bed"], ["enter", "rain", "7mm"], ["verify"], ["export", "x.json"]])
def test_where_no_garden_lies_the_way_to_one_is_named(words: list[str], keyboard: Keyboard) -> None:
    said = keyboard.type(*words)
    assert said.code == THERE_IS_NONE
    assert "`kailyard new` makes one" in said.err
    assert not keyboard.folder.exists()


def test_every_bad_own_fact_is_named_by_line(at_demo: Keyboard) -> None:
    (at_demo.folder / "facts.csv").write_text(
        "subject,quantity,value,unit\npea,height_cm_max,tall,cm\npea,no_such_thing,1,cm\n", encoding="utf-8"
    )
    said = at_demo.type("handbook", "check")
    assert said.code == DATA
    assert "facts.csv:2:" in said.err
    assert "facts.csv:3:" in said.err


def test_a_damaged_table_is_found_and_made_anew(at_demo: Keyboard) -> None:
    import sqlite3

    with sqlite3.connect(at_demo.folder / "garden.db") as db:
        db.execute("DELETE FROM bed WHERE id = 'bed-3'")
    db.close()
    said = at_demo.type("verify")
    assert said.code == DATA
    assert "'bed' differs from the daybook at bed-3" in said.err
    assert "sound" in at_demo("verify", "--rebuild")
    assert "sound" in at_demo("verify")
