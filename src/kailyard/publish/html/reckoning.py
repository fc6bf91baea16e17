"""One formula, computed, as a page."""

from __future__ import annotations

from kailyard.documents.reckoning import Reckoning
from kailyard.publish import reckoned
from kailyard.publish.html._page import Body, Paper, heading, page, table
from kailyard.publish.markup import Markup, el
from kailyard.publish.plain import clip, is_numeric


def render(document: Reckoning, *, paper: Paper | None = None) -> str:
    """A file that stands alone."""
    return page(body(document), paper=paper)


def body(document: Reckoning) -> Body:
    """What it is, what came out, from what, and who says so."""
    parts: list[Markup] = [heading("kailyard reckon", document.method, document.says)]
    for title, heads, cells in reckoned.rows(document):
        parts += [el("h2", title)] if title else []
        parts.append(_table(heads, cells))
    inputs = reckoned.given(document)
    if inputs:
        parts += [el("h2", "From"), _table(("input", "value", "unit", ""), inputs)]
    parts.append(el("footer", el("p", f"{document.status.capitalize()}: {document.source}.")))
    return Body(document.method or "Kailyard", tuple(parts))


def _table(heads: tuple[str, ...], cells: list[tuple[str, ...]] | list[tuple[str, str, str, str]]) -> Markup:
    rows = [[clip(cell) for cell in row] for row in cells]
    return table(heads, rows, numeric=[is_numeric([row[i] for row in rows]) for i in range(len(heads))])
