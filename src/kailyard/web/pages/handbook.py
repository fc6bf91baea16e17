"""The handbook: its crops, and the shakiest of the facts that the sheet leans on."""

from __future__ import annotations

from dataclasses import dataclass

from kailyard.desk.desk import Desk
from kailyard.desk.facts import crops, gaps
from kailyard.desk.new import settings
from kailyard.desk.people import Visitor
from kailyard.documents.table import Table

PATH = "/handbook"
TITLE = "Handbook"
MENU = (3, 3)
TEMPLATE = "handbook.html"


@dataclass(frozen=True, slots=True)
class Query:
    """`gaps`: the shakiest facts too, which needs the season foreseen."""

    gaps: bool = False


@dataclass(frozen=True, slots=True)
class Page:
    """Every crop, and the gaps where they were asked for."""

    crops: Table
    gaps: Table | None
    weather: bool
    """Whether there is a record, without which no fact is leant on."""


QUERY = Query


def page(desk: Desk, query: Query, person: Visitor) -> Page:
    """The crops."""
    found = settings(desk)
    weather = bool(found and found.weather)
    return Page(crops(desk), gaps(desk) if query.gaps and weather else None, weather)
