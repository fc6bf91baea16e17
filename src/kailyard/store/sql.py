"""A store in any SQL database, through SQLAlchemy Core. What only SQLite has stands in `sqlite.py`."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import fields
from datetime import date, datetime
from pathlib import Path
from types import TracebackType
from typing import Any, Self, TypeVar

import msgspec
from sqlalchemy import Connection, Engine, Table, delete, insert, select

from kailyard.errors import Conflict, DataError
from kailyard.garden.identifiers import require_name
from kailyard.garden.kinds import check_entry
from kailyard.garden.model import Bed, Cultivar, Entry, Planting
from kailyard.garden.project import DEFINING, Things, define, standing
from kailyard.store import codec
from kailyard.store import schema as tables
from kailyard.store.base import Issued, WeatherImport
from kailyard.store.hourly_sql import HourlyTables
from kailyard.store.trouble import told
from kailyard.weather.record import DailyRecord, FloatArray

WRITES = "kailyard_writes"
"""Execution option of a connection that is about to write: it takes the writer's lock at once."""
PROJECTIONS = {"bed": tables.bed, "cultivar": tables.cultivar, "planting": tables.planting}

_CHUNK = 500
_THINGS = {"bed": Bed, "cultivar": Cultivar, "planting": Planting}
_ENTRY = [tables.entry.c[name] for name in codec.ENTRY_COLUMNS]
_Thing = TypeVar("_Thing", Bed, Cultivar, Planting)


class SqlStore(HourlyTables):
    """One garden in a database that `engine` reaches. `base.Store` says what each method promises."""

    def __init__(self, engine: Engine, *, garden: str, folder: Path) -> None:
        self.garden = garden
        self.folder = folder
        self._engine = engine
        self._writing = engine.execution_options(**{WRITES: True})

    def append(self, entries: Iterable[Entry]) -> int:
        """Keep `entries`, all or none; how many were new."""
        batch = _checked(entries)
        with self.writing() as db:
            known = self._known(db, list(batch))
            _refuse_conflicts(known, batch)
            new = [entry for id_, entry in batch.items() if id_ not in known]
            if new:
                db.execute(insert(tables.entry), [{"garden": self.garden, **codec.entry_row(e)} for e in new])
            if any(e.kind in DEFINING or e.supersedes for e in new):
                self.write_projections(db)
        return len(new)

    def entries(self, as_known: datetime | None = None) -> tuple[Entry, ...]:
        """Every entry written by `as_known`, in order."""
        query = select(*_ENTRY).where(self._own(tables.entry))
        if as_known is not None:
            query = query.where(tables.entry.c.written <= codec.latest(as_known))
        order = (tables.entry.c.happened, tables.entry.c.written, tables.entry.c.id)
        with self.reading() as db:
            return tuple(map(codec.entry_of, db.execute(query.order_by(*order))))

    def known(self, ids: Sequence[str]) -> Mapping[str, Entry]:
        """Those entries among `ids` that are kept, by identifier."""
        with self.reading() as db:
            return self._known(db, ids)

    def find(self, target: str) -> Bed | Planting | None:
        """The bed or planting called `target` as it stands now."""
        planting, bed = tables.planting.c, tables.bed.c
        with self.reading() as db:
            query = select(planting.body).where(self._own(tables.planting), planting.id == target)
            if (body := db.execute(query).scalar()) is not None:
                return msgspec.json.decode(body, type=Planting)
            body = db.execute(select(bed.body).where(self._own(tables.bed), bed.id == target)).scalar()
            return None if body is None else msgspec.json.decode(body, type=Bed)

    def beds(self) -> Mapping[str, Bed]:
        """Beds as they stand now, by identifier."""
        return {bed.id: bed for bed in self._things(tables.bed, Bed)}

    def cultivars(self) -> Mapping[tuple[str, str], Cultivar]:
        """Cultivars as they stand now, by (crop, name)."""
        return {(c.crop, c.name): c for c in self._things(tables.cultivar, Cultivar)}

    def plantings(self) -> Mapping[str, Planting]:
        """Plantings as they stand now, by identifier."""
        return {planting.id: planting for planting in self._things(tables.planting, Planting)}

    def add_weather(self, record: DailyRecord, *, imported: datetime, name: str = "") -> bool:
        """Keep a weather record; False where just this one is kept already."""
        plain = codec.plain_record(record)
        try:
            require_name("the name of a weather record", name, empty=True)
        except ValueError as err:
            raise DataError(str(err)) from None
        head = {"name": name, "source": plain.source, "first": plain.first.isoformat()}
        head["set_aside"] = codec.to_json(plain.set_aside)
        columns = {column: getattr(plain, column) for column in codec.WEATHER_COLUMNS}
        id_ = codec.record_id(head, columns)
        row = {**head, "garden": self.garden, "id": id_, "imported": codec.moment(imported), "days": len(plain)}
        with self.writing() as db:
            if self._has(db, tables.weather, id_):
                return False
            db.execute(insert(tables.weather), row)
            for column, values in columns.items():
                encoding, cells = codec.pack(values)
                row = {"garden": self.garden, "weather": id_, "name": column, "encoding": encoding, "cells": cells}
                db.execute(insert(tables.weather_column), row)
        return True

    def weather_imports(self, as_known: datetime | None = None) -> tuple[DailyRecord, ...]:
        """Records imported by `as_known`, earliest import first."""
        return tuple(kept.record for kept in self.kept_weather(as_known))

    def weather_ids(self) -> tuple[str, ...]:
        """Identifiers of the records imported, earliest import first."""
        head = tables.weather
        with self.reading() as db:
            query = select(head.c.id).where(self._own(head)).order_by(head.c.imported, head.c.id)
            return tuple(db.execute(query).scalars())

    def kept_weather(self, as_known: datetime | None = None) -> tuple[WeatherImport, ...]:
        """The same with name and time of import."""
        with self.reading() as db:
            return tuple(_weather_import(head, cells) for head, cells in self.weather_rows(db, as_known))

    def keep_issued(self, document: Issued) -> bool:
        """Keep a document as issued; False where the same one is kept already."""
        row = codec.issued_row(document)
        with self.writing() as db:
            if self._has(db, tables.issued, row["id"]):
                return False
            db.execute(insert(tables.issued), {"garden": self.garden, **row})
        return True

    def issued(self, *, schema: str = "", as_known: datetime | None = None) -> tuple[Issued, ...]:
        """Documents kept, in the order they were made; of one schema, made by `as_known`."""
        table = tables.issued
        query = select(*[table.c[name] for name in codec.ISSUED_COLUMNS]).where(self._own(table))
        if schema:
            query = query.where(table.c.schema == schema)
        if as_known is not None:
            query = query.where(table.c.made_at <= codec.latest(as_known))
        with self.reading() as db:
            return tuple(map(codec.issued_of, db.execute(query.order_by(table.c.made_at, table.c.id))))

    def verify(self) -> tuple[str, ...]:
        """Everything wrong or odd with what is kept, one line each."""
        from kailyard.store.verify import problems

        return problems(self)

    def rebuild(self) -> None:
        """Make the tables of beds, cultivars and plantings anew from the entries."""
        with self.writing() as db:
            for table in PROJECTIONS.values():
                db.execute(delete(table).where(self._own(table)))
            self.write_projections(db)

    def close(self) -> None:
        """Let go of the database."""
        self._engine.dispose()

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    @contextmanager
    def reading(self) -> Iterator[Connection]:
        """A connection that sees one state of the database; StoreError where it cannot be read."""
        with told(self.folder), self._engine.begin() as db:
            yield db

    @contextmanager
    def writing(self) -> Iterator[Connection]:
        """A connection that alone may write; what it wrote is kept when this ends, or not at all."""
        with told(self.folder), self._writing.begin() as db:
            yield db

    def write_projections(self, db: Connection) -> None:
        """Bring the tables of beds, cultivars and plantings to what the entries say, touching only rows that differ."""
        wanted, there = self.projected(db), self.projections(db)
        for name, table in PROJECTIONS.items():
            keys = [c.name for c in table.primary_key if c.name != "garden"]
            want, have = wanted[name], there[name]
            for key in have:
                if want.get(key) != have[key]:
                    same = [table.c[column] == value for column, value in zip(keys, key, strict=True)]
                    db.execute(delete(table).where(self._own(table), *same))
            new = [
                {"garden": self.garden, **dict(zip(keys, key, strict=True)), "body": body, "entry": entry}
                for key, (body, entry) in want.items()
                if have.get(key) != (body, entry)
            ]
            if new:
                db.execute(insert(table), new)

    def projected(self, db: Connection) -> dict[str, dict[tuple[str, ...], tuple[str, str]]]:
        """What the entries say the projections hold: by table, key -> (body, entry)."""
        e = tables.entry
        defining = db.execute(select(*_ENTRY).where(self._own(e), e.c.kind.in_(DEFINING)))
        named = set(db.execute(select(e.c.supersedes).where(self._own(e), e.c.supersedes != "")).scalars())
        return _bodies(define(standing(d for d in map(codec.entry_of, defining) if d.id not in named)))

    def projections(self, db: Connection) -> dict[str, dict[tuple[str, ...], tuple[str, str]]]:
        """What the tables hold, in the same form."""
        found = {}
        for name, table in PROJECTIONS.items():
            keys = [c for c in table.primary_key if c.name != "garden"]
            rows = db.execute(select(*keys, table.c.body, table.c.entry).where(self._own(table)))
            found[name] = {tuple(row[:-2]): (_as_now(name, row[-2]), row[-1]) for row in rows}
        return found

    def weather_rows(
        self, db: Connection, as_known: datetime | None = None
    ) -> Iterator[tuple[Mapping[Any, Any], dict[str, FloatArray]]]:
        """Weather as stored: the import's own row, and its columns by name. DataError where a column cannot be read."""
        head, column = tables.weather, tables.weather_column
        query = select(head).where(self._own(head)).order_by(head.c.imported, head.c.id)
        if as_known is not None:
            query = query.where(head.c.imported <= codec.latest(as_known))
        for row in db.execute(query).mappings().all():
            own = select(column).where(self._own(column), column.c.weather == row["id"])
            try:
                cells = {c.name: codec.unpack(c.encoding, c.cells, row["days"]) for c in db.execute(own)}
            except DataError as err:
                raise DataError(f"{_import_words(row)}: {err}. Restore a backup.") from None
            yield row, cells

    def _known(self, db: Connection, ids: Sequence[str]) -> dict[str, Entry]:
        found: dict[str, Entry] = {}
        for start in range(0, len(ids), _CHUNK):
            query = select(*_ENTRY).where(self._own(tables.entry), tables.entry.c.id.in_(ids[start : start + _CHUNK]))
            found |= {e.id: e for e in map(codec.entry_of, db.execute(query))}
        return found

    def _things(self, table: Table, thing: type[_Thing]) -> list[_Thing]:
        keys = [c for c in table.primary_key if c.name != "garden"]
        with self.reading() as db:
            rows = db.execute(select(table.c.body).where(self._own(table)).order_by(*keys)).scalars()
            return [msgspec.json.decode(body, type=thing) for body in rows]


def _checked(entries: Iterable[Entry]) -> dict[str, Entry]:
    """The batch by identifier; DataError naming every faulty one, Conflict where one identifier has two bodies."""
    batch: dict[str, Entry] = {}
    problems: list[str] = []
    for entry in entries:
        try:
            check_entry(entry)
        except DataError as err:
            problems.extend(err.problems)
            continue
        if batch.setdefault(entry.id, entry) != entry:
            _refuse_conflicts(batch, {entry.id: entry})
    if problems:
        raise DataError(problems)
    return batch


def _refuse_conflicts(known: Mapping[str, Entry], batch: Mapping[str, Entry]) -> None:
    lines = []
    for id_, old in known.items():
        new = batch.get(id_)
        if new is not None and new != old:
            differ = [f.name for f in fields(Entry) if getattr(new, f.name) != getattr(old, f.name)]
            lines.append(f"Entry {id_} is known with another {', '.join(differ)}. Nothing of this batch was kept.")
    if lines:
        raise Conflict("\n".join(lines))


def _as_now(name: str, body: str) -> str:
    """The body as this program writes it: fields added since have their defaults. Itself where it cannot be read."""
    try:
        return codec.to_json(msgspec.json.decode(body, type=_THINGS[name]))
    except msgspec.MsgspecError:
        return body


def _bodies(things: Things) -> dict[str, dict[tuple[str, ...], tuple[str, str]]]:
    by = things.defined_by
    return {
        "bed": {(i,): (codec.to_json(bed), by["bed", i]) for i, bed in things.beds.items()},
        "cultivar": {key: (codec.to_json(c), by["cultivar", *key]) for key, c in things.cultivars.items()},
        "planting": {(i,): (codec.to_json(p), by["planting", i]) for i, p in things.plantings.items()},
    }


def _weather_import(head: Mapping[Any, Any], cells: Mapping[str, FloatArray]) -> WeatherImport:
    own = {name: cells[name] for name in codec.WEATHER_COLUMNS if name in cells}
    try:
        set_aside = codec.set_aside_of(head["set_aside"])
        record = DailyRecord(date.fromisoformat(head["first"]), **own, source=head["source"], set_aside=set_aside)
    except (TypeError, ValueError, msgspec.DecodeError) as err:
        raise DataError(f"{_import_words(head)}: {err}. Restore a backup.") from None
    return WeatherImport(head["id"], head["name"], datetime.fromisoformat(head["imported"]), record)


def _import_words(head: Mapping[Any, Any]) -> str:
    return f"The weather import of {head['imported']} ('{head['source']}')"
