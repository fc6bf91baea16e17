"""Facts about plants that stand in a bed for bees and butterflies: one file a plant, named by its key.

What may be said of them is what may be said of a crop; they have fewer rows.
"""

from __future__ import annotations

from kailyard.handbook.quantities import quantities
from kailyard.handbook.rows import FACT_COLUMNS, read_facts
from kailyard.handbook.types import Fact

NAME = "plants"
ROW = Fact
COLUMNS = FACT_COLUMNS
FILES = "plants/*.csv"
DECLARED = "crops"
BY_SUBJECT = True
ORDERED: tuple[tuple[str, ...], ...] = ()


def parse(text: str, *, file: str, problems: list[str]) -> list[Fact]:
    """Facts of one plant's file; unreadable lines go to `problems`."""
    return read_facts(text, known=quantities()[DECLARED], file=file, problems=problems)
