"""Reads the tables of the reference folder's pages, for the tests of this folder."""

import csv
import re
from pathlib import Path


def csv_rows(path: Path) -> list[dict[str, str]]:
    """Rows of a comma-separated file with a header."""
    with path.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def tables(path: Path) -> list[list[dict[str, str]]]:
    """Every table of a Markdown page, in order, as rows by column heading."""
    found: list[list[dict[str, str]]] = []
    heading: list[str] | None = None
    for line in path.read_text(encoding="utf-8").splitlines():
        if not line.startswith("|"):
            heading = None
            continue
        cells = [cell.strip() for cell in line.strip().strip("|").split("|")]
        if heading is None:
            heading = cells
            found.append([])
        elif not re.fullmatch(r"[-:|\s]+", line):
            found[-1].append(dict(zip(heading, cells, strict=True)))
    return found


def table_with(path: Path, *columns: str) -> list[dict[str, str]]:
    """The one table of a page that has all these columns."""
    hits = [t for t in tables(path) if t and set(columns) <= set(t[0])]
    assert len(hits) == 1, (columns, len(hits))
    return hits[0]
