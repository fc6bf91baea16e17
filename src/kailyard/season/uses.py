"""What a planting is picked for, and how its picking moves by it: a green pepper before a ripe one.

The handbook keeps a crop's uses as subjects of their own, 'pepper-sweet/ripe'; what stands there takes the place of the
crop's own row. A use that nobody said is the crop's usual one.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from functools import lru_cache

import numpy as np

from kailyard.garden.model import Entry, Planting
from kailyard.handbook.types import Fact, Handbook
from kailyard.season.draws import normal_point, strata
from kailyard.season.ladder import Timeline
from kailyard.season.odds import DayArray, later
from kailyard.season.sightings import Sightings


@lru_cache(maxsize=1024)
def uses_of(handbook: Handbook, crop: str) -> tuple[str, ...]:
    """The uses of a crop by name, in the order in which they are ready; () where it has but one."""
    begin = f"{crop}/"
    names = [subject.removeprefix(begin) for subject in handbook.facts if subject.startswith(begin)]

    def after(name: str) -> float:
        return sum(handbook.number(begin + name, f"use_after_days_{end}", 0.0) or 0.0 for end in ("min", "max"))

    return tuple(sorted(names, key=lambda name: (after(name), name)))


@lru_cache(maxsize=1024)
def usual(handbook: Handbook, crop: str) -> str:
    """The use that the crop's own rows are about; '' where it has but one."""
    found = (u for u in uses_of(handbook, crop) if handbook.get(f"{crop}/{u}", "use_usual") is not None)
    return next(found, "")


def recognised(handbook: Handbook, crop: str, word: str) -> str:
    """The use that somebody's word means; '' where the handbook has no such use of the crop."""
    meant = word.strip().casefold()
    return next((u for u in uses_of(handbook, crop) if u.casefold() == meant), "") if meant else ""


def use_said(handbook: Handbook, planting: Planting, entries: Iterable[Entry]) -> str:
    """What a planting is picked for: as said last, else as it was picked last; '' where nobody said."""
    if not uses_of(handbook, planting.crop):
        return ""
    said = picked = ""
    for entry in entries:
        if entry.kind == "use":
            said = str(entry.payload.get("use"))
        elif entry.kind == "pick":
            picked = str(entry.payload.get("use") or "") or picked
    return recognised(handbook, planting.crop, said or picked)


def use_of_pick(handbook: Handbook, planting: Planting, entries: Iterable[Entry], pick: Entry) -> str:
    """The use that a picking was for: as it says, else as was said of the planting by then, else the usual one."""
    crop, said = planting.crop, str(pick.payload.get("use") or "")
    if not said:
        earlier = [e for e in entries if e.kind == "use" and e.happened <= pick.happened]
        said = str(earlier[-1].payload.get("use")) if earlier else ""
    return recognised(handbook, crop, said) or usual(handbook, crop)


def early_picks(handbook: Handbook, planting: Planting, entries: tuple[Entry, ...]) -> frozenset[str]:
    """Identifiers of the pickings that do not show the crop's usual first picking: they were for an earlier use."""
    early = _early(handbook, planting.crop)
    picks = (e for e in entries if e.kind == "pick") if early else ()
    return frozenset(e.id for e in picks if use_of_pick(handbook, planting, entries, e) in early)


def use_fact(handbook: Handbook, crop: str, use: str, quantity: str) -> Fact | None:
    """What the handbook says of a use, else of its crop."""
    own = handbook.get(f"{crop}/{use}", quantity) if use else None
    return own if own is not None else handbook.get(crop, quantity)


def meant(handbook: Handbook, crop: str, use: str) -> str:
    """A use by its name: the usual one where none was said; '' where the crop has but one."""
    return use or usual(handbook, crop)


def moves(handbook: Handbook, crop: str, use: str) -> Fact | None:
    """The fact that a use is picked before or after the crop's usual first picking; None where it is not."""
    return handbook.get(f"{crop}/{use}", "use_after_days_min") if use else None


def for_its_use(
    handbook: Handbook,
    planting: Planting,
    use: str,
    seen: Sightings,
    way: Timeline,
    days: dict[str, DayArray],
    begun: DayArray,
    draws: int,
) -> tuple[Timeline, dict[str, DayArray]]:
    """The timeline and its days moved to a use: when its first is ready, and how long picking goes on.

    What is lifted at once when ripe is picked over some time for an earlier use: its first picking takes the place of
    ripeness. The first picking for the use shows that it was ready by then. An earlier use is a part of the same way:
    a planting that takes half as long as the crop's usual days is ahead by half as much.
    """
    crop = planting.crop
    least = moves(handbook, crop, use)
    if least is None:
        return way, days
    most = handbook.number(f"{crop}/{use}", "use_after_days_max", least.number) or 0.0
    usually, shift = days[way.harvest], _shifts(least.number, most, draws, f"{planting.id}/use")[None, :]
    if least.number < 0:
        ends = [handbook.number(crop, f"days_to_first_harvest_{end}") for end in ("min", "max")]
        typical = sum(end for end in ends if end is not None) / 2 or 60.0
        part = np.clip((usually - begun) / typical, 0.25, 1.5)
        shift = np.round(shift * part).astype(np.int32)
    moved = later(usually, shift)
    first = next((e for e in seen.of("pick") if use_of_pick(handbook, planting, seen.entries, e) == use), None)
    if first is not None:
        moved = np.minimum(moved, np.int32(first.happened.toordinal()))
    span = [use_fact(handbook, crop, use, f"harvest_duration_days_{end}") for end in ("min", "max")]
    lasts = (span[0].number, span[1].number) if span[0] is not None and span[1] is not None else way.harvest_days
    kept = {stage: day for stage, day in days.items() if stage != way.harvest}
    return replace(way, harvest="first-harvest", harvest_days=lasts), {**kept, "first-harvest": moved}


@lru_cache(maxsize=1024)
def _early(handbook: Handbook, crop: str) -> frozenset[str]:
    facts = ((u, moves(handbook, crop, u)) for u in uses_of(handbook, crop))
    return frozenset(u for u, fact in facts if fact is not None and fact.number < 0)


@lru_cache(maxsize=4096)
def _shifts(least: float, most: float, draws: int, purpose: str) -> DayArray:
    """Draws of a shift in days: its ends are the middle eight tenths. (draws,)"""
    middle, spread = (least + most) / 2, (most - least) / 2.563
    drawn = np.round(middle + spread * normal_point(strata(draws, purpose))).astype(np.int32)
    drawn.setflags(write=False)
    return np.asarray(drawn)
