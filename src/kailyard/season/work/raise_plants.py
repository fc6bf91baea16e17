"""Raise plants under cover: prick out, and pot on, before they grow leggy or pot-bound."""

from __future__ import annotations

from collections.abc import Iterator

from kailyard.season.counted import filled, is_past
from kailyard.season.done import last_work, work_done
from kailyard.season.life import Life
from kailyard.season.measures import day_words, minutes, worth
from kailyard.season.nursery import up_reason, up_under_cover
from kailyard.season.odds import DayArray, later
from kailyard.season.reasons import from_entry, from_fact
from kailyard.season.view import SeasonView
from kailyard.season.windows import Loss, Window
from kailyard.units import in_running_text

NAME = "raise plants"
SCOPE = "planting"
DONE = {"prick-out": work_done("pricked out"), "pot-on": work_done("potted on")}

LONGEST_UNDER_COVER_DAYS = 120
"""What was sown under cover longer ago than this stands there no more."""

LATE_DAYS = 21
"""Leggy seedlings and pot-bound plants are still worth a pot for so long after the usual time."""

PRICK_OUT_LOSS = Loss(late_per_day=0.03, late_most=0.5, early_per_day=0.02, early_most=0.2)
POT_ON_LOSS = Loss(late_per_day=0.015, late_most=0.3, early_per_day=0.005, early_most=0.05)


def windows(view: SeasonView, life: Life) -> Iterator[Window]:
    """Pricking out, then potting on, of what was sown under cover and not set out."""
    planting, seen = life.planting, life.sightings
    if planting.start != "raised" or seen.sown is None or seen.set_out is not None or seen.ended is not None:
        return
    if seen.of("harden") or (view.today - seen.sown).days > LONGEST_UNDER_COVER_DAYS:
        return
    pricks, pots = (view.fact(planting, f"{work}_days_max") is not None for work in ("prick_out", "pot_on"))
    pricked, potted = last_work(life, "prick"), last_work(life, "potted", "pot on")
    in_cells = any(e.unit == "cells" for e in seen.of("sow")[-1:])
    prick = pricks and not (in_cells or pricked or potted)
    if not prick and (not pots or potted):
        return
    up = up_under_cover(view, life)
    if up is None:
        return
    if prick:
        yield from _window(view, life, "prick-out", "prick_out_days", up, PRICK_OUT_LOSS)
    if pots and not potted:
        yield from _window(view, life, "pot-on", "pot_on_days", up, POT_ON_LOSS)


def _window(view: SeasonView, life: Life, work: str, quantity: str, up: DayArray, loss: Loss) -> Iterator[Window]:
    planting, handbook = life.planting, view.handbook
    least, most = view.fact(planting, f"{quantity}_min"), view.fact(planting, f"{quantity}_max")
    if least is None or most is None:
        return
    due = later(up, round(most.number))
    if is_past(view, later(due, LATE_DAYS)):
        return
    late = is_past(view, due)
    prick = work == "prick-out"
    pricked = last_work(life, "prick")
    yield Window(
        name=f"{work}/{planting.id}",
        says=f"{'Prick out' if prick else 'Pot on'} {view.plants(planting)}",
        where=f"for {view.where(planting)}",
        detail=_detail(view, life, prick, late),
        reasons=(
            up_reason(view, life),
            from_fact(least, handbook, "From so many days after coming up."),
            from_fact(most, handbook, "Leggy after so many." if prick else "Pot-bound after so many."),
            *((from_entry(pricked, f"Pricked out on {day_words(pricked.happened)}."),) if pricked else ()),
        ),
        opens=filled(view, later(up, round(least.number))),
        due=filled(view, due),
        shuts=filled(view, later(due, LATE_DAYS)),
        loss=loss,
        lost="seedlings grow leggy and weak" if prick else "roots fill the pot and growth stops",
        minutes=minutes(view, planting, f"minutes_{work.replace('-', '_')}_per_plant", 0.5 if prick else 1.0),
        worth=worth(view, planting),
        late=late,
    )


def _detail(view: SeasonView, life: Life, prick: bool, late: bool) -> str:
    planting = life.planting
    if prick:
        leaves = round(view.number(planting, "prick_out_leaves", 1.0))
        size = (
            "when the seed leaves are spread"
            if leaves == 0
            else f"at {leaves} true {'leaf' if leaves == 1 else 'leaves'}"
        )
        if late:
            return "leggy: set them down to the seed leaves, cooler and in more light"
        return f"{size}; hold by a leaf, never by the stem; water before and after"
    low, high = (view.number(planting, f"pot_cm_{end}", 0.0) for end in ("min", "max"))
    pot = f"into pots of {low:g} to {high:g} cm" if high else "into the next size of pot"
    pot = in_running_text(pot, view.garden.units)
    return f"{pot}; {'tease a tight root ball open' if late else 'when roots reach the side of the pot'}"
