"""One formula, computed, as a page."""

from __future__ import annotations

from kailyard.documents.reckoning import Reckoning
from kailyard.publish import reckoned
from kailyard.publish.draw_curve import curve
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
    parts += _curves(document)
    inputs = reckoned.given(document)
    if inputs:
        parts += [el("h2", "From"), _table(("input", "value", "unit", ""), inputs)]
    parts.append(el("footer", el("p", f"{document.status.capitalize()}: {document.source}.")))
    return Body(document.method or "Kailyard", tuple(parts))


def _curves(document: Reckoning) -> list[Markup]:
    """Each result over the one grid there is."""
    axes = reckoned.grids(document)
    if len(axes) != 1:
        return []
    along = [x for x in reckoned.numbers(axes[0].value) if isinstance(x, float)]
    drawn = []
    for each in document.results:
        up = [None if isinstance(v, str) else v for v in reckoned.numbers(each.value)]
        label = f"{each.name} over {axes[0].name}"
        heads = reckoned.named(axes[0].name, axes[0].unit), reckoned.named(each.name, each.unit)
        if len(along) > 1 and (line := curve(along, up, along_words=heads[0], up_words=heads[1], label=label)):
            drawn.append(el("figure", line))
    return drawn


def _table(heads: tuple[str, ...], cells: list[tuple[str, ...]] | list[tuple[str, str, str, str]]) -> Markup:
    rows = [[clip(cell) for cell in row] for row in cells]
    return table(heads, rows, numeric=[is_numeric([row[i] for row in rows]) for i in range(len(heads))])
