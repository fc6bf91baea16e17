"""Is what is kept sound? Every problem and oddity of a store, one line each."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from sqlalchemy import inspect, select

from kailyard.errors import DataError
from kailyard.garden.kinds import check_entry
from kailyard.garden.project import doubts
from kailyard.store import codec, hourly_codec, schema
from kailyard.store.sql import PROJECTIONS, SqlStore


def problems(store: SqlStore) -> tuple[str, ...]:
    """See `Store.verify`. What cannot be read stops the checks that lean on it."""
    if damage := _damage(store):
        return damage
    found = [*_schema(store)]
    try:
        entries = store.entries()
    except DataError as err:
        return (*found, *err.problems)
    for entry in entries:
        try:
            check_entry(entry)
        except DataError as err:
            found.extend(err.problems)
    found.extend(doubts(entries))
    found.extend(_projections(store))
    found.extend(_weather(store))
    found.extend(_hours(store))
    found.extend(_forecasts(store))
    found.extend(_issued(store))
    return tuple(found)


def _damage(store: SqlStore) -> tuple[str, ...]:
    """What the database itself finds wrong with its file; SQLite only."""
    with store.reading() as db:
        if db.dialect.name != "sqlite":
            return ()
        said = db.exec_driver_sql("PRAGMA integrity_check(20)").scalars()
        return tuple(f"The database file is damaged: {line}. Restore a backup." for line in said if line != "ok")


def _schema(store: SqlStore) -> list[str]:
    found = []
    with store.reading() as db:
        there = inspect(db)
        names = set(there.get_table_names())
        for table in schema.metadata.sorted_tables:
            if table.name not in names:
                found.append(f"The table '{table.name}' is missing.")
                continue
            have = {c["name"] for c in there.get_columns(table.name)}
            if have != set(table.columns.keys()):
                found.append(f"The table '{table.name}' has other columns than this program made: {sorted(have)}.")
    return found


def _projections(store: SqlStore) -> list[str]:
    with store.reading() as db:
        try:
            wanted = store.projected(db)
        except DataError as err:
            return list(err.problems)
        there = store.projections(db)
    return [
        f"The table '{name}' differs from the daybook at {' '.join(key)}. Rebuild the tables from it."
        for name in PROJECTIONS
        for key in sorted(wanted[name].keys() | there[name].keys())
        if wanted[name].get(key) != there[name].get(key)
    ]


def _weather(store: SqlStore) -> list[str]:
    with store.reading() as db:
        try:
            return [
                f"The weather import '{head['source']}' is not what was imported. Restore a backup or import it again."
                for head, columns in store.weather_rows(db)
                if codec.record_id(head, columns) != head["id"]
            ]
        except DataError as err:
            return list(err.problems)


def _issued(store: SqlStore) -> list[str]:
    with store.reading() as db:
        columns = [schema.issued.c[name] for name in ("id", *codec.ISSUED_COLUMNS)]
        rows = db.execute(select(*columns).where(schema.issued.c.garden == store.garden)).all()
    found = []
    for id_, *row in rows:
        try:
            document = codec.issued_of(row)
            sound = codec.issued_row(document)["id"] == id_
        except (DataError, ValueError):
            sound = False
        if not sound:
            found.append(
                f"The document issued {row[3]} ({row[0]} for {row[1]}) is not what was issued. Restore a backup."
            )
    return found


def _hours(store: SqlStore) -> list[str]:
    with store.reading() as db:
        try:
            return [
                f"{hourly_codec.hours_words(head)} is not what was read. Restore a backup or read it again."
                for head, columns in store.hour_rows(db)
                if hourly_codec.hours_id(head, columns) != head["id"]
            ]
        except DataError as err:
            return list(err.problems)


def _forecasts(store: SqlStore) -> list[str]:
    with store.reading() as db:
        forecasts = db.execute(
            select(schema.issued_forecast).where(schema.issued_forecast.c.garden == store.garden)
        ).mappings()
        normals = db.execute(select(schema.normals).where(schema.normals.c.garden == store.garden)).mappings()
        rows = [(f"The forecast issued {row['issued']}", row, _forecast_again) for row in forecasts]
        rows += [(f"Normals kept {row['kept']}", row, _normals_again) for row in normals]
    found = []
    for words, row, again in rows:
        try:
            sound = again(row) == row["id"]
        except (DataError, ValueError):
            sound = False
        if not sound:
            found.append(f"{words}: not what came here. Restore a backup.")
    return found


def _forecast_again(row: Mapping[Any, Any]) -> str:
    kept = hourly_codec.forecast_of(row)
    return str(hourly_codec.forecast_row(kept.forecast, kept=kept.kept)["id"])


def _normals_again(row: Mapping[Any, Any]) -> str:
    kept = hourly_codec.normals_of(row)
    return str(hourly_codec.normals_row(kept.normals, kept=kept.kept)["id"])
