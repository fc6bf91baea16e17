"""The plantings: listed with how they stand, planned, changed, struck out."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import asdict
from datetime import date
from difflib import get_close_matches
from typing import Any

from kailyard.desk import typed
from kailyard.desk.beds import in_order, known_bed, option
from kailyard.desk.desk import Desk
from kailyard.desk.handles import handles, undo
from kailyard.desk.shelf import handbook
from kailyard.documents.table import Table
from kailyard.errors import Conflict, NotFound, UsageError
from kailyard.garden.identifiers import thing_id_problem, tidy_name
from kailyard.garden.model import Entry, Garden, Planting
from kailyard.publish.units import figure
from kailyard.publish.words import day as said_day
from kailyard.publish.words import joined
from kailyard.season.sightings import sight
from kailyard.units import Units

COLUMNS = ("planting", "crop", "cultivar", "where", "plants", "how it stands")
NONE = "none"
"""Typed to take a day or a measure back."""
LENGTHS = {
    "spacing": ("spacing_cm", "cm"),
    "row": ("row_cm", "cm"),
    "place": ("place_m", "m"),
    "length": ("length_m", "m"),
}
_WORDS = ("cultivar", "wave", "note")


def planting(desk: Desk, id_: str | None, given: Mapping[str, Any], *, on: str | None = None) -> Table:
    """What is asked of the plantings: all of them or a bed's, one, or one entered, changed or struck out ('remove')."""
    if id_ is None:
        if given.keys() - {"bed", "over"} or on is not None:
            raise UsageError("Which planting? Name it first: `kailyard planting pea-6 ...`.")
        return plantings(desk, bed=given.get("bed"), over=bool(given.get("over")))
    if given.get("over"):
        raise UsageError("--over is for the list of all plantings; one that is named is shown, over or not.")
    if given.get("remove"):
        if len(given) > 1:
            raise UsageError("--remove stands alone: a planting is struck out or changed, not both.")
        return remove_planting(desk, id_, on=on)
    return set_planting(desk, id_, given, on=on) if given else one_planting(desk, id_)


def plantings(desk: Desk, *, bed: str | None = None, over: bool = False) -> Table:
    """The plantings, or those of one bed, with how they stand; what was over before this year only if `over`."""
    garden = desk.garden()
    if bed is not None:
        known_bed(garden, bed)
    today = desk.today(garden)
    ids = sorted(garden.plantings, key=in_order)
    chosen = [p for p in map(garden.plantings.__getitem__, ids) if bed in (None, p.bed)]
    shown = [p for p in chosen if over or not of_earlier_years(p, garden.entries_of(p.id), today)]
    rows = tuple(planting_row(garden, p, today) for p in shown)
    notes = ["A new one: `kailyard planting bean-1 --crop bean-bush --bed bed-3 --start sown`."]
    if hidden := len(chosen) - len(shown):
        notes.insert(0, f"{hidden} of earlier years {'is' if hidden == 1 else 'are'} over: --over lists them too.")
    return Table("Plantings" + (f" in {bed}" if bed else ""), COLUMNS, rows, tuple(notes))


def of_earlier_years(planting: Planting, entries: Sequence[Entry], today: date) -> bool:
    """Whether a planting, by its own entries, was over before this year."""
    ended = sight(planting, entries, today).ended
    return ended is not None and ended.year < today.year


def one_planting(desk: Desk, id_: str) -> Table:
    """One planting as entered, and what is doubtful about it."""
    garden = desk.garden()
    found = known_planting(garden, id_)
    rows = (planting_row(garden, found, desk.today(garden)),)
    more = [f"Its stages with their odds: `kailyard stages {id_}`."]
    return Table(
        f"Planting {id_}",
        COLUMNS,
        rows,
        (*_said(found, garden.units), *doubts(garden, found, desk.today(garden)), *more),
    )


def set_planting(desk: Desk, id_: str, given: Mapping[str, Any], *, on: str | None = None) -> Table:
    """Plan or enter the planting `id_`, or change what `given` names and keep the rest. Doubts come back as notes."""
    garden = desk.garden()
    today = desk.today(garden)
    happened = typed.past_day(on, today, "--on")
    old = garden.plantings.get(id_)
    if old is None and (problem := thing_id_problem(id_)):
        raise UsageError(problem)
    if old is None and id_ in garden.beds:
        raise Conflict(f"'{id_}' is a bed. Give the planting another identifier.")
    lacking = [name for name in ("crop", "bed", "start") if old is None and name not in given]
    if lacking:
        raise UsageError(
            f"There is no planting '{id_}' yet. A new one needs {joined([f'--{name}' for name in lacking])}, as in "
            f"`kailyard planting {id_} --crop bean-bush --bed bed-3 --start sown`."
        )
    payload = planting_payload(old, given, garden.units, today)
    payload["crop"] = handbook(desk).crop(payload["crop"])
    if payload["bed"] not in garden.beds and (old is None or "bed" in given):
        known_bed(garden, payload["bed"])
    entry = desk.entry("planting", happened=happened, target=id_, payload=payload)
    desk.keep([entry])
    garden = desk.garden()
    now = garden.plantings[id_]
    title = f"Planting {id_} changed" if old else f"Planting {id_} entered"
    return Table(
        title,
        COLUMNS,
        (planting_row(garden, now, today),),
        (*doubts(garden, now, today), undo(handles(desk).of(entry), was=bool(old))),
    )


def remove_planting(desk: Desk, id_: str, *, on: str | None = None) -> Table:
    """Strike a planting out. One that was in the bed is cleared instead: its entries are the garden's history."""
    garden = desk.garden()
    today = desk.today(garden)
    found = known_planting(garden, id_)
    seen = sight(found, garden.entries_of(id_), today)
    if seen.entries:
        raise Conflict(
            f"Planting '{id_}' has {len(seen.entries)} entries in the daybook. If it is over, "
            f"`kailyard enter clear {id_}`; if it never was, withdraw its entries first. Nothing was changed."
        )
    happened = typed.past_day(on, today, "--on")
    kept = {key: value for key, value in asdict(found).items() if key != "id"}
    entry = desk.entry("planting", happened=happened, target=id_, payload={**kept, "removed": True})
    desk.keep([entry])
    return Table(f"Planting {id_} is struck out", notes=(undo(handles(desk).of(entry), was=True),))


def known_planting(garden: Garden, id_: str) -> Planting:
    """The planting; NotFound names those spelt nearly alike."""
    if id_ in garden.plantings:
        return garden.plantings[id_]
    near = get_close_matches(id_, garden.plantings, n=3)
    hint = f"Did you mean {' or '.join(near)}?" if near else "`kailyard planting` lists them."
    raise NotFound(f"The garden has no planting {typed.shown(id_)}. {hint}")


def doubts(garden: Garden, planting: Planting, today: date) -> tuple[str, ...]:
    """What is odd about where and as what a planting stands; nothing of it is refused."""
    bed = garden.beds.get(planting.bed)
    if bed is None:
        return (f"Its bed '{planting.bed}' is gone.",)
    units, found = garden.units, []
    first, last = _span(garden, planting)
    if last > bed.length_m + 1e-9:
        found.append(
            f"It reaches to {figure(last, 'm', units, 2)}; the bed is {figure(bed.length_m, 'm', units, 2)} long."
        )
    width_m = (planting.rows - 1) * (planting.row_cm or 0.0) / 100
    if width_m > bed.width_m + 1e-9:
        found.append(
            f"Its {planting.rows} rows are {figure(width_m, 'm', units, 2)} wide; "
            f"the bed is {figure(bed.width_m, 'm', units, 2)}."
        )
    for other in garden.plantings.values():
        if other.id == planting.id or other.bed != planting.bed:
            continue
        seen = sight(other, garden.entries_of(other.id), today)
        begun = seen.sown if other.start == "sown" else seen.set_out or seen.planted
        start, end = _span(garden, other)
        if begun and not seen.ended and start < last - 1e-9 and end > first + 1e-9:
            by = f"; it must be out by {said_day(planting.planned, today)}" if planting.planned else ""
            found.append(f"{other.id} ({other.crop}) stands in that part of the bed{by}.")
    if planting.cultivar and (planting.crop, planting.cultivar) not in garden.cultivars:
        there = [name for crop, name in garden.cultivars if crop == planting.crop]
        near = get_close_matches(planting.cultivar, there, n=1)
        hint = f"Did you mean '{near[0]}'? " if near else ""
        found.append(
            f"The cultivar '{planting.cultivar}' is not entered. {hint}With its days the odds are its own: "
            f"`kailyard cultivar {planting.crop} '{planting.cultivar}' --days N --from sown`."
        )
    return tuple(found)


def _span(garden: Garden, planting: Planting) -> tuple[float, float]:
    """Where along its bed a planting begins and ends. [m]"""
    if planting.length_m is not None:
        return planting.place_m, planting.place_m + planting.length_m
    bed = garden.beds[planting.bed]
    return planting.place_m, max(bed.length_m, planting.place_m)


def planting_payload(
    old: Planting | None,
    given: Mapping[str, Any],
    units: Units,
    today: date,
    called: Callable[[str], str] = option,
) -> dict[str, Any]:
    """The whole of a planting from what is there and what is given; `called` names a field in messages."""
    found = {key: value for key, value in asdict(old).items() if key != "id"} if old else {}
    found |= {key: given[key] for key in ("crop", "bed", "start") if key in given}
    found |= {key: tidy_name(given[key]) for key in _WORDS if key in given}
    found |= {key: typed.count(given[key], called(key)) for key in ("count", "rows") if key in given}
    for key, (field, unit) in LENGTHS.items():
        if key in given:
            none = 0.0 if field == "place_m" else None
            found[field] = none if given[key] == NONE else typed.quantity(given[key], unit, units, called(key))
    for key in ("planned", "since"):
        if key in given:
            found[key] = None if given[key] == NONE else typed.day(given[key], today, called(key))
    if found.get("since") and found["since"] > today:
        when = f"{called('since')} {found['since']}"
        raise UsageError(f"{when} lies after today: it is the day the crowns or plants were put in.")
    return found


def planting_row(garden: Garden, p: Planting, today: date, entries: Sequence[Entry] | None = None) -> tuple[str, ...]:
    """A planting's line under COLUMNS; `entries` are its own, where they are at hand."""
    begins, ends = _span(garden, p) if p.bed in garden.beds else (p.place_m, p.place_m + (p.length_m or 0.0))
    where = f"{p.bed}, {figure(begins, 'm', garden.units, 2)} to {figure(ends, 'm', garden.units, 2)}"
    return (p.id, p.crop, p.cultivar, where, f"{p.count} in {p.rows}", how_it_stands(garden, p, today, entries))


def how_it_stands(garden: Garden, planting: Planting, today: date, entries: Sequence[Entry] | None = None) -> str:
    """The state of a planting in words, from its entries: 'sown 3 May, emerged seen 14 May'."""
    seen = sight(planting, garden.entries_of(planting.id) if entries is None else entries, today)
    said = []
    if planting.since and not seen.planted:
        said.append(f"since {planting.since.year}")
    for word, on in (("sown", seen.sown), ("set out", seen.set_out), ("planted", seen.planted)):
        if on:
            said.append(
                f"{word} {said_day(on, today)}" + (" under cover" if word == "sown" and seen.under_cover else "")
            )
    stages = [(s.seen, name) for name, s in seen.stages.items() if s.seen and not s.implied]
    if stages and not seen.ended:
        on, name = max(stages)
        said.append(f"{name.replace('-', ' ')} {said_day(on, today)}")
    if seen.ended:
        said.append(f"over {said_day(seen.ended, today)}")
    if said:
        return ", ".join(said)
    return f"planned for {said_day(planting.planned, today)}" if planting.planned else "to be begun"


def _said(p: Planting, units: Units) -> tuple[str, ...]:
    """The rest of what was entered of a planting."""
    parts = [f"Begun as {p.start}"]
    if p.spacing_cm is not None:
        parts.append(f"{figure(p.spacing_cm, 'cm', units)} in the row")
    if p.row_cm is not None:
        parts.append(f"rows {figure(p.row_cm, 'cm', units)} apart")
    if p.wave:
        parts.append(f"of the wave '{p.wave}'")
    return (", ".join(parts) + ".", *([p.note] if p.note else []))
