"""A planting taken out of its bed."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Clear:
    """`reason` in a few words."""

    reason: str = ""


NAME = "clear"
VERSION = 1
HELP = "Cleared: the planting is over"
TARGET = ("planting",)
PAYLOAD = Clear
QUANTITY = None
