"""What will be picked week by week, and what was weighed."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from kailyard.desk.answer import once
from kailyard.desk.desk import Desk
from kailyard.desk.line_forms import LineForm, weigh_forms
from kailyard.desk.new import settings
from kailyard.desk.people import Visitor
from kailyard.desk.picking import picking
from kailyard.desk.taken import Taken, taken
from kailyard.publish import body
from kailyard.publish.markup import Markup
from kailyard.web.answers import weigh_in

PATH = "/pickings"
TITLE = "Pickings"
MENU = (4, 5)
TEMPLATE = "pickings.html"
FORESEES = True


@dataclass(frozen=True, slots=True)
class Query:
    """`crop`: one crop by its key; '' for all. `kept`: entries just made, to be said back."""

    crop: str = ""
    kept: str = ""


@dataclass(frozen=True, slots=True)
class Page:
    """The document as markup; '' where there is no record to make it from."""

    query: Query
    body: Markup
    forms: tuple[LineForm, ...]
    """To weigh in, one for each planting."""
    today: date
    taken: Taken | None

    def fresh(self) -> str:
        """An identifier for one more form."""
        return once()


QUERY = Query


def page(desk: Desk, query: Query, person: Visitor) -> Page:
    """The pickings as foreseen today, each planting to be weighed in."""
    found, today = settings(desk), desk.today(desk.garden())
    said = taken(desk, query.kept) if query.kept else None
    if found and not found.weather:
        return Page(query, Markup(), (), today, said)
    made = picking(desk, crop=query.crop)
    forms = weigh_forms(desk, (one.planting for crop in made.crops for one in crop.plantings))
    shown = desk.kept(
        ("picking body", made.on, query.crop),
        lambda: body(made, beside=lambda planting: weigh_in(forms, planting)),
    )
    return Page(query, shown.markup, tuple(forms.values()), today, said)
