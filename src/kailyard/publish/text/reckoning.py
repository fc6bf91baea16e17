"""One formula, computed, for a terminal."""

from __future__ import annotations

from kailyard.documents.reckoning import Reckoning
from kailyard.publish import plain, reckoned
from kailyard.publish.words import clean


def render(document: Reckoning, *, width: int = 80, ascii_only: bool = False) -> str:
    """What it is, what came out, from what, and who says so."""
    rows = plain.block(f"{clean(document.method)}. {clean(document.says)}", width)
    for title, heads, cells in reckoned.rows(document):
        rows += ["", *(plain.block(clean(title), width) if title else [])]
        rows += plain.table([clean(head) for head in heads], [[clean(cell) for cell in row] for row in cells], width)
    inputs = [[clean(cell) for cell in row] for row in reckoned.given(document)]
    if inputs:
        rows += ["", *plain.table(("from", "value", "unit", ""), inputs, width)]
    rows += ["", *plain.block(f"{document.status.capitalize()}: {clean(document.source)}.", width)]
    return plain.finish(rows, ascii_only=ascii_only)
