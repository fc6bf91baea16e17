"""Clear a planting that is over, so that the bed is free and nothing winters on it."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

import numpy as np

from kailyard.documents._parts import Reason, RestsOn
from kailyard.garden.model import Entry
from kailyard.season.counted import is_past, same
from kailyard.season.done import of_kind
from kailyard.season.life import Life
from kailyard.season.measures import day_words, minutes, worth
from kailyard.season.odds import DayArray, later
from kailyard.season.reasons import from_entry, from_fact
from kailyard.season.seed_stock import kept_for_seed
from kailyard.season.taught import stage_reasons
from kailyard.season.view import SeasonView
from kailyard.season.windows import Loss, Window
from kailyard.troubles.met import met_on
from kailyard.troubles.next_season import winters_in_remains

NAME = "clear"
SCOPE = "planting"
DONE = {"clear": of_kind("clear")}

DEAD = 0.95
"""Part of the plants killed from which nothing is waited for."""

OVER = 0.5
"""Chance that the last harvest is past from which clearing is spoken of."""

OVER_UNPICKED = 0.9
"""The same where no picking was entered: the crop may still stand there, waiting to be picked."""

GRACE_DAYS = 3
"""After the day foreseen for the last harvest the plants are left so long: they know better."""

IN_HAND_DAYS = 14
"""What was picked so lately is not over, whatever the odds."""

FOR_DAYS = 90
"""So long the line stands."""

LOSS = Loss(late_per_day=0.004, late_most=0.25, early_per_day=0.02, early_most=0.3)


def windows(view: SeasonView, life: Life) -> Iterator[Window]:
    """Clearing, when the last harvest is past by the odds or the plants are dead."""
    planting = life.planting
    if not life.standing or view.perennial(planting) or view.seems_killed(life):
        return
    dead = next((e for e in life.sightings.of("hurt") if float(e.payload.get("killed") or 0.0) >= DEAD), None)
    opens = _over(view, life) if dead is None else same(view, dead.happened)
    if opens is None or kept_for_seed(life):
        return
    how = view.fact(planting, "clear_how")
    yield Window(
        name=f"clear/{planting.id}",
        says=f"Clear {view.plants(planting)}",
        where=view.where(planting),
        detail=_detail(view, life, dead),
        reasons=(*_why(view, life, dead), *((from_fact(how, view.handbook, "How."),) if how is not None else ())),
        opens=opens,
        due=later(opens, 7),
        shuts=later(opens, FOR_DAYS),
        tending=True,
        loss=LOSS,
        lost="the bed lies idle and pests and mildews live on",
        minutes=minutes(view, planting, "minutes_clear_per_m2", 4.0),
        worth=worth(view, planting),
    )


def _over(view: SeasonView, life: Life) -> DayArray | None:
    """The day after its last harvest, where that is as likely past as not; None while more is to come."""
    last, today, picks = life.stage("last-harvest"), view.today.toordinal(), life.sightings.of("pick")
    if last is None or float(np.mean(last.days <= today - GRACE_DAYS)) < (OVER if picks else OVER_UNPICKED):
        return None
    if not picks and life.timeline is not None and life.timeline.harvest == "mature":
        return None  # what is lifted is cleared by lifting
    if picks and (view.today - picks[-1].happened).days < IN_HAND_DAYS:
        return None
    if is_past(view, later(last.days, FOR_DAYS)):
        return None
    return later(last.days, GRACE_DAYS)


def _detail(view: SeasonView, life: Life, dead: Entry | None) -> str:
    picks = life.sightings.of("pick")
    if dead is not None:
        said = f"killed on {day_words(dead.happened)}"
    elif picks:
        said = f"last picked {day_words(picks[-1].happened)}, nothing more is likely"
    else:
        said = "over by all odds, and no picking entered: clear them, or enter what is picked"
    how = view.said(life.planting, "clear_how")
    seen = life.sightings
    begun = min((day for day in (seen.sown, seen.set_out, seen.planted) if day), default=date.min)
    sick = [m.name for m in met_on(view.garden, life.planting, begun, view.today) if winters_in_remains(m)]
    bag = f"{sick[-1]} was found: into the bin, not on the compost" if sick else ""
    return "; ".join(part for part in (said, bag, how) if part)


def _why(view: SeasonView, life: Life, dead: Entry | None) -> tuple[Reason, ...]:
    if dead is not None:
        return (from_entry(dead, f"Killed on {day_words(dead.happened)}."),)
    last = life.stages["last-harvest"]
    chance = last.by(view.today - timedelta(days=GRACE_DAYS))
    rests = RestsOn("computed", "stage odds", "docs/explanation/how-a-season-is-foreseen.md")
    picks = tuple(from_entry(e, f"Last picked on {day_words(e.happened)}.") for e in life.sightings.of("pick")[-1:])
    return (Reason("The last harvest is past.", round(chance, 3), "chance", rests, stage_reasons(life)), *picks)
