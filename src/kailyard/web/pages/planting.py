"""One planting: its life as a strip of stages, what work asks of it, its entries, and what is likely to be entered."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from kailyard.desk.answer import once
from kailyard.desk.desk import Desk
from kailyard.desk.forms import pick_units
from kailyard.desk.held import held_words
from kailyard.desk.life import LifeOf, life_of
from kailyard.desk.likely import Offer, offer_of
from kailyard.desk.people import Visitor
from kailyard.desk.taken import Taken, taken
from kailyard.publish import body
from kailyard.publish.markup import Markup, together

PATH = "/planting/{planting}"
TITLE = "Planting"
MENU = None
TEMPLATE = "planting.html"
KEEPS = True
FORESEES = True


@dataclass(frozen=True, slots=True)
class Query:
    """Which planting. `kept`: entries just made."""

    planting: str
    kept: str = ""


@dataclass(frozen=True, slots=True)
class Page:
    """The planting as markup and lists."""

    title: str
    today: date
    id: str
    life: LifeOf
    stages: Markup
    work: Markup
    offer: Offer
    pick_units: tuple[str, ...]
    taken: Taken | None
    held: str
    """Why nothing of it is picked or eaten; '' where no injury holds it back."""

    def fresh(self) -> str:
        """An identifier for one more form."""
        return once()


QUERY = Query


def page(desk: Desk, query: Query, person: Visitor) -> Page:
    """The planting asked for."""
    garden = desk.garden()
    today = desk.today(garden)
    life = life_of(desk, query.planting)
    stages, work = life.stages, life.work
    # The head and foot of both documents are left out: this page has its own.
    drawn = desk.kept(
        ("life drawn", query.planting, today),
        lambda: (
            together(*body(stages).parts[1:]) if stages else Markup(),
            together(*body(work).parts[1:-1]) if work else Markup(),
        ),
    )
    return Page(
        title=f"{life.name}, {life.bed}",
        today=today,
        id=query.planting,
        life=life,
        stages=drawn[0],
        work=drawn[1],
        offer=offer_of(desk, query.planting),
        pick_units=pick_units(desk),
        taken=taken(desk, query.kept) if query.kept else None,
        held=held_words(desk, query.planting),
    )
