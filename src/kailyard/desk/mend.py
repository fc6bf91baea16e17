"""An entry opened to be put right: its words as they would be typed, and what is kept in its place."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from kailyard.desk.desk import Desk
from kailyard.desk.fill import Field, fields_of
from kailyard.desk.grid import plain
from kailyard.desk.record import COMMAND_OF, enter, withdraw
from kailyard.errors import Conflict, DataError, NotFound, UsageError
from kailyard.garden.kinds import is_known, kind
from kailyard.garden.model import Entry
from kailyard.publish.units import figure, number
from kailyard.units import Units


@dataclass(frozen=True, slots=True)
class Typed:
    """One field as it would be typed."""

    name: str
    value: str
    hint: str


@dataclass(frozen=True, slots=True)
class Opened:
    """One entry that stands."""

    id: str
    kind: str
    target: str
    happened: str
    text: str
    fields: tuple[Typed, ...]
    by_entering: bool
    """It can be put right here; else only withdrawn: what it defines is changed at its own page."""
    may_go: bool
    """It can be withdrawn."""


def opened(desk: Desk, id_: str) -> Opened | None:
    """The entry, to be put right or withdrawn; None where it no longer stands or is itself a withdrawal."""
    garden = desk.garden()
    found = next((e for e in garden.entries if e.id == id_), None)
    if found is None:
        return None
    by_entering = is_known(found.kind) and found.kind not in COMMAND_OF
    fields = _fields(found, garden.units) if by_entering else ()
    only = found.kind == "garden" and sum(e.kind == "garden" for e in garden.entries) == 1
    return Opened(found.id, found.kind, found.target, str(found.happened), found.text, fields, by_entering, not only)


def put_right(desk: Desk, id_: str, *, target: str, happened: str, text: str, fields: Mapping[str, str]) -> str:
    """Keep another entry in the place of one that was wrong; a sentence that says so."""
    found = _standing(desk, id_)
    words = [target.strip()] if target.strip() else []
    words += [f"{name}={value.strip()}" for name, value in fields.items() if value.strip()]
    try:
        enter(desk, found.kind, words, on=happened.strip() or None, text=text.strip(), puts_right=id_)
    except (DataError, NotFound, UsageError) as err:
        lines = [line.removeprefix(f"enter {found.kind}: ").partition(" `kailyard")[0] for line in plain(err)]
        raise type(err)("\n".join(lines)) from err
    return f"{found.kind} put right. The earlier entry stays, marked."


def take_out(desk: Desk, id_: str, *, text: str) -> str:
    """Withdraw an entry; a sentence that says so."""
    found = _standing(desk, id_)
    withdraw(desk, id_, text=text.strip())
    return f"{found.kind} of {found.happened} withdrawn. It stays in the daybook, marked, and no longer counts."


def _standing(desk: Desk, id_: str) -> Entry:
    found = next((e for e in desk.garden().entries if e.id == id_), None)
    if found is None:
        raise Conflict("That entry is put right or withdrawn already. Nothing was changed.")
    return found


def _fields(entry: Entry, units: Units) -> tuple[Typed, ...]:
    known = kind(entry.kind)
    found = []
    if known.quantity is not None:
        value = ""
        if entry.quantity is not None:
            measured = entry.unit not in ("count", "seeds", "cells", "plants", "pieces")
            value = figure(entry.quantity, entry.unit, units, 3) if measured else f"{entry.quantity:g} {entry.unit}"
        found.append(
            Typed("quantity", value, f"how much, with its unit{'' if known.quantity.needed else '; may be blank'}")
        )
    for field in fields_of(known):
        hint = field.says(units).partition("(")[2].rstrip(")")
        found.append(Typed(field.name, _typed(field, entry.payload.get(field.name), units), hint))
    return tuple(found)


def _typed(field: Field, value: Any, units: Units) -> str:
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if field.takes == "share":
        return f"{number(float(value) * 100, 3)}%"
    if field.takes == "number":
        return figure(float(value), field.unit, units, 3)
    return str(value)
