"""Support before it is needed; late, but still worth doing, as long as that is true."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from kailyard.documents._parts import Reason, RestsOn
from kailyard.season.done import of_kind
from kailyard.season.life import Life
from kailyard.season.measures import day_words, minutes, worth
from kailyard.season.odds import BEYOND, DayArray, later
from kailyard.season.reasons import from_fact
from kailyard.season.view import SeasonView
from kailyard.season.windows import Loss, Window

NAME = "support"
SCOPE = "planting"
DONE = {"support": of_kind("support")}

AHEAD_DAYS = 10
"""The window opens this long before the support is needed."""

MOST_LOST = 0.4
"""Share of the crop that is lost where what climbs or leans is never supported."""


def windows(view: SeasonView, life: Life) -> Iterator[Window]:
    """Stakes, canes, netting for what climbs or leans."""
    planting, seen = life.planting, life.sightings
    by = view.fact(planting, "support_by_days")
    if by is None or not life.standing or seen.of("support") or view.seems_killed(life):
        return
    stage = view.handbook.text(planting.crop, "support_by_stage")
    start = _start(life, stage)
    if start is None:
        return
    needed = later(start, round(by.number))
    useless = view.number(planting, "support_useless_days", by.number + 40)
    ends = later(start, round(useless))
    today = view.today.toordinal()
    if float(np.mean(ends < today)) > 0.5:
        return
    late = float(np.mean(needed < today)) > 0.5
    how = view.said(planting, "support_late_how") if late else ""
    what = view.said(planting, "support", "a support")
    yield Window(
        name=f"support/{planting.id}",
        says=f"Support {view.plants(planting)}",
        where=view.where(planting),
        detail=how or what,
        reasons=_reasons(view, life, stage, needed),
        opens=later(needed, -AHEAD_DAYS),
        shuts=ends,
        due=needed,
        loss=Loss(late_per_day=MOST_LOST / max(useless - by.number, 1.0), late_most=MOST_LOST, early_per_day=0.0),
        lost="stems sprawl, break and rot",
        minutes=minutes(view, planting, "minutes_support_per_plant", 3.0),
        worth=worth(view, planting),
        late=late,
        late_how=how,
    )


def _start(life: Life, stage: str) -> DayArray | None:
    if stage == "emerged":
        up = life.stage("emerged")
        return None if up is None else up.days
    return life.begun


def _reasons(view: SeasonView, life: Life, stage: str, needed: DayArray) -> tuple[Reason, ...]:
    planting, handbook = life.planting, view.handbook
    named = {
        "support": "What it needs.",
        "support_by_days": f"It must stand this long after {'coming up' if stage == 'emerged' else 'it was begun'}.",
        "support_useless_days": "From this long after on it is no longer worth putting up.",
        "height_cm_max": "It grows to this height.",
    }
    facts = tuple(
        from_fact(f, handbook, says) for q, says in named.items() if (f := view.fact(planting, q)) is not None
    )
    sure = needed[needed < BEYOND]
    day = (
        f"Needed by about {day_words(view.today.fromordinal(int(np.median(sure))))}."
        if sure.size
        else "Not needed yet."
    )
    return (Reason(day, rests_on=RestsOn("computed", "days after a stage", ""), because=facts),)
