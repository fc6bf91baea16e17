"""The way out: the session of this device ends."""

from __future__ import annotations

from dataclasses import dataclass

from kailyard.desk.desk import Desk
from kailyard.desk.people import Visitor, people_of
from kailyard.web.register import Moved

PATH = "/logout"
TITLE = "Go out"
MENU = None
MOST_BYTES = 20_000


@dataclass(frozen=True, slots=True)
class Form:
    """Nothing but the wish."""


FORM = Form


def post(desk: Desk, form: Form, person: Visitor) -> Moved:
    """Out."""
    people_of(desk).let_out(person)
    return Moved("/login", token="")
