"""What may be done about a trouble of a planting; what is not possible here is taken off, and the next shows."""

from __future__ import annotations

from dataclasses import dataclass
from urllib.parse import quote

from kailyard.desk.answer import once
from kailyard.desk.check import found_on, label_names
from kailyard.desk.desk import Desk
from kailyard.desk.people import Visitor
from kailyard.desk.remedies import TroubleOf, keep_steps, remedy, troubles_of
from kailyard.documents.options import Options
from kailyard.publish import body
from kailyard.publish.markup import Markup, together
from kailyard.web.register import Moved

PATH = "/options/{planting}"
TITLE = "Options"
MENU = None
TEMPLATE = "options.html"
KEEPS = True
WAITS = True
FORESEES = True
MOST_BYTES = 20_000


@dataclass(frozen=True, slots=True)
class Query:
    """`trouble`: else the last found. `gone`: steps that are not possible here. `count`: against the threshold."""

    planting: str
    trouble: str = ""
    gone: tuple[str, ...] = ()
    count: str = ""


@dataclass(frozen=True, slots=True)
class Form:
    """`gone`: all steps that are not possible here; what stood there before and does not now is possible after all."""

    planting: str
    trouble: str
    id: str = ""
    gone: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Page:
    """The options as markup, and what a form needs."""

    title: str
    query: Query
    troubles: tuple[TroubleOf, ...]
    document: Options | None
    body: Markup
    labels: tuple[str, ...]

    def fresh(self) -> str:
        """An identifier for one more form."""
        return once()


QUERY = Query
FORM = Form


def page(desk: Desk, query: Query, person: Visitor) -> Page:
    """The options of the trouble named, or of the one found last; without either the choice of one."""
    known, names = troubles_of(desk, query.planting), label_names(desk)
    found = query.trouble or found_on(desk, query.planting)
    if not found:
        return Page(TITLE, query, known, None, Markup(), names)
    document = remedy(desk, query.planting, found, not_possible=query.gone, count=query.count)
    drawn = body(document)
    return Page(document.name.capitalize(), query, known, document, together(*drawn.parts), names)


def post(desk: Desk, form: Form, person: Visitor) -> Moved:
    """Keep which steps are not possible here."""
    keep_steps(desk, form.planting, form.trouble, form.gone, id_=form.id or once())
    return Moved(f"/options/{quote(form.planting, safe='')}?trouble={quote(form.trouble, safe='')}", "Kept.")
