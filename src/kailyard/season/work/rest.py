"""Say of which beds that nothing is to be done there, and that this is right."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from kailyard.documents._parts import Reason, RestsOn
from kailyard.garden.model import Bed, Garden
from kailyard.season.cold import COLD_C, about_now_c
from kailyard.season.life import Life
from kailyard.season.measures import beds_words
from kailyard.season.reasons import from_judgement
from kailyard.season.view import SeasonView
from kailyard.season.windows import Rest

NAME = "rest"
SCOPE = "garden"

SOON_DAYS = 28
"""A bed in which something is to be begun so soon is not at rest."""

READY = 0.3
"""Chance of a harvest being ready from which a bed is not at rest."""


def windows(view: SeasonView, garden: Garden) -> Iterator[Rest]:
    """One line for all beds at rest in the cold."""
    mean = about_now_c(view.ensemble)
    if mean >= COLD_C:
        return
    by_bed: dict[str, list[Life]] = {}
    for life in view.lives.values():
        if life.sightings.ended is None:
            by_bed.setdefault(life.planting.bed, []).append(life)
    resting = [bed for bed in garden.beds.values() if _rests(view, bed, by_bed.get(bed.id, []))]
    if not resting:
        return
    yield Rest(
        name="rest/garden",
        says=beds_words([bed.name for bed in resting])[:1].upper() + beds_words([bed.name for bed in resting])[1:],
        where="",
        detail="nothing to do there, and that is right: too cold to grow; keep off wet ground",
        reasons=(
            Reason(
                "Mean of the fortnight about today.",
                round(mean, 1),
                "°C",
                RestsOn("computed", "record, forecast and possible seasons", view.ensemble.source),
            ),
            from_judgement("Below this hardly anything grows, nor do weeds.", COLD_C, "°C"),
        ),
        urgency=0.2,
    )


def _rests(view: SeasonView, bed: Bed, lives: list[Life]) -> bool:
    """Whether nothing in a bed is ready, at work, or soon to be begun. Under cover it may be warm enough to grow."""
    if bed.cover != "none":
        return False
    soon = view.today.toordinal() + SOON_DAYS
    for life in lives:
        if not life.begun_known:
            planned = life.planting.planned
            begins = planned.toordinal() if planned else int(np.sort(life.begun, axis=None)[life.begun.size // 2])
            if begins <= soon:
                return False
        elif view.seems_killed(life) or not view.perennial(life.planting):
            way = life.timeline
            ready = life.stage(way.harvest) if way is not None else None
            if view.seems_killed(life) or life.sightings.of("pick") or (ready and ready.by(view.today) >= READY):
                return False
    return True
