"""Litres this week and this season: as entered, and as watering at need and two fixed habits would have used."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date
from functools import lru_cache

import numpy as np

from kailyard.care.asked import stand_of
from kailyard.care.balance import FloatArray
from kailyard.care.course import Course, needed_mm, so_far
from kailyard.care.outlets import USUAL_L_MIN, Outlet, outlet_entries, outlet_of
from kailyard.care.water import lives_on_rain, watered_until
from kailyard.season.life import Life
from kailyard.season.view import SeasonView

HABIT_MM_WEEK = 25.4
"""The habit of an inch a week."""
HABIT_MINUTES_DAY = 15.0
"""The habit of the same minutes every day."""


@dataclass(frozen=True, slots=True, eq=False)
class Season:
    """All that stood in the beds since midwinter, what was cleared too, with its balance and its needs."""

    course: Course
    needed_mm: FloatArray
    """What watering at need would have given, over the ground. (days, P)"""
    begins: FloatArray
    """Day on which a planting's bed was first watered or wanted it: habits begin there. A bed that never did has the
    middle of the others; infinite where none did. (P,)"""


@dataclass(frozen=True, slots=True)
class Used:
    """Litres over a stretch of days, as given and as three ways would have used."""

    first: date
    last: date
    given: float
    unknown: int
    """Waterings without an amount, not in `given`."""
    needed: float
    inch_a_week: float
    minutes_daily: float


@lru_cache(maxsize=2)
def season_of(view: SeasonView) -> Season | None:
    """The season of a view; None where nothing stood in it."""
    start = midwinter(view.today, south=view.garden.site.latitude < 0).toordinal()
    lives = [
        life
        for life in view.lives.values()
        if life.begun_known
        and not lives_on_rain(view, life)
        and (life.sightings.ended is None or life.sightings.ended.toordinal() > start)
    ]
    if not lives or not view.ensemble.today_index:
        return None
    stand = stand_of(view, lives)
    stand = replace(stand, ended=np.minimum(stand.ended, [_until(view, life) for life in lives]))
    course = so_far(view, stand, start)
    needed = needed_mm(course)
    return Season(course, needed, _begins(course, needed))


def _until(view: SeasonView, life: Life) -> float:
    """The day from which it was watered no more: it ripened, or a frost killed it."""
    killed = view.seems_killed(life)
    return min(watered_until(view, life), float(killed.toordinal()) if killed else np.inf)


def _begins(course: Course, needed: FloatArray) -> FloatArray:
    beds = [life.planting.bed for life in course.stand.lives]
    own: dict[str, list[int]] = {bed: [] for bed in beds}
    for g in course.given:
        if course.stand.begun[g.at] <= g.day:
            own[beds[g.at]].append(g.day)
    for at, bed in enumerate(beds):
        wanted = np.flatnonzero(needed[:, at])
        own[bed] += [course.first + int(wanted[0])] if wanted.size else []
    firsts = {bed: float(min(days)) for bed, days in own.items() if days}
    usual = float(np.median(list(firsts.values()))) if firsts else np.inf
    return np.array([firsts.get(bed, usual) for bed in beds])


def midwinter(today: date, *, south: bool) -> date:
    """The first of January, in the south of July, that went before."""
    if not south:
        return date(today.year, 1, 1)
    return date(today.year if today.month >= 7 else today.year - 1, 7, 1)


def used(view: SeasonView, season: Season, days: int | None = None) -> Used:
    """Litres over the last `days` days, or over the season, beside what was needed and two habits."""
    course, stand = season.course, season.course.stand
    today = view.today.toordinal()
    begins = int(min(season.begins.min(), today))
    first = begins if days is None else max(today - days, course.first)
    ordinals = np.arange(first, today)[:, None]
    stood = (ordinals >= np.maximum(stand.begun, season.begins)) & (ordinals < stand.ended)
    rows = slice(first - course.first, None)
    measured = outlet_entries(view.garden)
    outlets = [outlet_of(measured, x.planting.bed, view.handbook, on=view.today) for x in stand.lives]
    arrive = np.array([o.arrives for o in outlets])
    beds = np.array([life.planting.bed for life in stand.lives])
    late = {g.entry.id: g for g in course.given if first <= g.day <= today}
    return Used(
        first=date.fromordinal(first),
        last=date.fromordinal(max(today - 1, first)),
        given=sum(g.litres for g in late.values() if g.litres is not None),
        unknown=sum(g.litres is None for g in late.values()),
        needed=float((season.needed_mm[rows] * stand.area_m2 / arrive).sum()),
        inch_a_week=float((stood * stand.area_m2 / arrive).sum() * HABIT_MM_WEEK / 7),
        minutes_daily=sum(_daily(beds == bed, stood, stand.area_m2, outlets) for bed in dict.fromkeys(beds.tolist())),
    )


def _daily(mine: np.ndarray, stood: np.ndarray, area_m2: FloatArray, outlets: list[Outlet]) -> float:
    """Litres that the daily minutes brought to one bed: its outlet runs once a day for all that stands in it. [L]"""
    outlet = outlets[int(np.flatnonzero(mine)[0])]
    ground = (stood[:, mine] * area_m2[mine]).sum(axis=1)
    if outlet.mm_h and not outlet.l_min:
        return float(ground.sum() / outlet.arrives * outlet.mm_h * HABIT_MINUTES_DAY / 60)
    return float((ground > 0).sum() * HABIT_MINUTES_DAY * (outlet.l_min or USUAL_L_MIN))
