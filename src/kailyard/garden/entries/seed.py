"""Seed, sets, tubers or plants in stock or on order, and what a germination test of them showed."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Literal

from msgspec import Meta

from kailyard.garden.fields import Quantity
from kailyard.garden.identifiers import require_name, require_thing_id
from kailyard.garden.model import Entry

FEWEST, MOST = 1, 10_000


@dataclass(frozen=True, slots=True)
class Seed:
    """One lot. A later entry of the same crop, cultivar and lot puts right what it says and leaves the rest."""

    crop: str
    cultivar: str = ""
    lot: str = ""
    state: Literal["here", "ordered", "used up"] = "here"
    packed: Annotated[int, Meta(ge=1900, le=2199)] | None = None
    """Year in which it was packed, or bought where the packet does not say."""
    tested: Annotated[int, Meta(ge=FEWEST, le=MOST)] | None = None
    """Seeds laid out to germinate."""
    germinated: Annotated[int, Meta(ge=0, le=MOST)] | None = None
    """How many of them did."""

    def __post_init__(self) -> None:
        require_thing_id("crop", self.crop)
        require_name("cultivar", self.cultivar, empty=True)
        require_name("lot", self.lot, empty=True)
        if (self.tested is None) != (self.germinated is None):
            raise ValueError("a germination test needs both 'tested' and 'germinated': 17 of 20")
        if self.tested is not None and self.germinated is not None and self.germinated > self.tested:
            raise ValueError(f"'germinated' {self.germinated} is more than 'tested' {self.tested}")


def problem(entry: Entry, payload: Seed) -> str:
    """Seed of years to come is a slip of the pen."""
    if payload.packed is not None and payload.packed > entry.happened.year + 1:
        return f"'packed' {payload.packed} lies after the entry's year {entry.happened.year}"
    return ""


NAME = "seed"
VERSION = 1
HELP = "Seed in stock or ordered: crop, cultivar, lot, year, how much, germination test"
TARGET = ("garden",)
PAYLOAD = Seed
QUANTITY = Quantity(("seeds", "g", "pieces", "plants"), 0, 1_000_000)
