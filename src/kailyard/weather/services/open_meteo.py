"""Open-Meteo's forecast by the hour, for any place.

Form after its documentation of the forecast interface: columns by name under 'hourly', their units under
'hourly_units', times in ISO 8601 without a zone, which is UTC as asked for. Rain is the sum and radiation the mean of
the hour before the stamp. It does not say when the models ran: the moment of asking counts as the moment of issue.
"""

from __future__ import annotations

from collections.abc import Generator
from datetime import UTC, datetime
from typing import Any
from urllib.parse import urlencode

import msgspec
import numpy as np

from kailyard.errors import DataError
from kailyard.weather.hours import OVER_THE_HOUR, HourlyRecord, hour_number, hourly
from kailyard.weather.issued import IssuedForecast, issue
from kailyard.weather.record import FloatArray
from kailyard.weather.services._answers import Answered, Asked, answer, in_our_unit, numbers

NAME = "open-meteo"
HELP = "Open-Meteo: a forecast by the hour for any place"
HOST = "open-meteo"
GIVES = "forecast"
BY = "place"
CREDIT = "Weather data by Open-Meteo.com (CC BY 4.0); free for non-commercial use"

DAYS = 11
"""Today and the ten days of which a forecast is used."""
COLUMNS = {
    "temperature_2m": "temp_c",
    "dew_point_2m": "dew_point_c",
    "relative_humidity_2m": "humidity_pct",
    "precipitation": "rain_mm",
    "wind_speed_10m": "wind_m_s",
    "shortwave_radiation": "radiation_mj_m2",
    "surface_pressure": "pressure_kpa",
}
_UNITS = {"W/m²": "W/m² over an hour"}


class _Answer(msgspec.Struct):
    hourly: dict[str, list[Any]]
    hourly_units: dict[str, str]


def asking(asked: Asked) -> Generator[str, Answered, tuple[IssuedForecast, HourlyRecord]]:
    """One answer: the hours from yesterday, so that today is whole wherever its midnight lies."""
    latitude, longitude = asked.place
    query = {
        "latitude": latitude,
        "longitude": longitude,
        "hourly": ",".join(COLUMNS),
        "wind_speed_unit": "ms",
        "timezone": "GMT",
        "past_days": 1,
        "forecast_days": DAYS + 1,
    }
    said = yield f"/v1/forecast?{urlencode(query, safe=',')}"
    hours = read_hours(said.content)
    forecast = issue(hours, source=NAME, issued=said.at, zone=asked.zone, credit=CREDIT)
    return forecast, hours


def read_hours(content: bytes) -> HourlyRecord:
    """The hours of an answer.

    Raises
    ------
    DataError
        If the answer is not of the form that is known.
    """
    said = answer(NAME, content, _Answer)
    at = np.array([_hour(t) for t in said.hourly.get("time", [])], dtype=np.int64)
    if not len(at) or len(np.unique(at)) != len(at):
        raise DataError(f"{NAME} answered without times, or with a time twice. Nothing was kept.")
    if at.max() - at.min() > 24 * 40:
        raise DataError(f"{NAME} answered with times that lie far apart. Nothing was kept.")
    every = np.arange(at.min() - 1, at.max() + 1)
    columns: dict[str, FloatArray] = {}
    for name, column in COLUMNS.items():
        values = numbers(NAME, said.hourly.get(name, []))
        if not len(values):
            continue
        if len(values) != len(at):
            raise DataError(f"{NAME} answered with {len(values)} of {name} for {len(at)} hours. Nothing was kept.")
        cells = in_our_unit(NAME, column, values, said.hourly_units.get(name, ""), spellings=_UNITS)
        columns[column] = np.full(len(every), np.nan)
        columns[column][np.searchsorted(every, at - int(column in OVER_THE_HOUR))] = cells
    return hourly(every, columns, source=f"{NAME} forecast")


def _hour(text: object) -> int:
    try:
        moment = datetime.fromisoformat(str(text))
    except ValueError:
        raise DataError(f"{NAME} answered with a time that cannot be read. Nothing was kept.") from None
    return hour_number(moment.replace(tzinfo=moment.tzinfo or UTC))
