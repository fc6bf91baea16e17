"""NOAA's daily summaries as NCEI's access data service gives them in JSON, metric: one object a day, values as text.

Form after NCEI's documentation of the service; that a value is in °C or mm rests on `units=metric` in what was asked,
which the answer does not repeat. Flags as in GHCN-Daily's readme.
"""

from __future__ import annotations

import re
from pathlib import Path

import msgspec
import numpy as np

from kailyard.errors import DataError
from kailyard.weather.files import read_text, shown
from kailyard.weather.ghcn import ELEMENTS, flag_rule, one_station, source_words
from kailyard.weather.judge import BAD_DATE, NOT_A_NUMBER, Aside, Gathered, judge, ordinal
from kailyard.weather.options import ReadOptions
from kailyard.weather.record import DailyRecord

NAME = "noaa-service"
HELP = "NOAA daily summaries from NCEI's access service, JSON in metric units"
NEEDS_COLUMNS = False

_START = re.compile(r'\s*\[\s*\{[^{}]*"STATION"\s*:')
_DATE = re.compile(r"([0-9]{4})-([0-9]{2})-([0-9]{2})\Z", re.ASCII)
_NUMBER = re.compile(r"-?[0-9]{1,4}(\.[0-9]+)?\Z", re.ASCII)


def sniff(name: str, head: bytes) -> bool:
    """True where a list of objects with a station begins."""
    return _START.match(head.decode("latin-1")) is not None


def read(data: bytes | Path, options: ReadOptions) -> DailyRecord:
    """The record of one station; a line is an object of the list.

    Raises
    ------
    DataError
        Naming file and rule, where the answer as a whole cannot be used.
    """
    file, text = read_text(data, options.name)
    try:
        days = msgspec.json.decode(text, type=list[dict[str, str | None]])
    except (msgspec.MsgspecError, RecursionError) as err:
        raise DataError(f"{file}: no daily summaries in the service's JSON ({str(err).replace('`', '')}).") from None
    aside = Aside(file)
    gathered = {e: Gathered(file) for e in ELEMENTS}
    stations = {station for day in days if (station := day.get("STATION"))}
    if not stations:
        raise DataError(f"{file}: no day at all. Check the station's identifier and the days asked for.")
    station = one_station(stations, file, options)
    seen: list[int] = []
    for line, row in enumerate(days, 1):
        if row.get("STATION") != station:
            continue
        match = _DATE.match(row.get("DATE") or "")
        day = ordinal(int(match[1]), int(match[2]), int(match[3])) if match else None
        if day is None:
            aside.add(line, None, shown(row.get("DATE") or ""), BAD_DATE)
            continue
        seen.append(day)
        for element in ELEMENTS:
            value = (row.get(element) or "").strip()
            flags = (row.get(f"{element}_ATTRIBUTES") or "").split(",")
            flag = flags[1].strip() if len(flags) > 1 else ""
            if not value:
                continue
            if not _NUMBER.match(value):
                aside.add(line, day, f"{element} {value}", NOT_A_NUMBER)
            elif flag:
                aside.add(line, day, f"{element} {value}", flag_rule(flag))
            else:
                gathered[element].add(day, line, float(value), value)
    values = {key: gathered[e].values() for e, key in ELEMENTS.items()}
    source = options.source or source_words(station, file, options)
    return judge(values, aside=aside, source=source, seen=np.array(seen, dtype=np.int64))
