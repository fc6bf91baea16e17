"""How much of a crop is wanted a week, by a household, a class or a kitchen; a later one of crop and use replaces it."""

from __future__ import annotations

from dataclasses import dataclass

from kailyard.garden.fields import Quantity
from kailyard.garden.identifiers import require_name


@dataclass(frozen=True, slots=True)
class Want:
    """`crop`: its key in the handbook. `use`: for what; '' whatever for. The amount is of a week; 0: no longer asked."""

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
