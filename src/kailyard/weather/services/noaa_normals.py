"""NOAA's climate normals of one station by month, from NCEI's access data service: stated means, never used as years.

Form after NCEI's documentation of the service and of the monthly normals 1991-2020: a list of flat objects, one a
month, values as text in °F and inches as asked for (`units=standard`). That DATE holds the month's number: from memory.
"""

from __future__ import annotations

from collections.abc import Generator
from urllib.parse import urlencode

from kailyard.errors import DataError
from kailyard.units import turned
from kailyard.weather.files import shown
from kailyard.weather.normals import Normals
from kailyard.weather.services._answers import Answered, Asked, answer

NAME = "noaa-normals"
HELP = "NOAA: the climate normals 1991-2020 of one station by month, to compare with"
HOST = "ncei"
GIVES = "normals"
BY = "station"
CREDIT = "NOAA National Centers for Environmental Information, U.S. Climate Normals 1991-2020; public domain"

_COLUMNS = {"MLY-TMIN-NORMAL": ("°F", "°C"), "MLY-TMAX-NORMAL": ("°F", "°C"), "MLY-PRCP-NORMAL": ("in", "mm")}
_LEAST, _MOST = -90.0, 150.0
"""No month's mean of °F, nor inches of rain, lies outside; NCEI marks what is missing by -9999 and such."""


def asking(asked: Asked) -> Generator[str, Answered, Normals]:
    """One answer."""
    query = {
        "dataset": "normals-monthly-1991-2020",
        "stations": asked.station,
        "dataTypes": ",".join(_COLUMNS),
        "units": "standard",
        "format": "json",
    }
    said = yield f"/access/services/data/v1?{urlencode(query, safe=',')}"
    months = answer(NAME, said.content, list[dict[str, str | None]])
    columns: dict[str, list[float | None]] = {name: [None] * 12 for name in _COLUMNS}
    for row in months:
        month = (row.get("DATE") or "").strip()
        if row.get("STATION") != asked.station or not month.isdecimal() or not 1 <= int(month) <= 12:
            continue
        for name, (unit, ours) in _COLUMNS.items():
            text = (row.get(name) or "").strip()
            if not text:
                continue
            try:
                value = float(text)
            except ValueError:
                raise DataError(f"{NAME} answered with '{shown(text)}' for {name}. Nothing was kept.") from None
            if _LEAST <= value <= _MOST:
                columns[name][int(month) - 1] = round(turned(value, unit, ours), 2)
    low, high, rain = (tuple(columns[name]) for name in _COLUMNS)
    if not any(v is not None for v in (*low, *high, *rain)):
        raise DataError(f"{NAME} has no monthly normals of '{shown(asked.station)}'. Check the identifier.")
    return Normals(asked.station, "1991-2020", low, high, rain, CREDIT)
