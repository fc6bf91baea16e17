"""Injury by what may be a herbicide: what is held back until a release, the days before, windows for reporting.

Nobody is accused: what was seen is put beside what the weather record has, and where that proves nothing it says so.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date, timedelta

from kailyard.documents._parts import Reason, RestsOn, Status
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

NO_PROOF = (
    "A station's wind proves no source: it blows elsewhere, gusts and turns between trees and houses, and vapour moves "
    "in air that hardly stirs."
)


@dataclass(frozen=True, slots=True)
class Held:
    """Plantings that one injury holds back."""

    entry: Entry
    plantings: tuple[Planting, ...]

    @property
    def first_seen(self) -> date:
        """The day it was first seen."""
        return as_day(self.entry.payload.get("first_seen")) or self.entry.happened


def is_injury(entry: Entry) -> bool:
    """Whether an entry says that a herbicide may have hurt plants."""
    drift = entry.kind == "hurt" and entry.payload.get("cause") == "drift"
    return entry.kind == "injury" or drift


def held(garden: Garden, today: date) -> tuple[Held, ...]:
    """Every injury that holds plantings back, in the order of the entries. Only a recorded release lets one go."""
    out = []
    for entry in garden.entries:
        if is_injury(entry) and entry.happened <= today:
            mine = tuple(
                p
                for p in garden.plantings.values()
                if _covers(entry, p) and _stood(garden, p, entry, today) and not released(garden, p, entry, today)
            )
            if mine:
                out.append(Held(entry, mine))
    return tuple(out)


def by_target(garden: Garden, today: date) -> tuple[Held, ...]:
    """The same, one for each target: the first entry of it, and every planting that entries of it hold."""
    found: dict[str, Held] = {}
    for one in held(garden, today):
        old = found.get(one.entry.target)
        plantings = one.plantings if old is None else tuple(dict.fromkeys((*old.plantings, *one.plantings)))
        found[one.entry.target] = Held(one.entry if old is None else old.entry, plantings)
    return tuple(found.values())


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
    beds = [b.strip() for b in str(entry.payload.get("beds") or "").split(",") if b.strip()]
    if entry.target:
        return entry.target in (planting.id, planting.bed) or planting.bed in beds
    return not beds or planting.bed in beds


def _stood(garden: Garden, planting: Planting, injury: Entry, today: date) -> bool:
    """Whether the planting was in the ground that day, as far as entries tell; what is not known counts as yes.

    An injury entered as such holds what was lifted and stored too; a plain 'hurt by drift' ends with the planting.
    """
    mine = garden.entries_of(planting.id)
    begun = [e.happened for e in mine if e.kind in ("sow", "set-out", "plant")]
    ended = [e.happened for e in mine if e.kind == "clear"]
    day = injury.happened
    if any(d < day for d in ended) or (injury.kind == "hurt" and any(d <= today for d in ended)):
        return False
    if begun:
        return min(begun) <= day
    return planting.planned is None or planting.planned <= day


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
            "report it to the state's pesticide agency; ask there how long it takes complaints",
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


def added(garden: Garden, injury: Held) -> tuple[Entry, ...]:
    """What was spread on the beds that are hit, by the daybook, in order."""
    targets = {p.bed for p in injury.plantings} | {p.id for p in injury.plantings}
    first = injury.first_seen - timedelta(days=ADDED_DAYS)
    return tuple(
        e
        for e in garden.entries
        if e.kind == "work"
        and e.target in targets
        and first <= e.happened <= injury.first_seen
        and any(word in f"{e.payload.get('what')} {e.text}".lower() for word in ADDED)
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
    share = injury.entry.payload.get("share")
    hurt = replace(injury.entry, kind="hurt", payload={"cause": "drift", "share": 1.0 if share is None else share})
    looks = [e for e in life.sightings.of("look") if e.happened >= injury.entry.happened]
    return decide(view, life, hurt, looks[-1] if looks else None)


def grounds(injury: Held) -> tuple[Reason, ...]:
    """What a hold rests on: the entry, and the advice of the agencies."""
    facts = herbicide_facts()
    own = from_entry(injury.entry, "Entered as hurt by what may be a herbicide.")
    return (
        own,
        *(from_herbicide(facts[topic]) for topic in ("eating", "residue_dicamba", "clippings", "residue_soil")),
    )
