"""Someone will be in the garden: when, how many hands, for how long. `happened` is the day on which it was planned."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from kailyard.garden.identifiers import require_name
from kailyard.garden.model import Entry

MOST_HANDS = 500
MOST_HOURS = 24.0


@dataclass(frozen=True, slots=True)
class Visit:
    """`hours`: how long they stay; None: not said. `what`: a class, an open day, or nothing particular."""

    day: date
    hands: int = 1
    hours: float | None = None
    what: str = ""

    def __post_init__(self) -> None:
        if not 0 <= self.hands <= MOST_HANDS:
            raise ValueError(f"hands {self.hands} is outside 0 to {MOST_HANDS}")
        if self.hours is not None and not 0 <= self.hours <= MOST_HOURS:
            raise ValueError(f"hours {self.hours:g} is outside 0 to {MOST_HOURS:g}")
        require_name("what", self.what, empty=True)


NAME = "visit"
VERSION = 1
HELP = "Someone will be here: the day, how many hands, how many hours, and what for (a class, an open day)"
TARGET = ("garden",)
PAYLOAD = Visit
QUANTITY = None


def problem(entry: Entry, payload: Visit) -> str:
    """A visit is planned ahead, or written down on its day."""
    if payload.day >= entry.happened:
        return ""
    return f"the day {payload.day} lies before the day on which it was planned"
