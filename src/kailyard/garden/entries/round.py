"""A round for pests and diseases was walked, and what the sheet asked for was looked for."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated

from msgspec import Meta

from kailyard.garden.identifiers import text_problem


@dataclass(frozen=True, slots=True)
class Round:
    """What it found; numbers are entered as counts."""

    found: Annotated[str, Meta(max_length=500)] = ""
    sound: bool | None = None
    """True: what was looked for closely was not there. False: it was, or something else. None: not said."""

    def __post_init__(self) -> None:
        if problem := text_problem(self.found):
            raise ValueError(f"found {problem}")


NAME = "round"
VERSION = 1
HELP = "A round for pests and diseases: looked for what the sheet names, none of it found, or what was"
TARGET = (
    "planting",
    "bed",
)
PAYLOAD = Round
QUANTITY = None
