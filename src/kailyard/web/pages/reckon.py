"""One formula of the science: its form, and its answer with its source."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from kailyard.desk.desk import Desk
from kailyard.desk.people import Visitor
from kailyard.desk.reckon import Method, describe, reckon
from kailyard.documents.table import Table
from kailyard.errors import UsageError

PATH = "/reckoner/{method}"
TITLE = "Reckon"
MENU = None
TEMPLATE = "reckon.html"


@dataclass(frozen=True, slots=True)
class Query:
    """Which formula, and what is given to it."""

    method: str
    given: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Page:
    """The formula, what was given, and the answer or what was wrong with it."""

    title: str
    method: Method
    given: Mapping[str, str]
    answer: Table | None
    wrong: str


QUERY = Query


def page(desk: Desk, query: Query, person: Visitor) -> Page:
    """The form, and once it is filled in the answer."""
    method = describe(query.method)
    title = method.name.replace("_", " ")
    if not query.given:
        return Page(title, method, {}, None, "")
    words = [f"{name}={value.strip()}" for name, value in query.given.items() if value.strip()]
    try:
        return Page(title, method, query.given, reckon(method.name, words), "")
    except UsageError as err:
        return Page(title, method, query.given, None, str(err))
