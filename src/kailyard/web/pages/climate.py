"""The place's frost and season, and this season against the years."""

from __future__ import annotations

from dataclasses import dataclass

from kailyard.desk.ask import climate
from kailyard.desk.desk import Desk
from kailyard.desk.new import settings
from kailyard.desk.people import Visitor
from kailyard.publish import body
from kailyard.publish.markup import Markup

PATH = "/climate"
TITLE = "Climate"
MENU = (3, 2)
TEMPLATE = "climate.html"


@dataclass(frozen=True, slots=True)
class Query:
    """`trend`: whether the past years are brought to today's climate."""

    trend: bool = True


@dataclass(frozen=True, slots=True)
class Page:
    """The document as markup; '' where there is no record to make it from."""

    query: Query
    body: Markup


QUERY = Query


def page(desk: Desk, query: Query, person: Visitor) -> Page:
    """The climate as foreseen today."""
    found = settings(desk)
    if found and not found.weather:
        return Page(query, Markup())
    made = climate(desk, use_trend=query.trend)
    return Page(query, desk.kept(("climate body", made.on, query.trend), lambda: body(made).markup))
