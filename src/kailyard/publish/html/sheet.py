"""The sheet as a page: one printed side of A4 or Letter; reasons unfold on screen."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import timedelta

from kailyard.documents.sheet import Line, Sheet, WorkLine
from kailyard.publish import draw, visits, weather, words
from kailyard.publish.axis import Axis, axis_from, axis_over
from kailyard.publish.html._page import Body, Paper, heading, page, why
from kailyard.publish.markup import Markup, el, spaced, together
from kailyard.publish.words import sentence

_DAYS_BEFORE = 3
_WINDOW_DAYS = 36
_SETTINGS = ((42, None), (47, "close"), (66, "tight"), (82, "tight least"))
"""Rows of text up to which a setting still fits one printed side of either paper, found by printing. What is fuller
leaves the last lines of what comes next to the screen."""
_FULLEST = "tight least full"


Beside = Callable[[Line], Markup]
"""What stands beside a line, made from it."""


def nothing(line: Line) -> Markup:
    """On paper nothing stands beside a line."""
    return Markup()


def render(document: Sheet, *, paper: Paper | None = None) -> str:
    """A file that stands alone. The more it holds, the smaller it is printed, so that it stays on one side."""
    return page(body(document), paper=paper)


def body(document: Sheet, *, beside: Beside = nothing) -> Body:
    """The whole sheet. `beside` says what stands after a line's 'why', such as the buttons that answer it."""
    columns = (_list("To look at", document.look, document, beside), _more_columns(document, beside))
    parts = (
        _head(document),
        _pinned("Not to be done", "holds", document.holds, document, beside),
        _pinned("In the next three days", "near", document.near, document, beside),
        _work(document, beside),
        el("div", *columns, class_="columns") if any(columns) else "",
        _next(document, beside),
        _foot(document),
    )
    title = f"{words.heading(document.first, document.last)}, {document.garden}"
    return Body(title, parts, _setting(document))


def _setting(sheet: Sheet) -> str | None:
    rows = printed_rows(sheet)
    return next((setting for most, setting in _SETTINGS if rows <= most), _FULLEST)


def printed_rows(sheet: Sheet) -> int:
    """About how many rows of text the sheet needs on paper at the middle size."""

    def rows(said: str, room: int) -> int:
        return -(-len(said) // room) if said else 0

    def line(one: Line, room: int) -> int:
        return rows(f"{one.says} {one.where} {one.detail}", room)

    pinned = sum(line(one, 105) for one in (*sheet.holds, *sheet.near))
    work = sum(
        max(2, rows(f"{one.says} {one.where}", 52) + rows(one.detail, 62), 1 + rows(one.lost, 44)) for one in sheet.work
    )
    left = sum(line(one, 50) for one in sheet.look)
    right = sum(line(one, 50) for one in (*sheet.leave, *sheet.changed)) + 2 * (bool(sheet.changed) + bool(sheet.leave))
    following = sum(max(1, rows(f"{one.odds_words} {one.detail}", 40)) for one in sheet.next)
    foot = rows(" ".join([*(reason.says for reason in sheet.rests), *sheet.cautions]), 120)
    heads = 2 * sum(map(bool, (sheet.holds, sheet.near, sheet.next))) + 5
    return pinned + work + max(left + 2, right) + following + foot + heads


def _head(sheet: Sheet) -> Markup:
    kicker = f"{sheet.garden} · sheet {sheet.number}, {sheet.first.isocalendar().year}"
    if sheet.as_known:
        kicker += f" · as known on {words.day(sheet.as_known, sheet.first)}"
    if not sheet.weather:
        return heading(kicker, words.heading(sheet.first, sheet.last))
    said = weather.kinds_words(sheet.weather)
    under = f"{said[0].upper()}{said[1:]}."
    if sheet.visits:
        under += f" {words.sentence(visits.visits(sheet))}"
    strip = el("figure", draw.weather(sheet.weather, sheet.units))
    return heading(kicker, words.heading(sheet.first, sheet.last), under, strip)


def _pinned(title: str, kind: str, lines: Sequence[Line], sheet: Sheet, beside: Beside) -> Markup:
    if not lines:
        return Markup()
    items = [
        el(
            "li",
            spaced(el("b", sentence(words.named(line.says, line.where))), _detail(line), _why(line, sheet, beside)),
        )
        for line in lines
    ]
    return el("section", el("h2", title), el("ul", *items), class_=kind)


def _detail(line: Line) -> Markup | str:
    return el("span", sentence(line.detail), class_="said") if line.detail else ""


def _why(line: Line, sheet: Sheet, beside: Beside) -> Markup:
    return spaced(why(line.reasons, sheet.units, name=line.name), beside(line))


def _work(sheet: Sheet, beside: Beside) -> Markup:
    if not sheet.work:
        return el("section", el("h2", "To do"), el("p", "Nothing needs doing in these days."), class_="work")
    said = f"about {words.duration(sheet.minutes)} for one person{visits.time(sheet)}"
    if sheet.more_work:
        said += f"; {sheet.more_work} more {'line' if sheet.more_work == 1 else 'lines'} may wait"
    title = el("h2", "To do", Markup(" "), el("span", said, class_="soft"))
    start = sheet.first.toordinal() - _DAYS_BEFORE
    first = sheet.first - timedelta(days=_DAYS_BEFORE) if start >= 1 else sheet.first
    axis = axis_from(first, days=_WINDOW_DAYS, today=sheet.first)
    head = el("div", title, draw.dates(axis), class_="axis")
    items = [_work_line(line, axis, sheet, beside) for line in sheet.work]
    return el("section", head, el("ol", *items), class_="work")


def _work_line(line: WorkLine, axis: Axis, sheet: Sheet, beside: Beside) -> Markup:
    opening = words.window(line.window, sheet.first)
    detail = f"late, still worth doing: {line.detail}" if line.late and line.detail else line.detail
    if line.late and not line.detail:
        detail = "late, still worth doing"
    if line.left_out:
        detail = f"{detail}; no time for it at these visits: leave it out" if detail else "no time for it: leave it out"
    lost = el("p", line.lost or opening, class_="lost soon" if line.soon else "lost")
    said = spaced(el("b", line.says), el("span", line.where, class_="soft") if line.where else "")
    under = spaced(el("span", detail, class_="soft") if detail else "", _why(line, sheet, beside))
    own = el("div", draw.dates(axis), class_="own-axis")
    label = f"Window: {sentence(opening)} {sentence(line.lost) if line.lost else ''}"
    return el(
        "li",
        el("span", class_="tick"),
        el("div", el("p", said), el("div", under)),
        el("span", words.duration(line.minutes), class_="minutes"),
        el("div", own, draw.window(axis, line.window, sheet.first, label), lost, class_="drawn"),
    )


def _list(title: str, lines: Sequence[Line], sheet: Sheet, beside: Beside) -> Markup:
    if not lines:
        return Markup()
    items = []
    for line in lines:
        said = words.named(line.says, line.where)
        whole = spaced(el("b", f"{said}:"), _detail(line)) if line.detail else el("b", sentence(said))
        items.append(el("li", spaced(whole, _why(line, sheet, beside))))
    return el("section", el("h2", title), el("ul", *items), class_="plain")


def _more_columns(sheet: Sheet, beside: Beside) -> Markup:
    parts = together(
        _list("To be left alone", sheet.leave, sheet, beside), _list("What changed", sheet.changed, sheet, beside)
    )
    return el("div", parts) if parts else Markup()


def _next(sheet: Sheet, beside: Beside) -> Markup:
    if not sheet.next:
        return Markup()
    axis = axis_over(sheet.first, [line.odds for line in sheet.next])
    top = draw.tallest(line.odds for line in sheet.next)
    head = el("div", el("h2", "What comes next"), draw.dates(axis), el("span"), class_="axis")
    items = []
    for line in sheet.next:
        when = together(line.odds_words, Markup("; "), line.detail) if line.detail else line.odds_words
        said = el("p", spaced(line.says, el("span", line.where, class_="soft") if line.where else ""))
        drawn = draw.hill(axis, line.odds, sheet.first, top, f"Odds: {sentence(line.odds_words)}")
        own = el("div", draw.dates(axis), class_="own-axis")
        right = el("div", spaced(when, _why(line, sheet, beside)), class_="when")
        items.append(el("li", said, el("div", own, drawn), right))
    return el("section", head, el("ol", *items), class_="next")


def _foot(sheet: Sheet) -> Markup:
    rests = " ".join(sentence(reason.says) for reason in sheet.rests)
    deeper = why(sheet.rests, sheet.units, word="what this rests on") if sheet.rests else ""
    said = el("div", spaced("Darker means surer; higher, likelier. Each line can be asked why.", rests, deeper))
    return el("footer", said, *(el("p", sentence(caution)) for caution in sheet.cautions))
