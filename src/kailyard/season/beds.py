"""Which stretches of which beds are free, and what grew there before."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

import numpy as np

from kailyard.garden.model import Bed, Planting
from kailyard.season.life import Life
from kailyard.season.odds import BEYOND
from kailyard.season.view import SeasonView
from kailyard.troubles.keep_away import kept_out
from kailyard.troubles.met import met

FREED_WITHIN_DAYS = 60
"""Ground that was cleared longer ago than this lies as the gardener wants it, unless its whole bed is empty."""

TAKEN_WITHIN_DAYS = 60
"""A planting planned to begin within so many days has its place."""

ENOUGH_M = 0.4
"""A free stretch shorter than this is a gap, not a place."""


@dataclass(frozen=True, slots=True)
class Freed:
    """Free ground of one bed."""

    bed: Bed
    length_m: float
    """Of the bed's long side."""
    after: tuple[Life, ...]
    """What was cleared there of late, the last first; none where the bed is just empty."""
    since: date | None
    """The day it was cleared."""
    next: Life | None = None
    """What is planned there, though not yet soon."""
    next_begins: date | None = None


def freed(view: SeasonView) -> Iterator[Freed]:
    """Every bed with free ground, perennial beds left out."""
    by_bed: dict[str, list[Life]] = {}
    for life in view.lives.values():
        by_bed.setdefault(life.planting.bed, []).append(life)
    for id_ in sorted(view.garden.beds):
        bed = view.garden.beds[id_]
        lives = by_bed.get(id_, [])
        # A bed in which nothing ever stood or is planned is none of the garden's work.
        if lives and not bed.perennial and (found := _of_bed(view, bed, lives)) is not None:
            yield found


def _of_bed(view: SeasonView, bed: Bed, lives: list[Life]) -> Freed | None:
    there = [life for life in lives if life.sightings.ended is None]
    begins = {life.planting.id: _begins(view, life) for life in there}
    soon = view.today.toordinal() + TAKEN_WITHIN_DAYS
    taken = [_stretch(life.planting, bed) for life in there if begins[life.planting.id] <= soon]
    later = [life for life in there if soon < begins[life.planting.id] < BEYOND]
    past = [life for life in lives if life.sightings.ended is not None]
    past.sort(key=lambda life: (life.sightings.ended or date.min, life.planting.id), reverse=True)
    late = [life for life in past if (view.today - (life.sightings.ended or date.min)).days <= FREED_WITHIN_DAYS]
    free = [life for life in late if not any(_overlap(_stretch(life.planting, bed), other) for other in taken)]
    if taken and not free:
        return None
    length = _covered([_stretch(life.planting, bed) for life in free]) if taken else bed.length_m
    if length < ENOUGH_M:
        return None
    then = min(later, key=lambda life: (begins[life.planting.id], life.planting.id), default=None)
    return Freed(
        bed=bed,
        length_m=min(length, bed.length_m),
        after=tuple(free),
        since=free[0].sightings.ended if free else None,
        next=then,
        next_begins=date.fromordinal(begins[then.planting.id]) if then is not None else None,
    )


def _begins(view: SeasonView, life: Life) -> int:
    """The day it takes its place; in the past where it stands there. [ordinal]"""
    planned = life.planting.planned
    if planned is not None and not life.begun_known:
        return planned.toordinal()
    return int(np.sort(life.begun, axis=None)[life.begun.size // 2])


def _stretch(planting: Planting, bed: Bed) -> tuple[float, float]:
    return planting.place_m, planting.place_m + (planting.length_m or bed.length_m)


def _overlap(a: tuple[float, float], b: tuple[float, float]) -> bool:
    """Rows that share a hand's width or less stand side by side."""
    return min(a[1], b[1]) - max(a[0], b[0]) > 0.1


def _covered(stretches: list[tuple[float, float]]) -> float:
    """Length of what the stretches cover together. [m]"""
    total, end = 0.0, -1.0
    for first, last in sorted(stretches):
        total += max(last - max(first, end), 0.0)
        end = max(end, last)
    return total


def grown_groups(view: SeasonView, bed: Bed) -> dict[str, str]:
    """Rotation groups that must not come back to a bed yet, each with what was grown: 'legume' -> 'snap beans'."""
    found: dict[str, str] = {}
    for life in view.lives.values():
        if life.planting.bed != bed.id or not life.begun_known:
            continue
        years = view.number(life.planting, "rotation_years_min", 1.0)
        last = life.sightings.ended or view.today
        group = view.handbook.text(life.planting.crop, "rotation_group")
        if group and (view.today - last).days <= 365 * years:
            found.setdefault(group, view.plants(life.planting))
    return found


def sick_groups(view: SeasonView, bed: str) -> dict[str, str]:
    """Rotation groups that a bed must not take yet for a trouble that lives on in its soil, each with its crop."""
    found: dict[str, str] = {}
    for one in met(view.garden, view.today):
        if one.bed == bed and one.crop and kept_out(view.garden, bed, one.crop, view.today) is not None:
            group = view.handbook.text(one.crop, "rotation_group")
            if group:
                found.setdefault(group, view.plants(view.garden.plantings[one.planting]))
    return found
