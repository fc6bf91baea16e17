"""A second station beside the garden's own: its file sent, to fill gaps or for the mean; how the two differ."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from kailyard.desk.desk import Desk
from kailyard.desk.people import Visitor
from kailyard.desk.stations import LEAST_OVERLAP, Beside, made_of_two, send_neighbour
from kailyard.errors import UsageError
from kailyard.web.register import Moved, NoQuery, Upload

PATH = "/neighbour"
TITLE = "A second station"
MENU = None
TEMPLATE = "neighbour.html"
MOST_BYTES = 40_000_000


@dataclass(frozen=True, slots=True)
class Form:
    """The file; `how`: own days stand and gaps are filled, or the mean with the own station's share `weight`;
    `columns` where it is a table, by what they hold."""

    how: Literal["fill", "mean"] = "fill"
    weight: str = ""
    file: Upload | None = None
    station: str = ""
    columns: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Page:
    """What was made of two so far."""

    has_record: bool
    made: tuple[Beside, ...]
    least: int
    """So many days both must have."""


QUERY = NoQuery
FORM = Form


def page(desk: Desk, query: NoQuery, person: Visitor) -> Page:
    """What was made of two so far."""
    desk.garden()
    return Page(bool(desk.store.weather_ids()), made_of_two(desk), LEAST_OVERLAP)


def post(desk: Desk, form: Form, person: Visitor) -> Moved:
    """Read the neighbour's file; nothing is kept where the two cannot be fitted."""
    if form.file is None or not form.file.name:
        raise UsageError("No file was chosen. Choose the neighbour's file first.")
    said = send_neighbour(
        desk,
        form.file.name,
        form.file.content,
        station=form.station,
        declared=form.columns,
        mean=form.how == "mean",
        weight=form.weight,
    )
    return Moved(PATH, said)
