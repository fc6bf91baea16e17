"""What was typed on this device and waits: for signal, or for a person to decide. The list lives in the device."""

from __future__ import annotations

from dataclasses import dataclass

from kailyard.desk.desk import Desk
from kailyard.desk.people import Visitor
from kailyard.web.register import NoQuery

PATH = "/waiting"
TITLE = "Waiting"
MENU = None
TEMPLATE = "waiting.html"
KEEPS = True


@dataclass(frozen=True, slots=True)
class Page:
    """Whose list it is."""

    person: str


QUERY = NoQuery


def page(desk: Desk, query: NoQuery, person: Visitor) -> Page:
    """The page that a script fills."""
    return Page(person.name)
