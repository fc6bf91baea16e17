"""Whether a product may be put on, as a page."""

from __future__ import annotations

from collections.abc import Sequence

from kailyard.documents.check import Check, Found
from kailyard.publish import words
from kailyard.publish.html._page import Body, Paper, heading, page, spaced
from kailyard.publish.markup import Markup, el
from kailyard.publish.say import ground, statement
from kailyard.publish.text.check import blocking, headline, sentence, subject


def render(document: Check, *, paper: Paper | None = None) -> str:
    """A file that stands alone."""
    return page(body(document), paper=paper)


def body(document: Check) -> Body:
    """The answer, what stands against it, what to see on the spot, the hours ahead, warnings beside, cautions."""
    d = document
    kicker = f"{d.garden} · {words.full_day(d.on)}"
    see = Markup()
    if d.to_see:
        items = [el("li", one.question) for one in d.to_see]
        see = el("section", el("h2", "To be seen on the spot"), el("ol", *items, class_="asked"))
    held = Markup()
    if d.held:
        held = el("section", el("h2", "Held now"), el("ul", *(el("li", h.says) for h in d.held)))
    days = [
        el("li", spaced(el("b", f"{words.day(day.day, d.on)}:"), day.fit or f"no hour. {sentence(day.why)}".rstrip()))
        for day in d.days
    ]
    chance = el("p", f"Next chance: {d.next_chance or 'none is known'}.")
    ahead = el("ul", *days, class_="reasons") if days else ""
    hours = el("section", el("h2", "The hours ahead"), chance, ahead)
    mix = el("section", el("h2", "How much"), el("p", d.amount))
    parts = (
        heading(kicker, headline(d), words.sentence(subject(d))),
        held,
        _list(d, "Against it", blocking(d)),
        see,
        hours,
        mix,
        _list(d, "Beside it", d.beside),
        el("details", el("summary", f"Nothing against it: {len(d.agrees)} reasons"), _list(d, "", d.agrees)),
        el("footer", *(el("p", c) for c in d.cautions)),
    )
    return Body(f"{headline(d)} {d.garden}", parts)


def _list(d: Check, head: str, found: Sequence[Found]) -> Markup:
    if not found:
        return Markup()
    rows = []
    for one in found:
        rests = el("span", ground(one.reason.rests_on), class_="ground") if one.reason.rests_on else ""
        said = el("span", statement(one.reason, d.units), class_="said")
        answer = "" if one.answer == "may" else f", {one.answer}"
        rows.append(el("li", spaced(el("b", f"{one.check}{answer}:"), said, rests)))
    reasons = el("ol", *rows, class_="reasons")
    return el("section", el("h2", head), reasons) if head else reasons
