"""When each bed wants water next, how much and how; what was used beside what a fixed habit would have used."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from functools import lru_cache

import numpy as np

from kailyard.care.asked import Stand, stand_of
from kailyard.care.balance import FloatArray
from kailyard.care.course import Ahead, Course, ahead, needed_mm, so_far
from kailyard.care.outlets import (
    USUAL_L_MIN,
    Goes,
    Outlet,
    day_to_water,
    goes_of,
    outlet_entries,
    outlet_of,
    water_days,
)
from kailyard.garden.model import Entry
from kailyard.season.life import Life
from kailyard.season.odds import BEYOND, DayArray, middle
from kailyard.season.view import SeasonView

WITH_IT_DAYS = 2
"""What wants water so few days after its neighbour in the bed is watered with it."""
HABIT_MM_WEEK = 25.4
"""The habit of an inch a week."""
HABIT_MINUTES_DAY = 15.0
"""The habit of the same minutes every day."""
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
    area_m2: float
    goes: Goes
    outlet: Outlet
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


@dataclass(frozen=True, slots=True)
class Used:
    """Litres over a stretch of days, as given and as four ways would have used."""

    first: date
    last: date
    given: float
    unknown: int
    """Waterings without an amount, not in `given`."""
    needed: float
    inch_a_week: float
    minutes_daily: float


@lru_cache(maxsize=2)  # a view is asked by the sheet, the page and each line's why; it does not change
def water_of(view: SeasonView) -> Water | None:
    """The water of everything that stands; None where nothing does."""
    lives, left_out = [], []
    for life in view.lives.values():
        if not life.standing or not view.ensemble.today_index:
            continue
        why = _why_not(view, life)
        if why:
            left_out.append(f"{life.planting.id}: {why}")
        else:
            lives.append(life)
    if not lives:
        return None
    stand = stand_of(view, lives)
    course = so_far(view, stand)
    to_come = ahead(view, course)
    weekdays, rule = water_days(view.garden, view.today)
    beds = sorted({life.planting.bed for life in lives})
    found = (_watering(view, stand, to_come, bed, weekdays) for bed in beds)
    return Water(stand, course, to_come, tuple(w for w in found if w), weekdays, rule, tuple(left_out))


def _why_not(view: SeasonView, life: Life) -> str:
    if life.planting.crop in view.handbook.plants:
        return "planted for bees and butterflies; once rooted it lives on rain"
    if view.seems_killed(life):
        return "it seems killed"
    stop = view.handbook.number(life.planting.crop, "stop_water_days_max")
    ripe = life.stage("mature") or life.stage("first-harvest")
    if stop is not None and ripe is not None and middle(ripe.days) - stop <= view.today.toordinal():
        return "it ripens: no more water before lifting"
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
    day, mm = None, 0.0
    if first < BEYOND:
        stress = middle(due)
        day = day_to_water(
            date.fromordinal(first), date.fromordinal(stress) if stress < BEYOND else None, today, weekdays
        )
        i = min((day - today).days, to_come.depletion_mm.shape[0] - 1)
        gone = np.median(to_come.depletion_mm[i][..., together], axis=(0, 1))
        mm = float((gone * stand.area_m2[together]).sum() / area)
        if mm < LEAST_MM:
            return None
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
        area_m2=area,
        goes=goes_of(outlet, mm, area, takes),
        outlet=outlet,
        short=float(np.mean(due <= today.toordinal())) > 0.5,
    )


def used(view: SeasonView, water: Water, days: int | None = None) -> Used:
    """Litres over the last `days` days, or since the balance began, beside what was needed and two habits."""
    course, stand = water.course, water.stand
    today = view.today.toordinal()
    first = course.first if days is None else max(today - days, course.first)
    rows = slice(first - course.first, None)
    ordinals = np.arange(first, today)
    stood = ordinals[:, None] >= stand.begun
    measured = outlet_entries(view.garden)
    outlets = [outlet_of(measured, x.planting.bed, view.handbook, on=view.today) for x in stand.lives]
    arrive = np.array([o.arrives for o in outlets])
    per_day = np.array([_of_minutes(o, a) for o, a in zip(outlets, stand.area_m2, strict=True)])
    beds = [life.planting.bed for life in stand.lives]
    share = _share_of_bed(beds, stand.area_m2)
    late = [g for g in course.given if first <= g.day < today + 1]
    return Used(
        first=date.fromordinal(first),
        last=date.fromordinal(max(today - 1, first)),
        given=sum(g.litres for g in late if g.litres is not None),
        unknown=len({g.entry.id for g in late if g.litres is None}),
        needed=float((needed_mm(course)[rows] * stand.area_m2 / arrive).sum()),
        inch_a_week=float((stood * stand.area_m2 / arrive).sum() * HABIT_MM_WEEK / 7),
        minutes_daily=float((stood * per_day * share).sum()),
    )


def _of_minutes(outlet: Outlet, area_m2: float) -> float:
    """Litres that the daily minutes bring to one bed. [L]"""
    if outlet.l_min:
        return HABIT_MINUTES_DAY * outlet.l_min
    if outlet.mm_h:
        return HABIT_MINUTES_DAY / 60 * outlet.mm_h * area_m2 / outlet.arrives
    return HABIT_MINUTES_DAY * USUAL_L_MIN


def _share_of_bed(beds: list[str], area_m2: FloatArray) -> FloatArray:
    """The outlet of a bed runs once for all its plantings."""
    whole: dict[str, float] = {}
    for bed, area in zip(beds, area_m2, strict=True):
        whole[bed] = whole.get(bed, 0.0) + float(area)
    return np.array([float(a) / whole[b] for b, a in zip(beds, area_m2, strict=True)])
