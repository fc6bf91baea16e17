"""Any daily table with a header: the person says which column is what and in which unit."""

from __future__ import annotations

import re
from pathlib import Path

import numpy as np

from kailyard.errors import DataError
from kailyard.weather.files import read_text, shown
from kailyard.weather.judge import (
    BAD_DATE,
    MOST_VALUES,
    NOT_A_NUMBER,
    SHORT_LINE,
    WORDS,
    Aside,
    Gathered,
    Values,
    judge,
    ordinal,
)
from kailyard.weather.options import ColumnMap, ReadOptions
from kailyard.weather.record import DailyRecord
from kailyard.weather.table import find_columns, rows

NAME = "columns"
HELP = "any daily CSV whose columns and units you declare"
NEEDS_COLUMNS = True

_NUMBER = re.compile(r"[+-]?([0-9]+\.?[0-9]*|\.[0-9]+)([eE][+-]?[0-9]{1,3})?\Z", re.ASCII)


def sniff(name: str, head: bytes) -> bool:
    """True where the first line looks like the header of a delimited table: several names, not numbers."""
    lines = head.decode("latin-1").splitlines()
    cells = [c.strip(' "') for c in re.split(r"[,;\t]", lines[0])] if lines else []
    return len(cells) >= 3 and sum(bool(_NUMBER.match(c)) for c in cells) == 0


def read(data: bytes | Path, options: ReadOptions) -> DailyRecord:
    """The record as declared in `options.columns`.

    Raises
    ------
    DataError
        Naming file, line and rule: no columns declared, declared ones missing, a unit that cannot be right, and what
        makes the file as a whole unusable.
    """
    file, text = read_text(data, options.name)
    columns = options.columns
    if columns is None:
        _, names = next(rows(file, text), (1, []))
        found = ", ".join(f"'{shown(n, 24)}'" for n in names[:20])
        raise DataError(f"{file}:1: say which column is what, and the units. Columns found: {found}.")
    aside = Aside(file)
    table = rows(file, text, columns.delimiter)
    line, header = next(((n, cells) for n, cells in table if n >= columns.header_line), (columns.header_line, []))
    header = [h.strip() for h in header]
    wanted = {"tmin": columns.tmin, "tmax": columns.tmax, "rain": columns.rain}
    wanted = {element: name for element, name in wanted.items() if name}
    at_date, *places = find_columns(file, line, header, [columns.date, *wanted.values()])
    pattern = columns.date_pattern()
    days: list[int] = []
    lines: list[int] = []
    texts: dict[str, list[str]] = {e: [] for e in wanted}
    pairs = [(texts[e], at) for e, at in zip(wanted, places, strict=True)]
    for number, cells in table:
        if len(cells) != len(header):
            aside.add(number, None, f"{len(cells)} of {len(header)} fields", SHORT_LINE)
            continue
        match = pattern.fullmatch(cells[at_date].strip())
        day = ordinal(int(match["y"]), int(match["m"]), int(match["d"])) if match else None
        if day is None:
            aside.add(number, None, cells[at_date], BAD_DATE)
            continue
        days.append(day)
        lines.append(number)
        for into, at in pairs:
            into.append(cells[at])
        if len(days) > MOST_VALUES:
            raise DataError(f"{file}:{number}: more than {MOST_VALUES} rows: not a daily record of one place.")
    values = {e: _values(e, texts[e], days, lines, columns=columns, aside=aside) for e in wanted}
    source = options.source or f"file {file}"
    return judge(values, aside=aside, source=source, seen=np.array(days, dtype=np.int64), columns=columns)


def _values(
    element: str, texts: list[str], days: list[int], lines: list[int], *, columns: ColumnMap, aside: Aside
) -> Values:
    missing = frozenset(columns.missing)
    gathered = Gathered(aside.file)
    for day, line, said in zip(days, lines, texts, strict=True):
        text = said.strip()
        if text in missing:
            continue
        value = number_in_our_unit(element, text, columns)
        if value is None:
            aside.add(line, day, f"{WORDS[element]} {said}", NOT_A_NUMBER)
        else:
            gathered.add(day, line, value, said)
    return gathered.values()


def number_in_our_unit(element: str, text: str, columns: ColumnMap) -> float | None:
    """The text as °C or mm from the declared unit; None where it is not a number. A trace of rain is 0 mm."""
    if element == "rain" and text and text == columns.trace:
        return 0.0
    plain = text.replace(columns.decimal, ".") if columns.decimal != "." and "." not in text else text
    if not _NUMBER.match(plain):
        return None
    value = float(plain)
    if element == "rain":
        return value * {"mm": 1.0, "in": 25.4, "tenths mm": 0.1}[columns.rain_unit]
    if columns.temperature_unit == "F":
        return (value - 32) / 1.8
    return value / 10 if columns.temperature_unit == "tenths C" else value
