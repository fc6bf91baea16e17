"""The round as a page: beds in walking order; steps of life, thresholds and grounds folded away."""

from __future__ import annotations

from collections.abc import Callable

from kailyard.documents.scout import Lookout, Scout, Stop
from kailyard.publish import words
from kailyard.publish.html._page import Body, Paper, heading, page, why
from kailyard.publish.markup import Markup, el
from kailyard.publish.say_scout import (
    counted,
    counts,
    enemies,
    figures,
    looked,
    main,
    passing,
    step_words,
    task,
    title,
)

Leads = Callable[[Lookout], Markup]
"""What stands beside a count that calls for more, made from its lookout: the way to what may be done."""


def nowhere(one: Lookout) -> Markup:
    """On paper nothing leads on."""
    return Markup()


def render(document: Scout, *, paper: Paper | None = None) -> str:
    """A file that stands alone."""
    return page(body(document), paper=paper)


def body(document: Scout) -> Body:
    """Beds in walking order, then what is not to be looked for yet."""
    said = "One round through the beds"
    parts = (
        heading(words.full_day(document.on), f"{said}, {document.garden}"),
        *(_stop(stop, document) for stop in document.stops),
        el("p", "Nothing stands in the beds that is to be looked at.") if not document.stops else Markup(),
        under(document),
    )
    return Body(f"{said}, {document.garden}", parts)


def under(document: Scout) -> Markup:
    """What is not to be looked for yet, and the cautions."""
    later = Markup()
    if document.not_yet:
        later = el("details", el("summary", "Not yet"), el("ul", *(el("li", words.clean(k)) for k in document.not_yet)))
    return el("footer", later, *(el("p", words.clean(note)) for note in document.notes))


def lookout(one: Lookout, document: Scout, *, leads: Leads = nowhere) -> Markup:
    """One thing to look for, without a form."""
    steps = Markup()
    if one.steps:
        steps = el("ul", *(el("li", step_words(step)) for step in one.steps))
    lines = [*(el("li", line) for line in counts(one)), *(el("li", line) for line in figures(one))]
    return el(
        "div",
        el("p", el("b", title(one)), f". {task(one)}"),
        el("ul", *lines) if lines else Markup(),
        _acting(one, leads),
        el(
            "details",
            el("summary", "steps of its life, and grounds"),
            steps,
            *(el("p", line) for line in enemies(one)),
            why(one.reasons, document.units),
        ),
        class_="lookout",
    )


def done(stop: Stop, *, leads: Leads = nowhere) -> Markup:
    """What was counted and is not due again yet."""
    items = [el("li", looked(one), _acting(one, leads)) for one in counted(stop)]
    return el("ul", *items) if items else Markup()


def _acting(one: Lookout, leads: Leads) -> Markup:
    return el("div", leads(one), class_="acting") if one.act else Markup()


def _stop(stop: Stop, document: Scout) -> Markup:
    name = words.clean(stop.name)
    return el(
        "section",
        el("h2", name[:1].upper() + name[1:]),
        *(lookout(one, document) for one in main(stop)),
        done(stop),
        el("p", passing(stop), class_="lost"),
    )
