"""What 'done' on a line of the sheet comes to: the entry the daybook has for such work, and how it is found again."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Any, Literal

from kailyard.garden.model import Entry, Garden, Planting
from kailyard.season.life import Life

Asks = Literal["", "amount", "feel", "found"]


@dataclass(frozen=True, slots=True)
class Fitting:
    """An entry that answers a line, before its day and its own words are added."""

    kind: str
    target: str
    payload: Mapping[str, Any] = field(default_factory=dict)
    asks: Asks = ""
    """What is asked in place: an amount of the kind's quantity; how a squeezed handful holds; or what was found, and
    whether it is sound."""


@dataclass(frozen=True, slots=True)
class Answered:
    """A line answered 'done'."""

    about: str
    """What its name says it is about: a planting, a bed, a crop, or ''."""
    named: tuple[Planting, ...]
    """The plantings it speaks of; none where it is about something else."""
    garden: Garden
    until: date | None = None
    """For a cover, the day it comes off."""


Answering = Callable[[Answered], tuple[Fitting, ...]]
"""The entries that say 'done'; none where a decision on the line has to do."""


def of_kind(kind: str, *, asks: Asks = "") -> Answering:
    """One entry of `kind` for each planting."""

    def done(line: Answered) -> tuple[Fitting, ...]:
        return tuple(Fitting(kind, p.id, asks=asks) for p in line.named)

    return done


def work_done(what: str) -> Answering:
    """One entry of work done for each planting, or for the bed the line is about, in these words: 'thinned'."""

    def done(line: Answered) -> tuple[Fitting, ...]:
        beds = (line.about,) if line.about in line.garden.beds else ()
        targets = tuple(p.id for p in line.named) or beds
        return tuple(Fitting("work", target, {"what": what}) for target in targets)

    return done


def works(life: Life, *stems: str) -> tuple[Entry, ...]:
    """Work on this growth of a planting whose words hold one of `stems`, written small: 'thin' finds 'Thinned to 5 cm'.

    What was done in the bed before it was begun is of another planting.
    """
    seen = life.sightings
    begun = min((day for day in (seen.sown, seen.set_out, seen.planted) if day is not None), default=None)
    return tuple(
        e
        for e in seen.of("work")
        if (begun is None or e.happened >= begun) and any(stem in str(e.payload.get("what")).lower() for stem in stems)
    )


def last_work(life: Life, *stems: str) -> Entry | None:
    """The last such work; None where there is none."""
    found = works(life, *stems)
    return found[-1] if found else None
