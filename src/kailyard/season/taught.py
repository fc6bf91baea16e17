"""What this season's entries taught of one planting, as reasons."""

from __future__ import annotations

import numpy as np

from kailyard.documents._parts import Reason, RestsOn
from kailyard.season.life import Life
from kailyard.season.measures import day_words
from kailyard.season.reasons import from_entry
from kailyard.season.sightings import Between
from kailyard.season.stage_words import words


def stage_reasons(life: Life) -> tuple[Reason, ...]:
    """How the harvest is foreseen: the ladder's rung, what entries taught, how it comes up."""
    way = life.timeline
    if way is None:
        return ()
    return (*way.reasons, *taught(life), *(way.emergence.reasons if way.emergence else ()))


def taught(life: Life) -> tuple[Reason, ...]:
    """The multiplier learned, with the entries that speak of this planting under it; empty where it is the usual."""
    seen = tuple(
        from_entry(entry, _said(stage, known))
        for stage, known in sorted(life.sightings.stages.items())
        if not known.implied and (entry := known.seen_entry or known.not_yet_entry) is not None
    )
    factor = float(np.median(life.multiplier))
    if not seen and abs(factor - 1) < 0.01:
        return ()
    ground = RestsOn("computed", "learning from entries", "docs/explanation/how-a-season-is-foreseen.md")
    return (
        Reason(
            f"By what was seen this season it needs {factor:.2f} times the usual.", round(factor, 2), "", ground, seen
        ),
    )


def _said(stage: str, known: Between) -> str:
    name = words(stage).capitalize()
    if known.seen is not None and known.not_yet is not None:
        return f"{name}: seen on {day_words(known.seen)}, not yet on {day_words(known.not_yet)}."
    if known.seen is not None:
        return f"{name}: seen on {day_words(known.seen)}."
    assert known.not_yet is not None
    return f"{name}: not yet on {day_words(known.not_yet)}."
