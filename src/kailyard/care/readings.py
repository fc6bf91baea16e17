"""What the daybook says of water: what was given, and how moist the ground was found."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date

import numpy as np

from kailyard.care.asked import Stand
from kailyard.care.ground import Soil
from kailyard.care.outlets import outlet_entries, outlet_of
from kailyard.garden.model import Bed, Entry
from kailyard.handbook.types import Handbook
from kailyard.season.view import SeasonView

PROBE_SPREAD = 0.03
"""Standard deviation of a probe that nobody has calibrated to the soil, by volume. [m³/m³]"""
PLACE_SPREAD = 0.10
"""Spread of the available water from one handful of a bed to the next. [share]"""
GUESSED_SHARE, GUESSED_SPREAD = 0.6, 0.3
"""'Watered' without an amount: this share of what was missing is taken to have been given, so uncertain."""
GIVEN_SPREAD = 0.15
"""An amount that was measured lies within so much, one standard deviation. [share]"""


@dataclass(frozen=True, slots=True)
class Given:
    """Water given to a planting on a day."""

    at: int
    """Place of the planting in the stand."""
    day: int
    mm: float | None
    """Over its ground; None where nobody said how much."""
    litres: float | None
    """Of the whole entry, whatever else it was given to; None where nobody said how much."""
    wets: float
    entry: Entry


@dataclass(frozen=True, slots=True)
class Reading:
    """Moisture found under a planting on a day."""

    at: int
    day: int
    left: float
    """Share of the available water that is left."""
    spread: float
    entry: Entry


def water_entries(view: SeasonView, first: int) -> tuple[Entry, ...]:
    """Entries from the ordinal `first` to today that say that water was given, with or without an amount."""
    today, since = view.today, date.fromordinal(first)
    return tuple(
        e
        for e in view.garden.entries
        if e.kind in ("water", "work")
        and since <= e.happened <= today
        and (e.kind == "water" or "watered" in str(e.payload.get("what")).lower())
    )


def given_to(view: SeasonView, stand: Stand, first: int) -> tuple[Given, ...]:
    """All water given from the ordinal `first` on, by planting."""
    whole = float(stand.area_m2.sum())
    measured = outlet_entries(view.garden)
    out: list[Given] = []
    for e in water_entries(view, first):
        out += [_given(view, stand, at, e, whole, measured) for at in _under(stand, e)]
    return tuple(out)


def _under(stand: Stand, entry: Entry) -> Iterable[int]:
    day = entry.happened.toordinal()
    for at, life in enumerate(stand.lives):
        # What a bed was given before this was sown lies in the ground still; what it was given after, is of the next.
        own = entry.target == life.planting.id
        if (own or entry.target in ("", life.planting.bed)) and day < stand.ended[at]:
            yield at


def _given(view: SeasonView, stand: Stand, at: int, e: Entry, whole_m2: float, measured: tuple[Entry, ...]) -> Given:
    planting = stand.lives[at].planting
    outlet = outlet_of(measured, planting.bed, view.handbook, on=e.happened, what=str(e.payload.get("outlet") or ""))
    own = float(stand.area_m2[at])
    bed = view.bed(planting)
    ground = own if e.target == planting.id else whole_m2 if not e.target else bed_m2(bed, own)
    minutes, cans = e.payload.get("minutes"), e.payload.get("cans")
    mm = litres = None
    if e.kind == "water" and e.quantity is not None and e.unit == "mm":
        mm, litres = e.quantity, outlet.litres(e.quantity, ground)
    elif e.kind == "water" and e.quantity is not None:
        mm, litres = e.quantity * outlet.arrives / ground, e.quantity
    elif e.kind == "water":
        mm = outlet.given_mm(minutes, cans, ground)
        litres = None if mm is None else outlet.litres(mm, ground)
    return Given(at, e.happened.toordinal(), mm, litres, outlet.wets, e)


def bed_m2(bed: Bed | None, own: float) -> float:
    """Ground of a bed, no less than that of what stands in it. [m²]"""
    if bed is None:
        return own
    share = np.pi / 4 if bed.shape == "round" else 1.0
    return max(bed.length_m * bed.width_m * share, own)


def fallen_today_mm(view: SeasonView) -> float:
    """What the garden's gauge was read at today: the record of the weather ends the day before. [mm]"""
    read = [e.quantity or 0.0 for e in view.garden.entries if e.kind == "rain" and e.happened == view.today]
    return read[-1] if read else 0.0


def lacking(view: SeasonView, first: int, count: int) -> np.ndarray:
    """Which of `count` days from the ordinal `first` on the record lacks, and the garden's gauge too. (days,)"""
    e = view.ensemble
    at = first - e.first.toordinal()
    read = {x.happened.toordinal() - first for x in view.garden.entries if x.kind == "rain"}
    own = np.isin(np.arange(count), list(read))
    return np.asarray(e.filled[at : at + count] & ~own)


def in_order(
    view: SeasonView, given: Iterable[Given], found: Iterable[Reading]
) -> Mapping[int, tuple[Given | Reading, ...]]:
    """By day, in the order of the daybook: a handful squeezed after watering was squeezed wet."""
    place = {e.id: n for n, e in enumerate(view.garden.entries)}
    days: dict[int, list[Given | Reading]] = defaultdict(list)
    every: list[Given | Reading] = [*given, *found]
    for one in sorted(every, key=lambda x: place[x.entry.id]):
        days[one.day].append(one)
    return {day: tuple(ones) for day, ones in days.items()}


def found_under(view: SeasonView, stand: Stand, first: int) -> tuple[Reading, ...]:
    """All moisture readings from the ordinal `first` on, by planting."""
    out = []
    today = view.today.toordinal()
    for e in view.garden.entries:
        if e.kind != "moisture" or not first <= e.happened.toordinal() <= today:
            continue
        for at in _under(stand, e):
            left, spread = left_of(e, stand.soils[at], view.handbook)
            out.append(Reading(at, e.happened.toordinal(), left, spread, e))
    return tuple(out)


def left_of(entry: Entry, soil: Soil, handbook: Handbook) -> tuple[float, float]:
    """(share of the available water left, its standard deviation) that a handful or a probe tells of."""
    feel = entry.payload.get("feel")
    if feel:
        low, high = (handbook.number(f"feel-{feel}", f"feel_available_{end}", 50.0) or 0.0 for end in ("min", "max"))
        # Anywhere in its class alike: the spread of a level distribution, and one handful is not the bed.
        return (low + high) / 200, float(np.hypot((high - low) / 100 / np.sqrt(12), PLACE_SPREAD))
    held = (entry.quantity or 0.0) / 100
    room = soil.full - soil.dry
    return min(max((held - soil.dry) / room, 0.0), 1.0), float(np.hypot(PROBE_SPREAD / room, PLACE_SPREAD))
