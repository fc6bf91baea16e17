"""What a database says when it will not, told so that a person can mend it."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from kailyard.store.base import StoreError

_SAYS = (
    (("locked", "busy"), "Another program is writing it. Close that one or try again in a moment."),
    (("readonly", "read-only"), "It cannot be written: its folder, file or disk is read-only."),
    (("disk is full", "no space"), "The disk is full. Make room and try again."),
    (
        ("malformed", "not a database", "no such table", "no such column"),
        "Its database is damaged or is none. Restore a backup (`kailyard restore`).",
    ),
    (("unable to open",), "Its database cannot be opened. Is it there, and may you read and write its folder?"),
)


@contextmanager
def told(folder: Path) -> Iterator[None]:
    """Turn what the database driver raises inside into a StoreError that names the garden's folder and what next."""
    from sqlalchemy.exc import DBAPIError

    try:
        yield
    except DBAPIError as err:
        raise _story(folder, str(err.orig)) from err
    except sqlite3.Error as err:
        raise _story(folder, str(err)) from err


def _story(folder: Path, said: str) -> StoreError:
    for marks, advice in _SAYS:
        if any(mark in said.lower() for mark in marks):
            return StoreError(f"The garden at {folder}: {advice} Nothing was changed. (The database said: {said}.)")
    return StoreError(f"The garden at {folder}: the database said '{said}'. Nothing was changed.")
