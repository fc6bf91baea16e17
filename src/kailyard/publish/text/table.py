"""A plain table or notice."""

from __future__ import annotations

from kailyard.documents.table import Table
from kailyard.publish import plain
from kailyard.publish.words import clean


def render(document: Table, *, width: int = 80, ascii_only: bool = False) -> str:
    """Title, aligned columns, and the lines said under them."""
    rows = plain.block(clean(document.title), width) if document.title else []
    if document.columns and document.rows:
        cells = [[clean(cell) for cell in row] for row in document.rows]
        rows += ["", *plain.table([clean(name) for name in document.columns], cells, width)]
    elif document.columns:
        rows += ["", "Nothing to list."]
    if document.notes:
        rows.append("")
        for note in document.notes:
            rows += plain.block(clean(note), width)
    return plain.finish(rows, ascii_only=ascii_only)
