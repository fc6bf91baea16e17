"""The garden's name, place and habits of measure; a new garden where the folder holds none."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from kailyard.desk.desk import Desk
from kailyard.desk.new import Settings, change_garden, new_garden, settings, zones
from kailyard.desk.people import Visitor
from kailyard.desk.withdraw import withdraw
from kailyard.errors import Conflict
from kailyard.web.register import Moved, NoQuery

PATH = "/garden"
TITLE = "Garden"
MENU = (2, 4)
TEMPLATE = "garden.html"
MOST_BYTES = 20_000

CALLED = {
    "latitude": "Latitude",
    "longitude": "Longitude",
    "elevation": "Height above the sea",
    "offset": "Cold nights",
}


@dataclass(frozen=True, slots=True)
class Form:
    """The whole of the settings; `undo`: the entry to be taken back instead."""

    name: str = ""
    latitude: str = ""
    longitude: str = ""
    elevation: str = ""
    timezone: str = ""
    units: Literal["metric", "us"] = "metric"
    offset: str = ""
    undo: str = ""


@dataclass(frozen=True, slots=True)
class Page:
    """The settings there are, None in an empty folder, and the zones to choose from."""

    title: str
    settings: Settings | None
    zones: tuple[str, ...]


QUERY = NoQuery
FORM = Form


def page(desk: Desk, query: NoQuery, person: Visitor) -> Page:
    """The settings, or what a new garden needs."""
    found = settings(desk)
    return Page("The garden" if found else "A new garden", found, zones())


def post(desk: Desk, form: Form, person: Visitor) -> Moved:
    """Make the garden, or put its settings right."""
    there = settings(desk)
    if form.undo:
        if there is None or there.undo != form.undo:
            raise Conflict("That change is taken back already, or another came after it. Nothing was changed.")
        withdraw(desk, form.undo)
        return Moved(PATH, "Taken back: what was before it holds again.")
    given = {
        "name": form.name,
        "latitude": form.latitude,
        "longitude": form.longitude,
        "elevation": form.elevation or "0",
        "timezone": form.timezone or "UTC",
        "units": form.units,
        "offset": form.offset or "0",
    }
    if there is None:
        new_garden(
            desk,
            name=form.name,
            latitude=form.latitude,
            longitude=form.longitude,
            elevation=given["elevation"],
            timezone=given["timezone"],
            units=form.units,
            offset=given["offset"],
            called=CALLED.__getitem__,
        )
        return Moved("/weather", "The garden is made. Next comes its weather.")
    changed = {key: value for key, value in given.items() if value != there.typed[key]}
    if not changed:
        return Moved(PATH, "Nothing differs from what is kept.")
    change_garden(desk, changed, CALLED.__getitem__)
    return Moved(PATH, "The garden is changed.")
