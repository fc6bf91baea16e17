"""When each bed wants water, how much and how long; what was used."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from kailyard.desk.desk import Desk
from kailyard.desk.new import settings
from kailyard.desk.people import Visitor
from kailyard.desk.water import water
from kailyard.documents.water import BedWater
from kailyard.publish import body
from kailyard.publish.markup import Markup, el, spaced

PATH = "/water"
TITLE = "Water"
MENU = (1, 4)
TEMPLATE = "water.html"
FORESEES = True


@dataclass(frozen=True, slots=True)
class Query:
    """`on`: the day from which to look; else today."""

    on: date | None = None


@dataclass(frozen=True, slots=True)
class Page:
    """The document as markup; '' where there is no record to make it from."""

    body: Markup


QUERY = Query


def page(desk: Desk, query: Query, person: Visitor) -> Page:
    """The water as foreseen."""
    found = settings(desk)
    if found and not found.weather:
        return Page(Markup())
    made = water(desk, on=query.on)
    return Page(desk.kept(("water body", made.on), lambda: body(made, beside=_enter).markup))


def _enter(bed: BedWater) -> Markup:
    """The two entries that a bed's water waits for."""
    links = (
        el("a", said, href=f"/enter?kind={kind}&of={bed.bed}")
        for kind, said in (("water", "watered"), ("moisture", "squeezed a handful"))
    )
    return el("p", spaced(*links), class_="actions screen")
