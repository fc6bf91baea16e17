"""NOAA's GHCN-Daily by station, fixed width (`.dly`): one line a month and element, 31 fields of eight characters."""

from __future__ import annotations

import re
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from kailyard.errors import DataError
from kailyard.weather.files import read_text
from kailyard.weather.ghcn import ELEMENTS, MISSING, flag_rule, one_station, source_words
from kailyard.weather.judge import BAD_DATE, MOST_VALUES, NOT_A_NUMBER, SHORT_LINE, Aside, Values, judge, ordinal
from kailyard.weather.options import ReadOptions
from kailyard.weather.record import DailyRecord, IntArray

NAME = "ghcn-dly"
HELP = "NOAA GHCN-Daily, one station, fixed width (.dly)"
NEEDS_COLUMNS = False

# Columns as NOAA's readme for GHCN-Daily prints them, section III: ID 1-11, YEAR 12-15, MONTH 16-17, ELEMENT 18-21,
# VALUE1 22-26, MFLAG1 27, QFLAG1 28, SFLAG1 29, and so on to SFLAG31 269.
_WIDTH = 269
_SHORTEST = 266
_HEAD = re.compile(r"[A-Z0-9_-]{11}[0-9]{6}[A-Z0-9]{4}[ 0-9-]{5}")


def sniff(name: str, head: bytes) -> bool:
    """True where the first line is laid out as GHCN-Daily prints it."""
    return _HEAD.match(head[:26].decode("latin-1")) is not None


def read(data: bytes | Path, options: ReadOptions) -> DailyRecord:
    """The record of one station.

    Raises
    ------
    DataError
        Naming file, line and rule, where the file as a whole cannot be used.
    """
    file, text = read_text(data, options.name)
    aside = Aside(file)
    found: dict[str, list[str]] = {e: [] for e in ELEMENTS}
    where: dict[str, list[tuple[int, int, int]]] = {e: [] for e in ELEMENTS}
    lines = text.split("\n")
    stations = {line[:11] for line in lines if line[17:21] in ELEMENTS}
    if not stations:
        raise DataError(
            f"{file}:1: no line for {', '.join(ELEMENTS)} in columns 18 to 21. Is it a GHCN-Daily file (.dly)?"
        )
    station = one_station(stations, file, options)
    for number, line in enumerate(lines, start=1):
        element = line[17:21]
        if element not in ELEMENTS or line[:11] != station:
            continue
        line = line.rstrip("\r\n")
        said = f"{element} {line[11:17]}"
        if len(line) < _SHORTEST:
            aside.add(number, None, said, SHORT_LINE)
            continue
        month = line[11:17]
        start = ordinal(int(month[:4]), int(month[4:]), 1) if month.isascii() and month.isdecimal() else None
        if start is None:
            aside.add(number, None, said, BAD_DATE)
            continue
        found[element].append(line[21:_WIDTH].ljust(_WIDTH - 21))
        where[element].append((number, start, _days_of(start)))
    values = {
        key: _fields(found[element], where[element], element=element, aside=aside)
        for element, key in ELEMENTS.items()
        if found[element]
    }
    return judge(values, aside=aside, source=source_words(station, file, options))


def _days_of(start: int) -> int:
    month = np.datetime64(start - 719163, "D").astype("datetime64[M]")
    return int(((month + 1).astype("datetime64[D]") - month.astype("datetime64[D]")).astype(int))


def _fields(lines: list[str], where: list[tuple[int, int, int]], *, element: str, aside: Aside) -> Values:
    """The usable fields of one element: all lines of it taken apart at once."""
    if len(lines) * 31 > MOST_VALUES:
        raise DataError(f"{aside.file}: {len(lines)} months of {element}: not one station's daily record.")
    raw = np.frombuffer("".join(lines).encode("ascii", "replace"), dtype=np.uint8).reshape(len(lines), 31, 8)
    number, start, length = (np.array(c, dtype=np.int64) for c in zip(*where, strict=True))
    tenths, is_number = _integers(raw[:, :, :5])
    flags = raw[:, :, 6]
    blank = np.all(raw[:, :, :5] == ord(" "), axis=2)
    given = ~blank & ~(is_number & (tenths == MISSING))
    day = start[:, None] + np.arange(31)
    line = np.broadcast_to(number[:, None], day.shape)
    texts = np.ascontiguousarray(raw[:, :, :5]).view("S5")[:, :, 0]
    outside = given & (np.arange(31) >= length[:, None])
    flagged = given & ~outside & (flags != ord(" "))
    unread = given & ~outside & ~flagged & ~is_number
    for mask, rule in ((outside, BAD_DATE), (unread, NOT_A_NUMBER), (flagged, None)):
        for i, j in np.argwhere(mask).tolist():
            said = f"{element} {texts[i, j].decode('ascii', 'replace').strip()}"
            when = None if rule is BAD_DATE else int(day[i, j])
            aside.add(int(number[i]), when, said, rule or flag_rule(chr(flags[i, j])))
    good = given & ~outside & ~flagged & ~unread
    return Values(day[good], line[good], tenths[good] / 10, texts[good])


def _integers(fields: NDArray[np.uint8]) -> tuple[IntArray, NDArray[np.bool_]]:
    """Right-justified integers from characters along the last axis, and which fields are one."""
    digit = (fields >= ord("0")) & (fields <= ord("9"))
    minus = fields == ord("-")
    kind = np.where(digit, 2, np.where(minus, 1, np.where(fields == ord(" "), 0, 9)))
    well_formed = (
        np.all(kind < 9, axis=-1)
        & np.all(np.diff(kind, axis=-1) >= 0, axis=-1)
        & (np.count_nonzero(minus, axis=-1) <= 1)
        & digit[..., -1]
    )
    powers = 10 ** np.arange(fields.shape[-1] - 1, -1, -1)
    size = np.sum(np.where(digit, fields.astype(np.int64) - ord("0"), 0) * powers, axis=-1)
    return np.where(np.any(minus, axis=-1), -size, size), well_formed
