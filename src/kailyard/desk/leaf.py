"""A leaf of the daybook: entries newest first, found by words, and the place where the next leaf begins."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from kailyard.desk.daybook import what_it_says
from kailyard.desk.desk import Desk
from kailyard.errors import UsageError
from kailyard.garden.kinds import names
from kailyard.garden.model import Entry

MOST = 60


@dataclass(frozen=True, slots=True)
class LeafEntry:
    """One entry as it is read."""

    id: str
    happened: date
    kind: str
    target: str
    says: str
    who: str
    out: bool
    """Put right or withdrawn by a later one."""
    puts_right: str
    """Identifier of the entry that this one puts right or withdraws."""


@dataclass(frozen=True, slots=True)
class Leaf:
    """Some entries, the newest first."""

    entries: tuple[LeafEntry, ...]
    after: str
    """Where the next, older leaf begins; '' where this is the last."""
    found: int
    """How many entries fit in all."""
    kinds: tuple[str, ...]
    targets: tuple[str, ...]


def leaf(desk: Desk, *, find: str = "", kind: str = "", target: str = "", after: str = "", most: int = MOST) -> Leaf:
    """Entries that fit, from just older than the one marked `after` on.

    A mark names the entry that stood last, so new entries meanwhile shift nothing. UsageError where it is none.
    """
    entries = desk.store.entries()
    garden = desk.garden()
    out = {e.supersedes for e in entries if e.supersedes}
    bound = _place(after) if after else None
    sought = find.casefold().split()
    shown: list[LeafEntry] = []
    last: Entry | None = None
    found = 0
    more = False
    for e in reversed(entries):
        if (kind and e.kind != kind) or (target and e.target != target):
            continue
        says = ""
        if sought:
            says = what_it_says(e, garden.units)
            whole = f"{e.happened} {e.kind} {e.target} {says} {e.who}".casefold()
            if not all(word in whole for word in sought):
                continue
        found += 1
        if bound and (str(e.happened), f"{e.written:%Y%m%dT%H%M%S}", e.id) >= bound:
            continue
        if len(shown) == most:
            more = True
            continue
        says = says or what_it_says(e, garden.units)
        shown.append(LeafEntry(e.id, e.happened, e.kind, e.target, says, e.who, e.id in out, e.supersedes))
        last = e
    mark = f"{last.happened}~{last.written:%Y%m%dT%H%M%S}~{last.id}" if last and more else ""
    targets = (*sorted(garden.beds), *sorted(garden.plantings))
    return Leaf(tuple(shown), mark, found, names(), targets)


def _place(mark: str) -> tuple[str, str, str]:
    parts = mark.split("~")
    if len(parts) != 3:
        raise UsageError("after: that is no mark of the daybook. Begin at its first leaf.")
    return parts[0], parts[1], parts[2]
