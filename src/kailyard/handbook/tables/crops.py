"""Facts about crops: one file a crop, named by its key."""

from __future__ import annotations

from kailyard.handbook.quantities import quantities
from kailyard.handbook.rows import FACT_COLUMNS, read_facts
from kailyard.handbook.types import Fact

NAME = "crops"
ROW = Fact
COLUMNS = FACT_COLUMNS
FILES = "crops/*.csv"
DECLARED = "crops"
BY_SUBJECT = True
ORDERED = (
    ("germ_min_soil_c", "germ_opt_low_c", "germ_opt_high_c", "germ_max_soil_c"),
    ("min_soil_to_set_or_sow_c", "germ_max_soil_c"),
    ("eco_abs_min_c", "eco_opt_low_c", "eco_opt_high_c", "eco_abs_max_c"),
    ("kg_per_m2_low", "kg_per_m2_good", "kg_per_m2_high"),
    ("gdd_base_c", "gdd_upper_c"),
    ("dd_base_c", "dd_upper_c"),
    ("kill_c", "frost_damage_c"),
    ("kill_c", "protect_below_c"),
    ("support_by_days", "support_useless_days"),
)


def parse(text: str, *, file: str, problems: list[str]) -> list[Fact]:
    """Facts of one crop's file; unreadable lines go to `problems`."""
    return read_facts(text, known=quantities()[DECLARED], file=file, problems=problems)
