"""Any other piece of work done."""

from __future__ import annotations

from dataclasses import dataclass

from kailyard.garden.identifiers import require_name


@dataclass(frozen=True, slots=True)
class Work:
    """`what` in a word or two."""

    what: str

    def __post_init__(self) -> None:
        require_name("what", self.what)


NAME = "work"
VERSION = 1
HELP = "Work done: weeded, thinned, tied in, mulched, watered, fed, earthed up ..."
TARGET = (
    "planting",
    "bed",
)
PAYLOAD = Work
QUANTITY = None
