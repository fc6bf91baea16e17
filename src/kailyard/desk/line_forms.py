"""The forms beside a sheet's lines: which answers each line takes, and what 'done' asks in place."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from itertools import count

from kailyard.care.outlets import outlet_entries, outlet_of
from kailyard.desk.desk import Desk
from kailyard.desk.forms import amount_units, feels, usual_unit
from kailyard.desk.shelf import handbook
from kailyard.desk.uses import use_now, uses_offered
from kailyard.documents.sheet import Line, NextLine, Sheet, WorkLine
from kailyard.garden.kinds import kind
from kailyard.garden.model import Garden
from kailyard.handbook.types import Handbook
from kailyard.season.done import Asks
from kailyard.season.fitting import Verdict, comes_back, fitting

_DONE = {"protect": "covered for tonight"}
"""How 'done' is called where it ends less than the line: the next night asks again."""
WATERED_BY = ("minutes", "cans")
"""What a watering may be counted in besides an amount: fields of its entry."""


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
    sends: str = "keep"
    """How the amount asked is sent: 'picked', 'watered'."""
    units: tuple[str, ...] = ()
    """Of the amount that is asked, the usual first."""
    unit: str = ""
    """The one that was last used."""
    uses: tuple[str, ...] = ()
    """What a picking may be for; () where there is no choice."""
    use: str = ""
    """What it is for now; ''."""
    feels: tuple[tuple[str, str], ...] = ()
    """(word, words) of how a handful may hold, where that is asked."""


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
    garden, book = desk.garden(), handbook(desk)
    if sheet.first != desk.today(garden):
        return LineForms()

    def make() -> LineForms:
        number = count(1)
        parts = (sheet.near, sheet.work, sheet.look, sheet.next)
        found = {
            line.name: tuple(
                replace(form, id=f"answer-{next(number)}") for form in _of_line(line, garden, book, sheet.first)
            )
            for part in parts
            for line in part
        }
        return LineForms(found, comes_back("leave it", sheet.first))

    return desk.kept(("line forms", sheet.first, sheet.last, sheet.more_work), make)  # the whole sheet has more lines


def weigh_forms(desk: Desk, plantings: Iterable[str]) -> Mapping[str, LineForm]:
    """A form to weigh in each planting of a page of pickings, by planting."""
    garden, book = desk.garden(), handbook(desk)
    units = amount_units(kind("pick"), garden.units)
    return {
        planting: LineForm(
            f"weigh-{n}", f"pick/{planting}", (planting,), planting, ("done",), "amount", "picked", "picked",
            units, usual_unit(garden, planting) or units[0],
            uses_offered(garden, book, planting), use_now(garden, book, planting),
        )
        for n, planting in enumerate(dict.fromkeys(plantings), start=1)
    }  # fmt: skip


def _of_line(line: Line, garden: Garden, book: Handbook, today: date) -> Iterator[LineForm]:
    fit = fitting(line.name, line.of, "done", garden)[0]
    asks = fit.asks
    answers = _answers(line)
    work, _, rest = line.name.partition("/")
    seen = work == "look" and "/" in rest
    done = "seen" if seen else _DONE.get(work, "done")
    whole = LineForm("", line.name, line.of, line.says, answers, asks, done)
    if asks != "amount":
        yield replace(whole, feels=feels(book)) if asks == "feel" else whole
        return
    units = amount_units(kind(fit.kind), garden.units)
    if fit.kind == "water":
        units = (*units, *WATERED_BY)
        usual = _watered_by(fit.target, garden, book, today) or units[0]
        yield replace(whole, units=units, unit=usual, sends="watered")
        return
    if fit.kind != "pick":
        yield replace(whole, units=units, unit=units[0])
        return
    each = line.of if len(line.of) > 1 else (rest,)
    for planting in each:
        unit = usual_unit(garden, planting) or units[0]
        form = replace(whole, line=f"{work}/{planting}", of=(planting,), units=units, unit=unit, sends="picked")
        form = replace(form, uses=uses_offered(garden, book, planting), use=use_now(garden, book, planting))
        yield replace(form, answers=("done",)) if len(each) > 1 else form
    if len(each) > 1:
        yield replace(whole, asks="", answers=tuple(answer for answer in answers if answer != "done"))


def _watered_by(bed: str, garden: Garden, book: Handbook, today: date) -> str:
    """In what a bed's watering is counted at its outlet; '' where nobody has measured one."""
    outlet = outlet_of(outlet_entries(garden), bed, book, on=today)
    return "" if outlet.entry is None else "cans" if outlet.can_l else "minutes"


def _answers(line: Line) -> tuple[Verdict, ...]:
    """A danger is met or not; what comes next may have been done already."""
    if isinstance(line, NextLine):
        return ("done", "leave it")
    if isinstance(line, WorkLine) or line.name.split("/")[0] in ("look", "watch", "frosted"):
        return ("done", "not yet", "leave it")
    return ("done",)
