"""Water when the easy water is going, bed by bed; feel the soil where the balance does not know."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from kailyard.care.course import AHEAD_DAYS
from kailyard.care.water import Water, Watering, water_of
from kailyard.care.water_words import answers_to_water, detail_words, dry_words, plants_words, reasons_for, told
from kailyard.garden.model import Garden
from kailyard.season.cold import too_cold
from kailyard.season.done import Answered, Fitting
from kailyard.season.measures import worth
from kailyard.season.odds import BEYOND, DayArray
from kailyard.season.view import SeasonView
from kailyard.season.windows import Look, Loss, Window

NAME = "water"
SCOPE = "garden"

LATE_PER_DAY, LATE_MOST = 0.012, 0.5
"""Lost a day once a crop is short, where its yield answers to water in proportion (ky 1 at its stage)."""

YOUNG_PER_DAY, YOUNG_DAYS = 0.05, 21
"""Lost a day by plants sown or set out within so many days: their roots are shallow and few."""

EARLY_PER_DAY, EARLY_MOST = 0.01, 0.05
"""Water given too early drains or is not needed."""

DOUBT = 0.2
"""Chance of wanting water within three days, and of not wanting it, from which it is worth feeling the soil."""

DOUBT_DAYS = 3

OPENS_SURE = 0.3
"""A bed that wants water in fewer of the possible seasons within a fortnight has no line."""

MINUTES_TO_OPEN = 5.0
"""For a line or sprinkler that then runs by itself."""
MINUTES_A_CAN = 2.0


def _watered(line: Answered) -> tuple[Fitting, ...]:
    """How much is asked in place; it is said of the bed."""
    return (Fitting("water", line.about, asks="amount"),) if line.about in line.garden.beds else ()


def _felt(line: Answered) -> tuple[Fitting, ...]:
    """Done is what was found: how the handful holds."""
    return (Fitting("moisture", line.about, asks="feel"),) if line.about in line.garden.beds else ()


DONE = {"feel": _felt, "water": _watered}


def windows(view: SeasonView, garden: Garden) -> Iterator[Window | Look]:
    """One watering a bed, and the one bed of which it is least known; none while it is too cold to grow."""
    if too_cold(view.ensemble) or (water := water_of(view)) is None:
        return
    doubtful: list[tuple[float, Watering]] = []
    today = view.today.toordinal()
    for watering in water.waterings:
        soon = float(np.mean(watering.opens <= today + DOUBT_DAYS))
        if DOUBT <= soon <= 1 - DOUBT or (watering.short and not told(water, watering)):
            doubtful.append((min(soon, 1 - soon) * watering.area_m2 + watering.area_m2 * 1e-3, watering))
        if watering.day is None or float(np.mean(watering.opens <= today + 14)) < OPENS_SURE:
            continue
        yield _window(view, water, watering)
    if doubtful:
        yield _look(view, water, max(doubtful, key=lambda pair: (pair[0], pair[1].bed))[1])


def _window(view: SeasonView, water: Water, watering: Watering) -> Window:
    lives = [water.stand.lives[n] for n in watering.at]
    young = any(view.today.toordinal() - int(np.median(x.begun)) <= YOUNG_DAYS for x in lives)
    rate = YOUNG_PER_DAY if young else LATE_PER_DAY * max(answers_to_water(view, water, n) for n in watering.at)
    # What is not short, or not half short, within the days foreseen is looked at anew by then: it stays open so long.
    seen = view.today.toordinal() + AHEAD_DAYS
    opened = watering.opens < BEYOND
    due = np.where(opened, np.minimum(watering.due, np.int32(seen)), watering.due)
    shuts = np.where(opened, np.minimum(np.maximum(watering.shuts, due), np.int32(seen)), watering.shuts)
    goes = watering.goes
    by_hand = goes.minutes if watering.outlet.what == "hose" else MINUTES_A_CAN * goes.cans if goes.cans else 0.0
    return Window(
        name=f"water/{watering.bed}",
        says=f"Water {plants_words(view, water, watering)}",
        where=watering.where,
        detail=detail_words(view, water, watering),
        reasons=reasons_for(view, water, watering),
        of=tuple(x.planting.id for x in lives),
        opens=_spread(view, watering.opens),
        due=_spread(view, due.astype(np.int32)),
        shuts=_spread(view, shuts.astype(np.int32)),
        loss=Loss(rate, LATE_MOST, EARLY_PER_DAY, EARLY_MOST),
        lost=dry_words(view, water, watering),
        minutes=float(min(5 * round(max(by_hand or 0.0, MINUTES_TO_OPEN) / 5), 240)),
        worth=max(worth(view, x.planting) for x in lives),
        late=watering.short,
        tending=True,
    )


def _spread(view: SeasonView, days: DayArray) -> DayArray:
    """(traces, points) to (traces, draws): each point stands for as many draws."""
    traces, draws = view.shape
    return days[:, np.arange(draws) * days.shape[1] // draws].reshape(traces, draws)


def _look(view: SeasonView, water: Water, watering: Watering) -> Look:
    plants = plants_words(view, water, watering)
    thirds = 100 * float(np.median([water.stand.takers[n].root_m for n in watering.at])) / 3
    deep = view.depth(5.0 * max(round(thirds / 5), 1))
    return Look(
        name=f"feel/{watering.bed}",
        says=f"Feel the soil under {plants}",
        where=watering.where,
        detail=f"squeeze a handful from {deep} down and say with 'done' how it holds: the watering hangs on it",
        reasons=reasons_for(view, water, watering),
        of=tuple(water.stand.lives[n].planting.id for n in watering.at),
        urgency=0.45,
    )
