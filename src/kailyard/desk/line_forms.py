"""The forms beside a sheet's lines: which answers each line takes, and what 'done' asks in place."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from itertools import count

from kailyard.desk.desk import Desk
from kailyard.desk.forms import amount_units, usual_unit
from kailyard.documents.sheet import Line, NextLine, Sheet, WorkLine
from kailyard.garden.kinds import kind
from kailyard.garden.model import Garden
from kailyard.season.done import Asks
from kailyard.season.fitting import Verdict, comes_back, fitting

_DONE = {"protect": "covered for tonight"}
"""How 'done' is called where it ends less than the line: the next night asks again."""


@dataclass(frozen=True, slots=True)
class LineForm:
    """One form, to which the buttons beside a line belong wherever they stand."""

    id: str
    """Of the form on its page: 'answer-3'."""
    line: str
    of: tuple[str, ...]
    says: str
    answers: tuple[Verdict, ...]
    asks: Asks = ""
    """What 'done' asks in place."""
    done: str = "done"
    """How 'done' is called here."""
    units: tuple[str, ...] = ()
    """Of the amount that is asked, the usual first."""
    unit: str = ""
    """The one that was last used."""


@dataclass(frozen=True, slots=True)
class LineForms:
    """The forms of one sheet."""

    by_line: Mapping[str, tuple[LineForm, ...]] = field(default_factory=dict)
    """By line. The last is of the whole line; where each of its plantings is asked its own amount, one each before."""
    leave: date | None = None
    """The day that 'leave it' proposes."""

    def __iter__(self) -> Iterator[LineForm]:
        """Every form, in the order of the lines."""
        return (form for forms in self.by_line.values() for form in forms)


def line_forms(desk: Desk, sheet: Sheet) -> LineForms:
    """The forms of a sheet; none where it is of another day than today."""
    garden = desk.garden()
    if sheet.first != desk.today(garden):
        return LineForms()

    def make() -> LineForms:
        number = count(1)
        parts = (sheet.near, sheet.work, sheet.look, sheet.next)
        found = {
            line.name: tuple(replace(form, id=f"answer-{next(number)}") for form in _of_line(line, garden))
            for part in parts
            for line in part
        }
        return LineForms(found, comes_back("leave it", sheet.first))

    return desk.kept(("line forms", sheet.first, sheet.last), make)


def _of_line(line: Line, garden: Garden) -> Iterator[LineForm]:
    fit = fitting(line.name, line.of, "done", garden)[0]
    asks = fit.asks
    answers = _answers(line)
    work, _, rest = line.name.partition("/")
    seen = work == "look" and "/" in rest
    done = "seen" if seen else _DONE.get(work, "done")
    whole = LineForm("", line.name, line.of, line.says, answers, asks, done)
    if asks != "amount":
        yield whole
        return
    units = amount_units(kind(fit.kind), garden.units)
    if fit.kind != "pick":
        yield replace(whole, units=units, unit=units[0])
        return
    each = line.of if len(line.of) > 1 else (rest,)
    for planting in each:
        unit = usual_unit(garden, planting) or units[0]
        form = replace(whole, line=f"{work}/{planting}", of=(planting,), units=units, unit=unit)
        yield replace(form, answers=("done",)) if len(each) > 1 else form
    if len(each) > 1:
        yield replace(whole, asks="", answers=tuple(answer for answer in answers if answer != "done"))


def _answers(line: Line) -> tuple[Verdict, ...]:
    """A danger is met or not; what comes next may have been done already."""
    if isinstance(line, NextLine):
        return ("done", "leave it")
    if isinstance(line, WorkLine) or line.name.split("/")[0] in ("look", "watch", "frosted"):
        return ("done", "not yet", "leave it")
    return ("done",)
