"""The record of an injury for a terminal."""

from __future__ import annotations

from kailyard.documents.injury import Injury
from kailyard.publish import plain, words
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
from kailyard.publish.say import ground, statement


def render(document: Injury, *, width: int = 80, ascii_only: bool = False) -> str:
    """What is hit, what was written down, the days before, what is still worth doing."""
    rows = plain.block(f"{words.clean(document.garden)}, {words.full_day(document.on)}", width)
    rows += plain.block(TITLE, width) + plain.block(under(document), width)
    rows += plain.block(words.clean(document.place), width) if document.place else []
    rows += ["", *plain.block(ACCUSES_NOBODY, width), "", *plain.block("Hit", width)]
    for one in document.plants:
        rows += plain.block(plants_line(one), width, first="- ")
        for line in (one.released, one.sensitive, one.choice):
            rows += plain.block(words.sentence(line), width, first="    ") if words.clean(line) else []
    for line in document.first:
        rows += plain.block(words.sentence(line), width)
    rows += ["", *plain.block("Written down", width)]
    for said in document.said:
        rows += plain.block(f"{words.clean(said.what)}: {words.sentence(said.says)}", width, first="- ")
    for line in document.words:
        rows += plain.block(f"“{words.clean(line)}”", width, first="- ")
    if document.unsaid:
        rows += plain.block(
            f"Nobody wrote down: {words.joined([words.clean(one) for one in document.unsaid])}.", width, first="- "
        )
    rows += plain.block(YOUNGER, width)
    for head, those in (("Brought onto the beds", document.brought), ("Sprayed in this garden", document.sprayed)):
        rows += _listed(head, [brought_line(one, document) for one in those], width)
    seen = [f"{words.day(s.day, document.on)}, {words.clean(s.where)}: {words.sentence(s.what)}" for s in document.seen]
    rows += _listed("Seen since", seen, width)
    rows += ["", *plain.block("The days before", width), *plain.block(weather_said(document), width)]
    columns, days = weather_table(document)
    rows += plain.table(columns, days, width) if days else []
    rows += ["", *plain.block("Worth doing", width)]
    for todo in document.to_do:
        rows += plain.block(to_do_line(todo, document), width, first="- ")
        rows += plain.block(statement(todo.ground, document.units), width, first="    ")
    rows += ["", *plain.block(HELD if document.held else FREE, width), *plain.block(NEVER_SAFE, width)]
    known = [
        f"{statement(one, document.units)}{f' ({ground(one.rests_on)})' if one.rests_on else ''}"
        for one in document.known
    ]
    rows += _listed("What is known of such injuries", known, width)
    return plain.finish(rows, ascii_only=ascii_only)


def _listed(head: str, lines: list[str], width: int) -> list[str]:
    if not lines:
        return []
    return ["", *plain.block(head, width), *(row for line in lines for row in plain.block(line, width, first="- "))]
