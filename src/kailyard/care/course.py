"""The balance from its beginning to today, pulled by what the daybook says, and on into the possible seasons."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from kailyard.care.asked import Stand, days_asked, reference_et
from kailyard.care.balance import Day, FloatArray, Surface, pass_day
from kailyard.care.readings import (
    GIVEN_SPREAD,
    GUESSED_SHARE,
    GUESSED_SPREAD,
    Given,
    Reading,
    fallen_today_mm,
    found_under,
    given_to,
    in_order,
    lacking,
)
from kailyard.season.odds import BEYOND, DayArray
from kailyard.season.view import SeasonView

FROM_DAYS = 250
"""The balance begins no longer before today than this."""
FILLING_KC = 1.15
"""Ground that would be full even under a crop that takes so much beside the reference is taken for full."""
AHEAD_DAYS = 14
"""Watering is foreseen so far."""
OPEN_SHARE = 0.7
"""Share of the easy water that is gone when watering begins to be worth it."""
HALF_STRESS = 0.5
"""Stress at which waiting any longer is past its time."""
ET_SPREAD = 0.12
"""What is reckoned of a planting's use is off by so much, the same way day by day. [share]"""
RAIN_SPREAD = 0.2
"""Rain on the bed beside rain at the gauge or station. [share]"""
GAP_SPREAD_MM = 5.0
"""Rain of a day that nobody recorded, usual rain standing in for it."""
LEAST_SPREAD, MOST_SPREAD = 0.04, 0.3
"""Bounds of what is not known of the depletion, as shares of the available water."""
REWETS_MM = 3.0
"""Rain of so much wets all of the surface again."""
POINTS = np.array([-1.2816, -0.5244, 0.0, 0.5244, 1.2816])
"""Middles of five alike parts of a normal distribution."""
TURNED = np.array([0.5244, -1.2816, 0.0, 1.2816, -0.5244])
"""The same, turned, for what is unknown of the use to come: so that it goes with no one start."""


@dataclass(frozen=True, slots=True, eq=False)
class Course:
    """One stand's water to today. Days-first arrays (days, P) hold the depletion each day began with."""

    stand: Stand
    first: int
    """Ordinal of the first day."""
    asked: Day
    depletion_mm: FloatArray
    spread_mm: FloatArray
    easy_mm: FloatArray
    now_mm: FloatArray
    now_spread_mm: FloatArray
    now_surface_mm: FloatArray
    now_wetted: FloatArray
    given: tuple[Given, ...]
    found: tuple[Reading, ...]
    given_mm: FloatArray
    et_mm: FloatArray
    correction_mm: FloatArray
    """What readings moved the depletion by. (days, P)"""


@dataclass(frozen=True, slots=True, eq=False)
class Ahead:
    """What is to come: mornings from today on, (days, samples, P); samples are points and traces."""

    depletion_mm: FloatArray
    easy_mm: FloatArray
    available_mm: FloatArray
    opens: DayArray
    """First morning on which watering is worth it. (T × points, P) as (P, T, points)"""
    due: DayArray
    """First morning on which the planting is short."""
    shuts: DayArray
    """First morning on which it gets half of what it asks, or less."""


def so_far(view: SeasonView, stand: Stand, since: int | None = None) -> Course:
    """The balance up to today; `since`: the ordinal from which on, else from where the ground was last full."""
    today = view.today.toordinal()
    oldest = view.ensemble.first.toordinal()
    first = _last_full(view) if since is None else min(max(since, oldest), today - 1)
    count = today - first
    given, found = given_to(view, stand, first), found_under(view, stand, first)
    told = in_order(view, given, found)
    ground = Surface(stand.of("evaporable_mm"), stand.of("readily_mm"))
    asked = days_asked(view, stand, view.ensemble.today_index - count, count, past=True)
    plantings = len(stand.lives)
    depletions, spreads, easies, ets, given_mm, moved = (np.zeros((count, plantings)) for _ in range(6))
    least, most = LEAST_SPREAD * asked.available_mm, MOST_SPREAD * asked.available_mm
    rewets = asked.rain_mm >= REWETS_MM
    unsure_rain = RAIN_SPREAD * np.minimum(asked.rain_mm - asked.runoff_mm, asked.available_mm)
    unsure_rain = np.maximum(unsure_rain, GAP_SPREAD_MM * lacking(view, first, count)[:, None])
    depletion, surface, spread = (np.zeros(plantings) for _ in range(3))
    wetted = np.ones(plantings)
    for i in range(count):
        spread = np.minimum(np.maximum(spread, least[i]), most[i])
        if first + i in told:
            wetted = wetted.copy()
            _hear(told[first + i], asked.available_mm[i], depletion, spread, moved[i], given_mm[i], wetted)
        depletions[i], spreads[i] = depletion, spread
        wetted = np.where(rewets[i], 1.0, wetted)
        passed = pass_day(_of_day(asked, i), ground, surface, depletion, irrigation_mm=given_mm[i], wetted=wetted)
        depletion, surface = passed.depletion_mm, passed.surface_mm
        easies[i], ets[i] = passed.easy_mm, passed.et_mm
        spread = np.maximum(np.hypot(spread + ET_SPREAD * passed.et_mm, unsure_rain[i]) - passed.drained_mm, 0.0)
    here = asked.available_mm[-1]
    spread = np.minimum(np.maximum(spread, least[-1]), most[-1])
    poured, wetted = np.zeros(plantings), wetted.copy()
    _hear(told.get(today, ()), here, depletion, spread, np.zeros(plantings), poured, wetted)
    spread = np.maximum(spread, least[-1])
    return Course(
        stand=stand,
        first=first,
        asked=asked,
        depletion_mm=depletions,
        spread_mm=spreads,
        easy_mm=easies,
        now_mm=np.maximum(depletion - poured, 0.0),
        now_spread_mm=spread,
        now_surface_mm=np.maximum(surface - poured / wetted, 0.0),
        now_wetted=wetted,
        given=given,
        found=found,
        given_mm=given_mm,
        et_mm=ets,
        correction_mm=moved,
    )


def needed_mm(course: Course) -> FloatArray:
    """What watering when it was time would have given on the same weather, day by day. (days, P)"""
    stand, asked = course.stand, course.asked
    ground = Surface(stand.of("evaporable_mm"), stand.of("readily_mm"))
    out = np.zeros_like(course.depletion_mm)
    depletion, surface = np.zeros(len(stand.lives)), np.zeros(len(stand.lives))
    days = course.first + np.arange(len(out))[:, None]
    stood = (days >= stand.begun) & (days < stand.ended)
    for i in range(len(out)):
        wants = depletion >= OPEN_SHARE * asked.easy * asked.available_mm[i]
        out[i] = np.where(stood[i] & wants, depletion, 0.0)
        passed = pass_day(_of_day(asked, i), ground, surface, depletion, irrigation_mm=out[i])
        depletion, surface = passed.depletion_mm, passed.surface_mm
    return out


def _of_day(asked: Day, i: int) -> Day:
    return Day._make((*(x[i] for x in asked[:-1]), asked.easy))


def _last_full(view: SeasonView) -> int:
    """The last day on which rain had filled the ground even under a thirsty crop; there every balance may begin."""
    e = view.ensemble
    start = max(e.today_index - FROM_DAYS, 0)
    lost = FILLING_KC * reference_et(view, start, e.today_index - start)[:, 0] - e.rain_mm[0, start : e.today_index]
    gone = np.concatenate([[0.0], np.cumsum(lost)])
    # A store that drains when full stands full on each day that is the lowest of this sum so far.
    full = start + int(np.flatnonzero(gone == gone.min())[-1])
    return e.first.toordinal() + min(full, max(e.today_index - 1, 0))


def _hear(
    told: tuple[Given | Reading, ...],
    available: FloatArray,
    depletion: FloatArray,
    spread: FloatArray,
    moved: FloatArray,
    watering: FloatArray,
    wetted: FloatArray,
) -> None:
    """What a day's entries say, one after the other; changes the arrays in place.

    A reading pulls the depletion towards what was found, by how sure each of the two is (a Kalman step); what was given
    before it that day counts as given.
    """
    for one in told:
        at = one.at
        left = max(float(depletion[at] - watering[at]), 0.0)
        if isinstance(one, Given):
            mm = one.mm if one.mm is not None else GUESSED_SHARE * left
            off = GIVEN_SPREAD * mm if one.mm is not None else GUESSED_SPREAD * left
            watering[at] += mm
            wetted[at] = one.wets
            spread[at] = max(float(np.hypot(spread[at], off)) - max(mm - left, 0.0), 0.0)
            continue
        found, off = float(available[at]) * (1 - one.left), float(available[at]) * one.spread
        gain = spread[at] ** 2 / (spread[at] ** 2 + off**2)
        after = left + gain * (found - left) + watering[at]
        moved[at] += after - depletion[at]
        depletion[at] = after
        spread[at] *= np.sqrt(1 - gain)


def ahead(view: SeasonView, course: Course, days: int = AHEAD_DAYS) -> Ahead:
    """Today's state into every possible season, with what is not known of it and of the use to come."""
    stand = course.stand
    fallen = fallen_today_mm(view)
    asked = days_asked(view, stand, view.ensemble.today_index, days + 1, past=False, fallen_mm=fallen)
    ground = Surface(stand.of("evaporable_mm"), stand.of("readily_mm"))
    shape = (len(POINTS), *asked.et0_mm.shape[1:])
    here = asked.available_mm[0]
    depletion = np.clip(course.now_mm + POINTS[:, None, None] * course.now_spread_mm, 0.0, here)
    depletion = np.broadcast_to(depletion, shape)
    surface = np.broadcast_to(course.now_surface_mm, shape)
    wetted = np.broadcast_to(course.now_wetted, shape[1:])
    factor = (1 + ET_SPREAD * TURNED)[:, None, None]
    mornings, easies = np.empty((days + 1, *shape)), np.empty((days + 1, *shape))
    today = view.today.toordinal()
    firsts = [np.full(shape, BEYOND, dtype=np.int32) for _ in range(3)]
    for i in range(days + 1):
        day = _of_day(asked, i)
        day = day._replace(et0_mm=day.et0_mm * factor)
        wetted = np.where(day.rain_mm >= REWETS_MM, 1.0, wetted)
        passed = pass_day(day, ground, surface, depletion, wetted=wetted)
        taw, raw = day.available_mm, passed.easy_mm
        mornings[i], easies[i] = depletion, raw
        # What falls on that very day is taken first: nobody waters in the morning of a wet day.
        short = depletion - (day.rain_mm - day.runoff_mm)
        limits = (OPEN_SHARE * raw, raw, taw - HALF_STRESS * (taw - raw))
        # Seed lies in the surface: that is dry when its readily evaporable water is gone (FAO-56, ch. 7, stage 1).
        seed = today + i < stand.up
        top = surface - (day.rain_mm - day.runoff_mm)
        dry = ground.readily_mm + np.array([0.0, 0.5, 0.9])[:, None] * (ground.evaporable_mm - ground.readily_mm)
        for place, limit, at in zip(firsts, limits, dry, strict=True):
            now = np.where(seed, top >= at, short >= limit)
            np.copyto(place, np.int32(today + i), where=now & (place == BEYOND))
        depletion, surface = passed.depletion_mm, passed.surface_mm
    opens, due, shuts = (np.moveaxis(x, (0, 1, 2), (2, 1, 0)) for x in firsts)
    return Ahead(mornings, easies, asked.available_mm, opens, due, shuts)
