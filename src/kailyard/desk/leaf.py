"""A leaf of the daybook: entries newest first, found by words, and the place where the next leaf begins."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from kailyard.desk.beds import in_order
from kailyard.desk.daybook import what_it_says
from kailyard.desk.desk import Desk
from kailyard.desk.typed import shown
from kailyard.errors import NotFound, UsageError
from kailyard.garden.kinds import names
from kailyard.garden.model import Entry
from kailyard.units import Units

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
    out: str
    """'put right' or 'withdrawn' by a later one; '' where it stands."""
    out_by: str
    """Identifier of that later one."""
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
    beds: tuple[str, ...]
    people: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Sought:
    """What an entry must be to be shown; blank: anything."""

    find: str = ""
    """Words that all stand in it."""
    kind: str = ""
    target: str = ""
    bed: str = ""
    """Said of that bed or of a planting in it."""
    who: str = ""
    since: date | None = None
    until: date | None = None
    entry: str = ""
    """That entry, with those that put it right and that it puts right."""


def leaf(desk: Desk, sought: Sought, *, after: str = "", most: int = MOST) -> Leaf:
    """Entries that fit, from just older than the one marked `after` on.

    A mark names the entry that stood last, so new entries meanwhile shift nothing. UsageError where it is none, or
    where the days are the wrong way round.
    """
    if sought.since and sought.until and sought.since > sought.until:
        raise UsageError(f"since {sought.since} lies after until {sought.until}.")
    entries = desk.entries()
    garden = desk.garden()
    out = {e.supersedes: e for e in entries if e.supersedes}
    chain = _chain(sought.entry, entries, out) if sought.entry else set()
    in_bed = {p.id for p in garden.plantings.values() if p.bed == sought.bed} | {sought.bed}
    bound = _place(after) if after else None
    words = sought.find.casefold().split()
    said = desk.kept("entries to be searched", lambda: _searched(entries, garden.units)) if words else ()
    leaf_: list[LeafEntry] = []
    last: Entry | None = None
    found = 0
    more = False
    for place in range(len(entries) - 1, -1, -1):
        e = entries[place]
        if (sought.kind and e.kind != sought.kind) or (sought.target and e.target != sought.target):
            continue
        if (
            (sought.bed and e.target not in in_bed)
            or (sought.who and e.who != sought.who)
            or (chain and e.id not in chain)
        ):
            continue
        if (sought.since and e.happened < sought.since) or (sought.until and e.happened > sought.until):
            continue
        if words and not all(word in said[place] for word in words):
            continue
        found += 1
        if bound and (str(e.happened), f"{e.written:%Y%m%dT%H%M%S}", e.id) >= bound:
            continue
        if len(leaf_) == most:
            more = True
            continue
        leaf_.append(_shown(e, what_it_says(e, garden.units), out.get(e.id)))
        last = e
    mark = f"{last.happened}~{last.written:%Y%m%dT%H%M%S}~{last.id}" if last and more else ""
    beds = tuple(sorted(garden.beds, key=in_order))
    targets = (*beds, *sorted(garden.plantings, key=in_order))
    people = tuple(sorted({e.who for e in entries if e.who}))
    return Leaf(tuple(leaf_), mark, found, names(), targets, beds, people)


def _searched(entries: Sequence[Entry], units: Units) -> tuple[str, ...]:
    """What stands in each entry, in small letters."""
    return tuple(f"{e.happened} {e.kind} {e.target} {what_it_says(e, units)} {e.who}".casefold() for e in entries)


def _shown(e: Entry, says: str, by: Entry | None) -> LeafEntry:
    out = "" if by is None else "withdrawn" if by.kind == "withdraw" else "put right"
    return LeafEntry(e.id, e.happened, e.kind, e.target, says, e.who, out, by.id if by else "", e.supersedes)


def _chain(id_: str, entries: Sequence[Entry], out: Mapping[str, Entry]) -> set[str]:
    """The entry with all that it put right and all that put it right; NotFound where it is not there."""
    by_id = {e.id: e for e in entries}
    if id_ not in by_id:
        raise NotFound(f"No entry {shown(id_)} is in the daybook.")
    found: set[str] = set()
    earlier: Entry | None = by_id[id_]
    while earlier is not None and earlier.id not in found:
        found.add(earlier.id)
        earlier = by_id.get(earlier.supersedes)
    later = out.get(id_)
    while later is not None and later.id not in found:
        found.add(later.id)
        later = out.get(later.id)
    return found


def _place(mark: str) -> tuple[str, str, str]:
    parts = mark.split("~")
    if len(parts) != 3:
        raise UsageError("after: that is no mark of the daybook. Begin at its first leaf.")
    return parts[0], parts[1], parts[2]
