"""The station's record: a file sent, what was read of it, what was set aside by rule or by hand."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from kailyard.desk.answer import once
from kailyard.desk.desk import Desk
from kailyard.desk.people import Visitor
from kailyard.desk.weather import KeptRecord, records, send_weather
from kailyard.desk.weather_aside import set_aside, use_again
from kailyard.errors import UsageError
from kailyard.web.register import Moved, NoQuery, Upload

PATH = "/weather"
TITLE = "Weather"
MENU = (3, 1)
TEMPLATE = "weather.html"
MOST_BYTES = 40_000_000


@dataclass(frozen=True, slots=True)
class Form:
    """One wish. To read: the file; `columns` where it is a table, by what they hold. To set aside: the record, its days
    where it is not the whole, a word why; `id` was made with the form. To use again: the entry that set it aside."""

    wish: Literal["read", "aside", "use"] = "read"
    id: str = ""
    record: str = ""
    first: str = ""
    last: str = ""
    why: str = ""
    entry: str = ""
    file: Upload | None = None
    station: str = ""
    columns: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Page:
    """What is kept, and what it is enough for."""

    records: tuple[KeptRecord, ...]
    enough: str
    mark: str


QUERY = NoQuery
FORM = Form


def page(desk: Desk, query: NoQuery, person: Visitor) -> Page:
    """What is kept."""
    return Page(*records(desk), once())


def post(desk: Desk, form: Form, person: Visitor) -> Moved:
    """Read a file; nothing is kept where it cannot be used. Or set weather aside, or use it again."""
    if form.wish == "aside":
        done = set_aside(desk, form.record, first=form.first, last=form.last, why=form.why, id_=form.id or None)
        return Moved(PATH, f"{done.title}. It stays kept and is not used.")
    if form.wish == "use":
        return Moved(PATH, use_again(desk, form.entry))
    if form.file is None or not form.file.name:
        raise UsageError("No file was chosen. Choose the station's file first.")
    said = send_weather(desk, form.file.name, form.file.content, station=form.station, declared=form.columns)
    return Moved(PATH, said)
