"""What may be done about a trouble, as a page."""

from __future__ import annotations

from kailyard.documents.options import Options, Step
from kailyard.publish import words
from kailyard.publish.html._page import Body, Paper, heading, page, spaced, why
from kailyard.publish.markup import Markup, el, together


def render(document: Options, *, paper: Paper | None = None) -> str:
    """A file that stands alone."""
    return page(body(document), paper=paper)


def body(document: Options) -> Body:
    """What to do first, the steps in order, the next look, the next season, cautions."""
    d = document
    sure = f", {d.sure}" if d.sure else ""
    title = f"{d.name.capitalize()}{sure}"
    kicker = f"{d.garden} · {words.full_day(d.on)} · {d.plants}, {d.where}"
    advised = [s for s in d.steps if s.advised]
    rest = [s for s in d.steps if not s.advised]
    best = (
        el("section", el("h2", "Together"), el("ol", *(step(s, d) for s in advised), class_="asked")) if advised else ""
    )
    head = "In their order, where that is not possible or not enough"
    others = el("section", el("h2", head), el("ol", *(step(s, d) for s in rest), class_="asked")) if rest else ""
    struck = el("p", f"Not possible here: {'; '.join(s.says for s in d.struck)}.", class_="soft") if d.struck else ""
    look = el("section", el("h2", "Look again"), el("p", f"On {words.full_day(d.next_look)}. {d.judged}"), struck)
    parts = (
        heading(kicker, title),
        el("section", el("p", d.first)),
        best,
        others,
        look,
        _later(d),
        _cautions(d.cautions),
    )
    return Body(f"{title}, {d.garden}", parts)


SHOWN = ("prevention", "barrier", "biological", "product")
"""Kinds that are said: that a hand takes off or leaves alone is plain from the step itself."""


def step(s: Step, d: Options) -> Markup:
    """One step."""
    labels = f"Your label: {', '.join(s.labels)}." if s.labels else ""
    why_not = el("span", f"Not now: {s.why_not}.", class_="soft") if s.why_not else ""
    end = ":" if s.how else "."
    kind = el("span", f"({s.kind}){end}", class_="soft") if s.kind in SHOWN else ""
    says = s.says if kind else f"{s.says}{end}"
    how = words.sentence(s.how) if s.how else ""
    return el("li", el("div", spaced(el("b", says), kind, how, labels, why_not, why(s.reasons, d.units))))


def _later(d: Options) -> Markup:
    if not d.later:
        return Markup()
    rows = [
        el(
            "li",
            el(
                "div",
                spaced(el("b", f"{one.says};"), el("span", f"{one.by}.", class_="soft"), why(one.reasons, d.units)),
            ),
        )
        for one in d.later
    ]
    return el("section", el("h2", "Next season"), el("ol", *rows, class_="asked"))


def _cautions(said: tuple[str, ...]) -> Markup:
    return together(el("footer", *(el("p", c) for c in said)))
