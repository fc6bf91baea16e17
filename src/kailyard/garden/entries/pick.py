"""Something picked, lifted or cut."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated

from msgspec import Meta

from kailyard.garden.fields import Quantity

MOST_MINUTES = 1440.0
"""A day."""


@dataclass(frozen=True, slots=True)
class Pick:
    """`last`: nothing more is to come from this planting. `use`: what for: 'gherkin', 'green', 'seed'."""

    last: bool = False
    use: Annotated[str, Meta(max_length=40)] = ""
    minutes: float | None = None
    """How long the picking took. [min]"""

    def __post_init__(self) -> None:
        if self.minutes is not None and not 0 < self.minutes <= MOST_MINUTES:
            raise ValueError(
                f"minutes {self.minutes:g} is outside 0 to {MOST_MINUTES:g}: how long did the picking take?"
            )


NAME = "pick"
VERSION = 1
HELP = "Picked: how much, and whether nothing more is to come"
TARGET = ("planting",)
PAYLOAD = Pick
QUANTITY = Quantity(("kg", "count"), 0, 100_000)
