"""The answers beside a sheet's lines as markup: done, not yet, leave it. Their forms stand at the page's foot."""

from __future__ import annotations

from collections.abc import Mapping
from urllib.parse import quote

from kailyard.desk.line_forms import LineForm, LineForms
from kailyard.documents.sheet import Line
from kailyard.publish.markup import Markup, el, spaced, together


def beside(forms: LineForms, line: Line) -> Markup:
    """The answers to a line; nothing where it takes none."""
    own = forms.by_line.get(line.name, ())
    if not own:
        return _record(line)
    leads = _leads(line)
    whole, several = own[-1], len(own) > 1
    done = [_done(form, several=several) for form in own if "done" in form.answers]
    said = [_unfold("done", *done)] if several else done
    if "not yet" in whole.answers:
        said.append(_button(whole, "not yet", "not yet"))
    if "leave it" in whole.answers and forms.leave is not None:
        until = el("input", type="date", name="until", form=whole.id, value=forms.leave.isoformat(), required=True)
        said.append(_unfold("leave it", el("label", "until ", until), _send(whole, "leave it", "leave it")))
    return el("span", spaced(*leads, *said), class_="answers screen")


def _leads(line: Line) -> tuple[Markup, ...]:
    """Where a line leads on to: the round to be counted on, or the options for what was counted."""
    work, _, rest = line.name.partition("/")
    if work == "scout":
        return (el("a", "count on the round", href="/scouting"),)
    if work == "disease-weather":
        return (el("a", "day by day", href="/scouting#weather"),)
    if work == "options":
        planting, trouble, *_ = (quote(part) for part in rest.split("/"))
        return (el("a", "what may be done", href=f"/options/{planting}?trouble={trouble}"),)
    return ()


def _record(line: Line) -> Markup:
    """The way from what is held back after an injury to the record of it, and to a release."""
    kind, _, target = line.name.partition("/")
    if kind not in ("injury", "injury-report"):
        return Markup()
    of = "" if target == "garden" else f"?of={target}"
    ways = [el("a", "the record of it", href=f"/injury{of}")]
    if kind == "injury":
        ways.append(el("a", "enter a release", href=f"/enter?kind=release{of.replace('?', '&')}"))
    return el("span", spaced(*ways), class_="answers screen")


def _done(form: LineForm, *, several: bool) -> Markup:
    if form.asks == "amount":
        which = form.of[0] if form.of else form.line
        amount = el(
            "input",
            name="amount",
            form=form.id,
            inputmode="decimal",
            autocomplete="off",
            size=5,
            aria_label=f"how much: {form.says}, {which}",
        )
        options = [el("option", unit, selected=unit == form.unit) for unit in form.units]
        unit = el("select", *options, name="unit", form=form.id, aria_label=f"unit, {which}")
        named = el("span", which, class_="soft") if several else ""
        more = _of_a_picking(form, which) if form.sends == "picked" else ()
        row = el("span", spaced(named, amount, unit, *more, _send(form, "done", form.sends)), class_="row")
        return row if several else _unfold(form.done, row)
    if form.asks == "feel":
        felt = [
            el("span", el("button", words, form=form.id, name="feel", value=value, aria_label=f"{words}: {form.says}"))
            for value, words in form.feels
        ]
        return _unfold("done", together(*felt), _done_hidden(form))
    if form.asks == "found":
        text = el("input", name="text", form=form.id, autocomplete="off", aria_label=f"what was found: {form.says}")
        sound = [el("button", words, form=form.id, name="sound", value=value) for words, value in _found_words(form)]
        said = together(*(el("span", b) for b in sound))
        ask = el("a", "What is it?", href=f"/what?of={form.of[0]}") if len(form.of) == 1 else ""
        return _unfold("done", el("label", "found ", text), said, ask, _done_hidden(form))
    return _button(form, "done", form.done)


def weigh_in(forms: Mapping[str, LineForm], planting: str) -> Markup:
    """The form beside a planting that bears, and the way to say what it is picked for; nothing where it has none."""
    form = forms.get(planting)
    if form is None:
        return Markup()
    said = [_done(form, several=False)]
    if form.uses:
        what = f"picked for: {form.use}" if form.use else "say what it is picked for"
        said.append(el("a", what, class_="soft small", href=f"/enter?kind=use&of={planting}&back=pickings"))
    return el("span", spaced(*said), class_="answers screen")


def _of_a_picking(form: LineForm, which: str) -> tuple[Markup, ...]:
    """What may be said of a picking besides its amount: minutes, and what for where there is a choice."""
    minutes = el(
        "input", name="minutes", form=form.id, inputmode="decimal", autocomplete="off", size=3, placeholder="min",
        aria_label=f"minutes it took, {which}",
    )  # fmt: skip
    if not form.uses:
        return (minutes,)
    unsaid = el("option", "for …", value="", selected=not form.use)
    options = [unsaid, *(el("option", use, value=use, selected=use == form.use) for use in form.uses)]
    return minutes, el("select", *options, name="use", form=form.id, aria_label=f"picked for, {which}")


def _found_words(form: LineForm) -> tuple[tuple[str, str], ...]:
    """What a look comes to, and how it is sent."""
    if form.line.startswith("scout/"):
        return (("none found", "yes"), ("something found", "no"))
    return (("sound", "yes"), ("not sound", "no"))


def _done_hidden(form: LineForm) -> Markup:
    """'Done', where each of several buttons says more than that."""
    return el("input", type="hidden", name="verdict", value="done", form=form.id)


def _button(form: LineForm, verdict: str, words: str) -> Markup:
    label = f"{words}: {form.says}"
    return el("button", words, class_="quiet", form=form.id, name="verdict", value=verdict, aria_label=label)


def _send(form: LineForm, verdict: str, words: str) -> Markup:
    return el("button", words, form=form.id, name="verdict", value=verdict, aria_label=f"{words}: {form.says}")


def _unfold(words: str, *inside: str) -> Markup:
    return el("details", el("summary", words), el("span", *inside, class_="asked"))
