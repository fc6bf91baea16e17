"""A garden in a folder: `garden.db`, a SQLite database, and beside it `facts.csv`, the gardener's own facts.

The journal is SQLite's rollback journal, not a write-ahead log: between writes the whole garden is one file, so the
folder can be copied or carried on a stick. `synchronous=EXTRA` makes a commit wait for the disk and for the journal's
removal to reach the folder, so what was acknowledged survives `kill -9` and a power cut (SQLite documentation, PRAGMA
synchronous).
"""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Iterable
from contextlib import closing
from pathlib import Path
from typing import Any
from uuid import uuid4

from sqlalchemy import Connection, Engine, NullPool, create_engine, event, insert

from kailyard.errors import Conflict, NotFound
from kailyard.garden.model import Entry
from kailyard.store import schema
from kailyard.store.base import StoreError
from kailyard.store.sql import WRITES, SqlStore
from kailyard.store.trouble import told

DATABASE = "garden.db"
OWN_FACTS = "facts.csv"
WAIT_S = 5.0
"""How long a write waits for another program's to end. [s]"""


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
    if not path.is_file():
        raise NotFound(f"There is no garden at {folder}. `kailyard new` makes one.")
    number, garden = _read_head(folder, path)
    if number > schema.NUMBER:
        raise StoreError(
            f"The garden at {folder} was written by a newer Kailyard (its tables are in state {number}, this program "
            f"knows {schema.NUMBER}). Use the newer program; nothing was changed."
        )
    if number < schema.NUMBER:
        from kailyard.store.migrate import migrate

        with told(folder):
            migrate(path, _engine(path, wait_s), number)
    return SqlStore(_engine(path, wait_s), garden=garden, folder=folder)


def connect(path: Path, wait_s: float = WAIT_S) -> sqlite3.Connection:
    """A bare connection to a database that exists; it leaves beginning and ending transactions to its user."""
    uri = f"{path.absolute().as_uri()}?mode=rw"
    db = sqlite3.connect(uri, uri=True, timeout=wait_s, isolation_level=None, check_same_thread=False)
    db.execute("PRAGMA synchronous=EXTRA")
    return db


def sync_folder(folder: Path) -> None:
    """Make a renaming in `folder` survive a power cut, where the system can."""
    if os.name == "posix":
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def _engine(path: Path, wait_s: float) -> Engine:
    engine = create_engine("sqlite://", creator=lambda: connect(path, wait_s), poolclass=NullPool)

    @event.listens_for(engine, "begin")
    def _begin(db: Connection) -> None:
        db.exec_driver_sql("BEGIN IMMEDIATE" if db.get_execution_options().get(WRITES) else "BEGIN")

    return engine


def _read_head(folder: Path, path: Path) -> tuple[int, str]:
    """Number of the tables' state and the garden's identifier, read without SQLAlchemy's or Alembic's help."""
    with told(folder), closing(connect(path)) as db:
        number: Any = db.execute("SELECT version_num FROM alembic_version").fetchone()
        garden: Any = db.execute("SELECT id FROM garden").fetchone()
    if not number or not garden or not str(number[0]).isdigit():
        raise StoreError(f"The garden at {folder}: its database names no state of its tables. Restore a backup.")
    return int(number[0]), str(garden[0])
