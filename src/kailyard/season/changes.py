"""What is new: the stages seen in the last days, and what follows from them."""

from __future__ import annotations

from datetime import timedelta

from kailyard.documents.sheet import Line
from kailyard.season.life import Life
from kailyard.season.measures import day_words, odds_words
from kailyard.season.reasons import from_entry
from kailyard.season.sightings import Between
from kailyard.season.stage_words import words
from kailyard.season.view import SeasonView

LOOK_BACK_DAYS = 7


def changes(view: SeasonView) -> tuple[Line, ...]:
    """One line for each stage of a standing planting that was first seen in the last days; coming up is left out."""
    return tuple(
        line
        for life in view.lives.values()
        if life.standing
        for stage, known in life.sightings.stages.items()
        if stage != "emerged" and (line := _line(view, life, stage, known)) is not None
    )


def _line(view: SeasonView, life: Life, stage: str, known: Between) -> Line | None:
    entry, way = known.seen_entry, life.timeline
    if entry is None or known.implied or entry.kind != "stage" or way is None:
        return None
    follows = life.stage(way.harvest)
    if follows is None or entry.happened < view.today - timedelta(days=LOOK_BACK_DAYS):
        return None
    seen = f"{words(stage)} seen on {day_words(entry.happened)}"
    return Line(
        name=f"changed/{life.planting.id}/{stage}",
        says=f"{view.plants(life.planting).capitalize()}: {seen}",
        where=view.where(life.planting),
        detail="" if stage == way.harvest else f"{words(way.harvest)} now {odds_words(follows)}",
        reasons=(from_entry(entry, f"{seen[0].upper()}{seen[1:]}."),),
    )
