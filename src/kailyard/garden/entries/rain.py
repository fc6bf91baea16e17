"""Rain of a day, read from the garden's gauge."""

from __future__ import annotations

from dataclasses import dataclass

from kailyard.garden.fields import Quantity


@dataclass(frozen=True, slots=True)
class Rain:
    """Nothing beyond the quantity."""


NAME = "rain"
VERSION = 1
HELP = "Rain of the day, read from a gauge [mm]"
TARGET = ("garden",)
PAYLOAD = Rain
QUANTITY = Quantity(("mm",), 0.0, 2000.0, needed=True)
