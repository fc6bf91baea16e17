"""The way in."""

from __future__ import annotations

from dataclasses import dataclass

from kailyard.desk.desk import Desk
from kailyard.desk.people import Visitor, people_of
from kailyard.web.register import Moved

PATH = "/login"
TITLE = "Come in"
MENU = None
TEMPLATE = "login.html"
OPEN = True
MOST_BYTES = 20_000


@dataclass(frozen=True, slots=True)
class Query:
    """`next`: where to go then."""

    next: str = "/"


@dataclass(frozen=True, slots=True)
class Form:
    """Who it is."""

    name: str
    passphrase: str
    next: str = "/"


@dataclass(frozen=True, slots=True)
class Page:
    """Where to go once in."""

    next: str


QUERY = Query
FORM = Form


def page(desk: Desk, query: Query, person: Visitor) -> Page:
    """The form."""
    return Page(here(query.next))


def post(desk: Desk, form: Form, person: Visitor) -> Moved:
    """In, or a line that says why not."""
    token = people_of(desk).let_in(form.name, form.passphrase, at=person)
    return Moved(here(form.next), token=token)


def here(address: str) -> str:
    """`address` where it is a path of this door, else the sheet: nobody is led away by a link to the way in."""
    inside = address.startswith("/") and not address.startswith("//") and "\\" not in address
    return address if inside and address.isprintable() and address.isascii() else "/"
