"""Feed beside the plants, at the stage that wants it. How much is another matter."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from kailyard.season.counted import counted_from, far_off, grounds, is_past, opening, spans
from kailyard.season.done import work_done, works
from kailyard.season.life import Life
from kailyard.season.measures import minutes, worth
from kailyard.season.odds import later
from kailyard.season.view import SeasonView
from kailyard.season.windows import Loss, Window

NAME = "side-dress"
SCOPE = "planting"
DONE = {"side-dress": work_done("side-dressed")}

AFTER_DAYS = 14
"""So long after its best days feeding still helps; then it delays ripening or feeds weeds."""

AGAIN_DAYS = 21
"""Between two feedings, where the handbook does not say."""

LOSS = Loss(late_per_day=0.003, late_most=0.06, early_per_day=0.004, early_most=0.06, shut_ends_it=True)
"""On a garden soil that was manured, feeding beside the row adds a twentieth or so."""


def windows(view: SeasonView, life: Life) -> Iterator[Window]:
    """The first or the next feeding."""
    planting = life.planting
    days = spans(view, life, "side_dress_after_days")
    if days is None or not life.standing or view.seems_killed(life):
        return
    fed = works(life, "side-dress", "side dress", "fed", "top-dress")
    if len(fed) >= view.number(planting, "side_dress_times", 1.0):
        return
    start = counted_from(view, life, view.handbook.text(planting.crop, "side_dress_stage"))
    if start is None:
        return
    last = fed[-1] if fed else None
    opens = opening(view, start, days[0], last, view.number(planting, "side_dress_interval_days", AGAIN_DAYS))
    due = later(opens, round(days[1] - days[0]))
    shuts = later(due, AFTER_DAYS)
    ends = life.stage("mature") or life.stage("last-harvest")
    if ends is not None:
        shuts = np.minimum(shuts, ends.days)
    if far_off(view, opens) or is_past(view, shuts):
        return
    yield Window(
        name=f"side-dress/{planting.id}",
        says=f"Feed {view.plants(planting)}" + (" again" if last is not None else ""),
        where=view.where(planting),
        detail=f"beside the row, off the leaves, then water; {view.said(planting, 'side_dress_note')}",
        reasons=grounds(
            view,
            life,
            {
                "side_dress_stage": "Counted from this stage.",
                "side_dress_after_days_min": "From so long after it.",
                "side_dress_after_days_max": "Best by so long after it.",
                "side_dress_times": "How often.",
                "side_dress_note": "What to mind.",
            },
            last,
        ),
        opens=opens,
        shuts=shuts,
        due=due,
        tending=True,
        loss=LOSS,
        lost="growth pales where the soil is poor",
        minutes=minutes(view, planting, "minutes_side_dress_per_m2", 1.5),
        worth=worth(view, planting),
    )
