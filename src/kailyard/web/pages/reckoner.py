"""The formulas of the science, listed."""

from __future__ import annotations

from dataclasses import dataclass

from kailyard.desk.desk import Desk
from kailyard.desk.people import Visitor
from kailyard.desk.reckon import methods
from kailyard.documents.methods import Method
from kailyard.web.register import NoQuery

PATH = "/reckoner"
TITLE = "Reckoner"
MENU = (3, 4)
TEMPLATE = "reckoner.html"


@dataclass(frozen=True, slots=True)
class Page:
    """Every formula."""

    methods: tuple[Method, ...]


QUERY = NoQuery


def page(desk: Desk, query: NoQuery, person: Visitor) -> Page:
    """The list."""
    return Page(methods().methods)
