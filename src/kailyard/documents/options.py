"""What may be done about a trouble of a planting: the best of it together, the rest in order, and the next season."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import ClassVar, Literal

from kailyard.documents._parts import Reason


@dataclass(frozen=True, slots=True)
class Step:
    """One thing that may be done."""

    id: str
    """As typed: 'sanitation'."""
    kind: str
    """'removal', 'prevention', 'hand', 'barrier', 'biological', 'product', 'leave alone'."""
    says: str
    how: str
    advised: bool
    needs_label: bool
    labels: tuple[str, ...]
    """Label records that list this crop and trouble."""
    why_not: str
    """Why it is not for now; ''."""
    reasons: tuple[Reason, ...]


@dataclass(frozen=True, slots=True)
class Struck:
    """A step that is not possible here."""

    id: str
    says: str


@dataclass(frozen=True, slots=True)
class Later:
    """One step for the next season."""

    id: str
    says: str
    by: str
    """Until when it can be taken."""
    reasons: tuple[Reason, ...]


@dataclass(frozen=True, slots=True)
class Options:
    """`kailyard.options/1`"""

    schema: ClassVar[str] = "kailyard.options/1"

    garden: str
    on: date
    units: Literal["metric", "us"]
    trouble: str
    """As typed: 'powdery-mildew-cucurbit'."""
    name: str
    planting: str
    plants: str
    where: str
    sure: str
    """'likely', 'settled'; '' where nobody said."""
    count: str
    """Against the action threshold: 'above', 'below', 'undecided'; '' where none is known."""
    first: str
    """What to do first, in a sentence."""
    steps: tuple[Step, ...]
    struck: tuple[Struck, ...]
    """Taken off as not possible here."""
    next_look: date
    judged: str
    later: tuple[Later, ...]
    cautions: tuple[str, ...]


DOCUMENT = Options
