"""Facts about kinds of work and about covers, not about any one crop."""

from __future__ import annotations

from kailyard.handbook.quantities import quantities
from kailyard.handbook.rows import FACT_COLUMNS, read_facts
from kailyard.handbook.types import Fact

NAME = "work"
ROW = Fact
COLUMNS = FACT_COLUMNS
FILES = "work/*.csv"
DECLARED = "work"
BY_SUBJECT = False
ORDERED: tuple[tuple[str, ...], ...] = ()


def parse(text: str, *, file: str, problems: list[str]) -> list[Fact]:
    """Facts of one file; unreadable lines go to `problems`."""
    return read_facts(text, known=quantities()[DECLARED], file=file, problems=problems)
