"""Every released state of the tables opens, losing nothing. A state is a dump, made when it was current."""

from __future__ import annotations

import sqlite3
import subprocess
import sys
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

import pytest
from alembic.script import ScriptDirectory
from sqlalchemy import create_engine, inspect

from kailyard.store import schema
from kailyard.store.base import StoreError
from kailyard.store.migrate import config
from kailyard.store.sql import SqlStore
from kailyard.store.sqlite import create_store, open_store

STATES = sorted((Path(__file__).parent / "states").glob("*.sql"))


def load(state: Path, folder: Path) -> None:
    with closing(sqlite3.connect(folder / "garden.db")) as db:
        db.executescript(state.read_text(encoding="utf-8"))


def tables_of(path: Path) -> dict[str, object]:
    engine = create_engine(f"sqlite:///{path}")
    there = inspect(engine)
    found = {
        name: (
            [(c["name"], str(c["type"]), c["nullable"], c["default"]) for c in there.get_columns(name)],
            there.get_pk_constraint(name)["constrained_columns"],
            sorted((i["name"], tuple(i["column_names"])) for i in there.get_indexes(name)),
        )
        for name in there.get_table_names()
    }
    engine.dispose()
    return found


def test_there_is_a_dump_of_every_state_and_one_line_of_steps() -> None:
    numbers = [f"{n:04d}" for n in range(1, schema.NUMBER + 1)]
    assert [s.stem for s in STATES] == numbers
    steps = ScriptDirectory.from_config(config())
    assert [r.revision for r in steps.walk_revisions()] == numbers[::-1]
    assert steps.get_heads() == [numbers[-1]]


@pytest.mark.parametrize("state", STATES, ids=lambda s: s.stem)
def test_a_released_state_opens_with_all_that_was_in_it(state: Path, tmp_path: Path) -> None:
    load(state, tmp_path)
    with open_store(tmp_path) as store:
        assert store.verify() == ()
        entries = store.entries()
        assert [e.id for e in entries] == ["a1", "a2", "a3", "a4", "a5", "a6", "a7", "a8"]
        assert (entries[4].text, entries[4].quantity) == ("Wet ground;\nhalf a row flooded.", 150.0)
        assert entries[7].payload == {"phase": [1, 2.5, None, True, "full"]}
        assert store.beds()["bed-1"].name == 'The "long" bed 🥕'
        assert store.cultivars()["pea", "O'Grey"].resistance == ("F",)
        assert store.plantings()["pea-1"].count == 120
        (weather,) = store.kept_weather()
        assert (weather.name, weather.record.tmax_c.tolist()) == ("station", [4.0, 5.5, 1 / 3])
        assert len(store.issued()) == (state.stem >= "0002")
        check_hours_and_forecasts(store, kept=state.stem >= "0003")
        assert store.append([]) == 0
    create_store(tmp_path / "fresh").close()
    assert tables_of(tmp_path / "garden.db") == tables_of(tmp_path / "fresh" / "garden.db")


def check_hours_and_forecasts(store: SqlStore, *, kept: bool) -> None:
    if not kept:
        assert (store.weather_marks(), store.forecasts(), store.normals()) == ((), (), ())
        return
    (forecast,) = store.forecasts()
    assert (forecast.forecast.source, forecast.forecast.tmin_c.tolist()) == ("open-meteo", [4.0, 5.5])
    at = datetime(2026, 6, 12, 3, tzinfo=UTC)
    (ahead,) = store.hours(at, at, forecast=forecast.id)
    assert ahead.record.temp_c.tolist() == [4, 5, 6]
    (own,) = store.hours(datetime(2026, 6, 11, 23, tzinfo=UTC), at)
    assert own.record.wind_m_s.tolist() == [1, 2, 3]
    assert own.record.set_aside[0].rule == "not a number"
    assert store.normals()[0].normals.rain_mm[0] == 50.0


@pytest.mark.parametrize("state", STATES[:-1], ids=lambda s: s.stem)
def test_a_copy_is_left_as_it_was_before(state: Path, tmp_path: Path) -> None:
    load(state, tmp_path)
    before = list(sqlite_dump(tmp_path / "garden.db"))
    open_store(tmp_path).close()
    assert list(sqlite_dump(tmp_path / f"garden.db.before-{schema.NUMBER:04d}")) == before
    assert len(list(tmp_path.iterdir())) == 2


def test_a_step_that_fails_changes_nothing(tmp_path: Path) -> None:
    load(STATES[0], tmp_path)
    with closing(sqlite3.connect(tmp_path / "garden.db")) as db:
        db.execute("CREATE TABLE issued (stray TEXT)")  # stands in the way of the second step
    before = list(sqlite_dump(tmp_path / "garden.db"))
    with pytest.raises(StoreError, match="table issued already exists"):
        open_store(tmp_path)
    assert list(sqlite_dump(tmp_path / "garden.db")) == before


def test_alembic_is_imported_only_to_migrate(tmp_path: Path) -> None:
    create_store(tmp_path / "g").close()
    code = (
        "import sys; from pathlib import Path; from kailyard.store.sqlite import open_store;"
        f"s = open_store(Path({str(tmp_path / 'g')!r})); s.entries(); s.weather_imports(); s.close();"
        "print(sorted({m.partition('.')[0] for m in sys.modules} & {'alembic', 'scipy', 'pandas'}))"
    )
    done = subprocess.run([sys.executable, "-c", code], check=True, capture_output=True, text=True)
    assert done.stdout.strip() == "[]"


def sqlite_dump(path: Path) -> list[str]:
    with closing(sqlite3.connect(path)) as db:
        return list(db.iterdump())
