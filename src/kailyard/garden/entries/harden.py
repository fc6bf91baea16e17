"""Plants raised under cover begin to stand out by day."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Harden:
    """Nothing beyond the day."""


NAME = "harden"
VERSION = 1
HELP = "Hardening begun"
TARGET = ("planting",)
PAYLOAD = Harden
QUANTITY = None
