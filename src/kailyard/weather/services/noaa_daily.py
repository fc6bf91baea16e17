"""NOAA's daily summaries of one station, from NCEI's access data service.

Form after NCEI's documentation of that service and of GHCN-Daily: a list of flat objects, every value text, one object
a day, in metric units as asked for. `<element>_ATTRIBUTES` has the flags measurement, quality, source, by commas.
"""

from __future__ import annotations

from collections.abc import Generator
from urllib.parse import urlencode

from kailyard.weather.options import ReadOptions
from kailyard.weather.readers import noaa_service
from kailyard.weather.record import DailyRecord
from kailyard.weather.services._answers import Answered, Asked

NAME = "noaa-daily"
HELP = "NOAA: the daily record of one station (GHCN-Daily), by its identifier"
HOST = "ncei"
GIVES = "days"
BY = "station"
CREDIT = "NOAA National Centers for Environmental Information, GHCN-Daily; public domain"


def asking(asked: Asked) -> Generator[str, Answered, DailyRecord]:
    """One answer."""
    query = {
        "dataset": "daily-summaries",
        "stations": asked.station,
        "dataTypes": "TMIN,TMAX,PRCP",
        "startDate": asked.first.isoformat(),
        "endDate": asked.last.isoformat(),
        "units": "metric",
        "includeAttributes": "true",
        "format": "json",
    }
    said = yield f"/access/services/data/v1?{urlencode(query, safe=',')}"
    return noaa_service.read(said.content, ReadOptions(name=NAME, station=asked.station))
