"""The gardener looked at a planting or bed."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True, slots=True)
class Look:
    """What was found."""

    found: str = ""
    sound: bool | None = None
    """True: alive and sound. False: not. None: not said."""
    next_look: date | None = None


NAME = "look"
VERSION = 1
HELP = "Looked at: what was found, and when to look again"
TARGET = (
    "planting",
    "bed",
)
PAYLOAD = Look
QUANTITY = None
