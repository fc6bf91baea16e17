"""A new garden, and its name, place and habits of measure put right."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any
from zoneinfo import available_timezones

from kailyard.desk import typed
from kailyard.desk.desk import Desk, zone
from kailyard.desk.handles import handles, undo
from kailyard.documents.table import Table
from kailyard.errors import UsageError
from kailyard.garden.identifiers import tidy_name
from kailyard.publish.units import figure, number
from kailyard.units import Units

NEXT = (
    "Next: `kailyard weather FILE` reads your station's daily record; `kailyard bed` and `kailyard planting` say what "
    "there is; `kailyard enter` keeps what you do and see; `kailyard sheet` says what to do this week.",
)
"""What to do in a garden that has nothing yet."""


OPTIONS = {"latitude": "--lat", "longitude": "--lon", "elevation": "--elevation", "offset": "--offset"}
"""What the keyboard calls each."""


def new_garden(
    desk: Desk,
    *,
    name: str,
    latitude: str,
    longitude: str,
    elevation: str | None = None,
    timezone: str | None = None,
    units: Units = "metric",
    offset: str | None = None,
    called: Callable[[str], str] = OPTIONS.__getitem__,
) -> Table:
    """Make a garden in the desk's folder. Conflict where one lies there; nothing is made where a value is wrong."""
    from kailyard.store.sqlite import create_store

    given = {
        "name": name,
        "latitude": latitude,
        "longitude": longitude,
        "elevation": elevation,
        "timezone": timezone,
        "units": units,
        "offset": offset,
    }
    payload = _read({key: value for key, value in given.items() if value is not None}, units, called)
    where = zone(payload.get("timezone", "UTC"))
    today = desk.now().astimezone(where).date()
    entry = desk.entry("garden", happened=today, payload=payload)
    create_store(desk.folder, first=[entry]).close()
    notes = [] if timezone else ["Its days are counted in UTC. `kailyard garden --zone NAME` says where it lies."]
    return _settings(desk, f"New garden in {desk.folder}", (*notes, *NEXT))


def garden_settings(desk: Desk) -> Table:
    """The garden's name, place and habits of measure."""
    return _settings(desk, "The garden", ("`kailyard garden --help` tells how to put one of them right.",))


def change_garden(desk: Desk, given: dict[str, str], called: Callable[[str], str] = OPTIONS.__getitem__) -> Table:
    """Put settings right: those named change, the others stay."""
    garden = desk.garden()
    units: Units = "us" if given.get("units", garden.units) == "us" else "metric"
    payload = {**garden.settings, **_read(given, units, called)}
    entry = desk.entry("garden", happened=desk.today(garden), payload=payload)
    desk.keep([entry])
    return _settings(desk, "The garden is changed", (undo(handles(desk).of(entry), was=True),))


@dataclass(frozen=True, slots=True)
class Settings:
    """The garden's settings as they would be typed, and what it has so far."""

    typed: Mapping[str, str]
    weather: bool
    beds: bool
    plantings: bool
    undo: str
    """The entry that changed them last, to be withdrawn; '' where they are as first entered."""


def settings(desk: Desk) -> Settings | None:
    """The garden's settings for a form; None where the folder holds no garden."""
    if not desk.is_there():
        return None
    garden = desk.garden()
    said = sorted((e for e in garden.entries if e.kind == "garden"), key=lambda e: (e.written, e.id))
    site, units = garden.site, garden.units
    typed_ = {
        "name": garden.name,
        "latitude": number(site.latitude, 5),
        "longitude": number(site.longitude, 5),
        "elevation": figure(site.elevation_m, "m", units, 2),
        "timezone": site.timezone,
        "units": units,
        "offset": figure(site.minimum_offset_c, "°C difference", units, 2),
    }
    undo_ = said[-1].id if len(said) > 1 else ""
    kept = bool(desk.store.kept_weather())
    return Settings(typed_, kept, bool(garden.beds), bool(garden.plantings), undo_)


def zones() -> tuple[str, ...]:
    """Names of time zones as a person would look for them."""
    return ("UTC", *sorted(z for z in available_timezones() if "/" in z and z[:3] not in ("Etc", "pos", "rig", "Sys")))


def _read(given: dict[str, str], units: Units, called: Callable[[str], str]) -> dict[str, Any]:
    """Settings from words, as the payload of a 'garden' entry has them."""
    found: dict[str, Any] = {}
    if "name" in given:
        found["name"] = tidy_name(given["name"])
    for key, bound in (("latitude", 66.0), ("longitude", 180.0)):
        if key in given:
            option = called(key)
            found[key] = typed.quantity(given[key], "", units, option)
            if abs(found[key]) > bound:
                raise UsageError(
                    f"{option} {found[key]:g}: degrees from -{bound:g} to {bound:g} are known here "
                    "(south and west are negative)."
                )
    if "elevation" in given:
        found["elevation_m"] = typed.quantity(given["elevation"], "m", units, called("elevation"))
    if "timezone" in given:
        zone(given["timezone"])
        found["timezone"] = given["timezone"]
    if "units" in given:
        found["units"] = given["units"]
    if "offset" in given:
        found["minimum_offset_c"] = typed.quantity(given["offset"], "°C difference", units, called("offset"))
    return found


def _settings(desk: Desk, title: str, notes: tuple[str, ...]) -> Table:
    garden = desk.garden()
    site = garden.site
    rows = (
        ("name", garden.name),
        ("latitude", f"{site.latitude:g}°"),
        ("longitude", f"{site.longitude:g}°"),
        ("elevation", figure(site.elevation_m, "m", garden.units)),
        ("time zone", site.timezone),
        ("units", "°F and inches" if garden.units == "us" else "°C and millimetres"),
        ("cold nights against the station", figure(site.minimum_offset_c, "°C difference", garden.units)),
    )
    return Table(title, ("", "as entered"), rows, notes)
