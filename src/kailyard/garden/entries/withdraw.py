"""An entry was a mistake and nothing takes its place."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from kailyard.garden.model import Entry


@dataclass(frozen=True, slots=True)
class Withdraw:
    """Nothing: `supersedes` names the mistake."""


NAME = "withdraw"
VERSION = 1
HELP = "Withdraw an entry: it was a mistake and nothing takes its place"
TARGET = (
    "planting",
    "bed",
    "garden",
)
PAYLOAD = Withdraw
QUANTITY = None


def problem(entry: Entry, payload: Any) -> str:
    """Without a named entry nothing is withdrawn."""
    return "" if entry.supersedes else "it must name the entry it withdraws (supersedes)"
