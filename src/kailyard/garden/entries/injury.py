"""Plants hurt by what may be a herbicide: what was hit, what was not, what lay on the beds. It accuses nobody."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from kailyard.garden.fields import Share
from kailyard.garden.identifiers import text_problem


@dataclass(frozen=True, slots=True)
class Injury:
    """Everything as it was seen; what is left blank is not known."""

    first_seen: date | None = None
    kinds: str = ""
    """Kinds of plants that are hit, weeds too: 'tomatoes, pole beans, bindweed'."""
    spared: str = ""
    """Kinds beside them that are not, and plants that are younger and escaped."""
    beds: str = ""
    """Beds that are hit, parted by commas: 'bed-1, bed-4'; blank: the target's."""
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
