"""Forecasts typed and fetched, how far they are believed and how right they have been; services; hourly files."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from kailyard.desk.ahead import BELIEF_WORDS, ShownIssue, belief, issues, skill
from kailyard.desk.answer import once
from kailyard.desk.desk import Desk
from kailyard.desk.fetch import Service, fetch_sent, services
from kailyard.desk.hours import hours_kept, send_hours
from kailyard.desk.normals import normals_kept
from kailyard.desk.people import Visitor
from kailyard.desk.taken import take_back
from kailyard.desk.typed_ahead import AheadDay, TypedForm, days_ahead, enter_days, typed_form
from kailyard.desk.weather_aside import set_aside, use_again
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
    """One wish. To type: `days` by row and field, '0.low', and the day of issue; `id` was made with the form. To
    withdraw: the typed day's entry. To fetch: the service, its station where it has stations, agreement to what is
    sent. To set aside: the fetched forecast, a word why; to use again: the entry that set it aside. To read: the file,
    `columns` by what they hold, whether the days that they make are kept too."""

    wish: Literal["type", "withdraw", "fetch", "aside", "use", "read"] = "read"
    id: str = ""
    days: Mapping[str, str] = field(default_factory=dict)
    issued: str = ""
    entry: str = ""
    forecast: str = ""
    why: str = ""
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

    ahead: tuple[AheadDay, ...]
    typed: TypedForm
    mark: str
    services: tuple[Service, ...]
    issues: tuple[ShownIssue, ...]
    kept: int
    """So many forecasts are kept in all."""
    belief: tuple[Table, ...]
    belief_words: tuple[str, ...]
    skill: Table
    hours: tuple[tuple[str, ...], ...]
    normals: tuple[Table, ...]


QUERY = NoQuery
FORM = Form


def page(desk: Desk, query: NoQuery, person: Visitor) -> Page:
    """What is kept."""
    return Page(
        days_ahead(desk),
        typed_form(desk),
        once(),
        services(desk),
        *issues(desk),
        belief(desk),
        BELIEF_WORDS,
        skill(desk),
        hours_kept(desk),
        normals_kept(desk),
    )


def post(desk: Desk, form: Form, person: Visitor) -> Moved:
    """Keep typed days, fetch from a service, read an hourly file, or take a forecast out of use or into it again."""
    if form.wish == "type":
        return Moved(PATH, enter_days(desk, form.days, issued=form.issued, id_=form.id or once()))
    if form.wish == "withdraw":
        return Moved(PATH, take_back(desk, form.entry))
    if form.wish == "aside":
        done = set_aside(desk, form.forecast, why=form.why, id_=form.id or None)
        return Moved(PATH, f"{done.title}. It stays kept and is not used.")
    if form.wish == "use":
        return Moved(PATH, use_again(desk, form.entry))
    if form.wish == "fetch":
        said = fetch_sent(desk, form.service, station=form.station, since=form.since, agreed=form.agreed)
        return Moved(PATH, said)
    if form.file is None or not form.file.name:
        raise UsageError("No file was chosen. Choose the hourly file first.")
    said = send_hours(desk, form.file.name, form.file.content, declared=form.columns, as_days=form.as_days)
    return Moved(PATH, said)
