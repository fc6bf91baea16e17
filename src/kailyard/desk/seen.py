"""What changed since somebody's last look at the sheet: lines that are new, gone, moved.

Whose look saw which lines is kept in `looks.json` beside the garden's database. It is no part of the record: without
the file, or where it cannot be written, nothing is said to have changed. A look within an hour of the one before
belongs to it, so that a sheet loaded again still says what it said.
"""

from __future__ import annotations

import contextlib
import os
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime, timedelta
from threading import Lock
from uuid import uuid4

import msgspec

from kailyard.desk.desk import Desk
from kailyard.documents.sheet import NextLine, Sheet, WorkLine
from kailyard.publish.words import span

FILE = "looks.json"
SAME_LOOK = timedelta(hours=1)
MOVED_DAYS = 3
"""What is foreseen has moved when an end of its span did by so many days."""
_PARTS = {"holds": "not to be done", "near": "in the next days", "work": "to do", "look": "to look at",
          "leave": "to be left alone", "next": "comes next"}  # fmt: skip
_writing = Lock()


@dataclass(frozen=True, slots=True)
class SeenLine:
    """A line as somebody saw it."""

    part: str
    says: str
    where: str
    first: date | None = None
    last: date | None = None


@dataclass(frozen=True, slots=True)
class Look:
    """One person's last look, and the one before."""

    at: datetime
    now: dict[str, SeenLine] = field(default_factory=dict)
    before_at: datetime | None = None
    before: dict[str, SeenLine] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Change:
    """One line that is not as it was."""

    how: str
    """'new', 'gone', 'moved'."""
    says: str
    where: str
    detail: str


@dataclass(frozen=True, slots=True)
class Since:
    """What changed since a look."""

    at: datetime
    changes: tuple[Change, ...]


def look_at(desk: Desk, sheet: Sheet, person: str) -> Since | None:
    """What changed on today's own sheet since the person's last look, which this one becomes; None at the first."""
    now, lines = desk.now(), _lines(sheet)
    with _writing:
        looks = _read(desk)
        old = looks.get(person)
        if old is None:
            new = Look(now, lines)
        elif now - old.at > SAME_LOOK:
            new = Look(now, lines, old.at, old.now)
        else:
            new = Look(now, lines, old.before_at, old.before)
        if old is None or new.now != old.now or now - old.at > SAME_LOOK / 4:
            _write(desk, {**looks, person: new})
    if new.before_at is None:
        return None
    return Since(new.before_at, compared(new.before, lines))


def compared(before: Mapping[str, SeenLine], now: Mapping[str, SeenLine]) -> tuple[Change, ...]:
    """Lines by name: new ones, moved ones, those that are gone."""
    found = [Change("new", one.says, one.where, _PARTS[one.part]) for name, one in now.items() if name not in before]
    for name, one in now.items():
        old = before.get(name)
        if old is None:
            continue
        if old.part != one.part:
            found.append(Change("moved", one.says, one.where, f"{_PARTS[one.part]}, was {_PARTS[old.part]}"))
        elif moved := _moved(old, one):
            found.append(Change("moved", one.says, one.where, moved))
    found += [Change("gone", one.says, one.where, "") for name, one in before.items() if name not in now]
    return tuple(found)


def _moved(old: SeenLine, new: SeenLine) -> str:
    if None in (old.first, old.last, new.first, new.last):
        return ""
    assert old.first is not None
    assert old.last is not None
    assert new.first is not None
    assert new.last is not None
    if max(abs((new.first - old.first).days), abs((new.last - old.last).days)) < MOVED_DAYS:
        return ""
    return f"now {span(new.first, new.last)}, was {span(old.first, old.last)}"


def _lines(sheet: Sheet) -> dict[str, SeenLine]:
    found = {}
    for part in _PARTS:
        for line in getattr(sheet, part):
            ends: tuple[date | None, date | None] = (None, None)
            if isinstance(line, NextLine):
                ends = (line.odds.low, line.odds.high)
            elif isinstance(line, WorkLine):
                ends = (line.window.high, line.window.high)
            found[line.name] = SeenLine(part, line.says, line.where, *ends)
    return found


def _read(desk: Desk) -> dict[str, Look]:
    try:
        return msgspec.json.decode((desk.folder / FILE).read_bytes(), type=dict[str, Look])
    except (OSError, msgspec.DecodeError):
        return {}


def _write(desk: Desk, looks: dict[str, Look]) -> None:
    path = desk.folder / FILE
    fresh = path.with_name(f".{FILE}.{uuid4().hex[:8]}")
    try:
        fresh.write_bytes(msgspec.json.encode(looks))
        os.replace(fresh, path)
    except OSError:
        with contextlib.suppress(OSError):
            fresh.unlink()
