"""How moist the soil is at root depth: a squeezed handful, or a probe."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Literal

from msgspec import Meta

from kailyard.garden.fields import Quantity
from kailyard.garden.model import Entry

Feel = Literal["dusty", "crumbly", "holds", "firm", "wet"]


@dataclass(frozen=True, slots=True)
class Moisture:
    """`feel`: how a squeezed handful behaves, from dry to wet; or the quantity: what a probe shows, by volume."""

    feel: Feel | None = None
    depth_cm: Annotated[float, Meta(ge=0.0, le=100.0)] | None = None
    """From where the handful came; None: about the middle of the roots."""


NAME = "moisture"
VERSION = 1
HELP = "Soil moisture at root depth: a squeezed handful (dusty, crumbly, holds, firm, wet) or a probe's % by volume"
TARGET = ("planting", "bed")
PAYLOAD = Moisture
QUANTITY = Quantity(("%",), 0.0, 80.0)


def problem(entry: Entry, payload: Moisture) -> str:
    """One or the other."""
    if (entry.quantity is None) == (payload.feel is None):
        return "say either how a squeezed handful feels (holds, crumbly ...) or what a probe shows (22 %)"
    return ""
