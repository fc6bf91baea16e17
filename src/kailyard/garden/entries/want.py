"""How much of a crop is wanted a week, by a household or a class; a later one of that crop and use replaces it."""

from __future__ import annotations

from dataclasses import dataclass

from kailyard.garden.fields import Quantity
from kailyard.garden.identifiers import require_name


@dataclass(frozen=True, slots=True)
class Want:
    """`crop`: its key in the handbook. `use`: what for; '' for anything. A week's amount; 0: no longer asked."""

    crop: str
    use: str = ""

    def __post_init__(self) -> None:
        require_name("crop", self.crop)
        require_name("use", self.use, empty=True)


NAME = "want"
VERSION = 1
HELP = "Wanted: how many kilograms of a crop a week"
TARGET = ("garden",)
PAYLOAD = Want
QUANTITY = Quantity(("kg",), 0, 10_000, needed=True)
