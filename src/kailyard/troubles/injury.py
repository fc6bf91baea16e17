"""Injury by what may be a herbicide: what is held back until a release, the days before, windows for reporting.

Nobody is accused: what was seen is put beside what the weather record has, and where that proves nothing it says so.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import Any

from kailyard.documents._parts import Reason, RestsOn, Status
from kailyard.garden.entries.injury import named
from kailyard.garden.model import Entry, Garden, Planting
from kailyard.handbook.signs import HerbicideFact, Sensitivity, herbicide_facts, samples, sensitivities
from kailyard.handbook.troubles import crop_words
from kailyard.season.hurt import Decision, decide
from kailyard.season.life import Life
from kailyard.season.reasons import from_entry
from kailyard.season.sightings import as_day
from kailyard.season.view import SeasonView
from kailyard.weather.record import DailyRecord

DAYS_BEFORE = 14
"""So many days before the first sight are shown: symptoms come a few days to two weeks after exposure."""

REPORT_DAYS = 30
"""Within so many days from the first damage one state takes complaints; others differ."""

ADDED_DAYS = 400
"""What was spread on a bed so long before is named: some residues last a year and longer."""

ADDED = ("manure", "compost", "hay", "straw", "clipping", "mulch")
"""Words of work that brings something onto a bed."""

SPRAYED_DAYS = 30
"""What was sprayed in the own garden so long before is named beside what came from outside."""

NO_PROOF = (
    "A station's wind proves no source: it blows elsewhere, gusts and turns between trees and houses, and vapour moves "
    "in air that hardly stirs."
)


@dataclass(frozen=True, slots=True)
class Held:
    """Plantings that one injury holds back."""

    entry: Entry
    """The first that was written down."""
    plantings: tuple[Planting, ...]
    later: tuple[Entry, ...] = ()
    """Those of the same target that still hold something back, in order."""

    @property
    def entries(self) -> tuple[Entry, ...]:
        """All of them, in order."""
        return (self.entry, *self.later)

    @property
    def first_seen(self) -> date:
        """The day it was first seen."""
        return min(_seen(entry) for entry in self.entries)

    def said(self, name: str) -> Any:
        """What the entries say in a field, the last that says anything; None where none does."""
        return next((value for e in reversed(self.entries) if (value := e.payload.get(name)) not in (None, "")), None)


def is_injury(entry: Entry) -> bool:
    """Whether an entry says that a herbicide may have hurt plants."""
    drift = entry.kind == "hurt" and entry.payload.get("cause") == "drift"
    return entry.kind == "injury" or drift


def injuries(garden: Garden, today: date) -> tuple[Held, ...]:
    """Every injury with the plantings that it hit, released since or not, in the order of the entries."""
    out = []
    for entry in garden.entries:
        if is_injury(entry) and entry.happened <= today:
            mine = tuple(p for p in garden.plantings.values() if _covers(entry, p) and _stood(garden, p, entry))
            if mine:
                out.append(Held(entry, mine))
    return tuple(out)


def held(garden: Garden, today: date) -> tuple[Held, ...]:
    """Every injury that holds plantings back, in the order of the entries. Only a recorded release lets one go."""
    out = []
    for one in injuries(garden, today):
        mine = tuple(p for p in one.plantings if not released(garden, p, one.entry, today))
        if mine:
            out.append(Held(one.entry, mine))
    return tuple(out)


def by_target(garden: Garden, today: date) -> tuple[Held, ...]:
    """The same, one for each target: every entry of it that holds, and every planting that they hold."""
    found: dict[str, Held] = {}
    for one in held(garden, today):
        old = found.get(one.entry.target)
        if old is None:
            found[one.entry.target] = one
        else:
            plantings = tuple(dict.fromkeys((*old.plantings, *one.plantings)))
            found[one.entry.target] = Held(old.entry, plantings, (*old.later, one.entry))
    return tuple(found.values())


def held_back(garden: Garden, planting: str, today: date) -> Held | None:
    """What holds a planting back, all of its entries together; None where nothing does."""
    return _together([one for one in held(garden, today) if planting in {p.id for p in one.plantings}])


def written_down(garden: Garden, of: str, today: date) -> Held | None:
    """The injury of a planting or bed, its entries together, released since or not; '': the last of the garden."""
    every = injuries(garden, today)
    if not of:
        return _together([one for one in every if one.entry.target == every[-1].entry.target])
    return _together([one for one in every if any(of in (p.id, p.bed) for p in one.plantings)])


def _together(those: Sequence[Held]) -> Held | None:
    if not those:
        return None
    plantings = tuple(dict.fromkeys(p for one in those for p in one.plantings))
    return Held(those[0].entry, plantings, tuple(one.entry for one in those[1:]))


def gone(garden: Garden, planting: Planting, today: date) -> date | None:
    """The day on which a planting was cleared: what was kept of it is held back all the same; None where it stands."""
    ended = [e.happened for e in garden.entries_of(planting.id) if e.kind == "clear" and e.happened <= today]
    return max(ended, default=None)


def released(garden: Garden, planting: Planting, injury: Entry, today: date) -> Entry | None:
    """The entry that ended the hold: it names the planting, its bed or the garden, and came after the injury."""
    return next(
        (
            e
            for e in garden.entries
            if e.kind == "release"
            and e.target in ("", planting.id, planting.bed)
            and injury.happened <= e.happened <= today
            and e.payload.get("by")
            and e.payload.get("what")
        ),
        None,
    )


def _covers(entry: Entry, planting: Planting) -> bool:
    more = named(entry.payload) if entry.kind == "injury" else ()
    if entry.target in (planting.id, planting.bed) or planting.id in more or planting.bed in more:
        return True
    return not entry.target and not more


def _stood(garden: Garden, planting: Planting, injury: Entry) -> bool:
    """Whether the planting was in the ground then, as far as entries tell; what is not known counts as yes.

    What was lifted or cleared since stays held, since it may lie in a store; what was begun since was not hit.
    """
    mine = garden.entries_of(planting.id)
    begun = [e.happened for e in mine if e.kind in ("sow", "set-out", "plant")]
    if any(e.happened < _seen(injury) for e in mine if e.kind == "clear"):
        return False
    if begun:
        return min(begun) <= injury.happened
    return planting.planned is None or planting.planned <= injury.happened


def _seen(injury: Entry) -> date:
    return as_day(injury.payload.get("first_seen")) or injury.happened


@dataclass(frozen=True, slots=True)
class Window:
    """A span within which something is still worth doing."""

    what: str
    last: date
    ground: Reason


def windows(injury: Held) -> tuple[Window, ...]:
    """Reporting and sampling, with the last day of each."""
    fact, sample = herbicide_facts()["report"], samples()["herbicide"]
    ground = RestsOn("common practice", "residues fall day by day; ask the laboratory")
    return (
        Window(
            "report it to the pesticide agency of your state or country; ask there how long it takes complaints",
            injury.first_seen + timedelta(days=REPORT_DAYS),
            from_herbicide(fact),
        ),
        Window(
            f"take samples: {sample.what}",
            injury.first_seen + timedelta(days=sample.days),
            Reason(f"{sample.says[0].upper()}{sample.says[1:]}.", rests_on=ground),
        ),
    )


def from_herbicide(fact: HerbicideFact) -> Reason:
    """One fact about injury by herbicides as a reason."""
    marks: dict[str, Status] = {"published": "published", "common practice": "common practice"}
    return Reason(
        f"{fact.fact[0].upper()}{fact.fact[1:]}.", rests_on=RestsOn(marks.get(fact.status, "memory"), fact.source)
    )


@dataclass(frozen=True, slots=True)
class DayBefore:
    """One day before the injury was seen; None where the record has nothing."""

    day: date
    tmin_c: float | None
    tmax_c: float | None
    rain_mm: float | None
    wind_m_s: float | None


def days_before(
    record: DailyRecord | None, first_seen: date, wind_m_s: Mapping[date, float] | None = None
) -> tuple[DayBefore, ...]:
    """The two weeks before the first sight, from the station's record. Wind only where it is recorded."""
    out = []
    for n in range(DAYS_BEFORE, -1, -1):
        day = first_seen - timedelta(days=n)
        at = -1 if record is None else (day - record.first).days
        low, high, rain = (
            (_number(c[at]) for c in (record.tmin_c, record.tmax_c, record.rain_mm))
            if record is not None and 0 <= at < len(record)
            else (None, None, None)
        )
        out.append(DayBefore(day, low, high, rain, _number((wind_m_s or {}).get(day, float("nan")))))
    return tuple(out)


def _number(value: float) -> float | None:
    return None if value != value else float(value)


@dataclass(frozen=True, slots=True)
class Added:
    """Something that was brought onto a bed, and whether what lay there is hit."""

    entry: Entry
    bed: str
    hit: bool
    """Something in this bed is held back."""

    @property
    def what(self) -> str:
        """'mulched, “Straw of the second load”'; with the lot where it was entered."""
        said, lot = str(self.entry.payload.get("what") or ""), str(self.entry.payload.get("lot") or "")
        parts = [said, f"lot: {lot}" if lot else "", f"“{self.entry.text.rstrip('.')}”" if self.entry.text else ""]
        return ", ".join(part for part in parts if part)


def added(garden: Garden, injury: Held) -> tuple[Added, ...]:
    """What was brought onto the beds of the garden before, by the daybook, in order: those that are hit and the others.

    The others are what a residue is told by: the same lot on a sound bed speaks against it.
    """
    hit = {p.bed for p in injury.plantings}
    first = injury.first_seen - timedelta(days=ADDED_DAYS)
    return tuple(Added(e, bed, bed in hit) for e, bed in brought(garden, first, injury.first_seen))


def brought(garden: Garden, first: date, last: date, words: Sequence[str] = ADDED) -> Iterator[tuple[Entry, str]]:
    """Entries of `first` to `last` that say that something was brought onto a bed or its plantings, with the bed."""
    for e in garden.entries:
        if e.kind in ("work", "note") and first <= e.happened <= last:
            bed = garden.plantings[e.target].bed if e.target in garden.plantings else e.target
            said = f"{e.payload.get('what', '')} {e.payload.get('lot', '')} {e.text}".lower()
            if bed and any(word in said for word in words):
                yield e, bed


def sprayed(garden: Garden, injury: Held) -> tuple[Entry, ...]:
    """What was sprayed, dusted or baited in this garden in the weeks before, by the daybook, in order."""
    first = injury.first_seen - timedelta(days=SPRAYED_DAYS)
    return tuple(e for e in garden.entries if e.kind == "treat" and first <= e.happened <= injury.first_seen)


def looks(garden: Garden, injury: Held) -> tuple[Entry, ...]:
    """What was seen since on the plantings that are held back and on their beds, in order."""
    targets = {p.id for p in injury.plantings} | {p.bed for p in injury.plantings}
    return tuple(
        e for e in garden.entries if e.kind == "look" and e.target in targets and e.happened >= injury.first_seen
    )


def sensitive(crop: str) -> tuple[Sensitivity, ...]:
    """What is known of a crop's sensitivity, herbicide by herbicide."""
    words = set(crop_words(crop).words)
    return tuple(s for s in sensitivities() if words & {part.strip() for part in _crops(s)})


def _crops(row: Sensitivity) -> tuple[str, ...]:
    plain = {"snap bean": "bean", "lima bean": "bean", "cantaloupe": "melon"}
    return tuple(plain.get(part.strip(), part.strip()) for part in row.crop.split(","))


def choice(view: SeasonView, life: Life, injury: Held) -> Decision:
    """Keep, watch, pull or replace, for one planting that was hit. What may be eaten is another question."""
    share = injury.said("share")
    hurt = replace(injury.entry, kind="hurt", payload={"cause": "drift", "share": 1.0 if share is None else share})
    seen = [e for e in life.sightings.of("look") if e.happened >= injury.entry.happened]
    return decide(view, life, hurt, seen[-1] if seen else None)


def grounds(injury: Held) -> tuple[Reason, ...]:
    """What a hold rests on: the entry, and the advice of the agencies."""
    facts = herbicide_facts()
    own = from_entry(injury.entry, "Entered as hurt by what may be a herbicide.")
    return (
        own,
        *(from_herbicide(facts[topic]) for topic in ("eating", "residue_dicamba", "clippings", "residue_soil")),
    )
