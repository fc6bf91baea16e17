"""The sheet, each line to be answered in place."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from kailyard.desk.answer import Verdict, answer_line, once
from kailyard.desk.ask import sheet
from kailyard.desk.desk import Desk
from kailyard.desk.people import Visitor
from kailyard.documents.sheet import Line, WorkLine
from kailyard.errors import UsageError
from kailyard.publish import body
from kailyard.publish.markup import Markup, el
from kailyard.web.register import Moved

PATH = "/"
TITLE = "Sheet"
MENU = 1
TEMPLATE = "sheet.html"


@dataclass(frozen=True, slots=True)
class Query:
    """Which days; none named: a week from today."""

    on: date | None = None
    days: int = 7


@dataclass(frozen=True, slots=True)
class Form:
    """One line's name under the answer given to it; `mark` is that of the page it was sent from."""

    mark: str
    done: str = ""
    not_yet: str = ""
    leave_it: str = ""


@dataclass(frozen=True, slots=True)
class Page:
    """The sheet as markup."""

    title: str
    kind: str | None
    body: Markup
    mark: str


QUERY = Query
FORM = Form


def page(desk: Desk, query: Query, person: Visitor) -> Page:
    """The sheet asked for."""
    made = sheet(desk, on=query.on, days=query.days)
    beside = answers if query.on is None else no_answers
    shown = desk.kept(("sheet body", made.first, made.last, query.on is None), lambda: body(made, beside=beside))
    return Page(shown.title, shown.kind, shown.markup, once())


def post(desk: Desk, form: Form, person: Visitor) -> Moved:
    """Keep the answer."""
    given: tuple[tuple[Verdict, str], ...] = (
        ("done", form.done),
        ("not yet", form.not_yet),
        ("leave it", form.leave_it),
    )
    for verdict, line in given:
        if line:
            return Moved(PATH, answer_line(desk, line, verdict, mark=form.mark))
    raise UsageError("No line was answered.")


def answers(line: Line) -> Markup:
    """The three answers to a line of work; they belong to the one form at the page's foot."""
    if not isinstance(line, WorkLine):
        return Markup()

    def button(name: str, words: str) -> Markup:
        label = f"{words}: {line.says}"
        return el("button", words, class_="quiet", form="answer", name=name, value=line.name, aria_label=label)

    given = (button("done", "done"), button("not_yet", "not yet"), button("leave_it", "leave it"))
    return el("span", *given, class_="inline screen")


def no_answers(line: Line) -> Markup:
    """Another day's sheet is only read."""
    return Markup()
