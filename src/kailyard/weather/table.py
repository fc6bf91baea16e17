"""Delimited text taken apart into rows with their line numbers: what the CSV readers share."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Sequence

from kailyard.errors import DataError
from kailyard.weather.files import shown


def rows(file: str, text: str, delimiter: str = ",") -> Iterator[tuple[int, list[str]]]:
    """Line number and cells of each row that is not blank; a quoted row counts where it ends.

    Raises
    ------
    DataError
        Naming the line, where quoting is broken beyond reading.
    """
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter)
    try:
        for cells in reader:
            if cells:
                yield reader.line_num, cells
    except csv.Error as err:
        raise DataError(f"{file}:{reader.line_num}: not readable as delimited text ({err}). Export it again.") from err


def find_columns(file: str, line: int, header: Sequence[str], wanted: Sequence[str]) -> tuple[int, ...]:
    """Place of each wanted column.

    Raises
    ------
    DataError
        Every column that is missing or stands twice, with the ones found.
    """
    found = ", ".join(f"'{shown(h, 24)}'" for h in header[:20]) + (", …" if len(header) > 20 else "")
    problems = []
    for name in wanted:
        n = list(header).count(name)
        if n != 1:
            what = "no column" if n == 0 else f"{n} columns"
            problems.append(f"{file}:{line}: {what} '{shown(name, 24)}'. Columns found: {found or 'none'}.")
    if problems:
        raise DataError(problems)
    return tuple(list(header).index(name) for name in wanted)
