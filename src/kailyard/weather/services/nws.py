"""The forecast of the United States National Weather Service for a square of 2.5 km.

Form after the service's documentation of its interface: /points gives the square, /gridpoints its layers. A layer has a
unit (`uom`) and values, each for a span of time in ISO 8601: a beginning and how long it lasts. Rain comes for spans of
several hours and is shared evenly among them: right for days, rough for hours.
"""

from __future__ import annotations

import re
from collections.abc import Generator
from datetime import UTC, datetime

import msgspec
import numpy as np

from kailyard.errors import DataError
from kailyard.weather.files import shown
from kailyard.weather.hours import OVER_THE_HOUR, HourlyRecord, hour_number, hourly
from kailyard.weather.issued import IssuedForecast, issue
from kailyard.weather.services._answers import Answered, Asked, answer, in_our_unit

NAME = "nws"
HELP = "National Weather Service: a forecast by the hour for a place in the United States"
HOST = "nws"
GIVES = "forecast"
BY = "place"
CREDIT = "NOAA National Weather Service; public domain"

_LAYERS = {
    "temperature": "temp_c",
    "dewpoint": "dew_point_c",
    "relativeHumidity": "humidity_pct",
    "quantitativePrecipitation": "rain_mm",
    "windSpeed": "wind_m_s",
}
_UNITS = {
    "wmoUnit:degC": "°C",
    "wmoUnit:degF": "°F",
    "wmoUnit:percent": "%",
    "wmoUnit:mm": "mm",
    "wmoUnit:km_h-1": "km/h",
    "wmoUnit:m_s-1": "m/s",
}
_SPAN = re.compile(r"([^/]+)/P(?:([0-9]{1,2})D)?(?:T([0-9]{1,3})H)?\Z", re.ASCII)
_OFFICE = re.compile(r"[A-Z]{3}\Z")
_LONGEST_SPAN_H = 24 * 14


class _Point(msgspec.Struct):
    gridId: str  # noqa: N815  # named as in the answer
    gridX: int | str  # noqa: N815  # named as in the answer
    gridY: int | str  # noqa: N815  # named as in the answer


class _PointAnswer(msgspec.Struct):
    properties: _Point


class _Value(msgspec.Struct):
    validTime: str  # noqa: N815  # named as in the answer
    value: float | None = None


class _Layer(msgspec.Struct):
    values: list[_Value] = []
    uom: str = ""


class _GridAnswer(msgspec.Struct):
    properties: dict[str, msgspec.Raw]


def asking(asked: Asked) -> Generator[str, Answered, tuple[IssuedForecast, HourlyRecord]]:
    """Two answers: which square, and its layers. No address that an answer names is followed."""
    said = yield f"/points/{','.join(asked.place)}"
    square = answer(NAME, said.content, _PointAnswer).properties
    x, y = str(square.gridX), str(square.gridY)
    if not (_OFFICE.match(square.gridId) and x.isdecimal() and y.isdecimal()):
        raise DataError(f"{NAME} answered with no square of its grid. Nothing was kept.")
    said = yield f"/gridpoints/{square.gridId}/{x},{y}"
    issued, hours = read_layers(said.content)
    return issue(hours, source=NAME, issued=issued or said.at, zone=asked.zone, credit=CREDIT), hours


def read_layers(content: bytes) -> tuple[datetime | None, HourlyRecord]:
    """When the forecast was issued, where it says so, and its hours.

    Raises
    ------
    DataError
        If the answer is not of the form that is known.
    """
    said = answer(NAME, content, _GridAnswer).properties
    spans: dict[str, list[tuple[int, int, float]]] = {}
    for name, column in _LAYERS.items():
        layer = answer(NAME, bytes(said[name]), _Layer) if name in said else _Layer()
        if not layer.values:
            continue
        values = in_our_unit(
            NAME,
            column,
            np.array([np.nan if v.value is None else v.value for v in layer.values], dtype=np.float64),
            layer.uom,
            spellings=_UNITS,
        )
        spans[column] = [(*_span(v.validTime), float(x)) for v, x in zip(layer.values, values, strict=True)]
    every = [s for column in spans.values() for s in column]
    if not every:
        raise DataError(f"{NAME} answered without any hour. Ask again later.")
    first, last = min(s for s, _, _ in every), max(s + n for s, n, _ in every)
    if last - first > 24 * 40:
        raise DataError(f"{NAME} answered with times that lie far apart. Nothing was kept.")
    columns = {column: np.full(last - first, np.nan) for column in spans}
    for column, parts in spans.items():
        for start, length, value in parts:
            share = value / length if column in OVER_THE_HOUR else value
            columns[column][start - first : start - first + length] = share
    return _moment(said.get("updateTime")), hourly(np.arange(first, last), columns, source=f"{NAME} forecast")


def _span(text: str) -> tuple[int, int]:
    """First hour of a span and how many it has."""
    found = _SPAN.match(text)
    try:
        start = datetime.fromisoformat(found[1]) if found else None
    except ValueError:
        start = None
    hours = (int(found[2] or 0) * 24 + int(found[3] or 0)) if found else 0
    if start is None or start.tzinfo is None or not 1 <= hours <= _LONGEST_SPAN_H:
        raise DataError(f"{NAME} answered with the span '{shown(text)}', which cannot be read. Nothing was kept.")
    return hour_number(start), hours


def _moment(raw: msgspec.Raw | None) -> datetime | None:
    if raw is None:
        return None
    text = answer(NAME, bytes(raw), str)
    try:
        return datetime.fromisoformat(text).astimezone(UTC).replace(microsecond=0)
    except ValueError:
        return None
