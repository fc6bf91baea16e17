"""What is it? A form that works without a script: answers, the next question, the ranking unfolding, what was found."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal
from urllib.parse import quote

from kailyard.desk.answer import once
from kailyard.desk.desk import Desk
from kailyard.desk.diagnose import WhatForm, diagnosis, keep_found, read_answers, what_form
from kailyard.desk.injury import open_injury
from kailyard.desk.people import Visitor
from kailyard.publish import body
from kailyard.publish.markup import Markup, together
from kailyard.web.register import Moved

PATH = "/what"
TITLE = "What is it?"
MENU = (4, 2)
TEMPLATE = "what.html"
FORESEES = True
MOST_BYTES = 40_000


@dataclass(frozen=True, slots=True)
class Query:
    """`of`: the planting; `given`: answers by sign; `seen`: the day of the first sight."""

    of: str = ""
    seen: str = ""
    given: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Form:
    """What was found, with the answers that it rests on."""

    of: str
    trouble: str
    id: str = ""
    sure: Literal["likely", "settled"] = "likely"
    seen: str = ""
    given: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Page:
    """The answer as markup, and the form."""

    title: str
    query: Query
    answer: Markup
    form: WhatForm
    injury: Markup
    """The record of an injury that holds the planting back; empty where none does."""

    def fresh(self) -> str:
        """An identifier for one more form."""
        return once()


QUERY = Query
FORM = Form


def page(desk: Desk, query: Query, person: Visitor) -> Page:
    """The form, and what the answers come to."""
    if not query.of:
        return Page(TITLE, query, Markup(), what_form(desk, None, {}), Markup())
    answers = read_answers(_words(query.given))
    document = diagnosis(desk, query.of, answers, seen=query.seen or None)
    drawn = body(document, asks=True)
    held = open_injury(desk, query.of)
    injury = together(*body(held).parts[1:]) if held else Markup()
    return Page(drawn.title, query, together(*drawn.parts), what_form(desk, document, answers), injury)


def post(desk: Desk, form: Form, person: Visitor) -> Moved:
    """Keep what was found."""
    answers = read_answers(_words(form.given))
    settled, seen = form.sure == "settled", form.seen or None
    kept = keep_found(desk, form.of, form.trouble, answers, settled=settled, seen=seen, id_=form.id or None)
    return Moved(f"/planting/{quote(form.of, safe='')}", f"Kept: {kept.rows[0][3]}.")


def _words(given: Mapping[str, str]) -> list[str]:
    return [f"{name}={value}" for name, value in given.items() if value.strip()]
