"""Facts about what a crop is picked for: green or ripe, baby or full, for pickles. Subjects are 'crop/use'.

Under a use stands what differs from the crop's own row of the same name; all else holds as for the crop.
"""

from __future__ import annotations

from kailyard.handbook.quantities import quantities
from kailyard.handbook.rows import FACT_COLUMNS, read_facts
from kailyard.handbook.types import Fact

NAME = "uses"
ROW = Fact
COLUMNS = FACT_COLUMNS
FILES = "uses/*.csv"
DECLARED = "crops"
BY_SUBJECT = False
ORDERED: tuple[tuple[str, ...], ...] = ()


def parse(text: str, *, file: str, problems: list[str]) -> list[Fact]:
    """Facts of one file; unreadable lines go to `problems`."""
    return read_facts(text, known=quantities()[DECLARED], file=file, problems=problems)
