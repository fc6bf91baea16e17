"""One round through the beds in walking order: what to look for, where on the plant, how hard; what a count means."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import ClassVar, Literal

from kailyard.documents._parts import Reason, Status

Effort = Literal["closely", "as usual", "in passing"]
"""How hard to look."""


@dataclass(frozen=True, slots=True)
class LifeStep:
    """One step of a pest's life, by a sum of warmth of its own."""

    event: str
    come: float
    """Chance that it has come by today. 0 to 1"""
    week: float
    """Chance that it comes in the seven days from today. 0 to 1"""
    low: date | None
    """Nine possible seasons in ten have it on this day or after it."""
    high: date | None
    status: Status
    source: str


@dataclass(frozen=True, slots=True)
class Figure:
    """From how many on it is worth acting."""

    says: str
    """'1 egg mass per plant, to early flowering'; what is known instead where there is no figure."""
    known: bool
    """There is a figure, or a sign in its place."""
    status: Status
    source: str


@dataclass(frozen=True, slots=True)
class Measure:
    """One thing that a threshold counts."""

    what: str
    per: str
    """'plant', 'leaf', 'stem', 'ear', 'cluster', 'trap' or 'bud'."""
    share: bool
    """On how many it is found matters, not how many there are."""


@dataclass(frozen=True, slots=True)
class Act:
    """A count that calls for more than another look: what may be done about it stands among the options."""

    planting: str
    on: date
    """The day of the count."""
    says: str
    """'on 20 % of 10 looked at; worth acting from 10 % on'."""
    enemies: str
    """Natural enemies that were seen with it; ''."""


@dataclass(frozen=True, slots=True)
class Lookout:
    """One trouble to look for on what stands in one bed."""

    trouble: str
    """As typed: 'squash-bug'."""
    name: str
    plantings: tuple[str, ...]
    names: tuple[str, ...]
    """What each of them is called: 'zucchini ‘Ferry Green’'."""
    plants: str
    """'zucchini ‘Ferry Green’; winter squash ‘Harbour Lamp’'."""
    stand: int | None
    """Plants of them that stand there; None where nobody said."""
    look_at: int
    """Plants to look at today: all where few stand, else as many as most sources say, or as would decide."""
    effort: Effort
    due: bool
    """It belongs to the round of today."""
    next_look: date
    where: str
    """On the plant."""
    how: str
    why: str
    """In a few words: why now."""
    steps: tuple[LifeStep, ...]
    figures: tuple[Figure, ...]
    counts: tuple[str, ...]
    """What counts so far say: below, above or undecided, and how many more plants; trend; natural enemies."""
    act: tuple[Act, ...]
    """Where the last count calls for more than another look."""
    enemies: str
    """Its natural enemies, to be known and spared; '' where none is known."""
    measures: tuple[Measure, ...]
    """What can be counted, for the form."""
    reasons: tuple[Reason, ...]


@dataclass(frozen=True, slots=True)
class Stop:
    """One bed of the round."""

    bed: str
    name: str
    lookouts: tuple[Lookout, ...]
    """Due ones first, those to be looked for closely before the others."""


@dataclass(frozen=True, slots=True)
class Scout:
    """`kailyard.scout/1`"""

    schema: ClassVar[str] = "kailyard.scout/1"

    garden: str
    on: date
    units: Literal["metric", "us"]
    stops: tuple[Stop, ...]
    """In walking order."""
    not_yet: tuple[str, ...]
    """What is not to be looked for yet, and from when."""
    notes: tuple[str, ...]


DOCUMENT = Scout
