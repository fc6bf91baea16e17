"""Put the trellis up before planting, where the same crop lay on the ground and took what a support hinders."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from kailyard.season.counted import far_off
from kailyard.season.done import of_kind
from kailyard.season.life import Life
from kailyard.season.measures import day_words, minutes, worth
from kailyard.season.odds import BEYOND, later, middle
from kailyard.season.reasons import from_entry, from_fact
from kailyard.season.view import SeasonView
from kailyard.season.windows import Loss, Window
from kailyard.troubles.next_season import lay_on_the_ground

NAME = "trellis"
SCOPE = "planting"
DONE = {"trellis": of_kind("support")}

AHEAD_DAYS = 28
"""The window opens so long before planting: posts go in best while the bed is empty."""

AFTER_DAYS = 14
"""So long after planting it can still go up without hurt to the roots."""

LOSS = Loss(late_per_day=0.01, late_most=0.25, early_per_day=0.0, early_most=0.0)


def windows(view: SeasonView, life: Life) -> Iterator[Window]:
    """One window a planting that is planned and not begun."""
    planting = life.planting
    if life.begun_known or life.sightings.ended is not None or life.sightings.of("support"):
        return
    what = view.fact(planting, "support")
    if (
        what is None
        or view.fact(planting, "support_by_days") is None
        or (lay := lay_on_the_ground(view.garden, planting, view.today)) is None
    ):
        return
    begin = np.broadcast_to(life.begun, view.shape)
    opens = later(begin, -AHEAD_DAYS)
    if middle(begin) >= BEYOND or far_off(view, opens):
        return
    plants = view.plants(planting)
    yield Window(
        name=f"trellis/{planting.id}",
        says=f"Put up the support for {plants} before they are planted",
        where=view.where(planting),
        detail=f"{view.said(planting, 'support')}; those of {lay.day.year} had none, and {lay.name} was found on them",
        reasons=(
            from_entry(
                lay.entry,
                f"{lay.said} was found on {day_words(lay.day)} {lay.day.year}; no support is entered.",
            ),
            from_fact(what, view.handbook, "What it needs."),
        ),
        opens=opens,
        due=later(begin, -1),
        shuts=later(begin, AFTER_DAYS),
        loss=LOSS,
        lost="leaves and fruit lie on the ground, stay wet and rot again",
        minutes=minutes(view, planting, "minutes_support_per_plant", 3.0),
        worth=worth(view, planting),
    )
