"""Look again at what was found sick, on the day that was meant: the new growth tells whether it goes on."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

from kailyard.season.done import of_kind
from kailyard.season.life import Life
from kailyard.season.measures import day_words
from kailyard.season.reasons import from_entry
from kailyard.season.view import SeasonView
from kailyard.season.windows import Look
from kailyard.troubles.met import met, met_on
from kailyard.troubles.options import judged, look_again

NAME = "found"
SCOPE = "planting"
DONE = {"found": of_kind("look", asks="found")}

FOR_DAYS = 28
"""So long after the day that was meant it is still asked."""

LOOKED = frozenset({"look", "found", "treat", "count"})
"""Entries after it that answer it, or ask for a look of their own."""


def windows(view: SeasonView, life: Life) -> Iterator[Look]:
    """One look a planting, at what was found last."""
    if not met(view.garden, view.today) or not life.standing:
        return
    seen = life.sightings
    begun = min((d for d in (seen.sown, seen.set_out, seen.planted) if d), default=date.min)
    mine = met_on(view.garden, life.planting, begun, view.today)
    if not mine:
        return
    last = mine[-1]
    due = look_again(last.trouble, last.day)
    late = (view.today - due).days
    if due > view.today + timedelta(days=6) or late > FOR_DAYS:
        return
    targets = (life.planting.id, life.planting.bed)
    after = (e for target in targets for e in view.garden.entries_of(target) if e.kind in LOOKED)
    if any(last.day < e.happened <= view.today for e in after):
        return
    yield Look(
        name=f"found/{life.planting.id}",
        says=view.plants(life.planting).capitalize(),
        where=view.where(life.planting),
        detail=f"{last.said} found {day_words(last.day)}. From {day_words(due)}: {_small(judged(last.trouble))}",
        reasons=(from_entry(last.entry, f"{last.said} was found on {day_words(last.day)}."),),
        urgency=0.85 if late >= 0 else 0.5,
    )


def _small(text: str) -> str:
    return f"{text[0].lower()}{text[1:]}"
