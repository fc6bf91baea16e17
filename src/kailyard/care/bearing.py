"""When a planting bears: how its picking runs, and what of it is picked, waiting, gone or to come.

Amounts are shares of what the planting would bear in a full season. Arrays are (traces, draws), one value a possible
season and draw.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import date

import numpy as np
from numpy.typing import NDArray

from kailyard.documents._parts import Reason
from kailyard.garden.model import Entry
from kailyard.season.clock import Clock
from kailyard.season.draws import normal_chance, normal_point, strata
from kailyard.season.first_cut import first_cut_days, first_cut_reasons
from kailyard.season.hurt import GAP_LOSES
from kailyard.season.keeping import KEEPS, keeping_clock, keeping_days
from kailyard.season.ladder import LEAST_SPREAD
from kailyard.season.life import Life, span_days
from kailyard.season.odds import BEYOND, DayArray
from kailyard.season.reasons import from_fact
from kailyard.season.use_words import fact_for, number_for, said_for, use_reasons
from kailyard.season.view import SeasonView
from kailyard.season.work.pick import YEARS_TABLED

FloatArray = NDArray[np.float64]

SEASON_BEFORE_DAYS = 60
"""A picking so long before the first day foreseen for a perennial is still of the same season; months are that wide."""


@dataclass(frozen=True, slots=True, eq=False)
class Bearing:
    """One season's picking of one planting, in every possible season and draw."""

    first: FloatArray
    """Day on which the first comes ready; not before 2e9 where it never does or lies beyond the horizon. [ordinal]"""
    last: FloatArray
    """Day on which the last would come ready, were it not killed. [ordinal]"""
    cut: FloatArray
    """Last day on which anything comes ready: `last`, or the day before the killing night, or that of the clearing."""
    keeps: FloatArray
    """Whole ordinary days that the ready crop stays good on the plant. [days]"""
    shape: str
    picks: tuple[Entry, ...]
    """This season's pickings up to today, in order."""
    today: int
    standing: float
    """Share of the full stand's crop that those left give: what neighbours do not make up for is gone. [0 to 1]"""
    finished: bool
    """It is over, or the last picking is written down: nothing more is to come."""
    felt: Clock | None = None
    """Days as the ready crop feels them, a hot one twice; None where each counts once."""

    def gone_by(self, day: float) -> FloatArray:
        """Last day of which all that came ready has gone over by the end of `day`. [ordinal]"""
        if self.felt is None:
            return day - self.keeps - 1.0
        return self.felt.last_start(np.full((1, 1), day, dtype=np.int32), self.keeps + 1.0).astype(np.float64)

    def good_until(self, day: FloatArray) -> FloatArray:
        """Last day on which what came ready on `day` is still good. [ordinal]"""
        if self.felt is None:
            return day + self.keeps
        whole = np.minimum(day, self.felt.first + self.felt.days).astype(np.int32)
        return self.felt.reach(self.felt.reading(whole) + self.keeps).astype(np.float64)

    def ready(self, day: FloatArray | float) -> FloatArray:
        """Share of a full season that has come ready by the end of `day` (an ordinal, or one a sample)."""
        end = np.minimum(day, self.cut)
        u = np.clip((end + 1.0 - self.first) / (self.last + 1.0 - self.first), 0.0, 1.0)
        return run(self.shape, u)

    @property
    def borne(self) -> FloatArray:
        """Share of a full season that comes ready before frost ends it."""
        return self.ready(np.inf)

    @property
    def last_picked(self) -> float:
        """Day of the last picking; before all days where there was none. [ordinal]"""
        return float(self.picks[-1].happened.toordinal()) if self.picks else -np.inf


@dataclass(frozen=True, slots=True, eq=False)
class Ledger:
    """Where what is borne has gone, on one day: shares of a full season; the five sum to `borne` of the bearing."""

    picked: tuple[FloatArray, ...]
    """At each picking that is written down."""
    gone: FloatArray
    """Gone over on the plant between pickings, or picked and not written down."""
    waiting: FloatArray
    """Ready and good on the plants now."""
    coming: FloatArray
    """Comes ready from today on."""

    @property
    def all_picked(self) -> FloatArray:
        """Sum of the pickings."""
        return sum(self.picked, start=np.zeros_like(self.gone))


def run(shape: str, u: FloatArray) -> FloatArray:
    """Share of a picking that has come ready when the part `u` (0 to 1) of its days is over.

    `even`: as many every day. `early`: most in the first half, a beta distribution (2, 3), whose peak lies at a third.
    `middle`: a beta distribution (2, 2).
    """
    if shape == "early":
        return np.asarray(u * u * (6.0 - 8.0 * u + 3.0 * u * u))
    if shape == "middle":
        return np.asarray(u * u * (3.0 - 2.0 * u))
    return np.asarray(u)


def bearing(view: SeasonView, life: Life) -> Bearing | None:
    """How a planting bears this season; None where nobody can foresee when it does."""
    found = _days(view, life)
    if found is None:
        return None
    first, last, keeps = found
    day_first, day_last = np.broadcast_arrays(first, last)
    real = day_first[day_first < BEYOND]
    begins = float(real.min()) if real.size else np.inf
    picks = this_season(life, begins)
    day_first, day_last = _begun_with(day_first, day_last, picks, life, view)
    last_day = _bears_still(day_first, day_last, picks, life, view) if picks else day_last
    cut = np.minimum(last_day, np.where(life.killed < BEYOND, life.killed - 1.0, np.inf))
    ended = life.sightings.ended
    if ended is None and picks and picks[-1].payload.get("last"):
        ended = picks[-1].happened
    if ended is not None:
        cut = np.minimum(cut, float(ended.toordinal()))
    return Bearing(
        first=day_first,
        last=last_day,
        cut=np.broadcast_to(cut, day_first.shape),
        keeps=np.broadcast_to(np.maximum(np.round(keeps), 1.0), day_first.shape),
        shape="even" if _at_once(life) else said_for(view, life, "picking_shape") or "even",
        picks=picks,
        today=view.today.toordinal(),
        standing=left_standing(life, view.today),
        finished=ended is not None,
        felt=keeping_clock(view, life),
    )


def ledger(b: Bearing) -> Ledger:
    """What is picked, gone, waiting and to come on the day of the view, before anything of today is picked."""
    today, zero = float(b.today), np.zeros_like(b.first)
    yesterday = today - 1.0
    picked: list[FloatArray] = []
    gone, before = zero, -np.inf
    for entry in b.picks:
        day = float(entry.happened.toordinal())
        fresh = np.maximum(b.ready(np.maximum(b.gone_by(day), before)), b.ready(before))
        # What is written down was there: where the samples have nothing ready yet, the picking was the first of it.
        picked.append(b.ready(day) - fresh)
        gone = gone + (fresh - b.ready(before))
        before = day
    until = max(yesterday, before)
    if b.finished:
        return Ledger(tuple(picked), gone + b.borne - b.ready(before), zero, zero)
    fresh = np.maximum(b.ready(np.maximum(b.gone_by(today), before)), b.ready(before))
    fresh = np.minimum(fresh, b.ready(until))
    dead = b.cut < np.minimum(b.last, yesterday)  # killed with the crop on it: nothing waits any more
    fresh = np.where(dead, b.ready(until), fresh)
    return Ledger(tuple(picked), gone + fresh - b.ready(before), b.ready(until) - fresh, b.borne - b.ready(until))


def left_standing(life: Life, day: date) -> float:
    """Share of the full stand's crop that the plants left by the end of `day` give. [0 to 1]"""
    plants = 1.0
    for entry in life.sightings.of("hurt"):
        if entry.happened <= day:
            plants *= 1.0 - float(entry.payload.get("killed") or 0.0)
    return 1.0 - GAP_LOSES * (1.0 - plants)


def this_season(life: Life, begins: float) -> tuple[Entry, ...]:
    """Pickings of the season that is on: of what comes again year by year, none of the year before."""
    picks = life.sightings.of("pick")
    if life.timeline is not None:
        return picks
    return tuple(e for e in picks if e.happened.toordinal() >= begins - SEASON_BEFORE_DAYS)


def grounds(view: SeasonView, life: Life) -> tuple[Reason, ...]:
    """The facts that a planting's bearing rests on."""
    named = {
        "picking_shape": "How the picking of one sowing runs",
        "harvest_duration_days_min": "Picking goes on at least this long.",
        "harvest_duration_days_max": "Picking goes on at most this long.",
        "pick_keeps_days_min": "Ready, it stays good in the bed at least this long.",
        "pick_keeps_days_max": "Ready, it stays good in the bed at most this long.",
        "pick_keeps_heat_c": "Days as hot as this count twice against that.",
    }
    found = ((fact_for(view, life, q), says) for q, says in named.items())
    facts = tuple(from_fact(fact, view.handbook, says) for fact, says in found if fact is not None)
    return (*use_reasons(view, life), *facts, *first_cut_reasons(view, life))


def _at_once(life: Life) -> bool:
    """All of it ripens together and is lifted."""
    return life.timeline is not None and life.timeline.harvest == "mature"


def _days(view: SeasonView, life: Life) -> tuple[FloatArray, FloatArray, FloatArray] | None:
    """First day, last day unless killed, and ordinary days it keeps."""
    planting, way = life.planting, life.timeline
    if life.over:
        return None
    keeps = keeping_days(view, life)[None, :].astype(np.float64)
    if view.fact(planting, "cut_weeks_year_1_max") is not None:
        cut = _by_weeks(view, life)
        return None if cut is None else (*cut, keeps)
    if way is None:
        first, last = life.stage("first-harvest"), life.stage("last-harvest")
        return None if first is None or last is None else (_plain(first.days), _plain(last.days), keeps)
    ready = life.stage(way.harvest)
    if ready is None:
        return None
    lasts = span_days(way.harvest_days, strata(view.draws, f"{planting.id}/lasts"))[None, :]
    first_day = _plain(ready.days)
    if _at_once(life):
        return first_day, first_day, lasts.astype(np.float64)
    return first_day, first_day + lasts, keeps


def _plain(days: DayArray) -> FloatArray:
    return days.astype(np.float64)


def _by_weeks(view: SeasonView, life: Life) -> tuple[FloatArray, FloatArray] | None:
    """Crowns, cut for so many weeks from the year's first cutting, seen or foreseen; None in years of rest."""
    planting, since = life.planting, life.sightings.planted or life.planting.since
    begins = None if since is None else first_cut_days(view, life)
    if since is None or begins is None:
        return None
    year = date.fromordinal(int(np.median(begins))).year
    tabled = min(max(year - since.year + 1, 1), YEARS_TABLED)
    least, most = (view.number(planting, f"cut_weeks_year_{tabled}_{end}", 0.0) for end in ("min", "max"))
    if most <= 0:
        return None
    weeks = least + (most - least) * strata(view.draws, f"{planting.id}/lasts")[None, :]
    first = np.broadcast_to(_plain(begins), view.shape)
    return first, np.asarray(first + 7.0 * weeks)


def _begun_with(
    first: FloatArray, last: FloatArray, picks: tuple[Entry, ...], life: Life, view: SeasonView
) -> tuple[FloatArray, FloatArray]:
    """Days held to the first picking: who writes pickings down wrote the first, and was there as often as later.

    So the first was ready no longer before than the longest time between pickings; where none is named, than it keeps.
    """
    if not picks or _at_once(life):
        return first, last
    waits = number_for(view, life, "picking_interval_days_max", number_for(view, life, "pick_keeps_days_max", KEEPS[1]))
    day = float(picks[0].happened.toordinal())
    shares = strata(view.draws, f"{life.planting.id}/begun")[None, :]
    anew = np.where(first < day - waits, np.round(day - waits * shares), first)
    return anew, last + (anew - first)


def _bears_still(
    first: FloatArray, last: FloatArray, picks: tuple[Entry, ...], life: Life, view: SeasonView
) -> FloatArray:
    """Last days drawn anew where a picking since shows that the planting bore longer."""
    day = float(picks[-1].happened.toordinal())
    refuted = (last < day) & (first <= day)
    if not refuted.any() or picks[-1].payload.get("last") or _at_once(life):
        return last
    low, high = life.timeline.harvest_days if life.timeline is not None else (1.0, 1.0)
    if life.timeline is None:
        low, high = (view.number(life.planting, f"harvest_duration_days_{end}", 21.0) for end in ("min", "max"))
    middle = math.sqrt(max(low, 1.0) * max(high, 1.0))
    spread = max(math.log(max(high, 1.0) / max(low, 1.0)) / 2.563, LEAST_SPREAD[4])
    least = normal_chance(np.log(np.maximum(day - first, 1.0) / middle) / spread)
    shares = strata(view.draws, f"{life.planting.id}/lasts again")[None, :]
    anew = first + middle * np.exp(spread * normal_point(least + (1.0 - least) * shares))
    return np.where(refuted, np.maximum(anew, day), last)
