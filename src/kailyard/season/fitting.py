"""Which entries belong to a line of the sheet: what 'done', 'not yet' and 'leave it' come to in the daybook."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import date, timedelta
from typing import Any, Literal

from kailyard.garden.model import Garden, Planting

Verdict = Literal["done", "not yet", "leave it"]
Asks = Literal["", "amount", "found"]

NOT_YET_DAYS = 2
"""A line answered 'not yet' comes back so soon, unless another day is named."""
LEAVE_DAYS = 7
"""A line that is left comes back with the next week's sheet, unless another day is named."""


@dataclass(frozen=True, slots=True)
class Fitting:
    """An entry that answers a line, before its day and its own words are added."""

    kind: str
    target: str
    payload: Mapping[str, Any] = field(default_factory=dict)
    asks: Asks = ""
    """What is asked in place: an amount of the kind's quantity; or what was found, and whether it is sound."""


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
    if verdict == "done" and work in _DONE and (done := _DONE[work](named, garden, until)):
        return done
    lines = [f"{work}/{p.id}" for p in named] if len(named) > 1 and about in of else [line]
    says = {"verdict": verdict} if until is None else {"verdict": verdict, "until": until.isoformat()}
    return tuple(Fitting("decide", _planting_in(name, garden), {"line": name, **says}) for name in lines)


def _planting_in(line: str, garden: Garden) -> str:
    about = line.split("/")[1] if "/" in line else ""
    return about if about in garden.plantings else ""


_Named = tuple[Planting, ...]


def _pick(named: _Named, garden: Garden, until: date | None) -> tuple[Fitting, ...]:
    return tuple(Fitting("pick", p.id, asks="amount") for p in named)


def _sow(named: _Named, garden: Garden, until: date | None) -> tuple[Fitting, ...]:
    """Sets and tubers are planted; what is raised goes under cover."""
    return tuple(
        Fitting("plant", p.id)
        if p.start == "planted"
        else Fitting("sow", p.id, {"under_cover": True} if p.start == "raised" else {})
        for p in named
    )


def _of_kind(kind: str) -> Callable[[_Named, Garden, date | None], tuple[Fitting, ...]]:
    def done(named: _Named, garden: Garden, until: date | None) -> tuple[Fitting, ...]:
        return tuple(Fitting(kind, p.id) for p in named)

    return done


def _protect(named: _Named, garden: Garden, until: date | None) -> tuple[Fitting, ...]:
    """A cover is put over a bed, with all that stands in it."""
    beds = dict.fromkeys(p.bed for p in named if p.bed in garden.beds)
    off = {} if until is None else {"until": until.isoformat()}
    return tuple(Fitting("protect", bed, off) for bed in beds)


def _look(named: _Named, garden: Garden, until: date | None) -> tuple[Fitting, ...]:
    return tuple(Fitting("look", p.id, asks="found") for p in named)


_DONE: Mapping[str, Callable[[_Named, Garden, date | None], tuple[Fitting, ...]]] = {
    "pick": _pick,
    "sow": _sow,
    "set-out": _of_kind("set-out"),
    "harden": _of_kind("harden"),
    "support": _of_kind("support"),
    "protect": _protect,
    "look": _look,
    "watch": _look,
    "frosted": _look,
}
"""By the first part of a line's name, which is its kind of work."""
