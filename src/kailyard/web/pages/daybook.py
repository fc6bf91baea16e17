"""The daybook, newest first: searched, leafed through; an entry opened to be put right or withdrawn."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict, dataclass, field
from datetime import date
from typing import Literal
from urllib.parse import urlencode

from kailyard.desk.desk import Desk
from kailyard.desk.leaf import Leaf, Sought, leaf
from kailyard.desk.mend import Opened, opened, put_right, take_out
from kailyard.desk.people import Visitor
from kailyard.web.register import Moved

PATH = "/daybook"
TITLE = "Daybook"
MENU = 4
TEMPLATE = "daybook.html"


@dataclass(frozen=True, slots=True)
class Query:
    """What is sought, and from where on. `entry`: that one is opened."""

    find: str = ""
    kind: str = ""
    target: str = ""
    bed: str = ""
    who: str = ""
    since: date | None = None
    until: date | None = None
    entry: str = ""
    after: str = ""


@dataclass(frozen=True, slots=True)
class Form:
    """An entry put right, or withdrawn; `text` then says why."""

    wish: Literal["put right", "withdraw"]
    entry: str
    target: str = ""
    happened: str = ""
    text: str = ""
    fields: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Page:
    """One leaf, what was sought, and the entry that is open."""

    query: Query
    leaf: Leaf
    opened: Opened | None
    again: tuple[tuple[str, str], ...]
    """What was sought, for the next leaf."""


QUERY = Query
FORM = Form


def page(desk: Desk, query: Query, person: Visitor) -> Page:
    """The leaf asked for."""
    asked = asdict(query)
    after = asked.pop("after")
    found = leaf(desk, Sought(**asked), after=after)
    again = tuple((key, str(value)) for key, value in asked.items() if value)
    return Page(query, found, opened(desk, query.entry) if query.entry else None, again)


def post(desk: Desk, form: Form, person: Visitor) -> Moved:
    """Do what was wished; the entry and what took its place are shown."""
    at = f"{PATH}?{urlencode({'entry': form.entry})}"
    if form.wish == "withdraw":
        return Moved(at, take_out(desk, form.entry, text=form.text))
    said = put_right(desk, form.entry, target=form.target, happened=form.happened, text=form.text, fields=form.fields)
    return Moved(at, said)
