"""The record of an injury as a page that can be printed and handed over."""

from __future__ import annotations

from kailyard.documents.injury import Injury, Plants, ToDo
from kailyard.publish import words
from kailyard.publish.html._page import Body, Paper, heading, page, reason_tree, table
from kailyard.publish.injured import (
    ACCUSES_NOBODY,
    FREE,
    HELD,
    NEVER_SAFE,
    TITLE,
    YOUNGER,
    brought_line,
    plants_line,
    to_do_line,
    under,
    weather_said,
    weather_table,
)
from kailyard.publish.markup import Markup, el
from kailyard.publish.say import ground, statement


def render(document: Injury, *, paper: Paper | None = None) -> str:
    """A file that stands alone."""
    return page(body(document), paper=paper)


def body(document: Injury) -> Body:
    """Head, what is hit, what was written down, the days before, what is still worth doing, room to sign."""
    kicker = f"{document.garden} · {words.full_day(document.on)}"
    said = [
        Markup(el("div", el("dt", words.clean(one.what)), el("dd", words.sentence(one.says)))) for one in document.said
    ]
    written = [el("dl", *said, class_="record")] if said else []
    written += [el("p", f"“{words.clean(line)}”") for line in document.words]
    if document.unsaid:
        written.append(
            el("p", f"Nobody wrote down: {words.joined([words.clean(one) for one in document.unsaid])}.", class_="soft")
        )
    columns, rows = weather_table(document)
    parts = (
        heading(kicker, TITLE, under(document)),
        el("p", words.clean(document.place), class_="soft") if words.clean(document.place) else "",
        el("p", ACCUSES_NOBODY),
        el(
            "section",
            el("h2", "Hit"),
            el("ul", *(_plants(one) for one in document.plants), class_="plain"),
            *(el("p", words.sentence(line), class_="screen") for line in document.first),
        ),
        el("section", el("h2", "As it was written down"), *written, el("p", YOUNGER, class_="soft")),
        _listed("Brought onto the beds", [brought_line(one, document) for one in document.brought]),
        _listed("Sprayed in this garden", [brought_line(one, document) for one in document.sprayed]),
        _listed(
            "Seen since",
            [
                f"{words.day(s.day, document.on)}, {words.clean(s.where)}: {words.sentence(s.what)}"
                for s in document.seen
            ],
        ),
        el(
            "section",
            el("h2", "The days before"),
            el("p", weather_said(document)),
            table(columns, rows, numeric=[False, *[True] * (len(columns) - 1)]) if rows else "",
        ),
        el(
            "section",
            el("h2", "Worth doing"),
            el("ul", *(_to_do(one, document) for one in document.to_do), class_="plain"),
        ),
        el("p", el("b", HELD if document.held else FREE), Markup(" "), NEVER_SAFE),
        el("p", "Seen by, and on what day:", class_="sign paper"),
        el("p", "Taken over by, and on what day:", class_="sign paper"),
        _known(document),
    )
    return Body(f"{TITLE}, {document.garden}", parts, "injury")


def _plants(one: Plants) -> Markup:
    lines = [el("span", plants_line(one))]
    if words.clean(one.released):
        lines.append(el("p", words.sentence(one.released)))
    if words.clean(one.sensitive):
        lines.append(el("p", words.sentence(one.sensitive), class_="soft"))
    if words.clean(one.choice):
        lines.append(el("p", words.sentence(one.choice), class_="screen"))
    return el("li", *lines)


def _to_do(one: ToDo, document: Injury) -> Markup:
    because = [statement(one.ground, document.units)]
    because += [ground(one.ground.rests_on)] if one.ground.rests_on else []
    return el("li", to_do_line(one, document), Markup(" "), el("span", " ".join(because), class_="ground"))


def _known(document: Injury) -> Markup:
    if not document.known:
        return Markup()
    # For whoever keeps the record; on paper it holds the case alone.
    tree = reason_tree(document.known, document.units)
    return el("section", el("h2", "What is known of such injuries"), tree, class_="screen")


def _listed(head: str, lines: list[str]) -> Markup:
    if not lines:
        return Markup()
    return el("section", el("h2", head), el("ul", *(el("li", line) for line in lines), class_="plain"))
