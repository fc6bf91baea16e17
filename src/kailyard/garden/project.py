"""What the daybook amounts to: entries in, the garden out. The same entries in any order give the same garden."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass, fields
from datetime import datetime
from operator import attrgetter
from typing import Any, TypeVar

from kailyard.errors import DataError
from kailyard.garden.kinds import is_known, kind, read_payload, upgraded
from kailyard.garden.model import Bed, Cultivar, Entry, Garden, Planting, Site

DEFINING = ("bed", "cultivar", "garden", "planting")
"""Kinds that say what there is; the latest written of each thing holds."""

_day_order = attrgetter("happened", "written", "id")
_said_order = attrgetter("written", "happened", "id")
_Thing = TypeVar("_Thing", Bed, Cultivar, Planting, Site)


@dataclass(frozen=True, slots=True)
class Things:
    """Beds, cultivars and plantings as defined; with the identifier of the entry that defined each."""

    beds: dict[str, Bed]
    cultivars: dict[tuple[str, str], Cultivar]
    plantings: dict[str, Planting]
    defined_by: dict[tuple[str, ...], str]
    """('bed', id), ('cultivar', crop, name), ('planting', id) -> entry."""
    settings: dict[str, Any] | None
    """Payload of the last 'garden' entry with its defaults; None where there is none."""


def project(entries: Iterable[Entry], *, as_known: datetime | None = None) -> Garden:
    """The garden that `entries` (each identifier once) amount to, as known at `as_known` (UTC; None: all of them).

    Raises DataError where no entry known by then says the garden's name and place, or where one cannot be read.
    """
    stand = standing(entries, as_known=as_known)
    things = define(stand)
    if things.settings is None:
        when = f" by {as_known:%Y-%m-%d %H:%M:%S}" if as_known else ""
        raise DataError(f"No entry known{when} says the garden's name and place. Enter them first (kind 'garden').")
    site = _make(Site, things.settings)
    return Garden(
        name=things.settings["name"],
        site=site,
        units=things.settings["units"],
        beds=things.beds,
        cultivars=things.cultivars,
        plantings=things.plantings,
        entries=stand,
        settings=things.settings,
    )


def standing(entries: Iterable[Entry], *, as_known: datetime | None = None) -> tuple[Entry, ...]:
    """Entries known by `as_known` that no other one known by then supersedes, by (happened, written, id).

    Once named by another, an entry is out for good, whatever becomes of the one that named it; what should stand after
    all is written anew. A withdrawal itself says nothing of the garden and is left out. Older versions are upgraded.
    """
    if as_known is None:
        known = list(entries)
    elif as_known.tzinfo is None:
        raise DataError(f"as known {as_known.isoformat()} has no time zone; give it in UTC")
    else:
        known = [e for e in entries if e.written <= as_known]
    out = {e.supersedes for e in known if e.supersedes}
    versions = {name: kind(name).version for name in {e.kind for e in known} if is_known(name)}
    stand = [e for e in known if e.id not in out and e.kind != "withdraw"]
    stand = [e if versions.get(e.kind, e.version) == e.version else upgraded(kind(e.kind), e) for e in stand]
    stand.sort(key=_day_order)
    return tuple(stand)


def define(stand: Iterable[Entry]) -> Things:
    """What the defining ones among standing entries say there is, each thing as last written.

    Raises DataError naming every entry whose payload cannot be read.
    """
    latest: dict[tuple[str, ...], Entry] = {}
    for entry in sorted((e for e in stand if e.kind in DEFINING), key=_said_order):
        latest[_key(entry)] = entry
    things = Things({}, {}, {}, {}, None)
    problems: list[str] = []
    settings = None
    for key in sorted(latest):
        entry = latest[key]
        try:
            payload = read_payload(entry)
        except DataError as err:
            problems.extend(err.problems)
            continue
        values = _values(payload)
        if entry.kind == "garden":
            settings = values
        elif not payload.removed:
            things.defined_by[key] = entry.id
            if entry.kind == "bed":
                things.beds[entry.target] = _make(Bed, values, id=entry.target)
            elif entry.kind == "planting":
                things.plantings[entry.target] = _make(Planting, values, id=entry.target)
            else:
                things.cultivars[payload.crop, payload.name] = _make(Cultivar, values)
    if problems:
        raise DataError(problems)
    return Things(things.beds, things.cultivars, things.plantings, things.defined_by, settings)


def doubts(entries: Collection[Entry]) -> tuple[str, ...]:
    """What is odd about the daybook as a whole though every entry was kept: one line each."""
    by_id = {e.id: e for e in entries}
    found: list[str] = []
    for entry in sorted(entries, key=_day_order):
        if not entry.supersedes:
            continue
        other = by_id.get(entry.supersedes)
        if other is None:
            found.append(f"Entry {entry.id} ({entry.kind}) supersedes {entry.supersedes}, which is not in the daybook.")
        elif other.written > entry.written:
            found.append(f"Entry {entry.id} ({entry.kind}) supersedes {other.id}, which was written after it.")
        if _names_itself(entry, by_id):
            found.append(
                f"Entry {entry.id} ({entry.kind}) supersedes itself by a chain of others; none of them stands."
            )
    beds = {e.target for e in entries if e.kind == "bed"}
    plantings = {e.target for e in entries if e.kind == "planting"}
    found.extend(
        f"'{both}' is a bed and a planting; give one of them another identifier." for both in sorted(beds & plantings)
    )
    # A target that only withdrawn entries made is as good as never made.
    stand = standing(entries)
    beds = {e.target for e in stand if e.kind == "bed"}
    plantings = {e.target for e in stand if e.kind == "planting"}
    found.extend(
        f"Entry {e.id} ({e.kind}) speaks of '{e.target}', which is neither bed nor planting."
        for e in stand
        if e.target and e.kind not in DEFINING and e.target not in beds and e.target not in plantings
    )
    return tuple(found)


def _names_itself(entry: Entry, by_id: dict[str, Entry]) -> bool:
    """Whether following `supersedes` from `entry` comes back to it."""
    seen: set[str] = set()
    at: Entry | None = entry
    while at is not None and at.supersedes and at.id not in seen:
        seen.add(at.id)
        if at.supersedes == entry.id:
            return True
        at = by_id.get(at.supersedes)
    return False


def _key(entry: Entry) -> tuple[str, ...]:
    if entry.kind == "cultivar":
        return (entry.kind, str(entry.payload.get("crop", "")), str(entry.payload.get("name", "")))
    return (entry.kind, entry.target)


def _values(payload: Any) -> dict[str, Any]:
    return {f.name: getattr(payload, f.name) for f in fields(payload)}


def _make(thing: type[_Thing], values: dict[str, Any], **more: Any) -> _Thing:
    """The thing from those of `values` that are its own fields."""
    return thing(**{f.name: values[f.name] for f in fields(thing) if f.name in values}, **more)
