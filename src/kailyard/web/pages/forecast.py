"""Forecasts as they were issued and how right they have been; services to fetch from; hourly files."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from kailyard.desk.ahead import ShownIssue, issues, skill
from kailyard.desk.desk import Desk
from kailyard.desk.fetch import Service, fetch_sent, services
from kailyard.desk.hours import hours_kept, send_hours
from kailyard.desk.normals import normals_kept
from kailyard.desk.people import Visitor
from kailyard.documents.table import Table
from kailyard.errors import UsageError
from kailyard.web.register import Moved, NoQuery, Upload

PATH = "/forecast"
TITLE = "Hours and forecasts"
MENU = None
TEMPLATE = "forecast.html"
MOST_BYTES = 40_000_000


@dataclass(frozen=True, slots=True)
class Form:
    """One wish. To fetch: the service, its station where it has stations, agreement to what is sent. To read: the file,
    `columns` by what they hold, whether the days that they make are kept too."""

    wish: Literal["fetch", "read"] = "read"
    service: str = ""
    station: str = ""
    since: str = ""
    agreed: bool = False
    file: Upload | None = None
    as_days: bool = False
    columns: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Page:
    """What can be fetched, what was issued, how right it was, which hours are kept."""

    services: tuple[Service, ...]
    issues: tuple[ShownIssue, ...]
    kept: int
    """So many forecasts are kept in all."""
    skill: Table
    hours: tuple[tuple[str, ...], ...]
    normals: tuple[Table, ...]


QUERY = NoQuery
FORM = Form


def page(desk: Desk, query: NoQuery, person: Visitor) -> Page:
    """What is kept."""
    return Page(services(desk), *issues(desk), skill(desk), hours_kept(desk), normals_kept(desk))


def post(desk: Desk, form: Form, person: Visitor) -> Moved:
    """Fetch from a service, or read an hourly file; nothing is kept where it cannot be used."""
    if form.wish == "fetch":
        said = fetch_sent(desk, form.service, station=form.station, since=form.since, agreed=form.agreed)
        return Moved(PATH, said)
    if form.file is None or not form.file.name:
        raise UsageError("No file was chosen. Choose the hourly file first.")
    said = send_hours(desk, form.file.name, form.file.content, declared=form.columns, as_days=form.as_days)
    return Moved(PATH, said)
