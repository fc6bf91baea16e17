"""Plants hurt by what may be a herbicide: what was hit, what was not, what lay on the beds. It accuses nobody."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

from kailyard.garden.fields import Share
from kailyard.garden.identifiers import text_problem
from kailyard.garden.model import Entry


@dataclass(frozen=True, slots=True)
class Injury:
    """Everything as it was seen; what is left blank is not known."""

    first_seen: date | None = None
    kinds: str = ""
    """Kinds of plants that are hit, weeds too: 'tomatoes, pole beans, bindweed'."""
    spared: str = ""
    """Kinds beside them that are not, and plants that are younger and escaped."""
    beds: str = ""
    """More beds or plantings that are hit, parted by commas: 'bed-1, bed-4'; said of the whole garden: only these."""
    edge: str = ""
    """Where it is worst, and whether it fades from there."""
    amendments: str = ""
    """Manure, hay, compost, clippings on these beds: what, whose, which lot, when spread."""
    sprayed: str = ""
    """What was sprayed near by or on the own lawn, by what is known: product, day."""
    wind: str = ""
    """The wind as it was felt in the garden."""
    share: Share | None = None
    """Part of the plants hit."""
    photographs: str = ""
    """Names of the pictures, parted by commas."""
    reported: date | None = None
    sample_sent: date | None = None

    def __post_init__(self) -> None:
        for field in ("kinds", "spared", "beds", "edge", "amendments", "sprayed", "wind", "photographs"):
            if problem := text_problem(getattr(self, field)):
                raise ValueError(f"{field} {problem}")
        for name in ("reported", "sample_sent"):
            day = getattr(self, name)
            if day is not None and self.first_seen is not None and day < self.first_seen:
                raise ValueError(f"{name.replace('_', ' ')} {day} lies before it was first seen, {self.first_seen}")


NAME = "injury"
VERSION = 1
HELP = "Plants hurt by what may be a herbicide: what is hit, what is spared, what lay on the beds"
TARGET = (
    "planting",
    "bed",
    "garden",
)
PAYLOAD = Injury
QUANTITY = None


def problem(entry: Entry, payload: Any) -> str:
    """What is written down was seen by then."""
    seen = payload.first_seen
    if seen is not None and seen > entry.happened:
        return f"first seen {seen}, which lies after the day of the entry, {entry.happened}"
    return ""


def named(payload: Mapping[str, Any]) -> tuple[str, ...]:
    """The beds and plantings that an injury names beside its target: all of them must be there."""
    parts = re.split(r"[,;\n]|\band\b", str(payload.get("beds") or ""))
    return tuple(dict.fromkeys("-".join(part.lower().split()) for part in parts if part.strip()))
