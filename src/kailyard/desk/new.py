"""A new garden, and its name, place and habits of measure put right."""

from __future__ import annotations

from typing import Any

from kailyard.desk import typed
from kailyard.desk.desk import Desk, zone
from kailyard.desk.handles import handles, undo
from kailyard.documents.table import Table
from kailyard.errors import UsageError
from kailyard.garden.identifiers import tidy_name
from kailyard.publish.units import figure
from kailyard.units import Units

NEXT = (
    "Next: `kailyard weather FILE` reads your station's daily record; `kailyard bed` and `kailyard planting` say what "
    "there is; `kailyard enter` keeps what you do and see; `kailyard sheet` says what to do this week.",
)
"""What to do in a garden that has nothing yet."""


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
    payload = _read({key: value for key, value in given.items() if value is not None}, units)
    where = zone(payload.get("timezone", "UTC"))
    today = desk.now().astimezone(where).date()
    entry = desk.entry("garden", happened=today, payload=payload)
    create_store(desk.folder, first=[entry]).close()
    notes = [] if timezone else ["Its days are counted in UTC. `kailyard garden --zone NAME` says where it lies."]
    return _settings(desk, f"New garden in {desk.folder}", (*notes, *NEXT))


def garden_settings(desk: Desk) -> Table:
    """The garden's name, place and habits of measure."""
    return _settings(desk, "The garden", ("`kailyard garden --help` tells how to put one of them right.",))


def change_garden(desk: Desk, given: dict[str, str]) -> Table:
    """Put settings right: those named change, the others stay."""
    garden = desk.garden()
    units: Units = "us" if given.get("units", garden.units) == "us" else "metric"
    payload = {**garden.settings, **_read(given, units)}
    entry = desk.entry("garden", happened=desk.today(garden), payload=payload)
    desk.keep([entry])
    return _settings(desk, "The garden is changed", (undo(handles(desk).of(entry), was=True),))


def _read(given: dict[str, str], units: Units) -> dict[str, Any]:
    """Settings from words, as the payload of a 'garden' entry has them."""
    found: dict[str, Any] = {}
    if "name" in given:
        found["name"] = tidy_name(given["name"])
    for key, option, bound in (("latitude", "--lat", 66.0), ("longitude", "--lon", 180.0)):
        if key in given:
            found[key] = typed.quantity(given[key], "", units, option)
            if abs(found[key]) > bound:
                raise UsageError(
                    f"{option} {found[key]:g}: degrees from -{bound:g} to {bound:g} are known here "
                    "(south and west are negative)."
                )
    if "elevation" in given:
        found["elevation_m"] = typed.quantity(given["elevation"], "m", units, "--elevation")
    if "timezone" in given:
        zone(given["timezone"])
        found["timezone"] = given["timezone"]
    if "units" in given:
        found["units"] = given["units"]
    if "offset" in given:
        found["minimum_offset_c"] = typed.quantity(given["offset"], "°C difference", units, "--offset")
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
