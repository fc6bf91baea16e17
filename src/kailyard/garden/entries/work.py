"""Any other piece of work done."""

from __future__ import annotations

from dataclasses import dataclass

from kailyard.garden.identifiers import require_name


@dataclass(frozen=True, slots=True)
class Work:
    """`what` in a word or two."""

    what: str
    lot: str = ""
    """Of manure, hay, straw, compost or clippings: whose, which load or bag."""

    def __post_init__(self) -> None:
        require_name("what", self.what)
        require_name("lot", self.lot, empty=True)


NAME = "work"
VERSION = 1
HELP = "Work done: weeded, thinned, tied in, mulched, watered, fed, earthed up ..."
TARGET = (
    "planting",
    "bed",
)
PAYLOAD = Work
QUANTITY = None
