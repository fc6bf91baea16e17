"""Names, passphrases' hashes and sessions: `people.db` beside the garden's own database, and in no export.

Nothing here is the garden's record, so it lies apart and is kept by `sqlite3` alone: it is asked at every request, and
two tables read by key need no more. The file can be deleted: then nobody has a name and the door is as new.
"""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from dataclasses import astuple, dataclass, fields
from datetime import datetime
from pathlib import Path
from typing import Any, TypeVar

from kailyard.errors import Conflict
from kailyard.store.base import StoreError
from kailyard.store.files import connect
from kailyard.store.trouble import told

FILE = "people.db"
STATE = 1
"""Number of the tables' state, kept as SQLite's `user_version`."""
_TABLES = """
CREATE TABLE person (name TEXT PRIMARY KEY, folded TEXT UNIQUE, keeper INTEGER, hash TEXT, made TEXT);
CREATE TABLE session (id TEXT PRIMARY KEY, person TEXT, made TEXT, seen TEXT, ends TEXT, device TEXT);
CREATE TABLE attempt (key TEXT PRIMARY KEY, failures INTEGER, last TEXT);
PRAGMA user_version = 1;
"""


@dataclass(frozen=True, slots=True)
class Person:
    """Somebody with a name of their own."""

    name: str
    folded: str
    """The name without regard to capitals: no two may share it."""
    keeper: bool
    """May add and remove people and end anybody's sessions."""
    hash: str
    """Of the passphrase, as argon2id writes it: parameters and salt with it."""
    made: datetime


@dataclass(frozen=True, slots=True)
class Session:
    """A device that somebody is in with. All moments in UTC, to the second."""

    id: str
    """SHA-256 of the token that the device holds; the token itself is nowhere kept."""
    person: str
    made: datetime
    seen: datetime
    """Last seen, to the day."""
    ends: datetime
    device: str


@dataclass(frozen=True, slots=True)
class Attempts:
    """Failures to get in since the last success, of one name or from one address."""

    key: str
    failures: int
    last: datetime


_Row = TypeVar("_Row", Person, Session, Attempts)


class People:
    """The people of the garden in `folder`. May be asked from any thread. Raises StoreError where it cannot be used."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        self._path = folder / FILE

    def people(self) -> tuple[Person, ...]:
        """Everybody, in order of being added."""
        return self._rows(Person, "SELECT * FROM person ORDER BY made, name")

    def person(self, folded: str) -> Person | None:
        """Somebody by folded name."""
        return next(iter(self._rows(Person, "SELECT * FROM person WHERE folded = ?", folded)), None)

    def add(self, person: Person) -> None:
        """Add somebody; Conflict where the name is taken."""
        with self._writing() as db:
            try:
                db.execute("INSERT INTO person VALUES (?, ?, ?, ?, ?)", _row(person))
            except sqlite3.IntegrityError:
                raise Conflict(f"The name '{person.name}' is taken. Choose another.") from None

    def set_hash(self, name: str, hash_: str) -> None:
        """Another passphrase for somebody."""
        with self._writing() as db:
            db.execute("UPDATE person SET hash = ? WHERE name = ?", (hash_, name))

    def set_keeper(self, name: str) -> None:
        """Let somebody keep the names."""
        with self._writing() as db:
            db.execute("UPDATE person SET keeper = 1 WHERE name = ?", (name,))

    def remove(self, name: str) -> None:
        """Remove somebody with all sessions. What they entered stays in the daybook."""
        with self._writing() as db:
            db.execute("DELETE FROM session WHERE person = ?", (name,))
            db.execute("DELETE FROM person WHERE name = ?", (name,))

    def begin(self, session: Session) -> None:
        """Keep a new session; those that have ended go."""
        with self._writing() as db:
            db.execute("DELETE FROM session WHERE ends <= ?", (_moment(session.made),))
            db.execute("INSERT INTO session VALUES (?, ?, ?, ?, ?, ?)", _row(session))

    def session(self, id_: str) -> tuple[Session, Person] | None:
        """A session with whose it is."""
        found = next(iter(self._rows(Session, "SELECT * FROM session WHERE id = ?", id_)), None)
        if found is None:
            return None
        whose = next(iter(self._rows(Person, "SELECT * FROM person WHERE name = ?", found.person)), None)
        return None if whose is None else (found, whose)

    def sessions(self, person: str) -> tuple[Session, ...]:
        """Somebody's sessions, the newest first."""
        return self._rows(Session, "SELECT * FROM session WHERE person = ? ORDER BY made DESC, id", person)

    def seen(self, id_: str, at: datetime) -> None:
        """Note that a session was used."""
        with self._writing() as db:
            db.execute("UPDATE session SET seen = ? WHERE id = ?", (_moment(at), id_))

    def end(self, person: str, *, only: str = "", but: str = "") -> int:
        """End sessions of somebody: the one named `only`, else all but the one named `but`; how many."""
        with self._writing() as db:
            done = db.execute(
                "DELETE FROM session WHERE person = ? AND (? = '' OR id = ?) AND id != ?", (person, only, only, but)
            )
            return done.rowcount

    @contextmanager
    def attempt(self, *keys: str) -> Iterator[dict[str, Attempts]]:
        """The failures under `keys`, alone with them; what the mapping holds at the end is kept."""
        with self._writing() as db:
            marks = ", ".join("?" * len(keys))
            found = db.execute(f"SELECT * FROM attempt WHERE key IN ({marks})", keys)
            held = {a.key: a for a in (_thing(Attempts, row) for row in found)}
            yield held
            db.execute(f"DELETE FROM attempt WHERE key IN ({marks})", keys)
            db.executemany("INSERT INTO attempt VALUES (?, ?, ?)", [_row(a) for a in held.values()])

    def forget_attempts(self, *keys: str, before: datetime) -> None:
        """Drop the failures under `keys`, and every one whose last lies before a moment."""
        with self._writing() as db:
            db.executemany("DELETE FROM attempt WHERE key = ?", [(key,) for key in keys])
            db.execute("DELETE FROM attempt WHERE last < ?", (_moment(before),))

    def _rows(self, thing: type[_Row], query: str, *values: str) -> tuple[_Row, ...]:
        if not self._path.exists():
            return ()
        with told(self._folder), closing(connect(self._path)) as db:
            self._check(db)
            return tuple(_thing(thing, row) for row in db.execute(query, values))

    @contextmanager
    def _writing(self) -> Iterator[sqlite3.Connection]:
        with told(self._folder):
            self._make_file()
            with closing(connect(self._path)) as db:
                db.execute("BEGIN IMMEDIATE")
                try:
                    if not db.execute("PRAGMA user_version").fetchone()[0]:
                        for statement in filter(str.strip, _TABLES.split(";")):
                            db.execute(statement)
                    self._check(db)
                    yield db
                    db.execute("COMMIT")
                finally:
                    if db.in_transaction:
                        db.execute("ROLLBACK")

    def _make_file(self) -> None:
        """An empty file that only its owner may read."""
        try:
            self._folder.mkdir(parents=True, exist_ok=True)
            os.close(os.open(self._path, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o600))
        except FileExistsError:
            return
        except OSError as err:
            raise StoreError(f"{self._path} cannot be made: {err.strerror}.") from err

    def _check(self, db: sqlite3.Connection) -> None:
        state = db.execute("PRAGMA user_version").fetchone()[0]
        if state > STATE:
            raise StoreError(f"{self._path} was written by a newer Kailyard. Use the newer program.")


def _moment(at: datetime) -> str:
    return f"{at:%Y-%m-%dT%H:%M:%S}Z"


def _row(thing: Person | Session | Attempts) -> tuple[Any, ...]:
    return tuple(_moment(v) if isinstance(v, datetime) else v for v in astuple(thing))


def _thing(kind: type[_Row], row: tuple[Any, ...]) -> _Row:
    values: list[Any] = [
        datetime.fromisoformat(v) if f.type == "datetime" else bool(v) if f.type == "bool" else v
        for v, f in zip(row, fields(kind), strict=True)
    ]
    return kind(*values)
