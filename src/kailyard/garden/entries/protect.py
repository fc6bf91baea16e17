"""Something put over or round plants against cold, wind or animals."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True, slots=True)
class Protect:
    """`until`: the day the cover is meant to come off; None: not said."""

    what: str = ""
    until: date | None = None


NAME = "protect"
VERSION = 1
HELP = "Protected: with what, and until when"
TARGET = (
    "planting",
    "bed",
)
PAYLOAD = Protect
QUANTITY = None
