"""What was held back after an injury may be picked again: somebody said so, on a ground."""

from __future__ import annotations

from dataclasses import dataclass

from kailyard.garden.identifiers import require_name, text_problem


@dataclass(frozen=True, slots=True)
class Release:
    """Both must be said: without them nothing is released."""

    by: str
    """Who said it: the laboratory, the inspector, the extension office."""
    what: str
    """What was found."""

    def __post_init__(self) -> None:
        require_name("by", self.by)
        if problem := text_problem(self.what):
            raise ValueError(f"what {problem}")
        if not self.what.strip():
            raise ValueError("what says nothing; write what was found")


NAME = "release"
VERSION = 1
HELP = "Released after an injury: who says that it may be picked, and what was found"
TARGET = (
    "planting",
    "bed",
    "garden",
)
PAYLOAD = Release
QUANTITY = None
