"""Whether a product may be put on a planting: may, not now, never or unknown, with every reason."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import ClassVar, Literal

from kailyard.documents._parts import Reason


@dataclass(frozen=True, slots=True)
class Found:
    """What one check found."""

    check: str
    answer: Literal["may", "not now", "never", "unknown"]
    reason: Reason
    ask: str = ""
    """The question by its key, where only somebody on the spot can tell; ''."""


@dataclass(frozen=True, slots=True)
class ToSee:
    """A question that only somebody on the spot can answer."""

    key: str
    question: str


@dataclass(frozen=True, slots=True)
class DayHours:
    """One day by its hours, as far as can be told beforehand."""

    day: date
    fit: str
    """'15:00 to 18:00'; '' where no hour is fit."""
    why: str
    """Why no hour, or not more of them."""


@dataclass(frozen=True, slots=True)
class Check:
    """`kailyard.check/1`"""

    schema: ClassVar[str] = "kailyard.check/1"

    garden: str
    on: date
    units: Literal["metric", "us"]
    label: str
    planting: str
    plants: str
    where: str
    trouble: str
    """As typed; '' where none is named."""
    against_what: str
    """The trouble in words; ''."""
    day: date
    hour: str
    """'15:00', of the hour that was looked at; ''."""
    answer: Literal["may", "not now", "never", "unknown"]
    until: str
    """When to look again: '16 July', '16 July, 12:30'; ''. It promises nothing of what is found then."""
    against: tuple[Found, ...]
    agrees: tuple[Found, ...]
    beside: tuple[Found, ...]
    to_see: tuple[ToSee, ...]
    """Questions on the spot that nobody has answered yet."""
    questions: tuple[ToSee, ...]
    """All of them."""
    days: tuple[DayHours, ...]
    held: tuple[Reason, ...]
    """What earlier treatments hold now: picking, going in."""
    next_chance: str
    """'16 July, 15:00'; '' where no hour is known to be fit."""
    amount: str
    cautions: tuple[str, ...]


DOCUMENT = Check
