"""Anything worth writing down that no other kind holds."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from kailyard.garden.model import Entry


@dataclass(frozen=True, slots=True)
class Note:
    """Nothing: the entry's text says it."""


NAME = "note"
VERSION = 1
HELP = "A note: its text says it"
TARGET = (
    "planting",
    "bed",
    "garden",
)
PAYLOAD = Note
QUANTITY = None


def problem(entry: Entry, payload: Any) -> str:
    """A note without text says nothing."""
    return "" if entry.text.strip() else "a note needs its text"
