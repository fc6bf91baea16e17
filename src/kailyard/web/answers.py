"""The small forms beside a sheet's lines: done, not yet, leave it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date

from kailyard.desk.answer import asks
from kailyard.desk.desk import Desk
from kailyard.desk.forms import amount_units, usual_unit
from kailyard.documents.sheet import Line, NextLine, Sheet, WorkLine
from kailyard.garden.kinds import kind
from kailyard.publish.markup import Markup, el, spaced, together
from kailyard.season.fitting import Asks, comes_back


@dataclass(frozen=True, slots=True)
class LineForm:
    """One form, to which the buttons beside a line belong wherever they stand."""

    id: str
    """Of the form element: 'answer-3'."""
    line: str
    of: tuple[str, ...]
    says: str
    asks: Asks
    """What 'done' asks in place."""
    units: tuple[str, ...]
    unit: str
    answers: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Forms:
    """The forms of one sheet."""

    by_line: Mapping[str, tuple[LineForm, ...]] = field(default_factory=dict)
    """By line; several where a line speaks of several plantings and each is asked its own amount."""
    leave: date | None = None
    """The day that 'leave it' proposes."""

    def __iter__(self) -> Iterator[LineForm]:
        """Every form, in the order of the lines."""
        return (form for forms in self.by_line.values() for form in forms)

    def beside(self, line: Line) -> Markup:
        """The answers to a line; nothing where it takes none."""
        forms = self.by_line.get(line.name, ())
        if not forms:
            return Markup()
        whole, several = forms[-1], len(forms) > 1
        done = [_done(form, several=several) for form in forms if "done" in form.answers]
        said = [_unfold("done", *done)] if several else done
        if "not yet" in whole.answers:
            said.append(_button(whole, "not yet"))
        if "leave it" in whole.answers and self.leave is not None:
            until = el("input", type="date", name="until", form=whole.id, value=self.leave.isoformat(), required=True)
            said.append(
                _unfold("leave it", el("label", "until ", until), el("span", _send(whole, "leave it", "leave it")))
            )
        return el("span", spaced(*said), class_="answers screen")


def forms_of(desk: Desk, sheet: Sheet) -> Forms:
    """The forms of today's sheet."""

    def make() -> Forms:
        garden = desk.garden()
        found: dict[str, tuple[LineForm, ...]] = {}
        number = 0
        for part in (sheet.near, sheet.work, sheet.look, sheet.next):
            for line in part:
                asked, answers = asks(garden, line), _answers(line)
                several = asked == "amount" and len(line.of) > 1
                work = line.name.split("/")[0]
                each = [(f"{work}/{planting}", (planting,)) for planting in line.of] if several else []
                parts: list[tuple[str, tuple[str, ...], Asks, tuple[str, ...]]] = [
                    (n, of, asked, ("done",)) for n, of in each
                ]
                parts.append((line.name, line.of, "" if several else asked, answers[1:] if several else answers))
                forms = []
                for name, of, asks_, answers_ in parts:
                    number += 1
                    units = amount_units(kind("pick"), garden.units) if asks_ == "amount" else ()
                    unit = usual_unit(garden, name.split("/")[1]) if units else ""
                    forms.append(LineForm(f"answer-{number}", name, of, line.says, asks_, units, unit, answers_))
                found[line.name] = tuple(forms)
        return Forms(found, comes_back("leave it", sheet.first))

    return desk.kept(("forms", sheet.first, sheet.last), make)


def _answers(line: Line) -> tuple[str, ...]:
    """A danger is met or not; what comes next may have been done already."""
    if isinstance(line, NextLine):
        return ("done", "leave it")
    if isinstance(line, WorkLine) or line.name.split("/")[0] in ("look", "watch", "frosted"):
        return ("done", "not yet", "leave it")
    return ("done",)


def _done(form: LineForm, *, several: bool) -> Markup:
    if form.asks == "amount":
        amount = el(
            "input",
            name="amount",
            form=form.id,
            inputmode="decimal",
            autocomplete="off",
            size=5,
            aria_label=f"how much: {form.says}" + (f", {form.of[0]}" if several else ""),
        )
        options = [el("option", unit, selected=unit == form.unit) for unit in form.units]
        unit = el("select", *options, name="unit", form=form.id, aria_label="unit")
        which = el("span", form.of[0], class_="soft") if several else ""
        row = el("span", spaced(which, amount, unit, _send(form, "done", "picked")), class_="row")
        return row if several else _unfold("done", row)
    if form.asks == "found":
        text = el("input", name="text", form=form.id, autocomplete="off", aria_label=f"what was found: {form.says}")
        sound = [
            el("button", words, form=form.id, name="sound", value=value)
            for words, value in (("sound", "yes"), ("not sound", "no"))
        ]
        hidden = el("input", type="hidden", name="verdict", value="done", form=form.id)
        return _unfold("done", el("label", "found ", text), together(*(el("span", b) for b in sound)), hidden)
    if form.line.startswith("look/") and form.line.count("/") == 2:
        return _button(form, "done", "seen")
    return _button(form, "done")


def _button(form: LineForm, verdict: str, words: str = "") -> Markup:
    label = f"{words or verdict}: {form.says}"
    return el("button", words or verdict, class_="quiet", form=form.id, name="verdict", value=verdict, aria_label=label)


def _send(form: LineForm, verdict: str, words: str) -> Markup:
    return el("button", words, form=form.id, name="verdict", value=verdict, aria_label=f"{words}: {form.says}")


def _unfold(words: str, *inside: str) -> Markup:
    return el("details", el("summary", words), el("span", *inside, class_="asked"))
