"""What the gardener decided about a line of the sheet."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Literal

from kailyard.garden.identifiers import require_name


@dataclass(frozen=True, slots=True)
class Decide:
    """`line`: the line's stable name. `until`: the day it may come back; None: not said."""

    line: str
    verdict: Literal["done", "not yet", "leave it"]
    until: date | None = None

    def __post_init__(self) -> None:
        require_name("line", self.line)


NAME = "decide"
VERSION = 1
HELP = "A line of the sheet answered: done, not yet, or leave it"
TARGET = (
    "planting",
    "garden",
)
PAYLOAD = Decide
QUANTITY = None
