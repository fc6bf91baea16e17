"""Whether a product may be put on."""

from __future__ import annotations

from collections.abc import Sequence

from kailyard.documents.check import Check, Found
from kailyard.publish import plain, words
from kailyard.publish.say import ground, statement

HEADS = {"may": "May", "not now": "Not now", "never": "Never", "unknown": "Unknown: so not yet"}


def headline(document: Check) -> str:
    """The answer in a line: 'Not now; look again from 16 July'."""
    until = f"; look again from {words.clean(document.until)}" if document.until else ""
    return f"{HEADS[document.answer]}{until}."


def subject(document: Check) -> str:
    """What was asked: '‘Mealmute’ on zucchini, bed 4, 14 July, 15:00'."""
    against = f" against {words.clean(document.against_what)}" if document.against_what else ""
    hour = f", {words.clean(document.hour)}" if document.hour else ""
    label, plants, where = map(words.clean, (document.label, document.plants, document.where))
    who = f"‘{label}’ on {plants}, {where}{against}"
    return f"{who}: {words.full_day(document.day)}{hour}"


def sentence(said: str) -> str:
    """With a capital, as it stands by itself."""
    return f"{said[:1].upper()}{said[1:]}"


def blocking(document: Check) -> tuple[Found, ...]:
    """What stands against it; what is only still to be seen on the spot is asked instead."""
    return tuple(f for f in document.against if not f.ask)


def render(document: Check, *, width: int = 80, ascii_only: bool = False) -> str:
    """The answer, what stands against it, what to see on the spot, the hours ahead, warnings beside, cautions."""
    d = document
    rows = plain.block(f"{words.clean(d.garden)}, {words.full_day(d.on)}", width)
    rows += plain.block(subject(d), width)
    rows += ["", *plain.block(headline(d), width)]
    if d.held:
        rows += ["", "Held now"]
        for hold in d.held:
            rows += plain.block(words.clean(hold.says), width, first="- ")
    if against := blocking(d):
        rows += ["", "Against it", *_lines(d, against, width)]
    if d.to_see:
        rows += ["", "To be seen on the spot"]
        for one in d.to_see:
            rows += plain.block(words.clean(f"{one.question} [{one.key}]"), width, first="- ")
    rows += ["", *plain.block(words.clean(f"Next chance: {d.next_chance or 'none is known'}."), width)]
    for day in d.days:
        rows += plain.block(
            words.clean(f"{words.day(day.day, d.on)}: {day.fit or 'no hour. ' + sentence(day.why)}"), width, first="- "
        )
    rows += ["", *plain.block(words.clean(d.amount), width)]
    if d.agrees:
        rows += ["", "Nothing against it", *_lines(d, d.agrees, width)]
    if d.beside:
        rows += ["", "Beside it", *_lines(d, d.beside, width)]
    rows.append("")
    for caution in d.cautions:
        rows += plain.block(words.clean(caution), width)
    return plain.finish(rows, ascii_only=ascii_only)


def _lines(d: Check, found: Sequence[Found], width: int) -> list[str]:
    rows: list[str] = []
    for one in found:
        answer = "" if one.answer == "may" else f", {one.answer}"
        rows += plain.block(f"{words.clean(one.check)}{answer}: {statement(one.reason, d.units)}", width, first="- ")
        if one.reason.rests_on is not None:
            rows += plain.block(ground(one.reason.rests_on), width, first="  – ")
    return rows
