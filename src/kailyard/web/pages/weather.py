"""The station's record: a file sent, what was read of it, what is doubtful, what was set aside by rule or by hand."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from kailyard.desk.answer import once
from kailyard.desk.desk import Desk
from kailyard.desk.doubtful import Asked, Left, doubtful, left_in_use, settle
from kailyard.desk.people import Visitor
from kailyard.desk.thermometer import thermometer
from kailyard.desk.weather import KeptRecord, records, send_weather
from kailyard.desk.weather_aside import OWN_GAUGE, ByHand, by_hand, set_aside, use_again
from kailyard.documents.table import Table
from kailyard.errors import UsageError
from kailyard.web.register import Moved, NoQuery, Upload

PATH = "/weather"
TITLE = "Weather"
MENU = (3, 1)
TEMPLATE = "weather.html"
MOST_BYTES = 40_000_000
MOST_ASKED = 20


@dataclass(frozen=True, slots=True)
class Form:
    """One wish. To read: the file; `columns` where it is a table, by what they hold. To set aside: the record, its days
    where it is not the whole, a word why; `id` was made with the form. Of doubtful days, in all the records that have
    them: to set them aside or leave them. To use again, or be asked again: the entry that said so."""

    wish: Literal["read", "aside", "use", "doubt-aside", "doubt-leave"] = "read"
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
    asked: tuple[Asked, ...]
    most: int
    """So many of them are shown."""
    left: tuple[Left, ...]
    thermometer: Table | None
    gauge_aside: tuple[ByHand, ...]
    mark: str


QUERY = NoQuery
FORM = Form


def page(desk: Desk, query: NoQuery, person: Visitor) -> Page:
    """What is kept."""
    gauge = by_hand(desk.garden().entries).get(OWN_GAUGE, ())
    return Page(*records(desk), doubtful(desk), MOST_ASKED, left_in_use(desk), thermometer(desk), gauge, once())


def post(desk: Desk, form: Form, person: Visitor) -> Moved:
    """Read a file; nothing is kept where it cannot be used. Or set weather aside, leave it, or use it again."""
    if form.wish in ("doubt-aside", "doubt-leave"):
        leaving = form.wish == "doubt-leave"
        said = settle(desk, form.record, first=form.first, last=form.last, leaving=leaving, id_=form.id or once())
        return Moved(PATH, said)
    if form.wish == "aside":
        done = set_aside(desk, form.record, first=form.first, last=form.last, why=form.why, id_=form.id or None)
        return Moved(PATH, f"{done.title}. It stays kept and is not used.")
    if form.wish == "use":
        return Moved(PATH, use_again(desk, form.entry))
    if form.file is None or not form.file.name:
        raise UsageError("No file was chosen. Choose the station's file first.")
    said = send_weather(desk, form.file.name, form.file.content, station=form.station, declared=form.columns)
    return Moved(PATH, said)
