"""Something picked, lifted or cut."""

from __future__ import annotations

from dataclasses import dataclass

from kailyard.garden.fields import Quantity


@dataclass(frozen=True, slots=True)
class Pick:
    """`last`: nothing more is to come from this planting."""

    last: bool = False


NAME = "pick"
VERSION = 1
HELP = "Picked: how much, and whether nothing more is to come"
TARGET = ("planting",)
PAYLOAD = Pick
QUANTITY = Quantity(("kg", "count"), 0, 100_000)
