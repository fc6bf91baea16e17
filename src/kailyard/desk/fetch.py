"""Weather from services: what would be sent is told first, then it is asked for, and what came is kept."""

from __future__ import annotations

import re
from collections.abc import Generator
from contextlib import suppress
from dataclasses import dataclass, replace
from datetime import date, timedelta
from types import ModuleType
from typing import Any
from urllib.parse import urlsplit

import numpy as np

from kailyard.desk import typed
from kailyard.desk.clock import PretendedClock
from kailyard.desk.desk import Desk, zone
from kailyard.desk.http import FOLDER, Fetcher
from kailyard.desk.judged import bearing_on, judged
from kailyard.desk.normals import normals_beside
from kailyard.desk.weather import COLUMNS, enough, row
from kailyard.desk.weather_aside import in_use
from kailyard.discover import modules
from kailyard.documents.table import Table
from kailyard.errors import NotFound, UsageError
from kailyard.garden.model import Garden
from kailyard.publish.units import figure
from kailyard.weather.hours import HourlyRecord
from kailyard.weather.issued import IssuedForecast
from kailyard.weather.judging import doubts, set_bad_aside
from kailyard.weather.lacking import only_gaps
from kailyard.weather.normals import Normals
from kailyard.weather.record import DailyRecord, merge
from kailyard.weather.services._answers import Asked
from kailyard.weather.services._hosts import HOSTS

SERVICES = "kailyard.weather.services"
AGREED = "agreed.txt"
FIRST_DAY = date(1940, 1, 1)
"""Records are asked for from here on, unless another year is said."""
_STATION = re.compile(r"[A-Z0-9_-]{4,20}\Z")


@dataclass(frozen=True, slots=True)
class Service:
    """One service as a person chooses it."""

    name: str
    help: str
    gives: str
    """'forecast', 'days' or 'normals'."""
    by: str
    """'place' or 'station'."""
    host: str
    """'api.example.org'."""
    sends: str
    """What is sent there, in words."""
    agreed: bool
    credit: str


def services(desk: Desk) -> tuple[Service, ...]:
    """Every service, sorted by name, with what this garden would send it."""
    garden = desk.garden()
    return tuple(sorted((_service(desk, garden, m) for m in modules(SERVICES)), key=lambda s: s.name))


def services_listed(desk: Desk) -> Table:
    """Every service as a table."""
    rows = tuple((s.name, s.help, s.host, s.sends, "yes" if s.agreed else "not yet") for s in services(desk))
    notes = ("Nothing is ever sent unless you ask, and the first time it is said beforehand what.",)
    return Table("Weather services", ("name", "what it gives", "where", "what is sent", "agreed"), rows, notes)


def fetch(desk: Desk, name: str | None, *, station: str = "", since: str | None = None, agreed: bool = False) -> Table:
    """Ask a service and keep what it answers; where nobody agreed to it yet, tell what would be sent and ask nothing.

    Raises UsageError, NotFound, DataError; `http.Unreachable` in one line where the service gives no answer.
    """
    if name is None:
        return services_listed(desk)
    garden = desk.garden()
    module = _named(name)
    if isinstance(desk.clock, PretendedClock):
        raise UsageError("The day is a pretended one, and the weather of today would not fit it. Nothing was fetched.")
    service = _service(desk, garden, module)
    station = station.strip().upper()
    if service.by == "station" and not _STATION.match(station):
        raise UsageError(f"Which station? {name} wants its identifier, like USW00014839: --station ID.")
    today = desk.today(garden)
    first = FIRST_DAY if since is None else date(_year(since, today), 1, 1)
    if not service.agreed:
        if not agreed:
            return _beforehand(service, station)
        _agree(desk, service.host)
    asked = Asked(
        garden.site.latitude,
        garden.site.longitude,
        zone(garden.site.timezone),
        first,
        today - timedelta(days=1),
        station,
    )
    came = _ask(Fetcher(desk.folder, now=desk.now), module, asked)
    if isinstance(came, DailyRecord):
        return _keep_days(desk, garden, came, service)
    if isinstance(came, Normals):
        return _keep_normals(desk, garden, came)
    return _keep_forecast(desk, garden, *came)


def fetch_sent(desk: Desk, name: str, *, station: str, since: str, agreed: bool) -> str:
    """Ask a service as a page's form says it; a sentence of what came.

    Raises UsageError where nobody agreed yet to what is sent, and what `fetch` raises.
    """
    service = _service(desk, desk.garden(), _named(name))
    if not service.agreed and not agreed:
        raise UsageError(f"Nothing was fetched: say first that you agree to what is sent to {service.host}.")
    made = fetch(desk, name, station=station, since=since or None, agreed=agreed)
    days = f": {len(made.rows)} days" if service.gives == "forecast" else ""
    return f"{made.title}{days}. {' '.join(made.notes)}"


def _ask(
    fetcher: Fetcher, module: ModuleType, asked: Asked
) -> DailyRecord | Normals | tuple[IssuedForecast, HourlyRecord]:
    asking: Generator[str, Any, Any] = module.asking(asked)
    path = next(asking)
    while True:
        try:
            path = asking.send(fetcher.get(module.HOST, path))
        except StopIteration as end:
            came: DailyRecord | Normals | tuple[IssuedForecast, HourlyRecord] = end.value
            return came


def _keep_forecast(desk: Desk, garden: Garden, forecast: IssuedForecast, hours: HourlyRecord) -> Table:
    id_ = desk.store.add_forecast(forecast, kept=desk.now())
    if id_:
        desk.store.add_hours(hours, imported=desk.now(), forecast=id_)
    rows = tuple(
        (str(d.day), *(_said(v, u, garden) for v, u in ((d.tmin_c, "°C"), (d.tmax_c, "°C"), (d.rain_mm, "mm"))))
        for d in forecast.days()
    )
    notes = (
        f"Kept as it was issued, with its hours: {forecast.issued:%Y-%m-%d %H:%M} UTC."
        if id_
        else "Just this forecast is kept already; nothing was stored again.",
        forecast.credit,
    )
    return Table(f"Forecast of {forecast.source}", ("day", "low", "high", "rain"), rows, notes)


def _keep_days(desk: Desk, garden: Garden, record: DailyRecord, service: Service) -> Table:
    notes = []
    whole = record = set_bad_aside(record, file=service.name)
    kept = in_use(desk, garden.entries)
    if service.by == "place" and kept:
        record, filled = only_gaps(record, merge(kept))
        notes.append(
            f"The garden has a station's record, which wins over computed weather: {filled} days that it lacks were "
            "filled."
        )
        if not filled:
            return Table(f"Days of {service.name}", COLUMNS, (), (*notes, "Nothing was kept."))
    new = desk.store.add_weather(record, imported=desk.now(), name=service.name)
    if not new:
        notes.append("Just this record is kept already; nothing was stored again.")
    notes += judged(record.set_aside, bearing_on(doubts(whole), record), garden.units)
    notes += [enough(merge(in_use(desk, garden.entries))), service.credit]
    return Table(f"Days of {service.name}", COLUMNS, (row(record, record.source),), tuple(notes))


def _keep_normals(desk: Desk, garden: Garden, normals: Normals) -> Table:
    new = desk.store.add_normals(normals, kept=desk.now())
    table = normals_beside(desk, garden, normals)
    kept = "Kept." if new else "Just these are kept already; nothing was stored again."
    return replace(table, notes=(kept, *table.notes))


def _said(value: float | None, unit: str, garden: Garden) -> str:
    return "" if value is None or np.isnan(value) else figure(value, unit, garden.units)


def _beforehand(service: Service, station: str) -> Table:
    what = f"the identifier {station}" if service.by == "station" else service.sends
    return Table(
        "Nothing was fetched yet",
        notes=(
            f"{service.help}. This would send {what} to {service.host}, and with it, as with any page you open, this "
            "network's address and the name of this program. Nothing else, to nobody else, and only when you ask.",
            f"If you agree, say so once: `kailyard fetch {service.name} --agree`, with the same words as now.",
        ),
    )


def _agree(desk: Desk, host: str) -> None:
    """Remember that a host may be asked; the note lies with the answers, to be deleted with them."""
    with suppress(OSError):
        folder = desk.folder / FOLDER
        folder.mkdir(exist_ok=True)
        with (folder / AGREED).open("a", encoding="utf-8") as file:
            file.write(f"{host}\n")


def _agreed(desk: Desk, host: str) -> bool:
    try:
        return host in (desk.folder / FOLDER / AGREED).read_text(encoding="utf-8").split()
    except (OSError, UnicodeDecodeError):
        return False


def _service(desk: Desk, garden: Garden, module: ModuleType) -> Service:
    host = urlsplit(HOSTS[module.HOST]).netloc
    latitude, longitude = Asked(garden.site.latitude, garden.site.longitude, zone("UTC"), FIRST_DAY, FIRST_DAY).place
    sends = "the station's identifier"
    if module.BY == "place":
        sends = f"the garden's place to a hundredth of a degree, latitude {latitude}, longitude {longitude}"
    return Service(module.NAME, module.HELP, module.GIVES, module.BY, host, sends, _agreed(desk, host), module.CREDIT)


def _named(name: str) -> ModuleType:
    for module in modules(SERVICES):
        if name == module.NAME:
            return module
    known = ", ".join(sorted(m.NAME for m in modules(SERVICES)))
    raise NotFound(f"There is no service {typed.shown(name)}. Services: {known}.")


def _year(text: str, today: date) -> int:
    if not text.isdecimal() or not FIRST_DAY.year <= int(text) <= today.year:
        raise UsageError(f"--since {typed.shown(text)}: write a year from {FIRST_DAY.year} to {today.year}.")
    return int(text)
