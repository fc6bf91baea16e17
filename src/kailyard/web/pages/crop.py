"""A crop's facts, each with its ground; one's own written in their place."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal
from urllib.parse import quote

from kailyard.desk.desk import Desk
from kailyard.desk.own_facts import CropFacts, crop_facts, drop_own_fact, set_own_fact
from kailyard.desk.people import Visitor
from kailyard.web.register import Moved

PATH = "/handbook/{crop}"
TITLE = "Crop"
MENU = None
TEMPLATE = "crop.html"
MOST_BYTES = 20_000


@dataclass(frozen=True, slots=True)
class Query:
    """`change`: the fact that stands open."""

    crop: str
    change: str = ""


@dataclass(frozen=True, slots=True)
class Form:
    """One fact; `was` is its value on the page."""

    crop: str
    key: str
    wish: Literal["set", "drop"] = "set"
    value: str = ""
    note: str = ""
    was: str = ""


@dataclass(frozen=True, slots=True)
class Page:
    """All that is known of the crop."""

    title: str
    facts: CropFacts
    query: Query


QUERY = Query
FORM = Form


def page(desk: Desk, query: Query, person: Visitor) -> Page:
    """The facts."""
    found = crop_facts(desk, query.crop)
    return Page(found.name, found, query)


def post(desk: Desk, form: Form, person: Visitor) -> Moved:
    """Write or take back one's own."""
    to = f"/handbook/{quote(form.crop, safe='')}#{quote(form.key)}"
    if form.wish == "drop":
        return Moved(to, drop_own_fact(desk, form.crop, form.key))
    return Moved(to, set_own_fact(desk, form.crop, form.key, form.value, note=form.note, was=form.was))
