"""When each bed wants water next, how much and how; what was used beside what a fixed habit would have used."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from functools import lru_cache

import numpy as np

from kailyard.care.asked import Stand, stand_of
from kailyard.care.course import Ahead, Course, ahead, so_far
from kailyard.care.outlets import (
    Goes,
    Outlet,
    day_to_water,
    goes_of,
    outlet_entries,
    outlet_of,
    water_days,
)
from kailyard.care.readings import bed_m2
from kailyard.garden.model import Entry
from kailyard.season.life import Life
from kailyard.season.measures import listing
from kailyard.season.odds import BEYOND, DayArray, middle
from kailyard.season.view import SeasonView

WITH_IT_DAYS = 2
"""What wants water so few days after its neighbour in the bed is watered with it."""
RAIN_DAYS = 3
"""So long rain is waited for."""
FIRST_YEAR_DAYS = 365
"""So long plants for bees are young."""
LEAST_MM = 3.0
"""Less wets leaves and dust, not roots: then nothing is asked."""


@dataclass(frozen=True, slots=True, eq=False)
class Watering:
    """The next watering of a bed. Arrays (traces, points)."""

    bed: str
    where: str
    at: tuple[int, ...]
    """Places in the stand of the plantings that are watered together."""
    opens: DayArray
    due: DayArray
    shuts: DayArray
    day: date | None
    """Recommended: the first allowed day; None where it is likelier not to come within the days foreseen."""
    mm: float
    """Over the ground of those plantings, on that day; the middle."""
    whole: bool
    """More of the bed is watered than wants it: a line or sprinkler cannot but water all."""
    area_m2: float
    """Ground that is watered: theirs, or all of the bed where its outlet cannot but water all."""
    goes: Goes
    outlet: Outlet
    rain: float
    """Chance that rain brings at least half of it within `RAIN_DAYS` of that day."""
    short: bool
    """More likely than not it is past its time already."""


@dataclass(frozen=True, slots=True, eq=False)
class Water:
    """All of a view's water."""

    stand: Stand
    course: Course
    ahead: Ahead
    waterings: tuple[Watering, ...]
    weekdays: tuple[int, ...]
    rule: Entry | None
    left_out: tuple[str, ...]
    """Plantings that stand and are not reckoned, with why."""


@lru_cache(maxsize=2)  # a view is asked by the sheet, the page and each line's why; it does not change
def water_of(view: SeasonView) -> Water | None:
    """The water of everything that stands; None where nothing does."""
    lives: list[Life] = []
    left_out: dict[str, list[str]] = {}
    for life in view.lives.values():
        if not life.standing or not view.ensemble.today_index:
            continue
        why = _why_not(view, life)
        if why:
            names = left_out.setdefault(why, [])
            names += (
                [] if (name := f"{view.told_apart(life.planting)} ({view.where(life.planting)})") in names else [name]
            )
        else:
            lives.append(life)
    if not lives:
        return None
    stand = stand_of(view, lives)
    course = so_far(view, stand)
    to_come = ahead(view, course)
    weekdays, rule = water_days(view.garden, view.today)
    left_out_words = tuple(f"{listing(names)}: {why}" for why, names in left_out.items())
    beds = sorted({life.planting.bed for life in lives})
    found = (_watering(view, stand, to_come, bed, weekdays) for bed in beds)
    return Water(stand, course, to_come, tuple(w for w in found if w), weekdays, rule, left_out_words)


def _rained(to_come: Ahead, at: list[int], i: int) -> float:
    """Share of samples in which at least half of what is gone on morning `i` is made up within the days waited for."""
    gone = to_come.depletion_mm[i : i + RAIN_DAYS + 1][..., at].sum(axis=-1)
    return float(np.mean(gone.min(axis=0) <= 0.5 * gone[0])) if len(gone) > 1 else 0.0


def lives_on_rain(view: SeasonView, life: Life) -> bool:
    """Whether it is a plant for bees and butterflies: none of them has coefficients."""
    return life.planting.crop in view.handbook.plants


def watered_until(view: SeasonView, life: Life) -> float:
    """The day from which it is watered no more, since it ripens; infinite where it is watered to the end."""
    stop = view.handbook.number(life.planting.crop, "stop_water_days_max")
    ripe = life.stage("mature") or life.stage("first-harvest")
    return np.inf if stop is None or ripe is None else float(middle(ripe.days) - stop)


def _why_not(view: SeasonView, life: Life) -> str:
    if lives_on_rain(view, life):
        young = view.today.toordinal() - int(np.median(life.begun)) < FIRST_YEAR_DAYS
        return "planted within a year: a can each in dry weeks; later rain will do" if young else "rain will do"
    if view.seems_killed(life):
        return "killed by frost, it seems"
    if watered_until(view, life) <= view.today.toordinal():
        return "ripening: no more water before lifting"
    return ""


def _watering(view: SeasonView, stand: Stand, to_come: Ahead, bed: str, weekdays: tuple[int, ...]) -> Watering | None:
    mine = [n for n, life in enumerate(stand.lives) if life.planting.bed == bed]
    middles = {n: middle(to_come.opens[n]) for n in mine}
    first = min(middles.values())
    together = [n for n in mine if middles[n] <= first + WITH_IT_DAYS] if first < BEYOND else mine
    opens, due, shuts = (
        np.minimum.reduce([a[n] for n in together]) for a in (to_come.opens, to_come.due, to_come.shuts)
    )
    if int(opens.min()) >= BEYOND:
        return None
    today = view.today
    outlet = outlet_of(outlet_entries(view.garden), bed, view.handbook, on=today)
    area = float(stand.area_m2[together].sum())
    where = view.where(stand.lives[mine[0]].planting)
    day, mm, rain = None, 0.0, 0.0
    if first < BEYOND:
        stress = middle(due)
        day = day_to_water(
            date.fromordinal(first), date.fromordinal(stress) if stress < BEYOND else None, today, weekdays
        )
        i = min((day - today).days, to_come.depletion_mm.shape[0] - 1)
        gone = np.median(to_come.depletion_mm[i][..., together], axis=(0, 1))
        rain = _rained(to_come, together, i)
        mm = max(float((gone * stand.area_m2[together]).sum() / area), LEAST_MM)
    # A can or hose goes where it is wanted; a line or sprinkler waters all of its bed.
    bed_of_it = view.bed(stand.lives[mine[0]].planting)
    ground = area if outlet.by_hand else bed_m2(bed_of_it, float(stand.area_m2[mine].sum()))
    takes = min(stand.soils[n].takes_mm_h for n in together)
    return Watering(
        bed=bed,
        where=where,
        at=tuple(together),
        opens=opens,
        due=due,
        shuts=shuts,
        day=day,
        mm=mm,
        whole=len(together) < len(mine) and not outlet.by_hand,
        area_m2=ground,
        goes=goes_of(outlet, mm, ground, takes),
        outlet=outlet,
        rain=rain,
        short=float(np.mean(due <= today.toordinal())) > 0.5,
    )
