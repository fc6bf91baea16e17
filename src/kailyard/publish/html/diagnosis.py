"""What a trouble may be, as a page: the ranking unfolds down to what each answer rests on."""

from __future__ import annotations

from kailyard.documents.diagnosis import Cause, Diagnosis, Speaks
from kailyard.publish import words
from kailyard.publish.diagnosed import chance, doing, eating, sampling, sides, testing, title
from kailyard.publish.html._page import Body, Paper, heading, page, reason_tree
from kailyard.publish.markup import Markup, el, spaced
from kailyard.publish.say import ground, statement


def render(document: Diagnosis, *, paper: Paper | None = None) -> str:
    """A file that stands alone."""
    return page(body(document), paper=paper)


def body(document: Diagnosis, *, asks: bool = False) -> Body:
    """Head, ranking, next signs, when to stop, cautions. `asks`: the page around it puts the next questions, and its
    foot, itself."""
    kicker = f"{document.garden} · {words.full_day(document.on)} · {document.planting}"
    # Before the gardener's first answer the questions come first: how common a cause is helps nobody at the plant.
    first = asks and all(one.proposed for one in document.answered)
    begin = "Answer what you can see; ‘can't tell’ is always an answer and changes nothing."
    parts = [heading(kicker, title(document), begin if first else document.firm)]
    if document.two and not first:
        parts.append(el("p", el("b", document.two)))
    causes = el("ol", *(_cause(c, document) for c in document.causes))
    if first:
        common = el("details", el("summary", "what is common on such plants"), causes, class_="causes")
        return Body(f"{title(document)}, {document.garden}", (*parts, common))
    parts.append(el("section", el("h2", "What it may be"), causes, class_="causes"))
    if document.next and not asks:
        items = [_next(sign.question, sides(sign), sign.how) for sign in document.next]
        parts.append(el("section", el("h2", "Worth looking at next"), el("ul", *items, class_="plain")))
    parts.append(el("p", words.sentence(document.stop)))
    if not asks:
        parts += [_answered(document), *foot(document)]
    return Body(f"{title(document)}, {document.garden}", tuple(parts))


def foot(document: Diagnosis) -> tuple[Markup, ...]:
    """What to send to a laboratory and by when; the cautions."""
    sample = [el("p", sampling(document.sample, document.on))] if document.sample is not None else []
    return (*sample, el("footer", *(el("p", words.sentence(caution)) for caution in document.cautions)))


def _answered(document: Diagnosis) -> Markup:
    """What the ranking rests on: the gardener's answers, and those that the record gave."""
    if not document.answered:
        return Markup()
    said = [
        f"{words.clean(one.question)}: {one.answer}{f' ({words.clean(one.proposed)})' if one.proposed else ''}"
        for one in document.answered
    ]
    return el("section", el("h2", "Answered"), el("ul", *(el("li", line) for line in said), class_="plain"))


def _next(question: str, both: str, how: str) -> Markup:
    parts = [el("span", question), Markup(" "), el("span", f"({both})", class_="soft")]
    if how:
        parts += [Markup(" "), el("span", testing(how), class_="soft")]
    return el("li", *parts)


def _cause(cause: Cause, document: Diagnosis) -> Markup:
    lines = [el("p", spaced(el("b", cause.name), el("span", chance(cause), class_="soft")))]
    lines += [el("p", line) for line in (doing(cause), eating(cause)) if line]
    lines += [el("p", f"To settle it: {words.clean(s.what)}.") for s in cause.settles]
    inner: list[Markup] = []
    if cause.telling_sign:
        inner.append(el("p", f"Told by: {words.clean(cause.telling_sign)}."))
    for head, those in (("For", cause.speaks_for), ("Against", cause.speaks_against)):
        if those:
            inner += [el("p", el("i", head)), el("ul", *(_speaks(one) for one in those), class_="plain")]
    if cause.before:
        inner += [el("p", el("i", "Before any sign was looked at")), *_before(cause, document)]
    grounds = [("The test", ground(s.rests_on)) for s in cause.settles] + [("The cause", ground(cause.rests_on))]
    inner += [el("p", f"{what}: {said}", class_="ground") for what, said in dict.fromkeys(grounds)]
    lines.append(el("details", el("summary", "for and against"), *inner))
    return el("li", *lines)


def _before(cause: Cause, document: Diagnosis) -> tuple[Markup, ...]:
    """What leans; where all rests on one thing, that is said once."""
    if any(one.because or one.rests_on != cause.before[0].rests_on for one in cause.before):
        return (reason_tree(cause.before, document.units),)
    listed = el("ul", *(el("li", statement(one, document.units)) for one in cause.before), class_="plain")
    rests = cause.before[0].rests_on
    return (listed, el("p", ground(rests), class_="ground")) if rests else (listed,)


def _speaks(one: Speaks) -> Markup:
    said = f"{words.clean(one.says)} ({one.strength}; with this cause {words.clean(one.how_often)})"
    return el("li", el("span", said), Markup(" "), el("span", ground(one.rests_on), class_="ground"))
