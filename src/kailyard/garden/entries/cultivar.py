"""A cultivar as the packet tells it, or put aside; a later one of the same crop and name replaces the whole."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Literal

from msgspec import Meta

from kailyard.garden.identifiers import require_name, require_thing_id


@dataclass(frozen=True, slots=True)
class Cultivar:
    """The fields of `Cultivar`."""

    crop: str
    name: str
    days_to_maturity: Annotated[float, Meta(gt=0.0, le=5000.0)] | None = None
    days_from: Literal["sown", "set-out", "planted", "first-flower"] = "sown"
    counted_here: bool = False
    resistance: tuple[str, ...] = ()
    habit: str = ""
    removed: bool = False

    def __post_init__(self) -> None:
        require_thing_id("crop", self.crop)
        require_name("name", self.name)
        require_name("habit", self.habit, empty=True)
        for code in self.resistance:
            require_name("resistance", code)


NAME = "cultivar"
VERSION = 1
HELP = "A cultivar: days to maturity and from what, resistance, habit"
TARGET = ("garden",)
PAYLOAD = Cultivar
QUANTITY = None
