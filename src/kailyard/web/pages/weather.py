"""The station's record: a file sent, what was read of it, what was set aside."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from kailyard.desk.desk import Desk
from kailyard.desk.people import Visitor
from kailyard.desk.weather import KeptRecord, records, send_weather
from kailyard.errors import UsageError
from kailyard.web.register import Moved, NoQuery, Upload

PATH = "/weather"
TITLE = "Weather"
MENU = 31
TEMPLATE = "weather.html"
MOST_BYTES = 40_000_000


@dataclass(frozen=True, slots=True)
class Form:
    """The file; `columns` where it is a table, by what they hold."""

    file: Upload | None = None
    station: str = ""
    columns: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Page:
    """What is kept, and what it is enough for."""

    records: tuple[KeptRecord, ...]
    enough: str


QUERY = NoQuery
FORM = Form


def page(desk: Desk, query: NoQuery, person: Visitor) -> Page:
    """What is kept."""
    return Page(*records(desk))


def post(desk: Desk, form: Form, person: Visitor) -> Moved:
    """Read a file; nothing is kept where it cannot be used."""
    if form.file is None or not form.file.name:
        raise UsageError("No file was chosen. Choose the station's file first.")
    said = send_weather(desk, form.file.name, form.file.content, station=form.station, declared=form.columns)
    return Moved(PATH, said)
