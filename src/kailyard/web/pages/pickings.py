"""What will be picked week by week, and what was weighed."""

from __future__ import annotations

from dataclasses import dataclass

from kailyard.desk.desk import Desk
from kailyard.desk.new import settings
from kailyard.desk.people import Visitor
from kailyard.desk.picking import picking
from kailyard.publish import body
from kailyard.publish.markup import Markup

PATH = "/pickings"
TITLE = "Pickings"
MENU = (4, 5)
TEMPLATE = "pickings.html"
FORESEES = True


@dataclass(frozen=True, slots=True)
class Query:
    """`crop`: one crop by its key; '' for all."""

    crop: str = ""


@dataclass(frozen=True, slots=True)
class Page:
    """The document as markup; '' where there is no record to make it from."""

    query: Query
    body: Markup


QUERY = Query


def page(desk: Desk, query: Query, person: Visitor) -> Page:
    """The pickings as foreseen today."""
    found = settings(desk)
    if found and not found.weather:
        return Page(query, Markup())
    made = picking(desk, crop=query.crop)
    return Page(query, desk.kept(("picking body", made.on, query.crop), lambda: body(made).markup))
