"""Pickings as a page: each crop's weeks as ink, how to pick it, and what was weighed."""

from __future__ import annotations

from collections.abc import Callable

from kailyard.documents.picking import CropAhead, Picking, WeighedCrop
from kailyard.publish import draw_picking, picked, words
from kailyard.publish.html._page import Body, Paper, heading, page, table, why
from kailyard.publish.markup import Markup, el, spaced, together

_WIDE, _NARROW = 640.0, 328.0
"""Drawings are made for both widths, so that lettering keeps its size on a telephone. [px]"""


Beside = Callable[[str], Markup]
"""What stands beside a planting on the screen."""


def nothing(planting: str) -> Markup:
    """On paper nothing stands beside a planting."""
    return Markup()


def render(document: Picking, *, paper: Paper | None = None) -> str:
    """A file that stands alone."""
    return page(body(document), paper=paper)


def body(document: Picking, *, beside: Beside = nothing) -> Body:
    """Questions first, then the weeks ahead crop by crop, then what was weighed."""
    title = "What will be picked"
    ahead = [_crop(crop, document, beside) for crop in document.crops]
    if not ahead:
        ahead = [el("p", "Nothing that stands is to be picked in the weeks ahead.")]
    note = el("p", NOTE, class_="lost") if document.crops else Markup()
    parts = (
        heading(f"{document.garden} · {words.full_day(document.on)}", title),
        _listed("Not to be picked", document.held),
        _listed("To look at", document.questions),
        together(*ahead),
        note,
        _listed("Nobody can tell when these bear", document.unknown),
        _weighed(document),
    )
    return Body(f"{title}, {document.garden}", parts)


NOTE = (
    "A column is a week, picked as it comes ready. Eight possible seasons in ten lie in its strokes, half below its "
    "line; the denser, the likelier there is anything. Week by week the chance is told that there is anything, and how "
    "much then: in the brackets 8 times in 10. Little, some and plenty are beside the crop's own best week."
)


def _crop(crop: CropAhead, document: Picking, beside: Beside) -> Markup:
    label = picked.week_words(crop, document)
    drawn = together(
        el("figure", draw_picking.weeks(crop, document, label, _WIDE), class_="for-wide"),
        el("figure", draw_picking.weeks(crop, document, label, _NARROW), class_="for-narrow"),
    )
    items = []
    for one in crop.plantings:
        where = f"{words.clean(one.where)} ({words.clean(one.planting)}):"
        parts = (el("b", words.clean(one.says)), where, picked.planting_line(one), why(one.reasons, document.units))
        items.append(el("li", spaced(*parts, beside(one.planting))))
    rows = [picked.week_row(week, document) for week in picked.told(crop)]
    by_week = el(
        "details", el("summary", "week by week"),
        table(picked.WEEK_COLUMNS, rows, numeric=[False, False, False]),
    )  # fmt: skip
    wanted = picked.wanted(crop, document.units)
    return el(
        "section",
        el("h2", picked.title(crop.produce)),
        el("p", picked.how(crop)) if crop.how else "",
        el("p", picked.other_uses(crop), class_="lost") if crop.uses else "",
        drawn,
        el("p", wanted) if wanted else "",
        el("p", spaced(crop.carried_words, crop.published), class_="lost"),
        el("ul", *items),
        by_week,
        why(crop.reasons, document.units),
        class_="picking",
    )


def _listed(title: str, lines: tuple[str, ...]) -> Markup:
    if not lines:
        return Markup()
    return el("section", el("h2", title), el("ul", *(el("li", words.sentence(line)) for line in lines)))


def _weighed(document: Picking) -> Markup:
    if not document.weighed:
        return Markup()
    said = el("p", picked.WEIGHED_NOTE, class_="lost")
    return el("section", el("h2", "What was weighed"), said, *(_one(crop, document) for crop in document.weighed))


def _one(crop: WeighedCrop, document: Picking) -> Markup:
    heads, rows = picked.weighed_table(crop, document.units)
    return together(
        el("h3", picked.title(crop.produce)),
        table(heads, rows, numeric=[False, *[True] * (len(heads) - 1)]),
        *(el("p", line, class_="lost") for line in picked.says(crop)),
    )
