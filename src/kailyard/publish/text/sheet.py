"""The sheet for a terminal: 80 columns, no colour, holds first."""

from __future__ import annotations

from collections.abc import Sequence

from kailyard.documents.sheet import Line, NextLine, Sheet, WeatherDay, WorkLine
from kailyard.publish import plain, visits, weather, words
from kailyard.publish.axis import Axis, axis_from, axis_over
from kailyard.publish.units import Units, number, temperature, temperature_unit
from kailyard.publish.units import convert as in_units

_WINDOW_DAYS = 36
_WINDOW_COLUMNS = 18
_HILL_COLUMNS = 24
_SIDE_BY_SIDE = 72
"""From this width on drawings stand beside the words; below it under them."""


def render(document: Sheet, *, width: int = 80, ascii_only: bool = False) -> str:
    """The whole sheet; sections without lines are left out, except 'To do'."""
    rows = _head(document, width)
    rows += _section("Not to be done", document.holds, width, mark="x ")
    rows += _section("In the next three days", document.near, width, mark="! ")
    rows += _work(document, width)
    rows += _section("To look at", document.look, width, joint=": ")
    rows += _section("To be left alone", document.leave, width, joint=": ")
    rows += _section("What changed", document.changed, width, joint=": ")
    rows += _next(document, width)
    rows += _foot(document, width)
    return plain.finish(rows, ascii_only=ascii_only)


def _head(sheet: Sheet, width: int) -> list[str]:
    number_words = f"sheet {sheet.number}, {sheet.first.isocalendar().year}"
    rows = plain.with_end(plain.block(words.clean(sheet.garden), width), number_words, width)
    rows += plain.block(words.heading(sheet.first, sheet.last), width)
    if sheet.as_known:
        rows += plain.block(f"As known on {words.day(sheet.as_known, sheet.first)}", width)
    rows.append("=" * width)
    at_once = max(1, (width - 8) // 9)
    for start in range(0, len(sheet.weather), at_once):
        rows += _weather(sheet.weather[start : start + at_once], sheet.units, width)
    if sheet.weather:
        notes = weather.kinds_words(sheet.weather)
        if any(day.endangers for day in sheet.weather):
            notes += "; ! endangers something below"
        rows += plain.block(words.sentence(notes[0].upper() + notes[1:]), width)
    if sheet.visits:
        rows += plain.block(words.sentence(visits.visits(sheet)), width)
    return rows


def _weather(days: Sequence[WeatherDay], units: Units, width: int) -> list[str]:
    degrees, rain_unit = temperature_unit(units), "in" if units == "us" else "mm"

    def row(name: str, cells: Sequence[str]) -> str:
        return plain.left(name, 8) + "".join(plain.right(cell, 9) for cell in cells)

    heads = [f"{words.WEEKDAYS[day.day.weekday()][:3]} {day.day.day}{' !' if day.endangers else ''}" for day in days]
    rows = [
        row("", heads),
        row(f"high {degrees}", [temperature(day.tmax_c, units) for day in days]),
        row(f"low {degrees}", [temperature(day.tmin_c, units) for day in days]),
    ]
    if any(weather.rain_words(day, units) for day in days):
        places = 2 if units == "us" else 1
        amounts = [
            number(in_units(day.rain_mm, "mm", units)[0], places) if weather.rain_words(day, units) else "–"
            for day in days
        ]
        rows.append(row(f"rain {rain_unit}", amounts))
        if any(day.kind != "observed" for day in days):
            rows.append(row("chance", [_rain_chance(day, units) for day in days]))
    return rows


def _rain_chance(day: WeatherDay, units: Units) -> str:
    """Short enough for a column of nine."""
    if not weather.rain_words(day, units) or day.kind == "observed":
        return "–"
    return "sure" if day.rain_chance >= 0.975 else words.in_ten(day.rain_chance)


def _section(title: str, lines: Sequence[Line], width: int, *, mark: str = "- ", joint: str = ". ") -> list[str]:
    if not lines:
        return []
    rows = ["", title]
    for line in lines:
        said = words.named(line.says, line.where)
        said = f"{said}{joint}{words.sentence(line.detail)}" if line.detail else words.sentence(said)
        rows += plain.with_end(plain.block(said, width, first=f"  {mark}"), words.clean(line.name), width)
    return rows


def _work(sheet: Sheet, width: int) -> list[str]:
    if not sheet.work:
        return ["", "To do", "  Nothing needs doing in these days."]
    axis = axis_from(sheet.first, days=_WINDOW_DAYS)
    title = f"To do, about {words.duration(sheet.minutes)} for one person{visits.time(sheet)}"
    ruler = plain.ruler(axis, _WINDOW_COLUMNS)
    if width >= _SIDE_BY_SIDE and len(title) < width - _WINDOW_COLUMNS:
        rows = ["", plain.left(title, width - _WINDOW_COLUMNS) + ruler]
    elif width >= _SIDE_BY_SIDE:
        rows = ["", *plain.block(title, width), plain.left("", width - _WINDOW_COLUMNS) + ruler]
    else:
        rows = ["", *plain.block(title, width), f"    {ruler}"]
    for line in sheet.work:
        rows += _work_line(line, axis, sheet, width)
    if sheet.more_work:
        noun = "line" if sheet.more_work == 1 else "lines"
        rows += plain.block(
            f"{sheet.more_work} more {noun} of work may wait; `kailyard sheet --whole` has all.", width, first="    "
        )
    return rows


def _work_line(line: WorkLine, axis: Axis, sheet: Sheet, width: int) -> list[str]:
    drawn = plain.density(axis, axis.chances(line.window))
    minutes = words.duration(line.minutes)
    if width >= _SIDE_BY_SIDE:
        room = width - _WINDOW_COLUMNS - 2
        rows = plain.block(words.named(line.says, line.where), room - 11, first="[ ] ")
        rows[0] = plain.left(rows[0], room - 9) + plain.right(minutes, 9) + "  " + drawn
    else:
        rows = plain.with_end(plain.block(words.named(line.says, line.where), width, first="[ ] "), minutes, width)
        rows.append(f"    {drawn}")
    if line.detail:
        rows += plain.block(words.clean(line.detail), width, first="    ")
    opening = words.window(line.window, sheet.first)
    if line.late:
        opening = f"late, still worth doing; {opening}"
    said = words.sentence(opening[0].upper() + opening[1:])
    if line.lost:
        said = f"{said} {words.sentence(line.lost[:1].upper() + line.lost[1:])}"
    rows += plain.block(said, width, first="  ! " if line.soon else "    ", rest="    ")
    if line.left_out:
        rows += plain.block("No time for it at these visits: leave it out.", width, first="    ")
    return plain.with_end(rows, words.clean(line.name), width)


def _next(sheet: Sheet, width: int) -> list[str]:
    if not sheet.next:
        return []
    axis = axis_over(sheet.first, [line.odds for line in sheet.next])
    ruler = plain.ruler(axis, _HILL_COLUMNS)
    if width < _SIDE_BY_SIDE:
        rows = ["", "What comes next", f"    {ruler}"]
    else:
        rows = ["", plain.left("What comes next", width - _HILL_COLUMNS) + ruler]
    for line in sheet.next:
        rows += _next_line(line, axis, width)
    return rows


def _next_line(line: NextLine, axis: Axis, width: int) -> list[str]:
    hill = plain.heights(axis, axis.chances(line.odds), _HILL_COLUMNS)
    said = words.named(line.says, line.where)
    if width >= _SIDE_BY_SIDE:
        room = width - _HILL_COLUMNS - 2
        rows = plain.block(said, room, first="  - ")
        rows[0] = plain.left(rows[0], width - _HILL_COLUMNS) + hill
    else:
        rows = [*plain.block(said, width, first="  - "), f"    {hill}"]
    more = (
        f"{words.clean(line.odds_words)}; {words.clean(line.detail)}" if line.detail else words.clean(line.odds_words)
    )
    return plain.with_end([*rows, *plain.block(more, width, first="    ")], words.clean(line.name), width)


def _foot(sheet: Sheet, width: int) -> list[str]:
    rows = ["", "-" * width]
    legend = "Darker means surer. Why a line stands here: kailyard why NAME, with the name at its right."
    rows += plain.block(legend, width)
    said = " ".join(words.sentence(reason.says) for reason in sheet.rests)
    if said:
        rows += plain.block(said, width)
    for caution in sheet.cautions:
        rows += plain.block(words.sentence(caution), width)
    return rows
