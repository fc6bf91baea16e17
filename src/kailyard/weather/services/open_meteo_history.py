"""Open-Meteo's past days for any place, from reanalysis: a computed weather, not a thermometer's.

Form after its documentation of the historical interface: columns by name under 'daily', their units under
'daily_units', days in the time zone asked for.
"""

from __future__ import annotations

from collections.abc import Generator
from datetime import date
from typing import Any
from urllib.parse import urlencode

import msgspec

from kailyard.errors import DataError
from kailyard.units import UNITS, turned, unit_typed
from kailyard.weather.files import shown
from kailyard.weather.judge import BAD_DATE, WORDS, Aside, Gathered, judge, ordinal
from kailyard.weather.record import DailyRecord
from kailyard.weather.services._answers import Answered, Asked, answer, numbers

NAME = "open-meteo-history"
HELP = "Open-Meteo: past days for any place, computed from all observations (reanalysis)"
HOST = "open-meteo-archive"
GIVES = "days"
BY = "place"
CREDIT = "Weather data by Open-Meteo.com (CC BY 4.0); free for non-commercial use"

FIRST_DAY = date(1940, 1, 1)
COLUMNS = {
    "temperature_2m_min": ("tmin", "°C"),
    "temperature_2m_max": ("tmax", "°C"),
    "precipitation_sum": ("rain", "mm"),
}


class _Answer(msgspec.Struct):
    daily: dict[str, list[Any]]
    daily_units: dict[str, str]


def asking(asked: Asked) -> Generator[str, Answered, DailyRecord]:
    """One answer."""
    latitude, longitude = asked.place
    query = {
        "latitude": latitude,
        "longitude": longitude,
        "start_date": max(asked.first, FIRST_DAY).isoformat(),
        "end_date": asked.last.isoformat(),
        "daily": ",".join(COLUMNS),
        "timezone": str(asked.zone),
    }
    came = yield f"/v1/archive?{urlencode(query, safe=',/')}"
    said = answer(NAME, came.content, _Answer)
    times = said.daily.get("time", [])
    aside = Aside(NAME)
    days = [_day(t) for t in times]
    values = {}
    for name, (element, ours) in COLUMNS.items():
        column = numbers(NAME, said.daily.get(name, []))
        unit = unit_typed(said.daily_units.get(name, ""))
        if len(column) != len(times) or unit is None or UNITS[unit].measures != UNITS[ours].measures:
            raise DataError(f"{NAME} answered without {WORDS[element]}, or not in {ours}. Nothing was kept.")
        gathered = Gathered(NAME)
        for line, (day, value) in enumerate(zip(days, column.tolist(), strict=True), 1):
            if day is None:
                aside.add(line, None, shown(str(times[line - 1])), BAD_DATE)
            elif value == value:
                gathered.add(day, line, round(turned(value, unit, ours), 3), f"{value:g}")
        values[element] = gathered.values()
    source = f"Open-Meteo history at {latitude}, {longitude} (reanalysis, CC BY 4.0)"
    return judge(values, aside=aside, source=source)


def _day(text: object) -> int | None:
    parts = str(text).split("-")
    if len(parts) != 3 or not all(p.isascii() and p.isdecimal() for p in parts):
        return None
    return ordinal(int(parts[0]), int(parts[1]), int(parts[2]))
