"""Pick, cut and lift: begin, go on, and leave what must still be left."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date, timedelta

import numpy as np

from kailyard.documents._parts import Reason, RestsOn
from kailyard.garden.model import Planting
from kailyard.handbook.types import Fact
from kailyard.season.by_months import month_reasons
from kailyard.season.counted import is_past
from kailyard.season.done import of_kind
from kailyard.season.dry_days import to_lift_in
from kailyard.season.first_cut import first_cut_reasons, own_span
from kailyard.season.keeping import HEAT_AHEAD_DAYS, good_until, heat_words
from kailyard.season.life import Life
from kailyard.season.measures import day_words, minutes, span_words, worth
from kailyard.season.odds import BEYOND, later
from kailyard.season.reasons import from_entry, from_fact
from kailyard.season.safety import SOIL_DAYS
from kailyard.season.taught import stage_reasons
from kailyard.season.use_words import fact_for, number_for, produce_for, said_for, use_reasons
from kailyard.season.view import SeasonView
from kailyard.season.windows import Answer, Hold, Loss, Rest, Window

NAME = "pick"
SCOPE = "planting"
DONE = {"pick": of_kind("pick", asks="amount")}

YEARS_TABLED = 4
"""Harvest weeks of young perennials stand in the handbook year by year up to this one."""

LOSS = Loss(late_per_day=0.2, late_most=0.6, early_per_day=0.1, early_most=0.5)
"""A day's wait with a crop that is ready, at most: what keeps longer in the bed loses less a day."""

DRY_SAID_DAYS = 10
"""The dry days to lift in are named once it is ripe within so many days."""

SEASON_DAYS = 200
"""Of what comes again year by year, a picking so long before the end of this season was of the last."""

SPEARS_LOSS = Loss(late_per_day=0.05, late_most=0.3)


def windows(view: SeasonView, life: Life) -> Iterator[Answer]:
    """The next picking of a planting, or the hold on one that is too young or has given enough."""
    if not life.standing:
        return
    if view.fact(life.planting, "cut_weeks_year_1_max") is not None:
        yield from _perennial(view, life)
    elif (young := _too_young(view, life)) is not None:
        yield young
    elif life.timeline is None:
        if life.stage("first-harvest") is not None:
            yield _again(view, life) if _begun_this_season(view, life) else _begin(view, life)
    elif life.sightings.of("pick") and life.timeline.harvest == "first-harvest":
        yield _again(view, life)
    else:
        yield _begin(view, life)


def _too_young(view: SeasonView, life: Life) -> Hold | None:
    """The hold on what gives its first harvest in a later year; None where this one counts."""
    planting, first = life.planting, view.fact(life.planting, "first_harvest_year")
    since = life.sightings.planted or life.sightings.set_out or life.sightings.sown or planting.since
    if first is None or since is None or view.today.year - since.year + 1 >= first.number:
        return None
    by_year = view.fact(planting, "harvest_weeks_by_year")
    named = [(first, "The first year in which it is picked, the year of planting being 1."), (by_year, "Year by year.")]
    return Hold(
        name=f"no-cutting/{planting.id}",
        forbids=("pick",),
        says=f"Take no {view.produce(planting)} yet",
        where=view.where(planting),
        detail=view.said(planting, "harvest_weeks_by_year") or f"first picked in year {first.number:g}",
        reasons=tuple(from_fact(fact, view.handbook, says) for fact, says in named if fact is not None),
        first=view.today,
        last=date(view.today.year, 12, 31),
    )


def _begun_this_season(view: SeasonView, life: Life) -> bool:
    """Whether what comes again year by year has been picked in the season that is on."""
    picks, season = life.sightings.of("pick"), life.stage("last-harvest")
    if not picks or season is None or picks[-1].payload.get("last"):
        return False
    end = season.quantile(0.5)
    return end is not None and (end - picks[-1].happened).days < SEASON_DAYS


def _verb(view: SeasonView, life: Life) -> str:
    return view.handbook.text(life.planting.crop, "verb", "pick").capitalize()


def _loss(view: SeasonView, life: Life) -> Loss:
    """All of this picking is lost over as long again as the ready crop keeps."""
    most = fact_for(view, life, "pick_keeps_days_max")
    keeps = max(7.0 if most is None else most.number, 1.0)
    return replace(LOSS, late_per_day=min(LOSS.late_most / keeps, LOSS.late_per_day))


def _signs(view: SeasonView, life: Life) -> tuple[Reason, ...]:
    named = {
        "pick_sign": "The sign to go by.",
        "maturity_signs": "Signs of readiness.",
        "lift_by_soil_c": "It comes up before the soil at 10 cm cools below this.",
        "pick_keeps_days_min": "Ready, it stays good in the bed at least this long.",
        "pick_keeps_days_max": "Ready, it stays good in the bed at most this long.",
        "picking_interval_days_min": "Shortest time between pickings.",
        "picking_interval_days_max": "Longest time between pickings.",
    }
    found = ((fact_for(view, life, q), says) for q, says in named.items())
    mine = tuple(from_fact(fact, view.handbook, says) for fact, says in found if fact is not None)
    return (*use_reasons(view, life), *mine)


def _sign(view: SeasonView, life: Life) -> str:
    return said_for(view, life, "pick_sign") or view.said(life.planting, "maturity_signs")


def _begin(view: SeasonView, life: Life) -> Window:
    planting, way = life.planting, life.timeline
    harvest = way.harvest if way is not None else "first-harvest"
    ready = life.stages[harvest].days
    due, shuts = view.clocks.keep(("good until", life), lambda: good_until(view, life, ready))
    if harvest == "first-harvest":
        # Nobody has picked yet: the plants go on bearing all the same, and the line stays as long as they do.
        last = life.stages["last-harvest"].days
        shuts = np.where(last < BEYOND, np.maximum(shuts, last), shuts).astype(np.int32)
    cold = view.fact(planting, "lift_by_soil_c")
    if cold is not None:
        shuts = np.minimum(shuts, view.clocks.cool_soil_after(cold.number, SOIL_DAYS, ready)).astype(np.int32)
    partial = life.sightings.partial[-1:]
    dry, dry_reasons = to_lift_in(view, life) if is_past(view, later(ready, -DRY_SAID_DAYS)) else ("", ())
    hot, hot_reasons = heat_words(view, life) if is_past(view, later(ready, -HEAT_AHEAD_DAYS)) else ("", ())
    detail = "; ".join(part for part in (_sign(view, life), dry, hot) if part)
    when = stage_reasons(life) if way is not None else month_reasons(planting, view.handbook, harvest)
    reasons = [*when, *_signs(view, life), *dry_reasons, *hot_reasons]
    for entry in partial:
        share = float(entry.payload["share"])
        detail = f"{share:.0%} showed the sign on {day_words(entry.happened)}; {detail}".replace("%", " %")
        reasons.insert(
            0, from_entry(entry, f"{share:.0%} of the plants showed ripeness on {day_words(entry.happened)}.")
        )
    return Window(
        name=f"pick/{planting.id}",
        says=f"{_verb(view, life)} {produce_for(view, life)}",
        where=view.where(planting),
        detail=detail,
        reasons=tuple(reasons),
        opens=ready,
        shuts=shuts,
        due=due,
        loss=_loss(view, life),
        lost=said_for(view, life, "pick_late_loss") or "it goes over",
        minutes=minutes(view, planting, "minutes_pick_per_m2", 8.0),
        worth=worth(view, planting),
    )


def _again(view: SeasonView, life: Life) -> Window:
    planting, last = life.planting, life.sightings.of("pick")[-1]
    least, most = (round(number_for(view, life, f"picking_interval_days_{e}", d)) for e, d in (("min", 2), ("max", 4)))
    end = life.stages["last-harvest"].days
    opens = np.full(view.shape, last.happened.toordinal() + least, dtype=np.int32)
    shuts = np.maximum(end, opens + np.int32(most)).astype(np.int32)
    # What has gone over is lost either way: while the plants bear, waiting costs what comes ready from today on.
    today, late_from = np.int32(view.today.toordinal()), np.int32(last.happened.toordinal() + most)
    due = np.where(shuts >= today, np.maximum(late_from, today), late_from).astype(np.int32)
    every = "every day" if most == 1 else f"every {least} days" if least == most else f"every {least} to {most} days"
    hot, hot_reasons = heat_words(view, life)
    return Window(
        name=f"pick/{planting.id}",
        says=f"{_verb(view, life)} {produce_for(view, life)}",
        where=view.where(planting),
        detail="; ".join(
            part for part in (f"{every}, last on {day_words(last.happened)}", _sign(view, life), hot) if part
        ),
        reasons=(from_entry(last, f"Last picked on {day_words(last.happened)}."), *_signs(view, life), *hot_reasons),
        opens=opens,
        shuts=shuts,
        due=due,
        loss=_loss(view, life),
        lost=said_for(view, life, "pick_late_loss") or "it goes over",
        minutes=minutes(view, planting, "minutes_pick_per_m2", 8.0),
        worth=worth(view, planting),
    )


def _perennial(view: SeasonView, life: Life) -> Iterator[Answer]:
    """A young bed is held; an old one is cut for so many weeks from its first cutting, no later."""
    planting = life.planting
    since = life.sightings.planted or planting.since
    if since is None:
        return
    year = view.today.year - since.year + 1
    tabled = min(max(year, 1), YEARS_TABLED)
    least, most = (view.fact(planting, f"cut_weeks_year_{tabled}_{end}") for end in ("min", "max"))
    if most is None:
        return
    reasons = (
        Reason(
            f"Crowns planted in {since.year}: this is year {year}.",
            rests_on=RestsOn("observed", "daybook", planting.id),
        ),
        *(from_fact(f, view.handbook, f"Weeks of cutting in year {tabled}.") for f in (least, most) if f is not None),
    )
    produce, where = view.produce(planting), view.where(planting)
    this_year = [e for e in life.sightings.of("pick") if e.happened.year == view.today.year]
    if most.number == 0:
        yield Hold(
            name=f"no-cutting/{planting.id}",
            forbids=("pick",),
            says=f"Do not cut {produce}",
            where=where,
            detail=f"Year {year} of the crowns: let the fern feed the roots.",
            reasons=reasons,
            first=view.today,
            last=None,
        )
        return
    if not this_year:
        own = own_span(view, life)
        if _comes_up(view, planting):
            firmer = f"in your own years {span_words(*own)}, 8 in 10" if own else "nothing firmer is known of the day"
            yield Rest(
                name=f"pick/{planting.id}",
                says=produce.capitalize(),
                where=where,
                detail=f"begin by the sign: {_sign(view, life)}; {firmer}",
                reasons=(*reasons, *(first_cut_reasons(view, life) if own else _months(view, planting))),
            )
        return
    begun = this_year[0].happened
    stop, said = begun + timedelta(weeks=most.number), f"{most.number:g} weeks from {day_words(begun)} were over on"
    if this_year[-1].payload.get("last") and this_year[-1].happened <= stop:
        stop, said = this_year[-1].happened, "The last cutting of the year was on"
    early = begun + timedelta(weeks=least.number if least else most.number)
    began = from_entry(this_year[0], f"First cut this year on {day_words(begun)}.")
    if view.today > stop:
        if view.today - stop < timedelta(days=60):
            yield Hold(
                name=f"no-cutting/{planting.id}",
                forbids=("pick",),
                says=f"Cut no more {produce}",
                where=where,
                detail=f"{said} {day_words(stop)}: let it grow.",
                reasons=(began, *reasons),
                first=stop,
                last=date(view.today.year, 12, 31),
            )
        return
    last, last_day = this_year[-1], f"no later than {day_words(stop)}"
    interval, thin = (
        round(view.number(planting, "picking_interval_days_max", 2.0)),
        view.said(planting, "cut_stop_sign"),
    )
    yield Window(
        name=f"pick/{planting.id}",
        says=f"Cut {produce}",
        where=where,
        detail=f"no later than {day_words(stop)}; stop from {day_words(early)} when {thin}" if thin else last_day,
        reasons=(began, from_entry(last, f"Last cut on {day_words(last.happened)}."), *reasons),
        opens=np.full(view.shape, last.happened.toordinal() + 1, dtype=np.int32),
        shuts=np.full(view.shape, stop.toordinal(), dtype=np.int32),
        due=np.full(view.shape, min(last.happened.toordinal() + interval, stop.toordinal()), dtype=np.int32),
        loss=SPEARS_LOSS,
        lost=view.said(planting, "pick_late_loss", "it goes over"),
        minutes=minutes(view, planting, "minutes_pick_per_m2", 3.0),
        worth=worth(view, planting),
    )


def _comes_up(view: SeasonView, planting: Planting) -> bool:
    """Whether this is a month in which it comes up: those of the handbook, six on in the southern half."""
    found = _month_facts(view, planting)
    if len(found) < 2:
        return False
    month = view.today.month if view.garden.site.latitude >= 0 else (view.today.month + 5) % 12 + 1
    return found[0].number <= month <= found[1].number


def _months(view: SeasonView, planting: Planting) -> tuple[Reason, ...]:
    says = ("First month in which it comes up, of the northern half.", "Last month, of the northern half.")
    return tuple(from_fact(f, view.handbook, s) for f, s in zip(_month_facts(view, planting), says, strict=False))


def _month_facts(view: SeasonView, planting: Planting) -> list[Fact]:
    found = (view.fact(planting, name) for name in ("emerge_month_first", "emerge_month_last"))
    return [fact for fact in found if fact is not None]
