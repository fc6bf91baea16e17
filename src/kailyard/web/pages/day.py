"""A pretended day moved on, for trying a garden out."""

from __future__ import annotations

from dataclasses import dataclass

from kailyard.desk.clock import move_on
from kailyard.desk.desk import Desk
from kailyard.desk.people import Visitor
from kailyard.publish.words import full_day
from kailyard.web.register import Moved

PATH = "/day"
TITLE = "Another day"
MENU = None


@dataclass(frozen=True, slots=True)
class Form:
    """How many days pass."""

    days: int = 1


FORM = Form


def post(desk: Desk, form: Form, person: Visitor) -> Moved:
    """Let them pass."""
    return Moved("/", f"It is {full_day(move_on(desk, form.days))}.")
