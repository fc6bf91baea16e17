"""Which entries belong to a line of the sheet: what 'done', 'not yet' and 'leave it' come to in the daybook."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, timedelta
from functools import cache
from typing import Literal

from kailyard.garden.model import Garden
from kailyard.season.answers import kinds
from kailyard.season.done import Answered, Answering, Fitting

Verdict = Literal["done", "not yet", "leave it"]

NOT_YET_DAYS = 2
"""A line answered 'not yet' comes back so soon, unless another day is named."""
LEAVE_DAYS = 7
"""A line that is left comes back with the next week's sheet, unless another day is named."""


def comes_back(verdict: Verdict, today: date) -> date | None:
    """The day on which a line so answered comes back of itself; None where 'done' alone ends it."""
    days = {"not yet": NOT_YET_DAYS, "leave it": LEAVE_DAYS}.get(verdict)
    return None if days is None else today + timedelta(days=days)


def fitting(
    line: str, of: tuple[str, ...], verdict: Verdict, garden: Garden, *, until: date | None = None
) -> tuple[Fitting, ...]:
    """The entries that answer the line called `line`, which speaks of the plantings `of`; at least one.

    `until`: for 'not yet' and 'leave it' the day it may come back, for a cover the day it comes off.
    'Done' is the work itself where the daybook has a kind of entry for it; else, and for the other two answers, a
    decision on the line. A stage looked for and not yet seen is a sighting, not a decision: it narrows the odds.
    """
    work, _, rest = line.partition("/")
    about, _, stage = rest.partition("/")
    named = tuple(p for id_ in (of or (about,)) if (p := garden.plantings.get(id_)) is not None)
    if work == "look" and stage and named:
        state = {"done": "seen", "not yet": "not yet"}.get(verdict)
        if state is not None:
            return tuple(Fitting("stage", p.id, {"stage": stage, "state": state}) for p in named)
    if verdict == "done" and work in _done() and (done := _done()[work](Answered(about, named, garden, until))):
        return done
    lines = [f"{work}/{p.id}" for p in named] if len(named) > 1 and about in of else [line]
    says = {"verdict": verdict} if until is None else {"verdict": verdict, "until": until.isoformat()}
    return tuple(Fitting("decide", _planting_in(name, garden), {"line": name, **says}) for name in lines)


def _planting_in(line: str, garden: Garden) -> str:
    about = line.split("/")[1] if "/" in line else ""
    return about if about in garden.plantings else ""


@cache
def _done() -> Mapping[str, Answering]:
    """By the first part of a line's name: how the kind of work that wrote the line has 'done' entered."""
    return {first: answering for kind in kinds() for first, answering in getattr(kind, "DONE", {}).items()}
