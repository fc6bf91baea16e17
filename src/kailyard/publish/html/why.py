"""A line of the sheet, opened down to its sources, as a page."""

from __future__ import annotations

from kailyard.documents.why import Why
from kailyard.publish import draw, words
from kailyard.publish.axis import axis_over
from kailyard.publish.html._page import Body, Paper, heading, page, reason_tree
from kailyard.publish.markup import Markup, el


def render(document: Why, *, paper: Paper | None = None) -> str:
    """A file that stands alone."""
    return page(body(document), paper=paper)


def body(document: Why) -> Body:
    """The line, its odds drawn and said, and every reason, standing open."""
    kicker = f"{document.garden} · {words.full_day(document.on)} · {document.name}"
    title = words.named(document.says, document.where)
    reasons = Markup()
    if document.reasons:
        tree = reason_tree(document.reasons, document.units, unfolded=99)
        reasons = el("section", el("h2", "Why"), tree, class_="open")
    parts = (heading(kicker, title, words.sentence(document.detail)), _odds(document), reasons)
    return Body(f"{title}, {document.garden}", parts)


def _odds(document: Why) -> Markup:
    if document.odds is None:
        return Markup()
    said = words.sentence(words.odds(document.odds, document.on))
    said = said[0].upper() + said[1:]
    axis = axis_over(document.on, [document.odds])
    if words.is_window(document.odds):
        drawn = draw.window(axis, document.odds, document.on, said)
    else:
        drawn = draw.hill(axis, document.odds, document.on, draw.tallest([document.odds]), said)
    return el("section", el("h2", "When"), draw.dates(axis), drawn, el("p", said, class_="said"))
