"""May this be put on? The verdict with every reason, the hours ahead; and what was put on, kept."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from urllib.parse import quote

from kailyard.desk.answer import once
from kailyard.desk.check import check, found_on, keep_treated, label_names
from kailyard.desk.desk import Desk
from kailyard.desk.people import Visitor
from kailyard.documents.check import Check
from kailyard.publish import body
from kailyard.publish.markup import Markup, together
from kailyard.web.register import Moved

PATH = "/check/{planting}"
TITLE = "Check"
MENU = None
TEMPLATE = "check.html"
KEEPS = True
WAITS = True
FORESEES = True
MOST_BYTES = 20_000
FIRST = 3
"""Heading, what is held now, what stands against it: before the questions."""


@dataclass(frozen=True, slots=True)
class Query:
    """`label`: a label record; `at`: the hour; `against`: else the trouble found last; `seen`: answers on the spot."""

    planting: str
    label: str = ""
    on: str = ""
    at: str = ""
    against: str = ""
    walk: str = ""
    seen: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Form:
    """What was put on."""

    planting: str
    label: str
    id: str = ""
    mix: str = ""
    product: str = ""
    hour: str = ""
    flowers_open: str = ""
    trouble: str = ""
    text: str = ""


@dataclass(frozen=True, slots=True)
class Page:
    """The verdict as markup, and what the forms need."""

    title: str
    query: Query
    labels: tuple[str, ...]
    document: Check | None
    body: Markup
    more: Markup
    """What may be read after the questions: hours, amount, warnings, what agrees, cautions."""
    questions: tuple[tuple[str, str, str], ...]
    """Key, question, and what was answered."""
    open: int
    """How many of them nobody has answered."""
    found: str

    def fresh(self) -> str:
        """An identifier for one more form."""
        return once()


QUERY = Query
FORM = Form


def page(desk: Desk, query: Query, person: Visitor) -> Page:
    """The verdict; without a label record the choice of one, or the word to type one first."""
    names, found = label_names(desk), found_on(desk, query.planting)
    if not query.label:
        return Page(TITLE, query, names, None, Markup(), Markup(), (), 0, found)
    seen = [f"{key}={value}" for key, value in query.seen.items()]
    document = check(
        desk,
        query.label,
        query.planting,
        on=query.on or None,
        at=query.at or None,
        against=query.against or None,
        seen=seen,
        walk=query.walk or None,
    )
    drawn = body(replace(document, to_see=()))  # the form asks them, so the list beside it would ask twice
    asked = tuple((q.key, q.question, query.seen.get(q.key, "")) for q in document.questions)
    return Page(
        f"Check ‘{document.label}’",
        query,
        names,
        document,
        together(*drawn.parts[:FIRST]),
        together(*drawn.parts[FIRST:]),
        asked,
        len(document.to_see),
        found,
    )


def post(desk: Desk, form: Form, person: Visitor) -> Moved:
    """Keep what was put on."""
    given = {
        "mix": form.mix,
        "product": form.product,
        "hour": form.hour,
        "flowers_open": form.flowers_open,
        "trouble": form.trouble,
    }
    keep_treated(desk, form.planting, form.label, given, text=form.text, id_=form.id or None)
    return Moved(f"/planting/{quote(form.planting, safe='')}", "Kept. The sheet now holds picking and going in.")
