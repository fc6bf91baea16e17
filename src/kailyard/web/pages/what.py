"""What is it? A form that works without a script: answers, the next question, the ranking unfolding, what was found."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Literal
from urllib.parse import quote, urlencode

from kailyard.desk.answer import once
from kailyard.desk.desk import Desk
from kailyard.desk.diagnose import WhatForm, category_of, diagnosis, keep_found, kept_answers, read_answers, what_form
from kailyard.desk.held import held_words
from kailyard.desk.people import Visitor
from kailyard.publish import body
from kailyard.publish.html.diagnosis import foot
from kailyard.publish.markup import Markup, together
from kailyard.web.register import Moved

PATH = "/what"
TITLE = "What is it?"
MENU = (4, 2)
TEMPLATE = "what.html"
KEEPS = True
WAITS = True
FORESEES = True
MOST_BYTES = 40_000


@dataclass(frozen=True, slots=True)
class Query:
    """`of`: the planting; `bed`: where to choose it from; `given`: answers by sign; `seen`: the first sight."""

    of: str = ""
    bed: str = ""
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
    text: str = ""
    given: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Page:
    """The answer as markup, and the form."""

    title: str
    today: date
    query: Query
    answer: Markup
    foot: Markup
    form: WhatForm
    held: str
    """Why nothing of the planting is picked or eaten; '' where nothing holds it back."""
    before: tuple[tuple[str, str], ...]
    """(what was found, the address that goes on from its answers)."""

    def fresh(self) -> str:
        """An identifier for one more form."""
        return once()


QUERY = Query
FORM = Form


def page(desk: Desk, query: Query, person: Visitor) -> Page | Moved:
    """The form, and what the answers come to."""
    today = desk.today(desk.garden())
    if not query.of:
        form = what_form(desk, None, {}, bed=query.bed)
        return Page(TITLE, today, query, Markup(), Markup(), form, "", ())
    said = {name: value for name, value in query.given.items() if value.strip()}
    if len(said) < len(query.given):
        # A form sends its blanks too: the address without them is the one to come back to, and to keep.
        return Moved(_address(query.of, query.seen, said))
    answers = read_answers(_words(said))
    document = diagnosis(desk, query.of, answers, seen=query.seen or None)
    drawn = body(document, asks=True)
    form = what_form(desk, document, answers)
    before = tuple((name, _address(query.of, "", kept_answers(signs))) for name, signs in form.before)
    held = held_words(desk, query.of)
    return Page(drawn.title, today, query, together(*drawn.parts), together(*foot(document)), form, held, before)


def post(desk: Desk, form: Form, person: Visitor) -> Moved:
    """Keep what was found, and go on to what may be done about it."""
    answers = read_answers(_words(form.given))
    settled, seen = form.sure == "settled", form.seen or None
    kept = keep_found(
        desk, form.of, form.trouble, answers, settled=settled, seen=seen, text=form.text, id_=form.id or None
    )
    return Moved(_onward(desk, form), f"Kept: {kept.rows[0][3]}.")


def _onward(desk: Desk, form: Form) -> str:
    category = category_of(form.trouble)
    if category == "herbicide" and not held_words(desk, form.of):
        return f"/enter?{urlencode({'kind': 'injury', 'of': form.of})}"
    if category == "herbicide":
        return f"/injury?{urlencode({'of': form.of})}"
    of = quote(form.of, safe="")
    return f"/planting/{of}" if category == "harmless" else f"/options/{of}?{urlencode({'trouble': form.trouble})}"


def _address(of: str, seen: str, given: Mapping[str, str]) -> str:
    asked = {"of": of, **({"seen": seen} if seen else {}), **{f"given.{name}": value for name, value in given.items()}}
    return f"{PATH}?{urlencode(asked)}"


def _words(given: Mapping[str, str]) -> list[str]:
    return [f"{name}={value}" for name, value in given.items() if value.strip()]
