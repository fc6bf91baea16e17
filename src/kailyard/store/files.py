"""The garden's folder: its files, bare connections to its database, changes that are whole or not at all."""

from __future__ import annotations

import os
import shutil
import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path
from uuid import uuid4

from kailyard.errors import Conflict, NotFound
from kailyard.store.base import StoreError
from kailyard.store.trouble import told

DATABASE = "garden.db"
OWN_FACTS = "facts.csv"
WAIT_S = 5.0
"""How long a write waits for another program's to end. [s]"""


def connect(path: Path, wait_s: float = WAIT_S) -> sqlite3.Connection:
    """A bare connection to a database that exists; it leaves beginning and ending transactions to its user."""
    uri = f"{path.absolute().as_uri()}?mode=rw"
    db = sqlite3.connect(uri, uri=True, timeout=wait_s, isolation_level=None, check_same_thread=False)
    db.execute("PRAGMA synchronous=EXTRA")
    return db


def read_head(folder: Path) -> tuple[int, str]:
    """Number of the tables' state and identifier of the garden in `folder`, read without SQLAlchemy or Alembic.

    Raises NotFound where there is no garden, StoreError where its database is none or is damaged.
    """
    path = folder / DATABASE
    if not path.is_file():
        raise NotFound(f"There is no garden at {folder.resolve()}. `kailyard new` makes one.")
    with told(folder), closing(connect(path)) as db:
        number = db.execute("SELECT version_num FROM alembic_version").fetchone()
        garden = db.execute("SELECT id FROM garden").fetchone()
    if not number or not garden or not str(number[0]).isdecimal():
        raise StoreError(f"The garden at {folder}: its database names no state of its tables. Restore a backup.")
    return int(number[0]), str(garden[0])


def copy_database(path: Path, to: Path) -> None:
    """A whole copy of the SQLite database at `path`, even while another program writes it; `to` appears complete."""
    part = to.with_name(f".{to.name}.{uuid4().hex}")
    try:
        part.touch()
        with closing(connect(path)) as source, closing(connect(part)) as copy:
            source.backup(copy)
        os.replace(part, to)
        sync_folder(to.parent)
    finally:
        part.unlink(missing_ok=True)


@contextmanager
def new_folder(folder: Path) -> Iterator[Path]:
    """A folder to fill; when this ends well it stands as `folder`, else nothing is left of it.

    Raises Conflict where `folder` exists and is not empty, StoreError where nothing can be written there.
    """
    if folder.exists() and not (folder.is_dir() and not any(folder.iterdir())):
        raise Conflict(f"{folder} exists already. Choose another place; nothing was changed.")
    part = folder.with_name(f".{folder.name}.{uuid4().hex}")
    try:
        part.mkdir(parents=True)
        yield part
        if folder.exists():
            folder.rmdir()
        part.rename(folder)
        sync_folder(folder.parent)
    except OSError as err:
        raise StoreError(f"{folder} cannot be written: {err.strerror or err}. Choose another place.") from err
    finally:
        shutil.rmtree(part, ignore_errors=True)


def write_file(path: Path, content: bytes) -> None:
    """Write a new file and wait until the disk has it."""
    with path.open("xb") as out:
        out.write(content)
        out.flush()
        os.fsync(out.fileno())


def sync_folder(folder: Path) -> None:
    """Make a renaming in `folder` survive a power cut, where the system can."""
    if os.name == "posix":
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
