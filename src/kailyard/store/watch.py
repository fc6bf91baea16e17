"""Whether anything in a garden's database has changed, told in microseconds.

SQLite's own `PRAGMA data_version` answers it: two readings on one connection differ where another connection, of this
program or of another, has committed in between (SQLite documentation, PRAGMA data_version). The store opens a new
connection for each of its transactions, so all of its writes are seen.
"""

from __future__ import annotations

import os
import sqlite3
from pathlib import Path
from threading import Lock

from kailyard.errors import NotFound
from kailyard.store.files import DATABASE, connect
from kailyard.store.trouble import told

State = tuple[int, ...]
"""Equal states: nothing was committed in between."""


class Watch:
    """Looks at one garden's database. May be asked from any thread."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        self._lock = Lock()
        self._db: sqlite3.Connection | None = None
        self._file: tuple[int, int] | None = None
        self._opened = 0

    def state(self) -> State:
        """Changes with every commit, and where another file has taken the database's place.

        Raises NotFound where there is no database, StoreError where it cannot be read.
        """
        path = self._folder / DATABASE
        with self._lock, told(self._folder):
            try:
                found = os.stat(path)
            except FileNotFoundError:
                self._forget()
                raise NotFound(f"There is no garden at {self._folder.resolve()}. `kailyard new` makes one.") from None
            file = (found.st_dev, found.st_ino)
            if self._db is None or file != self._file:
                self._forget()
                self._db, self._file = connect(path), file
                self._opened += 1
            version = self._db.execute("PRAGMA data_version").fetchone()[0]
            return (self._opened, int(version))

    def close(self) -> None:
        """Let go of the database."""
        with self._lock:
            self._forget()

    def _forget(self) -> None:
        if self._db is not None:
            self._db.close()
        self._db = self._file = None
