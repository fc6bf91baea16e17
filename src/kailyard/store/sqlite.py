"""A garden in a folder: `garden.db`, a SQLite database, and beside it `facts.csv`, the gardener's own facts.

The journal is SQLite's rollback journal, not a write-ahead log: between writes the whole garden is one file, so the
folder can be copied or carried on a stick. `synchronous=EXTRA` makes a commit wait for the disk and for the journal's
removal to reach the folder, so what was acknowledged survives `kill -9` and a power cut (SQLite documentation, PRAGMA
synchronous).
"""

from __future__ import annotations

import os
from collections.abc import Iterable
from pathlib import Path
from uuid import uuid4

from sqlalchemy import Connection, Engine, NullPool, create_engine, event, insert

from kailyard.errors import Conflict
from kailyard.garden.model import Entry
from kailyard.store import schema
from kailyard.store.base import StoreError
from kailyard.store.files import DATABASE, WAIT_S, connect, read_head, sync_folder
from kailyard.store.sql import WRITES, SqlStore
from kailyard.store.trouble import told


def create_store(folder: Path, *, first: Iterable[Entry] = (), garden: str | None = None) -> SqlStore:
    """A new garden in `folder` (made if need be) with its first entries: there whole, or not at all.

    Raises Conflict where a garden lies there already, StoreError where nothing can be written there.
    """
    path = folder / DATABASE
    if path.exists():
        raise Conflict(f"There is a garden at {folder} already. Choose another folder; nothing was changed.")
    part = folder / f".{DATABASE}.{uuid4().hex}"
    try:
        folder.mkdir(parents=True, exist_ok=True)
        part.touch(exist_ok=False)
    except OSError as err:
        raise StoreError(f"No garden can be made at {folder}: {err.strerror}. Choose another folder.") from err
    try:
        with told(folder), SqlStore(_engine(part, WAIT_S), garden=garden or uuid4().hex, folder=folder) as store:
            with store.writing() as db:
                schema.metadata.create_all(db)
                db.execute(insert(schema.version), {"version_num": f"{schema.NUMBER:04d}"})
                db.execute(insert(schema.garden), {"id": store.garden})
            store.append(first)
        os.replace(part, path)
        sync_folder(folder)
    finally:
        part.unlink(missing_ok=True)
    return open_store(folder)


def open_store(folder: Path, *, wait_s: float = WAIT_S) -> SqlStore:
    """The garden in `folder`. Tables of an older program are brought up first, with a copy made before.

    Raises NotFound where there is none, StoreError where it is damaged or a newer program made it.
    """
    path = folder / DATABASE
    number, garden = read_head(folder)
    if number > schema.NUMBER:
        raise StoreError(
            f"The garden at {folder} was written by a newer Kailyard (its tables are in state {number}, this program "
            f"knows {schema.NUMBER}). Use the newer program; nothing was changed."
        )
    if number < schema.NUMBER:
        from kailyard.store.migrate import migrate

        with told(folder):
            migrate(path, _engine(path, wait_s))
    return SqlStore(_engine(path, wait_s), garden=garden, folder=folder)


def _engine(path: Path, wait_s: float) -> Engine:
    engine = create_engine("sqlite://", creator=lambda: connect(path, wait_s), poolclass=NullPool)

    @event.listens_for(engine, "begin")
    def _begin(db: Connection) -> None:
        db.exec_driver_sql("BEGIN IMMEDIATE" if db.get_execution_options().get(WRITES) else "BEGIN")

    return engine
