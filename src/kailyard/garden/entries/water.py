"""Water given: litres, millimetres over the ground, or for how long an outlet ran."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from kailyard.garden.fields import Quantity
from kailyard.garden.model import Entry

MOST_MM = 300.0
"""More in one watering is a slip of the pen: a raised bed holds less (ours)."""
MOST_MINUTES = 2880.0
MOST_CANS = 1000


@dataclass(frozen=True, slots=True)
class Water:
    """`minutes` with an outlet whose flow was measured, or `cans`; `outlet`: which, where there are several."""

    minutes: float | None = None
    cans: int | None = None
    outlet: Literal["", "drip", "soaker", "sprinkler", "hose", "can"] = ""

    def __post_init__(self) -> None:
        if self.minutes is not None and not 0 < self.minutes <= MOST_MINUTES:
            raise ValueError(f"minutes {self.minutes:g} is outside 0 to {MOST_MINUTES:g}")
        if self.cans is not None and not 1 <= self.cans <= MOST_CANS:
            raise ValueError(f"cans {self.cans} is outside 1 to {MOST_CANS}")


NAME = "water"
VERSION = 1
HELP = "Water given, said in one way: litres, millimetres over the ground, minutes of a measured outlet, or cans"
TARGET = ("planting", "bed", "garden")
PAYLOAD = Water
QUANTITY = Quantity(("L", "mm"), 0.0, 100_000.0)


def problem(entry: Entry, payload: Water) -> str:
    """One amount, and one that can be."""
    said = [entry.quantity is not None, payload.minutes is not None, payload.cans is not None]
    if sum(said) > 1:
        return "say one amount: litres, millimetres, minutes or cans"
    if not any(said):
        return "say how much: litres (40 L), millimetres (12 mm), minutes=20 or cans=6"
    if entry.unit == "mm" and entry.quantity is not None and entry.quantity > MOST_MM:
        return f"{entry.quantity:g} mm is outside 0 to {MOST_MM:g} mm at once; litres are written {entry.quantity:g} L"
    return ""
