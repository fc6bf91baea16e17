"""The record of an injury, to be read, printed and handed over."""

from __future__ import annotations

from dataclasses import dataclass

from kailyard.desk.desk import Desk
from kailyard.desk.injury import any_injury, injury
from kailyard.desk.people import Visitor
from kailyard.publish import body
from kailyard.publish.markup import Markup

PATH = "/injury"
TITLE = "Injury"
MENU = None
TEMPLATE = "injury.html"
KEEPS = True
FORESEES = True


@dataclass(frozen=True, slots=True)
class Query:
    """`of`: a planting or bed; '' for the last injury of the garden."""

    of: str = ""


@dataclass(frozen=True, slots=True)
class Page:
    """The record as markup; '' where nothing is written down."""

    title: str
    kind: str
    target: str
    """What it is of, where it is one planting or bed."""
    held: bool
    entry: str
    """The entry that is put right where something was written down wrongly."""
    body: Markup


QUERY = Query


def page(desk: Desk, query: Query, person: Visitor) -> Page:
    """The record asked for; a word where none is asked for and there is none."""
    if not query.of and not any_injury(desk):
        return Page(TITLE, "", "", False, "", Markup())
    made = injury(desk, query.of or None)
    drawn = body(made)
    return Page(drawn.title, drawn.kind or "", query.of or made.target, made.held, made.entry, drawn.markup)
