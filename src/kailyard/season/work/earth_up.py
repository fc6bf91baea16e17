"""Earth up: potatoes so that no tuber sees light, corn and cabbages against wind."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from kailyard.season.counted import far_off, grounds, is_past, opening, stood
from kailyard.season.done import work_done, works
from kailyard.season.life import Life
from kailyard.season.measures import minutes, worth
from kailyard.season.odds import later
from kailyard.season.view import SeasonView
from kailyard.season.windows import Loss, Window

NAME = "earth up"
SCOPE = "planting"
DONE = {"earth-up": work_done("earthed up")}

FOR_DAYS = 28
"""So long after the plants have the height for it earth is still drawn up: then rows close and roots would be cut."""

GRACE_DAYS = 7
"""A week late costs little."""

AGAIN_DAYS = 18
"""Between two earthings up, where the handbook does not say."""

LOSS = Loss(late_per_day=0.01, late_most=0.2, early_per_day=0.005, early_most=0.05)
"""Tubers near the light turn green, tall plants lean: part of the crop, never all."""


def windows(view: SeasonView, life: Life) -> Iterator[Window]:
    """The first or the next earthing up."""
    planting = life.planting
    from_days = view.fact(planting, "earth_up_from_days")
    if from_days is None or not life.standing or view.seems_killed(life):
        return
    done = works(life, "earth", "hill")
    if len(done) >= view.number(planting, "earth_up_times", 1.0):
        return
    last = done[-1] if done else None
    start = stood(view, life)
    opens = opening(
        view, start, from_days.number, last, view.number(planting, "earth_up_interval_days_min", AGAIN_DAYS)
    )
    shuts = later(opens, FOR_DAYS)
    ends = life.stage("mature") or life.stage("last-harvest")
    if ends is not None:
        shuts = np.minimum(shuts, ends.days)
    if far_off(view, opens) or is_past(view, shuts):
        return
    height, draw = view.fact(planting, "earth_up_height_cm"), view.fact(planting, "earth_up_cm")
    when = f"when they stand {view.depth(height.number)} high, " if height is not None and last is None else ""
    much = f"draw up {view.depth(draw.number)}" if draw is not None else "draw earth up to the stems"
    yield Window(
        name=f"earth-up/{planting.id}",
        says=f"Earth up {view.plants(planting)}" + (" again" if last is not None else ""),
        where=view.where(planting),
        detail=f"{when}{much}; {view.said(planting, 'earth_up_note')}",
        reasons=grounds(
            view,
            life,
            {
                "earth_up_from_days": "Days from coming up or setting out, in ordinary growth, to that height.",
                "earth_up_height_cm": "Height at the first earthing up.",
                "earth_up_interval_days_min": "Least time to the next.",
                "earth_up_times": "How often it is done.",
                "earth_up_note": "What for.",
            },
            last,
        ),
        opens=opens,
        shuts=shuts,
        due=later(opens, GRACE_DAYS),
        tending=True,
        loss=LOSS,
        lost="what should lie dark comes to the light, tall plants lean",
        minutes=minutes(view, planting, "minutes_earth_up_per_m2", 4.0),
        worth=worth(view, planting),
    )
