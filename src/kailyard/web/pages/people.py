"""Names: who may come in, from which devices; one's own passphrase."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from kailyard.desk.desk import Desk
from kailyard.desk.people import Person, Session, Visitor, people_of
from kailyard.errors import UsageError
from kailyard.web.register import Moved

PATH = "/people"
TITLE = "Names"
MENU = None
TEMPLATE = "people.html"
MOST_BYTES = 20_000


@dataclass(frozen=True, slots=True)
class Form:
    """One wish at a time; only its own fields are read."""

    wish: Literal["add", "remove", "change", "end", "end others"]
    name: str = ""
    passphrase: str = ""
    old: str = ""
    session: str = ""


@dataclass(frozen=True, slots=True)
class Page:
    """Everybody, and the visitor's own devices."""

    everybody: tuple[Person, ...]
    me: Visitor
    sessions: tuple[Session, ...]


FORM = Form


@dataclass(frozen=True, slots=True)
class Query:
    """Nothing is asked."""


QUERY = Query


def page(desk: Desk, query: Query, person: Visitor) -> Page:
    """Who there is."""
    people = people_of(desk)
    return Page(people.everybody(), person, people.sessions(person) if person.name else ())


def post(desk: Desk, form: Form, person: Visitor) -> Moved:
    """Do the one thing asked."""
    people = people_of(desk)
    if form.wish == "add":
        added = people.add(form.name, form.passphrase, by=person)
        if not person.name:
            # The door has just been shut: whoever gave the first name is in under it.
            token = people.let_in(added.name, form.passphrase, at=person)
            return Moved(PATH, f"You are {added.name}. From now on everybody gives name and passphrase.", token=token)
        return Moved(PATH, f"{added.name} may come in.")
    if form.wish == "remove":
        people.remove(form.name, by=person)
        return Moved(PATH, "The name is removed; what was entered under it stays in the daybook.")
    if not person.name:
        raise UsageError("Give yourself a name first.")
    if form.wish == "change":
        people.change(form.passphrase, old=form.old, by=person)
        return Moved(PATH, "The passphrase is changed; your other devices must come in anew.")
    if form.wish == "end":
        people.end(form.session, by=person)
        return Moved(PATH, "That device must come in anew.")
    people.end_others(person)
    return Moved(PATH, "All other devices must come in anew.")
