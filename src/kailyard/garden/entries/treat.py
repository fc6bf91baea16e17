"""A planting or bed was sprayed, dusted or baited. What is left blank counts as unknown."""

from __future__ import annotations

import re
from dataclasses import dataclass

from kailyard.garden.entries.label import Days, Hours
from kailyard.garden.fields import Quantity
from kailyard.garden.identifiers import require_name

_HOUR = re.compile(r"([01]\d|2[0-3]):[0-5]\d")


@dataclass(frozen=True, slots=True)
class Treat:
    """`label`: the name of a label record; '' where nobody knows what it was."""

    label: str = ""
    product: str = ""
    """How much of the product, in the gardener's words: '15 mL in 5 L'."""
    hour: str = ""
    """'19:30', by the garden's clock."""
    flowers_open: bool | None = None
    """Whether any flower was open within its reach."""
    trouble: str = ""
    days_to_picking: Days | None = None
    """On the label on that day: a label that is typed anew later takes nothing off."""
    entry_hours: Hours | None = None

    def __post_init__(self) -> None:
        for each in ("label", "product", "trouble"):
            require_name(each, getattr(self, each), empty=True)
        if self.hour and not _HOUR.fullmatch(self.hour):
            raise ValueError(f"hour {self.hour[:20]!a} is no time of day like 19:30")


NAME = "treat"
VERSION = 1
HELP = "Sprayed, dusted or baited: with what label, how much, at what hour, whether flowers were open"
TARGET = (
    "planting",
    "bed",
)
PAYLOAD = Treat
QUANTITY = Quantity(("L",), 0, 10_000)
