"""The daybook, newest first, searched and leafed through."""

from __future__ import annotations

from dataclasses import dataclass

from kailyard.desk.desk import Desk
from kailyard.desk.leaf import Leaf, leaf
from kailyard.desk.people import Visitor

PATH = "/daybook"
TITLE = "Daybook"
MENU = 4
TEMPLATE = "daybook.html"


@dataclass(frozen=True, slots=True)
class Query:
    """What is sought, and from where on."""

    find: str = ""
    kind: str = ""
    target: str = ""
    after: str = ""


@dataclass(frozen=True, slots=True)
class Page:
    """One leaf, and what was sought."""

    query: Query
    leaf: Leaf


QUERY = Query


def page(desk: Desk, query: Query, person: Visitor) -> Page:
    """The leaf asked for."""
    return Page(query, leaf(desk, find=query.find, kind=query.kind, target=query.target, after=query.after))
