"""Mulch once the soil is warm, weeded and moist."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from kailyard.season.counted import far_off, filled, grounds, is_past, stood
from kailyard.season.done import last_work, work_done
from kailyard.season.life import Life
from kailyard.season.measures import minutes, worth
from kailyard.season.odds import later
from kailyard.season.safety import soil_warm
from kailyard.season.view import SeasonView
from kailyard.season.windows import Loss, Window

NAME = "mulch"
SCOPE = "planting"
DONE = {"mulch": work_done("mulched")}

FOR_DAYS = 35
"""So long after it may first be laid a mulch is still worth its straw."""

GRACE_DAYS = 14
"""Bare soil for so long costs little."""

LOSS = Loss(late_per_day=0.003, late_most=0.08, early_per_day=0.01, early_most=0.1, shut_ends_it=True)
"""A mulch saves water and weeding; laid on cold soil it holds the crop back."""


def windows(view: SeasonView, life: Life) -> Iterator[Window]:
    """One mulching of a planting that is up and whose soil has warmed."""
    planting = life.planting
    from_days = view.fact(planting, "mulch_from_days")
    if from_days is None or not life.standing or last_work(life, "mulch") is not None or view.seems_killed(life):
        return
    opens = later(stood(view, life), round(from_days.number))
    if far_off(view, opens) or is_past(view, later(opens, FOR_DAYS)):
        return
    warm = view.fact(planting, "mulch_soil_from_c")
    if warm is not None:
        opens = filled(view, soil_warm(view.clocks, warm.number, opens))
    shuts = later(opens, FOR_DAYS)
    if is_past(view, shuts):
        return
    ends = life.stage("last-harvest") or life.stage("mature")
    if ends is not None:
        shuts = np.minimum(shuts, ends.days)
    low, high = (view.fact(planting, f"mulch_cm_{end}") for end in ("min", "max"))
    deep = "" if low is None or high is None else f"{view.depth(low.number)} to {view.depth(high.number)} deep: "
    yield Window(
        name=f"mulch/{planting.id}",
        says=f"Mulch {view.plants(planting)}",
        where=view.where(planting),
        detail=f"{deep}{view.said(planting, 'mulch_note')}",
        reasons=grounds(
            view,
            life,
            {
                "mulch_from_days": "So long after coming up or setting out the plants stand above it.",
                "mulch_soil_from_c": "Laid on cooler soil, mulch holds the crop back.",
                "mulch_cm_max": "No deeper than this.",
                "mulch_note": "With what.",
            },
        ),
        opens=opens,
        shuts=shuts,
        due=later(opens, GRACE_DAYS),
        tending=True,
        loss=LOSS,
        lost="bare soil dries and weeds come up",
        minutes=minutes(view, planting, "minutes_mulch_per_m2", 2.5),
        worth=worth(view, planting),
    )
