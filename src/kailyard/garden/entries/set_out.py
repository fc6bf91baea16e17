"""Young plants put where they are to stand."""

from __future__ import annotations

from dataclasses import dataclass

from kailyard.garden.fields import Quantity


@dataclass(frozen=True, slots=True)
class SetOut:
    """State of the plants."""

    hardened: bool | None = None
    """None: not known."""


NAME = "set-out"
VERSION = 1
HELP = "Plants set out, and whether they had been hardened"
TARGET = ("planting",)
PAYLOAD = SetOut
QUANTITY = Quantity(("plants",), 1, 100_000)
