"""Tables of the handbook that are read whole when somebody asks: troubles, remedies."""

from __future__ import annotations

from collections.abc import Sequence
from importlib import resources

from kailyard.errors import DataError
from kailyard.handbook.rows import read_rows


def read_table(folder: str, file: str, columns: Sequence[str]) -> list[list[str]]:
    """Rows of one table of a folder of `data/`, cells in the order of `columns`; DataError where it breaks its form."""
    problems: list[str] = []
    text = resources.files("kailyard.handbook").joinpath("data", folder, file).read_text(encoding="utf-8")
    rows = [cells for _, cells in read_rows(text, file=f"{folder}/{file}", columns=columns, problems=problems)]
    if problems:
        raise DataError(problems)
    return rows
