"""NOAA's GHCN-Daily by station as CSV, one value a line: ID, date, element, value, three flags, time of observation."""

from __future__ import annotations

import re
from pathlib import Path

from kailyard.errors import DataError
from kailyard.weather.files import read_text
from kailyard.weather.ghcn import ELEMENTS, MISSING, flag_rule, one_station, source_words
from kailyard.weather.judge import BAD_DATE, NOT_A_NUMBER, SHORT_LINE, Aside, Gathered, judge, ordinal
from kailyard.weather.options import ReadOptions
from kailyard.weather.record import DailyRecord
from kailyard.weather.table import rows

NAME = "ghcn-long"
HELP = "NOAA GHCN-Daily, one station, CSV with one value a line"
NEEDS_COLUMNS = False

# Field order after NOAA's readme for the by-station files: ID, YEAR/MONTH/DAY, ELEMENT, DATA VALUE, M-FLAG, Q-FLAG,
# S-FLAG, OBS-TIME. Older files have no header, newer ones may.
_FIRST = re.compile(r'"?[A-Z0-9_-]{11}"?,"?[0-9]{8}"?,"?[A-Z0-9]{4}"?,')
_INTEGER = re.compile(r"\s*-?[0-9]{1,6}\s*\Z", re.ASCII)


def sniff(name: str, head: bytes) -> bool:
    """True where the first line, or the one after a header that starts with ID, has station, date and element."""
    lines = head.decode("latin-1").splitlines()
    if lines and lines[0].lstrip('"').upper().startswith("ID"):
        lines = lines[1:]
    return bool(lines) and _FIRST.match(lines[0]) is not None


def read(data: bytes | Path, options: ReadOptions) -> DailyRecord:
    """The record of one station.

    Raises
    ------
    DataError
        Naming file, line and rule, where the file as a whole cannot be used.
    """
    file, text = read_text(data, options.name)
    aside = Aside(file)
    days: dict[str, int | None] = {}
    gathered = {e: Gathered(file) for e in ELEMENTS}
    stations: set[str] = set()
    for number, cells in rows(file, text):
        if len(cells) < 4:
            aside.add(number, None, ",".join(cells), SHORT_LINE)
            continue
        station, stamp, element, value = cells[:4]
        if element not in ELEMENTS:
            continue
        stations.add(station)
        if options.station and station != options.station:
            continue
        said = f"{element} {value}"
        if len(cells) < 7:
            aside.add(number, None, said, SHORT_LINE)
            continue
        if stamp not in days:
            right = len(stamp) == 8 and stamp.isascii() and stamp.isdecimal()
            days[stamp] = ordinal(int(stamp[:4]), int(stamp[4:6]), int(stamp[6:])) if right else None
        day = days[stamp]
        if day is None:
            aside.add(number, None, f"{said} on {stamp}", BAD_DATE)
        elif not _INTEGER.match(value):
            aside.add(number, day, said, NOT_A_NUMBER)
        elif int(value) == MISSING:
            continue
        elif cells[5].strip():
            aside.add(number, day, said, flag_rule(cells[5].strip()))
        else:
            gathered[element].add(day, number, int(value) / 10, value)
    if not stations:
        raise DataError(f"{file}:1: no line for {', '.join(ELEMENTS)} in the third field. Is it GHCN-Daily by station?")
    station = one_station(stations, file, options)
    values = {key: gathered[e].values() for e, key in ELEMENTS.items()}
    return judge(values, aside=aside, source=source_words(station, file, options))
