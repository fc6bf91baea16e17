"""The place as a page: frost by chance, the season's warmth against the band of the years."""

from __future__ import annotations

from collections.abc import Callable

from kailyard.documents.climate import Climate, WarmthSoFar
from kailyard.publish import draw_years, words
from kailyard.publish.html._page import Body, Paper, heading, page, reason_tree, table
from kailyard.publish.markup import Markup, el, together
from kailyard.publish.say import (
    FROST_NOTE,
    TREND_COLUMNS,
    frost_columns,
    frost_row,
    rain_words,
    trend_row,
    warmth_words,
    years_words,
)

_WIDE, _NARROW = 640.0, 328.0
"""Drawings are made for both widths, so that lettering keeps its size on a telephone. [px]"""


def render(document: Climate, *, paper: Paper | None = None) -> str:
    """A file that stands alone."""
    return page(body(document), paper=paper)


def body(document: Climate) -> Body:
    """Frost, warmth, rain, trend, and what all that rests on."""
    reasons = Markup()
    if document.reasons:
        tree = reason_tree(document.reasons, document.units, unfolded=1)
        reasons = el("section", el("h2", "What this rests on"), tree, class_="open")
    parts = (
        heading(words.full_day(document.on), document.garden, years_words(document)),
        _frost(document),
        _warmth(document),
        el("section", el("h2", "Rain so far"), el("p", rain_words(document))),
        _trend(document),
        reasons,
    )
    return Body(f"Climate, {document.garden}", parts)


def _both(drawing: Callable[[float], Markup]) -> Markup:
    return together(
        el("figure", drawing(_WIDE), class_="for-wide"), el("figure", drawing(_NARROW), class_="for-narrow")
    )


def _frost(document: Climate) -> Markup:
    if not document.frost:
        return Markup()
    rows = [frost_row(level, document) for level in document.frost]
    heads = frost_columns(document)
    label = " ".join(_row_words(heads, row) for row in rows)
    drawn = _both(lambda width: draw_years.frost(document.frost, document.on, label, width))
    said = "Denser: frost is likelier still to come, or to have come again. Blank: free of it. The thin mark is today."
    return el(
        "section",
        el("h2", "Frost"),
        drawn,
        el("p", said, class_="lost"),
        # A column for each degree of frost: so it goes into the width of a telephone.
        table(
            ("", *(row[0] for row in rows)),
            [(head, *(row[at] for row in rows)) for at, head in enumerate(heads) if at],
            numeric=[False] * (len(rows) + 1),
            fixed=True,
        ),
        el("p", FROST_NOTE, class_="lost"),
    )


def _row_words(heads: tuple[str, ...], row: tuple[str, ...]) -> str:
    return words.sentence(
        f"{row[0]}: {', '.join(f'{head} {cell}' for head, cell in zip(heads[1:], row[1:], strict=True))}"
    )


def _warmth(document: Climate) -> Markup:
    if not document.warmth:
        return Markup()
    parts = [_season(one, document) for one in document.warmth]
    note = "The thick line is this season, the thin one the middle year; eight years in ten lie in the hatching."
    return el("section", el("h2", "Warmth so far"), *parts, el("p", note, class_="lost"))


def _season(warmth: WarmthSoFar, document: Climate) -> Markup:
    said = warmth_words(warmth, document)
    drawn = _both(lambda width: draw_years.warmth(warmth, document.on, document.units, said, width))
    return together(drawn, el("p", said[0].upper() + said[1:]))


def _trend(document: Climate) -> Markup:
    if not document.trend:
        return Markup()
    rows = [trend_row(month, document.units) for month in document.trend]
    made = table(TREND_COLUMNS, rows, numeric=[False, True, True, False])
    return el("section", el("h2", "How the months have moved, in a decade"), made, class_="trend")
