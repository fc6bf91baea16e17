"""Soil temperature, read from a thermometer."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated

from msgspec import Meta

from kailyard.garden.fields import Quantity


@dataclass(frozen=True, slots=True)
class SoilTemperature:
    """Depth of the bulb."""

    depth_cm: Annotated[float, Meta(ge=0.0, le=200.0)] = 5.0


NAME = "soil-temperature"
VERSION = 1
HELP = "Soil temperature read from a thermometer [°C]"
TARGET = (
    "garden",
    "bed",
)
PAYLOAD = SoilTemperature
QUANTITY = Quantity(("°C",), -30.0, 60.0, needed=True)
