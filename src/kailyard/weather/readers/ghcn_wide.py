"""NOAA's GHCN-Daily access files: CSV, one day a line, a column an element in tenths and one with its attributes."""

from __future__ import annotations

import re
from pathlib import Path

import numpy as np

from kailyard.errors import DataError
from kailyard.weather.files import read_text
from kailyard.weather.ghcn import ELEMENTS, MISSING, flag_rule, one_station, source_words
from kailyard.weather.judge import BAD_DATE, MOST_VALUES, NOT_A_NUMBER, SHORT_LINE, Aside, Gathered, judge, ordinal
from kailyard.weather.options import ReadOptions
from kailyard.weather.record import DailyRecord
from kailyard.weather.table import find_columns, rows

NAME = "ghcn-wide"
HELP = "NOAA GHCN-Daily access file, CSV with one day a line and attributes (tenths)"
NEEDS_COLUMNS = False

# Columns as NCEI's access files have them (from memory): STATION, DATE, LATITUDE, LONGITUDE, ELEVATION, NAME, then for
# each element its value and <element>_ATTRIBUTES with the flags measurement, quality, source and for some the time.
_INTEGER = re.compile(r"-?[0-9]{1,6}\Z", re.ASCII)
_DATE = re.compile(r"([0-9]{4})-([0-9]{2})-([0-9]{2})\Z", re.ASCII)


def sniff(name: str, head: bytes) -> bool:
    """True where the header has STATION, DATE and an element with attributes."""
    lines = head.decode("latin-1").splitlines()
    names = [cell.strip('"') for cell in lines[0].removeprefix("ï»¿").split(",")] if lines else []
    return "STATION" in names and "DATE" in names and any(f"{e}_ATTRIBUTES" in names for e in ELEMENTS)


def read(data: bytes | Path, options: ReadOptions) -> DailyRecord:
    """The record of one station.

    Raises
    ------
    DataError
        Naming file, line and rule, where the file as a whole cannot be used; also where values carry decimals, for
        then the file is an order in °C or °F, not the access form.
    """
    file, text = read_text(data, options.name)
    aside = Aside(file)
    table = rows(file, text)
    line, header = next(table, (1, []))
    present = [e for e in ELEMENTS if e in header or f"{e}_ATTRIBUTES" in header] or list(ELEMENTS)
    at_station, at_date, *places = find_columns(
        file, line, header, ["STATION", "DATE", *(n for e in present for n in (e, f"{e}_ATTRIBUTES"))]
    )
    pairs = [(e, places[2 * i], places[2 * i + 1]) for i, e in enumerate(present)]
    gathered = {e: Gathered(file) for e in present}
    stations: set[str] = set()
    seen: list[int] = []
    for number, cells in table:
        if len(cells) != len(header):
            aside.add(number, None, f"{len(cells)} of {len(header)} fields", SHORT_LINE)
            continue
        stations.add(cells[at_station])
        if options.station and cells[at_station] != options.station:
            continue
        match = _DATE.match(cells[at_date])
        day = ordinal(int(match[1]), int(match[2]), int(match[3])) if match else None
        if day is None:
            aside.add(number, None, cells[at_date], BAD_DATE)
            continue
        seen.append(day)
        if len(seen) > MOST_VALUES:
            raise DataError(f"{file}:{number}: more than {MOST_VALUES} days: not one station's daily record.")
        for element, at_value, at_flags in pairs:
            value = cells[at_value].strip()
            if not value:
                continue
            said = f"{element} {value}"
            if not _INTEGER.match(value):
                if "." in value:
                    raise DataError(
                        f"{file}:{number}: {element} has decimals, the access form has whole tenths: this is another "
                        "kind of order. Declare its columns and units instead."
                    )
                aside.add(number, day, said, NOT_A_NUMBER)
                continue
            flags = cells[at_flags].split(",")
            flag = flags[1].strip() if len(flags) > 1 else ""
            if int(value) == MISSING:
                continue
            if flag:
                aside.add(number, day, said, flag_rule(flag))
                continue
            gathered[element].add(day, number, int(value) / 10, value)
    station = one_station(stations, file, options)
    values = {ELEMENTS[e]: g.values() for e, g in gathered.items()}
    return judge(values, aside=aside, source=source_words(station, file, options), seen=np.array(seen, dtype=np.int64))
