"""Reading the daybook: entries in order, those put right or withdrawn marked."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import Any

from kailyard.desk.desk import Desk
from kailyard.desk.fill import FIELD_UNITS, Field, fields_of
from kailyard.desk.handles import Handles
from kailyard.documents.table import Table
from kailyard.errors import UsageError
from kailyard.garden.kinds import is_known, kind
from kailyard.garden.model import Entry
from kailyard.publish.units import figure, number
from kailyard.units import Units

MOST = 40


def daybook(
    desk: Desk,
    *,
    target: str | None = None,
    kind_name: str | None = None,
    since: date | None = None,
    until: date | None = None,
    find: str | None = None,
    most: int = MOST,
) -> Table:
    """Entries that fit every condition, newest last, the last `most` of them."""
    if most < 1:
        raise UsageError(f"--most {most}: at least 1.")
    if since and until and since > until:
        raise UsageError(f"--since {since} lies after --until {until}.")
    garden, entries = desk.garden(), desk.store.entries()
    if target is not None and not any(e.target == target for e in entries):
        from kailyard.desk.plantings import known_planting

        if target not in garden.beds:
            known_planting(garden, target)
    if kind_name is not None:
        kind(kind_name)
    by_handle = Handles(entries)
    out = {e.supersedes: e for e in entries if e.supersedes}
    rows = []
    for e in entries:
        if target not in (None, e.target) or kind_name not in (None, e.kind):
            continue
        if (since and e.happened < since) or (until and e.happened > until):
            continue
        what = what_it_says(e, garden.units)
        if e.id in out:
            by = out[e.id]
            what = f"{'withdrawn' if by.kind == 'withdraw' else 'put right'} by {by_handle.of(by)}: {what}"
        elif e.supersedes:
            what = f"{what} (for {by_handle.of_id(e.supersedes)})".lstrip()
        row = (str(e.happened), e.kind, e.target, what, e.who, by_handle.of(e))
        if find is None or find.lower() in " ".join(row).lower():
            rows.append(row)
    notes = []
    if len(rows) > most:
        notes.append(f"{len(rows) - most} earlier ones are not shown; `--most {len(rows)}` shows all.")
    if not rows:
        notes.append("No entry fits." if entries else "The daybook is empty.")
    return Table("Daybook", ("day", "kind", "of", "what", "who", "entry"), tuple(rows[-most:]), tuple(notes))


def what_it_says(entry: Entry, units: Units) -> str:
    """An entry's figures and words on one line, in the garden's units."""
    parts = []
    if entry.quantity is not None:
        counted = entry.unit == "count"
        parts.append(number(entry.quantity, 2) if counted else figure(entry.quantity, entry.unit, units, 2))
    known = {f.name: f for f in fields_of(kind(entry.kind))} if is_known(entry.kind) else {}
    order = [name for name in known if name in entry.payload] + [name for name in entry.payload if name not in known]
    parts += [said for name in order if (said := _field_says(name, entry.payload[name], known, units))]
    if entry.text:
        parts.append(f"“{entry.text}”")
    return ", ".join(parts)


def _field_says(name: str, value: Any, known: Mapping[str, Field], units: Units) -> str:
    """One field of a payload in words; '' where it says nothing."""
    field, called = known.get(name), name.replace("_", " ")
    takes = field.takes if field else "text"
    if value in (None, "", [], 0.0) and value is not False:
        return ""
    if isinstance(value, bool):
        return called if value else f"not {called}"
    if isinstance(value, int | float):
        if takes == "share":
            return f"{called} {number(value * 100, 0)}%"
        unit = field.unit if field else ""
        for ending in FIELD_UNITS:
            called = called.removesuffix(ending.replace("_", " "))
        return f"{called} {figure(value, unit, units, 2)}"
    if isinstance(value, list):
        return f"{called} {', '.join(map(str, value))}"
    return str(value) if takes in ("text", "word") else f"{called} {value}"
