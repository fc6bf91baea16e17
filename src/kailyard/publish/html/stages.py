"""A planting's life as a page: engraved hills on one axis."""

from __future__ import annotations

from kailyard.documents.stages import Stage, Stages
from kailyard.publish import draw, words
from kailyard.publish.axis import Axis, axis_over
from kailyard.publish.html._page import Body, Paper, heading, page, why
from kailyard.publish.markup import Markup, el, spaced
from kailyard.publish.say import planting_words, stage_words

_WIDTH = 328.0
"""A planting's whole life asks for more room than a window. [px]"""


def render(document: Stages, *, paper: Paper | None = None) -> str:
    """A file that stands alone."""
    return page(body(document), paper=paper)


def body(document: Stages) -> Body:
    """Every stage: the day it was seen as one stroke, or its odds as a hill, with the dates beside."""
    ahead = [stage.odds for stage in document.stages if stage.seen is None]
    seen = [stage.seen for stage in document.stages if stage.seen is not None]
    axis = axis_over(document.on, ahead, seen)
    top = draw.tallest(ahead)
    head = el("div", el("span"), draw.dates(axis, _WIDTH), el("span"), class_="axis")
    items = [_stage(stage, axis, top, document) for stage in document.stages]
    kicker = f"{document.garden} · {words.full_day(document.on)} · {document.planting}"
    title = planting_words(document)
    said = "One stroke: the day it was seen. A hill: the higher, the likelier. The thin upright mark is today."
    parts = (heading(kicker, title), el("section", head, el("ol", *items), class_="next stages"), el("footer", said))
    return Body(f"{title}, {document.garden}", parts)


def _stage(stage: Stage, axis: Axis, top: float, document: Stages) -> Markup:
    said = stage_words(stage, document)
    label = words.sentence(f"{words.clean(stage.words)}: {said}")
    if stage.seen is not None:
        drawn = draw.seen(axis, stage.seen, document.on, label, _WIDTH)
    else:
        drawn = draw.hill(axis, stage.odds, document.on, top, label, _WIDTH)
    own = el("div", draw.dates(axis, _WIDTH), class_="own-axis")
    return el(
        "li",
        el("p", stage.words),
        el("div", own, drawn),
        el("div", spaced(said, why(stage.reasons, document.units)), class_="when"),
    )
