"""A planting's life as a document."""

from __future__ import annotations

from datetime import date

from kailyard.documents._parts import Reason
from kailyard.documents.stages import Stage, Stages
from kailyard.season.bulbs import not_ripe_before
from kailyard.season.by_months import month_reasons
from kailyard.season.life import Life
from kailyard.season.measures import day_words, odds_words
from kailyard.season.odds import BEYOND, Odds
from kailyard.season.paying import end_reasons
from kailyard.season.reasons import from_fact
from kailyard.season.stage_words import words
from kailyard.season.taught import taught
from kailyard.season.use_words import fact_for, use_reasons
from kailyard.season.view import SeasonView

BBCH = {
    "sown": "00",
    "emerged": "09",
    "first-flower": "61",
}
"""Principal stages of the general BBCH scale that fit most crops: Hess et al. 1997, Weed Research 37, 433-441."""

ORDER = ("begun", "emerged", "first-flower", "last-flower", "first-harvest", "mature", "last-harvest")


def stages_of(view: SeasonView, life: Life) -> Stages:
    """Every stage of a planting, seen or foreseen, in order."""
    planting = life.planting
    begun = {"sown": "sown", "raised": "set-out", "bought": "set-out", "planted": "planted"}[planting.start]
    out = [_one(view, life, begun, Odds(life.begun), life.begun_known)]
    out += [_one(view, life, name, life.stages[name], life.over) for name in ORDER if name in life.stages]
    return Stages(
        garden=view.garden.name,
        on=view.today,
        units=view.garden.units,
        planting=planting.id,
        crop=view.plants(planting),
        cultivar=planting.cultivar,
        bed=view.where(planting),
        stages=tuple(out),
    )


def _one(view: SeasonView, life: Life, name: str, odds: Odds, certain: bool) -> Stage:
    known = life.sightings.stages.get(name)
    seen = known.seen if known else None
    if certain:
        first = int(odds.days.flat[0])
        seen = None if first >= BEYOND else view.today.fromordinal(first)
    not_yet = known.not_yet if known else None
    if certain and seen is not None:
        said = day_words(seen)
    elif seen is not None:
        said = f"by {day_words(seen)}" + (f", after {day_words(not_yet)}" if not_yet else "")
    else:
        said = odds_words(odds)
    return Stage(
        stage=name,
        words=words(name),
        bbch=BBCH.get(name, ""),
        seen=seen,
        not_yet=not_yet,
        odds=odds.summary(),
        odds_words=said,
        reasons=_reasons(view, life, name, certain),
    )


def _reasons(view: SeasonView, life: Life, name: str, certain: bool) -> tuple[Reason, ...]:
    way = life.timeline
    if certain:
        return ()
    if way is None:
        return month_reasons(life.planting, view.handbook, name)
    if name == "emerged":
        return way.emergence.reasons if way.emergence else ()
    if name == "last-harvest":
        return (*_lasting(view, life), *end_reasons(view, life))
    own = tuple(r for need in way.stages if need.stage == name for r in need.reasons)
    if name == way.harvest:
        own = (*use_reasons(view, life), *own)
    if name == "mature":
        own = (*own, *_swelling(view, life))
    return (*own, *way.reasons, *taught(life))


def _swelling(view: SeasonView, life: Life) -> tuple[Reason, ...]:
    """From when warmth counts, and before which day no bulb is ripe; () for what waits for no length of day."""
    planting, told = life.planting, []
    light = view.fact(planting, "warmth_from_day_length_h")
    if light is not None:
        told.append(from_fact(light, view.handbook, "Warmth counts from when days are this long."))
    facts = [view.fact(planting, q) for q in ("bulb_start_day_length_h", "bulb_days_min")]
    first = not_ripe_before(view.handbook, planting.crop, view.garden.site.latitude, int(life.begun.min()))
    if first is None:
        return tuple(told)
    says = ("Bulbs begin to swell when days are this long.", "And swell at least so long.")
    because = tuple(from_fact(f, view.handbook, s) for f, s in zip(facts, says, strict=True) if f is not None)
    return (
        *told,
        Reason(f"Not ripe before {day_words(date.fromordinal(first))}: days were too short.", because=because),
    )


def _lasting(view: SeasonView, life: Life) -> tuple[Reason, ...]:
    """How long picking goes on, or the ripe crop stands."""
    named = {
        "harvest_duration_days_min": "Picking goes on at least this long.",
        "harvest_duration_days_max": "Picking goes on at most this long.",
        "pick_keeps_days_max": "Ready, it stays good in the bed at most this long.",
    }
    found = ((fact_for(view, life, q), says) for q, says in named.items())
    return tuple(from_fact(fact, view.handbook, says) for fact, says in found if fact is not None)
