"""The water of a view as a document."""

from __future__ import annotations

from datetime import date, timedelta

import numpy as np

from kailyard.care.course import AHEAD_DAYS
from kailyard.care.readings import lacking
from kailyard.care.used import HABIT_MINUTES_DAY, Season, season_of, used
from kailyard.care.water import Water, Watering, water_of
from kailyard.care.water_words import (
    detail_words,
    in_seed,
    plants_words,
    reasons_for_planting,
    row_words,
    usual_flow,
    week_costs,
)
from kailyard.documents import water as document
from kailyard.garden.entries.water_days import WEEKDAYS
from kailyard.season.measures import day_words, listing, odds_words
from kailyard.season.odds import BEYOND, Odds, middle
from kailyard.season.view import SeasonView

SHOWN_BEFORE_DAYS = 21
"""Days of the past that a drawing shows."""
GAP_DAYS = 30
"""Days of the past whose missing weather is told of."""


def water_document(view: SeasonView) -> document.Water:
    """All beds, what was used, and what stands under it all."""
    water = water_of(view)
    beds: tuple[document.BedWater, ...] = ()
    spent: tuple[document.Used, ...] = ()
    if water is not None:
        by_bed = {w.bed: w for w in water.waterings}
        names = sorted({x.planting.bed for x in water.stand.lives}, key=lambda b: _order(view, b, by_bed.get(b)))
        beds = tuple(_bed(view, water, bed, by_bed.get(bed)) for bed in names)
    season = season_of(view)
    if season is not None:
        spent = (_used(view, season, 7), _used(view, season, None))
    return document.Water(
        garden=view.garden.name,
        on=view.today,
        units=view.garden.units,
        days_words=_days_words(water),
        beds=beds,
        used=spent,
        left_out=() if water is None else water.left_out,
        notes=_notes(view, water),
    )


def _order(view: SeasonView, bed: str, watering: Watering | None) -> tuple[bool, int, int, list[int | str]]:
    """The bed that is short first, then by when it wants water and when it is short, then as beds are named."""
    today = view.today.toordinal()
    first, due = (BEYOND, BEYOND) if watering is None else (middle(watering.opens), middle(watering.due))
    name = view.garden.beds[bed].name if bed in view.garden.beds else bed
    parts: list[int | str] = [int(part) if part.isdigit() else part for part in name.split()]
    return watering is None or not watering.short, int(max(first, today)), int(due), parts


def _bed(view: SeasonView, water: Water, bed: str, watering: Watering | None) -> document.BedWater:
    mine = [n for n, life in enumerate(water.stand.lives) if life.planting.bed == bed]
    where = view.where(water.stand.lives[mine[0]].planting)
    if watering is None:
        words = f"not before {day_words(view.today + timedelta(days=AHEAD_DAYS + 1))}, in no possible season"
        return document.BedWater(
            bed, where, f"water/{bed}", "", None, words, "", 0.0, 0.0, tuple(_gone(view, water, n) for n in mine)
        )
    return document.BedWater(
        bed=bed,
        where=where,
        line=f"water/{bed}",
        plants=plants_words(view, water, watering),
        next=Odds(watering.opens).summary(),
        next_words=_next_words(view, watering),
        how=detail_words(view, water, watering),
        mm=round(watering.mm, 1),
        litres=round(watering.goes.litres, 1),
        plantings=tuple(_gone(view, water, n) for n in mine),
    )


def _next_words(view: SeasonView, watering: Watering) -> str:
    if watering.short:
        return "now: it is short of water"
    today = view.today.toordinal()
    if float(np.mean(watering.opens <= today)) > 0.5:
        return "now"
    chance = float(np.mean(watering.opens < BEYOND))
    if chance < 0.5:
        within = day_words(view.today + timedelta(days=AHEAD_DAYS))
        return f"hardly before {within}: {max(round(chance * 10), 1)} in 10"
    return odds_words(Odds(np.maximum(watering.opens, np.int32(today))))


def _gone(view: SeasonView, water: Water, n: int) -> document.Gone:
    course, to_come, life = water.course, water.ahead, water.stand.lives[n]
    begun = int(water.stand.begun[n])
    shown = max(course.first, begun, view.today.toordinal() - SHOWN_BEFORE_DAYS)
    past = slice(shown - course.first, None)
    middle, off = course.depletion_mm[past, n], 1.2816 * course.spread_mm[past, n]
    all_past = course.asked.available_mm[past, n]
    coming = to_come.depletion_mm[..., n].reshape(to_come.depletion_mm.shape[0], -1)
    low, half, high = np.quantile(coming, (0.1, 0.5, 0.9), axis=1)
    easy = np.median(to_come.easy_mm[..., n].reshape(coming.shape), axis=1)
    here = to_come.available_mm[0]
    available = float(here[n] if here.ndim == 1 else here[0, n])
    gone, raw = float(course.now_mm[n]), float(easy[0])
    return document.Gone(
        planting=life.planting.id,
        says=row_words(view, life)[:1].upper() + row_words(view, life)[1:],
        gone_mm=round(gone, 1),
        give_or_take_mm=round(float(course.now_spread_mm[n]), 1),
        easy_mm=round(raw, 1),
        all_mm=round(available, 1),
        stands=_seed_stands(water, n) if in_seed(view, water, n) else _stands(gone, raw, available),
        soil=water.stand.soils[n].name,
        costs=_costs(view, water, n),
        first=date.fromordinal(shown if middle.size else view.today.toordinal()),
        low_mm=_rounded(np.concatenate([np.maximum(middle - off, 0.0), low])),
        middle_mm=_rounded(np.concatenate([middle, half])),
        high_mm=_rounded(np.concatenate([np.minimum(middle + off, all_past), high])),
        easy_curve_mm=_rounded(np.concatenate([course.easy_mm[past, n], easy])),
        reasons=(reasons_for_planting(view, water, n),),
    )


def _costs(view: SeasonView, water: Water, n: int) -> str:
    """Sentences: when a dry spell hurts, what a week of it costs by stage, what trials found."""
    planting = water.stand.lives[n].planting
    hurts, found = view.said(planting, "dry_hurts"), view.said(planting, "dry_costs")
    lead = "A dry spell hurts " if hurts.startswith("at any time") else "A dry spell hurts most "
    sentences = (f"{lead}{hurts}." if hurts else "", week_costs(view, water, n), f"Found: {found}." if found else "")
    return " ".join(s for s in sentences if s)


def _rounded(values: np.ndarray) -> tuple[float, ...]:
    return tuple(np.round(values, 1).tolist())


def _stands(gone: float, easy: float, available: float) -> str:
    if gone < 0.35 * easy:
        return "moist"
    if gone < 0.7 * easy:
        return "drying"
    if gone <= easy:
        return "wants water"
    return "short of water" if gone < easy + 0.5 * (available - easy) else "very short of water"


def _seed_stands(water: Water, n: int) -> str:
    """Seed that is not up: how the surface is in which it lies."""
    dry = float(water.course.now_surface_mm[n]) >= water.stand.soils[n].readily_mm
    return "seed not up yet, its surface dry" if dry else "seed not up yet, its surface moist"


def _used(view: SeasonView, season: Season, days: int | None) -> document.Used:
    u = used(view, season, days)
    words = "the last 7 days" if days else f"this season, since {day_words(u.first)}"
    return document.Used(
        words=words,
        first=u.first,
        last=u.last,
        given_l=round(u.given, 1),
        unknown=u.unknown,
        needed_l=round(u.needed, 1),
        inch_a_week_l=round(u.inch_a_week, 1),
        minutes_daily_l=round(u.minutes_daily, 1),
    )


def _days_words(water: Water | None) -> str:
    if water is None or len(water.weekdays) == 7:
        return "Water may be given on any day."
    return f"Water may be given on {listing([WEEKDAYS[n].capitalize() for n in water.weekdays])}."


def _notes(view: SeasonView, water: Water | None) -> tuple[str, ...]:
    if water is None:
        return ("Nothing stands in a bed that wants watching.",)
    notes = [
        "Gone is counted from ground that is full. Humidity, sun and wind are estimated from lows and highs (FAO-56); "
        "a squeezed handful that you enter is believed before any of it.",
        "Water used counts all that stood, cleared by now or not. At need: given whenever it was time, to the full. "
        f"The habits: an inch a week over the same ground, and {HABIT_MINUTES_DAY:g} minutes every day with the bed's "
        f"outlet (a hose of {usual_flow(view)} where none was measured), from the day on which a bed was first "
        "watered or wanted it.",
        "Local rules on watering come before this page. Lift cans and hoses with care; leave no filled vessel where a "
        "small child could reach it.",
    ]
    first = max(water.course.first, view.today.toordinal() - GAP_DAYS)
    if gaps := int(lacking(view, first, view.today.toordinal() - first).sum()):
        days = "1 day" if gaps == 1 else f"{gaps} days"
        notes.insert(
            0,
            f"The weather of {days} of the last {GAP_DAYS} was not recorded: usual weather stands in, and the "
            "give-or-take is wide. Read the station's record anew, or squeeze a handful.",
        )
    soils = sorted({s.stands_in for s in water.stand.soils if s.stands_in})
    if soils:
        notes.append("; ".join(soils).capitalize() + ". Write the bed's soil to have its own: `kailyard bed --help`.")
    groups = sorted(
        {
            f"{view.plants(life.planting)} ({t.stands_in})"
            for life, t in zip(water.stand.lives, water.stand.takers, strict=True)
            if t.stands_in
        }
    )
    if groups:
        notes.append(f"FAO-56 has no figures of its own for {listing(groups)}: those of the group stand in.")
    return tuple(notes)
