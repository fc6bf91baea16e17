"""A bed made, measured anew, renamed or removed; a later one replaces the whole."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Literal

from msgspec import Meta

from kailyard.garden.identifiers import require_name


@dataclass(frozen=True, slots=True)
class Bed:
    """The fields of `Bed` but its identifier, which is the target."""

    name: str
    length_m: Annotated[float, Meta(gt=0.0, le=500.0)]
    width_m: Annotated[float, Meta(gt=0.0, le=500.0)]
    shape: Literal["rectangle", "round"] = "rectangle"
    height_m: Annotated[float, Meta(ge=0.0, le=3.0)] = 0.0
    orientation_deg: Annotated[float, Meta(ge=0.0, lt=180.0)] = 0.0
    east_m: Annotated[float, Meta(ge=-10_000.0, le=10_000.0)] = 0.0
    north_m: Annotated[float, Meta(ge=-10_000.0, le=10_000.0)] = 0.0
    soil: str = ""
    cover: Literal["none", "fleece", "tunnel", "glass"] = "none"
    perennial: bool = False
    removed: bool = False

    def __post_init__(self) -> None:
        require_name("name", self.name)
        require_name("soil", self.soil, empty=True)
        if self.shape == "round" and self.length_m != self.width_m:
            raise ValueError(
                f"a round bed has its diameter as length and width; {self.length_m:g} and {self.width_m:g} differ"
            )


NAME = "bed"
VERSION = 1
HELP = "A bed: its measures and place, or that it is gone"
TARGET = ("bed",)
PAYLOAD = Bed
QUANTITY = None
