"""How long a ready crop stays good on the plant: fewer days in heat.

A day whose maximum reaches `pick_keeps_heat_c` counts twice. Where the handbook names no such heat each counts once.
"""

from __future__ import annotations

from datetime import timedelta

import numpy as np

from kailyard.documents._parts import Reason
from kailyard.season.clock import Clock
from kailyard.season.draws import strata
from kailyard.season.life import Life, span_days
from kailyard.season.odds import BEYOND, DayArray, later
from kailyard.season.reasons import from_fact
from kailyard.season.uses import use_fact
from kailyard.season.view import SeasonView

KEEPS = (4.0, 8.0)
"""Days that a ready crop keeps in the bed where nobody says."""

HOT_DAY_COUNTS = 2.0
"""Heat halves the days that a ready crop keeps: common practice, and what is printed of sweet corn."""

HEAT_AHEAD_DAYS = 3
"""Heat within so many days is said beside a picking."""

HEAT_CHANCE = 0.5
"""Chance of it from which it is said."""


def keeping_days(view: SeasonView, life: Life) -> DayArray:
    """Ordinary days that the ready crop stays good in the bed, one a draw. (draws,)"""
    found = [use_fact(view.handbook, life.planting.crop, life.use, f"pick_keeps_days_{end}") for end in ("min", "max")]
    low, high = (usual if fact is None else fact.number for fact, usual in zip(found, KEEPS, strict=True))
    return np.maximum(span_days((low, high), strata(view.draws, f"{life.planting.id}/keeps")), 1)


def keeping_clock(view: SeasonView, life: Life) -> Clock | None:
    """Days as the ready crop feels them, a hot one twice; None where heat is not known to matter."""
    heat = view.fact(life.planting, "pick_keeps_heat_c")
    if heat is None:
        return None

    def make() -> Clock:
        hot = view.ensemble.tmax_c >= heat.number
        return Clock.of_daily(np.where(hot, HOT_DAY_COUNTS, 1.0), view.clocks.first)

    return view.clocks.keep(("keeps", heat.number), make)


def good_until(view: SeasonView, life: Life, ready: DayArray) -> tuple[DayArray, DayArray]:
    """Day until which what is ready on `ready` stays good, and the day twice as long after it. (traces, draws)"""
    keeps, clock = keeping_days(view, life)[None, :], keeping_clock(view, life)
    if clock is None:
        return later(ready, keeps), later(ready, 2 * keeps)
    felt = clock.reading(np.minimum(ready, np.int32(clock.first + clock.days)))
    one, two = (np.where(ready >= BEYOND, ready, clock.reach(felt + n * keeps)).astype(np.int32) for n in (1, 2))
    return one, two


def heat_words(view: SeasonView, life: Life) -> tuple[str, tuple[Reason, ...]]:
    """'30 °C or more by 14 June: what is ready goes over twice as fast', and why; '' where no such heat is near."""
    heat = view.fact(life.planting, "pick_keeps_heat_c")
    if heat is None:
        return "", ()
    at = view.ensemble.today_index
    if float(np.mean(view.ensemble.tmax_c[:, at : at + HEAT_AHEAD_DAYS].max(axis=1) >= heat.number)) < HEAT_CHANCE:
        return "", ()
    by = view.today + timedelta(days=HEAT_AHEAD_DAYS - 1)
    says = f"{view.degrees(heat.number)} or more by {by.day} {by:%B}: what is ready goes over twice as fast"
    return says, (from_fact(heat, view.handbook, "Days as hot as this count twice against how long it keeps."),)
