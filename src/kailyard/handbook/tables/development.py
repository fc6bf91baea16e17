"""Development legs: response to temperature and what it takes from one stage to another. One file a crop."""

from __future__ import annotations

from kailyard.handbook.quantities import quantities
from kailyard.handbook.rows import LEG_COLUMNS, LegRow, make_leg_row, read_rows

NAME = "development"
ROW = LegRow
COLUMNS = LEG_COLUMNS
FILES = "development/*.csv"
DECLARED = "development"
BY_SUBJECT = True
ORDERED = (
    ("base_c", "opt_low_c", "opt_high_c", "ceiling_c"),
    ("degree_days_low", "degree_days_high"),
    ("days_low", "days_high"),
)


def parse(text: str, *, file: str, problems: list[str]) -> list[LegRow]:
    """Values of one crop's legs; unreadable lines go to `problems`."""
    rows: list[LegRow] = []
    known = quantities()[DECLARED]
    for line, cells in read_rows(text, file=file, columns=LEG_COLUMNS, problems=problems):
        row = make_leg_row(cells, known=known, file=file, line=line, problems=problems)
        if row is not None:
            rows.append(row)
    return rows
