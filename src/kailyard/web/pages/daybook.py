"""The daybook, newest first: searched, leafed through; an entry opened to be put right or withdrawn."""

from __future__ import annotations

from dataclasses import asdict, dataclass
from datetime import date
from urllib.parse import urlencode

from kailyard.desk.desk import Desk
from kailyard.desk.leaf import Leaf, Sought, leaf
from kailyard.desk.mend import Opened, opened, take_out
from kailyard.desk.people import Visitor
from kailyard.web.register import Moved

PATH = "/daybook"
TITLE = "Daybook"
MENU = (1, 3)
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
    """An entry withdrawn; `text` says why."""

    entry: str
    text: str = ""


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
    """Withdraw the entry; it is shown with what took its place."""
    at = f"{PATH}?{urlencode({'entry': form.entry})}"
    return Moved(at, take_out(desk, form.entry, text=form.text))
