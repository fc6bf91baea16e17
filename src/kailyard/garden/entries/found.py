"""What a trouble was found to be, and on what signs."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Any, Literal

from kailyard.garden.identifiers import require_thing_id, text_problem
from kailyard.garden.model import Entry
from kailyard.garden.trouble_named import trouble_problem


@dataclass(frozen=True, slots=True)
class Found:
    """`likely`: by its signs. `settled`: by a small test, a laboratory, or somebody who knows."""

    trouble: str
    """As in the handbook: 'powdery-mildew-cucurbit'."""
    sure: Literal["likely", "settled"] = "likely"
    signs: str = ""
    """The answers it rests on: 'white-powder-upper=yes; web=no'."""
    first_seen: date | None = None

    def __post_init__(self) -> None:
        require_thing_id("trouble", self.trouble)
        if problem := text_problem(self.signs):
            raise ValueError(f"signs {problem}")


NAME = "found"
VERSION = 1
HELP = "A trouble found: which, whether likely or settled, on what signs"
TARGET = (
    "planting",
    "bed",
)
PAYLOAD = Found
QUANTITY = None


def problem(entry: Entry, payload: Any) -> str:
    """The trouble is one of the handbook's, so that it can be counted with others of its kind."""
    return trouble_problem(payload.trouble)
