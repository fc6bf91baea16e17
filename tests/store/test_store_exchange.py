"""The whole garden out and in again: as JSON, and as a backup."""

from __future__ import annotations

import json
import re
from dataclasses import replace
from datetime import UTC, date, datetime
from pathlib import Path
from tempfile import TemporaryDirectory

import numpy as np
import pytest
from daybooks import GARDEN, daybooks
from hypothesis import given, settings
from hypothesis import strategies as st

from kailyard.errors import Conflict, DataError, KailyardError, NotFound
from kailyard.garden.model import Entry
from kailyard.store.backup import backup, restore
from kailyard.store.base import Issued, KeptNormals
from kailyard.store.exchange import (
    Exchange,
    ExchangedForecast,
    ExchangedHours,
    ExchangedWeather,
    export_garden,
    import_garden,
)
from kailyard.store.sql import SqlStore
from kailyard.store.sqlite import create_store, open_store
from kailyard.weather.hours import HOUR_COLUMNS, hour_number, hourly
from kailyard.weather.issued import IssuedForecast
from kailyard.weather.normals import Normals
from kailyard.weather.record import DailyRecord, SetAside

AT = datetime(2026, 6, 1, 9, tzinfo=UTC)
NAN = float("nan")
FORMAT = Path(__file__).resolve().parents[2] / "docs" / "reference" / "exchange-format.md"


def add_hours_and_forecasts(store: SqlStore, cells: np.ndarray) -> None:
    forecast = IssuedForecast("open-meteo", AT, AT.date(), AT.date(), cells, cells, cells, "whose")
    hours = np.arange(len(cells)) + hour_number(AT)
    id_ = store.add_forecast(forecast, kept=AT)
    store.add_hours(hourly(hours, {"temp_c": cells}, source="ahead"), imported=AT, forecast=id_)
    store.add_hours(hourly(hours, {"wind_m_s": cells}, source="own", wind_height_m=2.0), imported=AT, name="h")
    store.add_normals(Normals("X1", "1991-2020", (1.5,) * 12, (None,) * 12, (0.1,) * 12, "whose"), kept=AT)


def make(folder: Path, entries: list[Entry], column: list[float] | None = None) -> bytes:
    """A garden with everything in it; its export."""
    cells = np.array(column or [1.5, NAN, 0.1])
    aside = (SetAside(3, date(2026, 1, 1), "x\x00", "not a number"),)
    with create_store(folder, first=entries) as store:
        store.add_weather(
            DailyRecord(date(2026, 1, 1), cells, cells + 9, cells, "invented", aside), imported=AT, name="s"
        )
        store.add_weather(DailyRecord(date(2026, 2, 1), cells, cells, cells), imported=AT)
        store.keep_issued(Issued("kailyard.table/1", date(2026, 6, 1), date(2026, 5, 1), AT, "0.1.0", "f", '{"a": 1}'))
        add_hours_and_forecasts(store, cells)
        (folder / "facts.csv").write_bytes("crop,quantity\r\npea,🥕\n".encode())
        return export_garden(store)


@settings(max_examples=15, deadline=None)
@given(daybooks(), st.lists(st.floats(-90, 4000) | st.just(NAN), min_size=1, max_size=9))
def test_export_and_import_round_trip_exactly(entries: list[Entry], column: list[float]) -> None:
    with TemporaryDirectory() as place:
        out = make(Path(place) / "a", entries, column)
        import_garden(out, Path(place) / "b")
        with open_store(Path(place) / "a") as one, open_store(Path(place) / "b") as other:
            assert export_garden(other) == out
            assert other.garden == one.garden
            assert other.entries() == one.entries()
            assert other.issued() == one.issued()
            assert (other.beds(), other.plantings()) == (one.beds(), one.plantings())
            for mine, theirs in zip(one.kept_weather(), other.kept_weather(), strict=True):
                assert (mine.id, mine.name, mine.imported) == (theirs.id, theirs.name, theirs.imported)
                assert mine.record.tmin_c.tobytes() == theirs.record.tmin_c.tobytes()
            assert other.verify() == one.verify()
            assert other.weather_marks() == one.weather_marks()
            assert len(other.weather_marks()) == 3
            assert [k.forecast.tmin_c.tobytes() for k in other.forecasts()] == [
                k.forecast.tmin_c.tobytes() for k in one.forecasts()
            ]
            assert other.normals() == one.normals()
        assert (Path(place) / "a" / "facts.csv").read_bytes() == (Path(place) / "b" / "facts.csv").read_bytes()


def altered(**changes: object) -> bytes:
    empty = {
        "schema": "kailyard.garden/1",
        "garden": "g",
        "entries": [],
        "weather": [],
        "issued": [],
        "own_facts": None,
    }
    return json.dumps({**empty, **changes}).encode()


ENTRY = {
    "id": "a",
    "kind": "note",
    "version": 1,
    "happened": "2026-05-03",
    "written": "2026-05-03T08:00:00Z",
    "text": "x",
}


HOURS = {
    "name": "",
    "imported": "2026-05-03T08:00:00Z",
    "forecast": "",
    "source": "own",
    "first": "2026-05-03T08:00:00Z",
    "count": 2,
    "wind_height_m": 10.0,
    "columns": {"temp_c": [1, None]},
    "set_aside": [],
}
FORECAST = {
    "source": "nws",
    "issued": "2026-05-03T08:00:00Z",
    "kept": "2026-05-03T08:00:00Z",
    "on": "2026-05-03",
    "first": "2026-05-03",
    "tmin_c": [1],
    "tmax_c": [2],
    "rain_mm": [None],
    "credit": "",
}


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (b"", "cannot be read"),
        (b"\x00\xff" * 99, "cannot be read"),
        (b"[" * 100_000, "cannot be read"),
        (altered()[:-9], "cannot be read"),
        (b"[1, 2]", "found list"),
        (altered(schema="kailyard.garden/2"), "found 'kailyard.garden/2'"),
        (altered(rows=[]), "unknown field rows"),
        (altered(garden="../../etc"), "up to 32 letters and digits"),
        (altered(entries=[{**ENTRY, "happened": "3 May"}]), r"entries\[0\]\.happened"),
        (altered(entries=[{**ENTRY, "mood": 1}]), r"entries\[0\]: no field \['mood'\]"),
        (altered(entries=[{**ENTRY, "who": "a\x00"}]), r"Entry a .*U\+0000"),
        (altered(entries=[{**ENTRY, "written": "2026-05-03T08:00:00+02:00"}]), "must be in UTC"),
        (altered(entries=[ENTRY, {**ENTRY, "text": "y"}]), "Entry a is known with another text"),
        (altered(entries=[{**ENTRY, "kind": "rain"}]), "a quantity in mm is needed"),
        (altered(weather=[{}]), r"missing required field .*weather\[0\]"),
        (altered(hours=[{**HOURS, "count": 3}]), "columns of \\[2\\] hours where 3 are said"),
        (altered(hours=[{**HOURS, "columns": {"snow": [1, 2]}}]), "no column 'snow'"),
        (altered(forecasts=[{**FORECAST, "rain_mm": []}]), "its columns differ in length"),
        (altered(forecasts=[{**FORECAST, "snow": 1}]), "unknown field snow"),
    ],
)
def test_what_is_no_garden_is_refused_by_place_and_rule_and_nothing_is_made(
    content: bytes, says: str, tmp_path: Path
) -> None:
    with pytest.raises(KailyardError, match=says):
        import_garden(content, tmp_path / "g")
    assert list(tmp_path.iterdir()) == []


def test_the_format_page_names_every_field() -> None:
    page = FORMAT.read_text(encoding="utf-8")
    names = {*Exchange.__struct_fields__, *ExchangedWeather.__struct_fields__, *HOUR_COLUMNS}
    names |= {*ExchangedHours.__struct_fields__, *ExchangedForecast.__struct_fields__}
    for form in (Entry, Issued, SetAside, KeptNormals, Normals):
        names |= set(form.__dataclass_fields__)
    assert names <= set(re.findall(r"`(\w+)`", page))


def test_the_format_pages_example_can_be_imported(tmp_path: Path) -> None:
    (example,) = re.findall(r"```json\n(.*?)```", FORMAT.read_text(encoding="utf-8"), re.S)
    import_garden(example.encode(), tmp_path / "g")
    with open_store(tmp_path / "g") as store:
        assert store.verify() == ()
        assert json.loads(export_garden(store)) == json.loads(example)


def test_a_backup_restores_the_garden_as_it_was(tmp_path: Path) -> None:
    out = make(tmp_path / "g", [GARDEN])
    with open_store(tmp_path / "g") as busy:
        backup(tmp_path / "g", tmp_path / "copies" / "b1")
        busy.append([replace(GARDEN, id="later")])
    assert sorted(p.name for p in (tmp_path / "copies" / "b1").iterdir()) == ["backup.json", "facts.csv", "garden.db"]
    assert restore(tmp_path / "copies" / "b1", tmp_path / "again") == ()
    with open_store(tmp_path / "again") as store:
        assert export_garden(store) == out
    with pytest.raises(Conflict, match="exists already"):
        restore(tmp_path / "copies" / "b1", tmp_path / "g")
    with pytest.raises(Conflict, match="exists already"):
        backup(tmp_path / "g", tmp_path / "copies" / "b1")


def test_a_backup_that_was_altered_is_refused_and_nothing_is_made(tmp_path: Path) -> None:
    make(tmp_path / "g", [GARDEN])
    good = backup(tmp_path / "g", tmp_path / "b")
    for name, content, says in [
        ("facts.csv", b"pea", "facts.csv is missing or not as it was backed up"),
        ("garden.db", (good / "garden.db").read_bytes()[:-1], "garden.db is missing or not as"),
        ("backup.json", b"{}", "missing required field"),
        ("backup.json", b'{"schema":"kailyard.backup/1","garden":"g","files":{"../x":"0"}}', "names other files"),
        ("backup.json", b'{"schema":"kailyard.backup/9","garden":"g","files":{}}', "kailyard.backup/9"),
    ]:
        kept = (good / name).read_bytes()
        (good / name).write_bytes(content)
        with pytest.raises(DataError, match=re.escape(says).replace("required\\ field", "required field")):
            restore(good, tmp_path / "again")
        (good / name).write_bytes(kept)
    (good / "backup.json").unlink()
    with pytest.raises(NotFound, match="no backup at"):
        restore(good, tmp_path / "again")
    with pytest.raises(NotFound, match="There is no garden"):
        backup(tmp_path / "nowhere", tmp_path / "b2")
    assert sorted(p.name for p in tmp_path.iterdir()) == ["b", "g"]
