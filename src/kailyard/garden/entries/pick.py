"""Something picked, lifted or cut."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated

from msgspec import Meta

from kailyard.garden.fields import Quantity


@dataclass(frozen=True, slots=True)
class Pick:
    """`last`: nothing more is to come from this planting. `use`: what for: 'gherkin', 'green', 'seed'."""

    last: bool = False
    use: Annotated[str, Meta(max_length=40)] = ""
    minutes: Annotated[float, Meta(gt=0.0, le=1440.0)] | None = None
    """How long the picking took. [min]"""


NAME = "pick"
VERSION = 1
HELP = "Picked: how much, and whether nothing more is to come"
TARGET = ("planting",)
PAYLOAD = Pick
QUANTITY = Quantity(("kg", "count"), 0, 100_000)
