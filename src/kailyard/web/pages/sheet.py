"""The sheet, each line to be answered in place."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Literal

from kailyard.desk.answer import Answered, answer_line, once
from kailyard.desk.ask import sheet
from kailyard.desk.desk import Desk
from kailyard.desk.line_forms import LineForms, line_forms
from kailyard.desk.people import Visitor
from kailyard.desk.seen import Since, look_at
from kailyard.desk.taken import Taken, taken
from kailyard.errors import UsageError
from kailyard.publish import body
from kailyard.publish.markup import Markup
from kailyard.web.answers import beside
from kailyard.web.register import Moved

PATH = "/"
TITLE = "Sheet"
MENU = (1, 1)
TEMPLATE = "sheet.html"
KEEPS = True
FORESEES = True
WAITS = True
DAYS = 7


@dataclass(frozen=True, slots=True)
class Query:
    """Which days; none named: a week from today. `whole`: every line. `kept`: entries just made, to be said back."""

    on: date | None = None
    days: int = DAYS
    whole: bool = False
    kept: str = ""


@dataclass(frozen=True, slots=True)
class Form:
    """An answer to one line; `id` was made with the form."""

    id: str = ""
    line: str = ""
    verdict: Literal["done", "not yet", "leave it"] | None = None
    of: str = ""
    """Plantings that the line speaks of, parted by commas."""
    until: date | None = None
    amount: str = ""
    unit: str = ""
    text: str = ""
    sound: str = ""
    feel: str = ""
    minutes: str = ""
    use: str = ""


@dataclass(frozen=True, slots=True)
class Page:
    """The sheet as markup, with the forms that its buttons belong to."""

    title: str
    kind: str | None
    body: Markup
    forms: LineForms
    mark: str
    on: date
    days: int
    more: int
    """Lines that found no room."""
    own: bool
    """Today's own sheet."""
    since: Since | None
    taken: Taken | None


QUERY = Query
FORM = Form


def page(desk: Desk, query: Query, person: Visitor) -> Page:
    """The sheet asked for. Only today's takes answers."""
    made = sheet(desk, on=query.on, days=query.days, whole=query.whole)
    forms = line_forms(desk, made)
    # Which lines have forms hangs on the day too: a sheet made for tomorrow takes answers when tomorrow has come.
    shown = desk.kept(
        ("sheet body", made.first, made.last, bool(forms.by_line), query.whole),
        lambda: body(made, beside=lambda line: beside(forms, line)),
    )
    own = query.on is None and query.days == DAYS and not query.whole
    return Page(
        title=shown.title,
        kind=shown.kind,
        body=shown.markup,
        forms=forms,
        mark=once(),
        on=made.first,
        days=query.days,
        more=made.more_work,
        own=own,
        since=look_at(desk, made, person.name) if own else None,
        taken=taken(desk, query.kept) if query.kept else None,
    )


def post(desk: Desk, form: Form, person: Visitor) -> Moved:
    """Keep the answer, and come back to the sheet with what was kept."""
    if form.verdict is None or not form.id or not form.line:
        raise UsageError("No line was answered.")
    ids = answer_line(
        desk,
        Answered(
            id=form.id,
            line=form.line,
            verdict=form.verdict,
            of=tuple(part for part in form.of.split(",") if part),
            until=form.until if form.verdict == "leave it" else None,
            amount=form.amount,
            unit=form.unit,
            text=form.text,
            sound=form.sound,
            feel=form.feel,
            minutes=form.minutes,
            use=form.use,
        ),
    )
    return Moved(f"{PATH}?kept={','.join(ids)}")
