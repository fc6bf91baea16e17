"""Days of a forecast typed on a page: several at once, kept all or none; and what is believed of the days ahead."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, timedelta

from kailyard.desk import typed
from kailyard.desk.ahead import believed, forecast_cells
from kailyard.desk.desk import Desk
from kailyard.errors import Conflict, DataError, UsageError
from kailyard.garden.model import Entry
from kailyard.units import shown_unit
from kailyard.weather.forecast import SKILL_BY_LEAD

ROWS = 7
"""So many days a page offers to type."""
FIELDS = ("day", "low", "high", "rain")


@dataclass(frozen=True, slots=True)
class TypedForm:
    """What stands in the form before anything is typed."""

    days: tuple[date, ...]
    """One a row, from tomorrow on."""
    today: date
    temperature: str
    """The unit that a bare figure has."""
    rain: str


@dataclass(frozen=True, slots=True)
class AheadDay:
    """The forecast believed of one day."""

    day: date
    issued: date
    by: str
    low: str
    high: str
    rain: str
    entry: str
    """Of a typed one, to be withdrawn; '' where it was fetched."""


def typed_form(desk: Desk) -> TypedForm:
    """An empty form for the next days."""
    garden = desk.garden()
    today = desk.today(garden)
    days = tuple(today + timedelta(days=1 + n) for n in range(ROWS))
    return TypedForm(days, today, shown_unit("°C", garden.units), shown_unit("mm", garden.units))


def days_ahead(desk: Desk) -> tuple[AheadDay, ...]:
    """The forecast believed of each day from today on, typed or fetched."""
    garden = desk.garden()
    entries = {(e.happened, str(e.payload["day"])): e.id for e in garden.entries if e.kind == "forecast"}
    return tuple(
        AheadDay(
            d.day,
            d.issued,
            d.source or "typed",
            *forecast_cells(d, garden),
            entry="" if d.source else entries.get((d.issued, str(d.day)), ""),
        )
        for d in believed(desk)
    )


def enter_days(desk: Desk, cells: Mapping[str, str], *, issued: str, id_: str) -> str:
    """Keep the days typed, all or none; a sentence that says which.

    `cells`: text by row and field, '0.low', in the garden's units where no other is written; a row with neither low,
    high nor rain is passed over. `id_`: made with the form; sent twice the days are kept once. Raises UsageError,
    DataError, Conflict.
    """
    garden = desk.garden()
    today = desk.today(garden)
    on = typed.past_day(issued or None, today, "issued")
    made: list[Entry] = []
    for n in range(ROWS):
        said = {name: cells.get(f"{n}.{name}", "").strip() for name in FIELDS}
        if not any(said[name] for name in FIELDS[1:]):
            continue
        day = typed.day(said["day"], today, f"day of row {n + 1}")
        for name, words in (("low", "lowest"), ("high", "highest")):
            if not said[name]:
                raise UsageError(f"{day}: its {words} temperature is missing. Type it or leave the row blank.")
        if (day - on).days > len(SKILL_BY_LEAD):
            raise UsageError(f"{day}: a forecast reaches {len(SKILL_BY_LEAD)} days; what lies farther tells nothing.")
        if any(e.payload["day"] == day.isoformat() for e in made):
            raise UsageError(f"{day} stands twice. Leave one row blank.")
        payload: dict[str, object] = {
            "day": day,
            "tmin_c": typed.quantity(said["low"], "°C", garden.units, f"{day}, low"),
            "tmax_c": typed.quantity(said["high"], "°C", garden.units, f"{day}, high"),
        }
        if said["rain"]:
            payload["rain_mm"] = typed.quantity(said["rain"], "mm", garden.units, f"{day}, rain")
        try:
            made.append(desk.entry("forecast", happened=on, payload=payload, id_=f"{id_}-{n}"))
        except DataError as err:
            raise DataError(f"{day}: {err}") from err
    if not made:
        raise UsageError("No day has a figure. Type the low and the high of one day at least.")
    known = desk.store.known([e.id for e in made])
    if any(e.payload != known[e.id].payload or e.happened != known[e.id].happened for e in made if e.id in known):
        raise Conflict("This form was kept already with other figures. Load the page again and type what has changed.")
    desk.keep([e for e in made if e.id not in known])
    days = [str(e.payload["day"]) for e in made]
    return f"Kept, as issued {on}: {', '.join(days)}."
