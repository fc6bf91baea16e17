"""A plain table or notice as a page."""

from __future__ import annotations

from kailyard.documents.table import Table
from kailyard.publish.html._page import Body, Paper, page, table
from kailyard.publish.markup import Markup, el
from kailyard.publish.plain import is_numeric
from kailyard.publish.words import clean


def render(document: Table, *, paper: Paper | None = None) -> str:
    """A file that stands alone."""
    return page(body(document), paper=paper)


def body(document: Table) -> Body:
    """Title, aligned columns, and the lines said under them."""
    count = len(document.columns)
    made: Markup | str = ""
    if count and document.rows:
        rows = [[(clean(row[i]) if i < len(row) else "") or "–" for i in range(count)] for row in document.rows]
        numeric = [is_numeric([row[i] for row in rows]) for i in range(count)]
        made = table(document.columns, rows, numeric=numeric)
    elif count:
        made = el("p", "Nothing to list.")
    head = el("header", el("h1", document.title)) if document.title else ""
    notes = el("footer", *(el("p", note) for note in document.notes)) if document.notes else ""
    return Body(document.title or "Kailyard", (head, made, notes))
