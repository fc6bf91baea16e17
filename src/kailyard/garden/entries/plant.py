"""Sets, cloves, tubers or crowns put into the bed."""

from __future__ import annotations

from dataclasses import dataclass

from kailyard.garden.fields import Quantity


@dataclass(frozen=True, slots=True)
class Plant:
    """Nothing beyond the quantity."""


NAME = "plant"
VERSION = 1
HELP = "Sets, cloves, tubers or crowns planted: how many pieces"
TARGET = ("planting",)
PAYLOAD = Plant
QUANTITY = Quantity(("pieces",), 1, 100_000)
