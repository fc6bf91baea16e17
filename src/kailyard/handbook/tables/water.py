"""Facts about soils, outlets of water, how soil feels, and groups of crops whose coefficients stand in."""

from __future__ import annotations

from kailyard.handbook.quantities import quantities
from kailyard.handbook.rows import FACT_COLUMNS, read_facts
from kailyard.handbook.types import Fact

NAME = "water"
ROW = Fact
COLUMNS = FACT_COLUMNS
FILES = "water/*.csv"
DECLARED = "water"
BY_SUBJECT = False
ORDERED: tuple[tuple[str, ...], ...] = (("soil_dry_max", "soil_full_max"), ("soil_rew_mm_max", "soil_tew_mm_max"))


def parse(text: str, *, file: str, problems: list[str]) -> list[Fact]:
    """Facts of one file; unreadable lines go to `problems`."""
    return read_facts(text, known=quantities()[DECLARED], file=file, problems=problems)
