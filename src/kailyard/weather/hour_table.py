"""Any hourly table with a header, read by the columns, units and clock that were declared."""

from __future__ import annotations

import re
from datetime import UTC, datetime, timedelta, tzinfo
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from kailyard.errors import DataError
from kailyard.units import turned
from kailyard.weather.files import read_text, shown
from kailyard.weather.hour_columns import QUANTITIES, HourColumns
from kailyard.weather.hours import (
    HOUR_WORDS,
    HUMIDITY_OVER_FULL,
    MOST_HOURS,
    OVER_THE_HOUR,
    POSSIBLE_HOUR,
    HourlyRecord,
    hour_begins,
    hour_number,
    hourly,
)
from kailyard.weather.judge import FIRST_YEAR, LAST_YEAR, NOT_A_NUMBER, SHORT_LINE, Aside
from kailyard.weather.judging_hours import set_bad_hours_aside
from kailyard.weather.record import FloatArray, IntArray
from kailyard.weather.table import find_columns, rows

BAD_TIME = f"unreadable time, or none from {FIRST_YEAR} to {LAST_YEAR}"
NO_SUCH_HOUR = "no such hour: the clock was put forward"
WHICH_OF_TWO = "hour of the clock put back stands once: which of the two cannot be said"
HOUR_TWICE = "hour stands twice: first kept"
OFF_THE_HOUR = timedelta(minutes=30)
"""A reading counts for the nearest full hour, half past for the one that follows."""

_NUMBER = re.compile(r"[+-]?([0-9]+\.?[0-9]*|\.[0-9]+)([eE][+-]?[0-9]{1,3})?\Z", re.ASCII)


def read_hours(data: bytes | Path, columns: HourColumns, *, name: str = "", source: str = "") -> HourlyRecord:
    """The hours in a table, gzip or plain; what cannot be used is set aside with line, value and rule.

    Parameters
    ----------
    data : bytes or Path
        The file, or its content called `name`.

    Raises
    ------
    DataError
        Naming file, line and rule, where the file as a whole cannot be used.
    """
    file, text = read_text(data, name)
    aside = Aside(file)
    table = rows(file, text, columns.delimiter)
    line, header = next(((n, cells) for n, cells in table if n >= columns.header_line), (columns.header_line, []))
    header = [h.strip() for h in header]
    given = columns.given()
    only, _, value = (p.strip() for p in columns.where.partition("="))
    wanted = [columns.time or columns.date, *([columns.hour] if columns.hour else []), *given.values()]
    at_date, *places = find_columns(file, line, header, [*wanted, *([only] if only else [])])
    at_only = places.pop() if only else -1
    at_hour = places.pop(0) if columns.hour else -1
    stamps = _Stamps(columns.clock(), file, aside)
    cells_of: list[list[str]] = [[] for _ in places]
    for number, cells in table:
        if len(cells) != len(header):
            aside.add(number, None, f"{len(cells)} of {len(header)} fields", SHORT_LINE)
        elif at_only < 0 or cells[at_only].strip() == value:
            said = columns.moment(cells[at_date], cells[at_hour] if at_hour >= 0 else "")
            written = f"{cells[at_date]} {cells[at_hour]}" if at_hour >= 0 else cells[at_date]
            if stamps.add(number, said, written):
                for into, at in zip(cells_of, places, strict=True):
                    into.append(cells[at])
    hours, lines, keep = stamps.hours()
    found: dict[str, FloatArray] = {}
    for (quantity, _), texts in zip(given.items(), cells_of, strict=True):
        column = QUANTITIES[quantity][0]
        found[column] = _values(quantity, texts, hours, lines, keep, columns, aside)
    record = _record(found, hours, keep, columns=columns, aside=aside, source=source or f"file {file}")
    return set_bad_hours_aside(record, file=aside.file)


def _record(
    found: dict[str, FloatArray],
    hours: IntArray,
    keep: NDArray[np.bool_],
    *,
    columns: HourColumns,
    aside: Aside,
    source: str,
) -> HourlyRecord:
    back = int(columns.stamp == "ends")
    sums = {c: v[keep] for c, v in found.items() if c in OVER_THE_HOUR}
    readings = {c: v[keep] for c, v in found.items() if c not in OVER_THE_HOUR}
    numbers = hours[keep]
    if not any(np.any(~np.isnan(v)) for v in (*sums.values(), *readings.values())):
        raise DataError([f"{aside.file}: no usable hour.", *(f"{aside.file}: {a}" for a in aside.kept[:5])])
    every = np.union1d(numbers, numbers - back) if sums and back else numbers
    whole = {}
    for values, shift in ((readings, 0), (sums, back)):
        for column, cells in values.items():
            into = np.full(len(every), np.nan)
            into[np.searchsorted(every, np.sort(numbers - shift))] = cells[np.argsort(numbers)]
            whole[column] = into
    return hourly(
        np.sort(every),
        whole,
        source=source,
        wind_height_m=columns.wind_height_m,
        set_aside=tuple(sorted(aside.kept, key=lambda a: (a.line, a.rule))),
    )


class _Stamps:
    """The hours of a table's rows, as its clock says them."""

    def __init__(self, clock: tzinfo | None, file: str, aside: Aside) -> None:
        self._clock, self._file, self._aside = clock, file, aside
        self._hours: list[int] = []
        self._lines: list[int] = []
        self._doubtful: dict[datetime, list[int]] = {}
        """Times that the clock shows twice, and the rows that have them."""

    def add(self, line: int, said: datetime | None, written: str) -> bool:
        """Take one row's time; False where it cannot be used."""
        if said is None or not FIRST_YEAR < said.year < LAST_YEAR:
            self._aside.add(line, None, written, BAD_TIME)
            return False
        if len(self._hours) >= MOST_HOURS:
            raise DataError(f"{self._file}:{line}: more than {MOST_HOURS} rows: not an hourly record of one place.")
        if said.tzinfo is None:
            if self._clock is None:
                raise DataError(
                    f"{self._file}:{line}: '{shown(written)}' does not say which clock it is. Declare it: zone=UTC, "
                    "zone=+01:00, or a place, zone=Europe/Amsterdam."
                )
            moment = said.replace(tzinfo=self._clock)
            if moment.astimezone(UTC).astimezone(self._clock).replace(tzinfo=None) != said:
                self._aside.add(line, said.date().toordinal(), written, NO_SUCH_HOUR)
                return False
            if moment.utcoffset() != moment.replace(fold=1).utcoffset():
                self._doubtful.setdefault(said, []).append(len(self._hours))
        else:
            moment = said
        self._hours.append(hour_number(moment.astimezone(UTC) + OFF_THE_HOUR))
        self._lines.append(line)
        return True

    def hours(self) -> tuple[IntArray, IntArray, NDArray[np.bool_]]:
        """Hour and line of each row taken, and whether it is kept."""
        hours = np.array(self._hours, dtype=np.int64)
        lines = np.array(self._lines, dtype=np.int64)
        keep = np.ones(len(hours), dtype=np.bool_)
        for said, at in self._doubtful.items():
            if len(at) > 1:
                second = said.replace(tzinfo=self._clock, fold=1)
                hours[at[1]] = hour_number(second.astimezone(UTC) + OFF_THE_HOUR)
            else:
                keep[at[0]] = False
                self._aside.add(int(lines[at[0]]), said.date().toordinal(), f"{said:%Y-%m-%d %H:%M}", WHICH_OF_TWO)
        _, firsts = np.unique(np.where(keep, hours, -1), return_index=True)
        first = np.zeros(len(hours), dtype=np.bool_)
        first[firsts] = True
        for i in np.flatnonzero(keep & ~first).tolist():
            begins = hour_begins(int(hours[i]))
            self._aside.add(int(lines[i]), begins.toordinal(), f"{begins:%Y-%m-%d %H:%M} UTC", HOUR_TWICE)
        return hours, lines, keep & first


def _values(
    quantity: str,
    texts: list[str],
    hours: IntArray,
    lines: IntArray,
    keep: NDArray[np.bool_],
    columns: HourColumns,
    aside: Aside,
) -> FloatArray:
    """One column in the record's unit, NaN where missing or set aside."""
    column, into = QUANTITIES[quantity]
    unit, missing = columns.unit(quantity), frozenset(columns.missing)
    low, high, shown_unit = POSSIBLE_HOUR[column]
    out = np.full(len(texts), np.nan)
    bad = 0
    for i, said in enumerate(texts):
        text = said.strip()
        if text in missing or not keep[i]:
            continue
        if column == "rain_mm" and text == columns.trace:
            out[i] = 0.0
            continue
        plain = text.replace(columns.decimal, ".") if columns.decimal != "." and "." not in text else text
        if not _NUMBER.match(plain):
            aside.add(int(lines[i]), _day(hours[i]), f"{HOUR_WORDS[column]} {said}", NOT_A_NUMBER)
            continue
        value = turned(float(plain), unit, into)
        if column == "humidity_pct" and high < value <= HUMIDITY_OVER_FULL:
            value = high
        if not low <= value <= high:
            bad += 1
            words = f"{HOUR_WORDS[column]} {said} ({value:g} {shown_unit})"
            aside.add(int(lines[i]), _day(hours[i]), words, f"outside the possible, {low:g} to {high:g} {shown_unit}")
            continue
        out[i] = value
    if bad > max(1, len(texts) // 100):
        raise DataError(
            f"{aside.file}: {bad} of {len(texts)} {HOUR_WORDS[column]} values are impossible in {unit}. "
            "Check the declared unit and which column was named."
        )
    return out


def _day(hour: int) -> int:
    return hour_begins(int(hour)).toordinal()
