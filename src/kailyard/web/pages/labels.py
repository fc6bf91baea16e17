"""The labels of products that the gardener owns, typed off them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal
from urllib.parse import quote

from kailyard.desk.answer import once
from kailyard.desk.desk import Desk
from kailyard.desk.labels import LabelForm, label_form, put_aside, set_label
from kailyard.desk.people import Visitor
from kailyard.web.register import Moved

PATH = "/labels"
TITLE = "Labels"
MENU = (4, 3)
TEMPLATE = "labels.html"
MOST_BYTES = 40_000


@dataclass(frozen=True, slots=True)
class Query:
    """`name`: the record whose form stands open."""

    name: str = ""


@dataclass(frozen=True, slots=True)
class Form:
    """What was typed; a blank is 'not read yet'."""

    name: str
    wish: Literal["keep", "remove"] = "keep"
    id: str = ""
    given: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Page:
    """The records, and one form."""

    form: LabelForm

    def fresh(self) -> str:
        """An identifier for one more form."""
        return once()


QUERY = Query
FORM = Form


def page(desk: Desk, query: Query, person: Visitor) -> Page:
    """The records."""
    return Page(label_form(desk, query.name))


def post(desk: Desk, form: Form, person: Visitor) -> Moved:
    """Keep the record, or put it aside."""
    if form.wish == "remove":
        return Moved(PATH, f"{put_aside(desk, form.name).title}.")
    made = set_label(desk, form.name, form.given, id_=form.id or None)
    return Moved(f"{PATH}?name={quote(form.name)}#label", f"Kept. {made.notes[0]}")
