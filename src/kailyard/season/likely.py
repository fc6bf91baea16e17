"""Of which plantings an entry is likeliest to be made, and what of each: today's lines first, then what is due."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import timedelta

from kailyard.documents.sheet import Line, Sheet
from kailyard.season.life import Life
from kailyard.season.measures import odds_words
from kailyard.season.stage_words import words
from kailyard.season.view import SeasonView

DUE = 0.1
"""A stage is due from this chance on that it has come by the end of the week."""
_WEEK = timedelta(days=6)


@dataclass(frozen=True, slots=True)
class Likely:
    """One planting, and what is likely to be entered of it."""

    planting: str
    because: str
    """Why it stands where it stands: 'pick peas', 'first flower 12–20 June, 8 in 10'; '' for no reason of today's."""
    standing: bool
    picks: bool
    """A picking is due, or has begun."""
    stage: str
    """The stage that comes next, as the daybook names it; '' where none is foreseen or it has long to go."""
    stage_words: str
    sign: str
    """Of a crop that ripens at once: the sign of which the share of plants is counted; '' for others."""
    tops: bool
    """The sign is in the tops."""
    line: str = ""
    """The line of work on today's sheet; '' where it has none."""


def likely(view: SeasonView, sheet: Sheet) -> tuple[Likely, ...]:
    """Every planting that is not over: those of the sheet's lines in its order, those with a stage due, the rest."""
    order: dict[str, tuple[str, str]] = {}
    for line in (*sheet.work, *sheet.look, *sheet.next):
        for planting in _plantings(line):
            of_work = (line.says, f"{line.name.split('/')[0]}/{planting}") if line in sheet.work else ("", "")
            order.setdefault(planting, of_work)
    there = [
        likely_of(view, life, *order.get(id_, ("", "")))
        for id_, life in view.lives.items()
        if life.sightings.ended is None
    ]
    place = {id_: n for n, id_ in enumerate(order)}
    return tuple(sorted(there, key=lambda one: (place.get(one.planting, len(place)), not one.stage, not one.standing)))


def likely_of(view: SeasonView, life: Life, because: str = "", line: str = "") -> Likely:
    """What is likely to be entered of one planting; `because` and `line`: of its work on the sheet."""
    stage, chance = _next_stage(view, life)
    due = bool(stage) and chance >= DUE
    way, book = life.timeline, view.handbook
    ripens = way is not None and way.harvest == "mature"
    harvest = life.stage(way.harvest) if way is not None else None
    ready = harvest is not None and harvest.by(view.today + _WEEK) >= DUE
    sign = book.text(life.planting.crop, "pick_sign") if ripens and ready else ""
    # Where its sign is asked, of how many plants, ripeness is not asked a second time.
    asked = due and not (sign and stage == "mature")
    odds = life.stage(stage) if due else None
    if not because and odds is not None:
        because = f"{words(stage)} {odds_words(odds)}"
    return Likely(
        planting=life.planting.id,
        because=because,
        standing=life.standing,
        picks=life.standing and (ready or bool(life.sightings.of("pick"))),
        stage=stage if asked else "",
        stage_words=words(stage) if asked else "",
        sign=sign,
        tops="tops" in sign,
        line=line,
    )


def _plantings(line: Line) -> tuple[str, ...]:
    return line.of or tuple(line.name.split("/")[1:2])


def _next_stage(view: SeasonView, life: Life) -> tuple[str, float]:
    """The first stage in the planting's order that is not seen yet, with its chance by the end of the week."""
    if not life.standing or life.timeline is None:
        return "", 0.0
    for name in ("emerged", *(need.stage for need in life.timeline.stages)):
        odds, known = life.stage(name), life.sightings.stages.get(name)
        if odds is not None and (known is None or known.seen is None):
            return name, odds.by(view.today + _WEEK)
    return "", 0.0
