"""The beds: listed, made, measured anew, renamed, taken away."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import asdict
from datetime import date
from typing import Any

from kailyard.desk import typed
from kailyard.desk.desk import Desk
from kailyard.desk.handles import handles, undo
from kailyard.documents.table import Table
from kailyard.errors import Conflict, NotFound, UsageError
from kailyard.garden.identifiers import thing_id_problem, tidy_name
from kailyard.garden.model import Bed, Garden
from kailyard.publish.units import figure, number
from kailyard.season.sightings import sight
from kailyard.units import Units

COLUMNS = ("bed", "name", "size", "long side", "middle at", "soil", "what it has")


def bed(desk: Desk, id_: str | None, given: Mapping[str, Any], *, on: str | None = None) -> Table:
    """What is asked of the beds: all of them, one, or one changed or taken away ('remove')."""
    if id_ is None:
        if given or on is not None:
            raise UsageError("Which bed? Name it first: `kailyard bed bed-3 ...`.")
        return beds(desk)
    if given.get("remove"):
        if len(given) > 1:
            raise UsageError("--remove stands alone: a bed is taken away or changed, not both.")
        return remove_bed(desk, id_, on=on)
    return set_bed(desk, id_, given, on=on) if given else one_bed(desk, id_)


def one_bed(desk: Desk, id_: str) -> Table:
    """One bed, and what stands in it or is meant to."""
    garden = desk.garden()
    found = known_bed(garden, id_)
    held = ", ".join(p.id for _, p in sorted(garden.plantings.items()) if p.bed == id_)
    return Table(f"Bed {id_}", COLUMNS, (bed_row(found, garden.units),), (f"Plantings: {held or 'none'}.",))


def beds(desk: Desk) -> Table:
    """Every bed with its measures."""
    garden = desk.garden()
    rows = tuple(bed_row(garden.beds[id_], garden.units) for id_ in sorted(garden.beds, key=in_order))
    origin = "The middle is east and north of the garden's own origin." if rows else ""
    how = "A new one: `kailyard bed bed-1 --length 3.6 --width 1.2`."
    return Table("Beds", COLUMNS, rows, tuple(note for note in (origin, how) if note))


def set_bed(desk: Desk, id_: str, given: Mapping[str, Any], *, on: str | None = None) -> Table:
    """Make the bed `id_`, or change what `given` names and keep the rest."""
    garden = desk.garden()
    today = desk.today(garden)
    happened = typed.past_day(on, today, "--on")
    old = garden.beds.get(id_)
    if old is None and (problem := thing_id_problem(id_)):
        raise UsageError(problem)
    if old is None and id_ in garden.plantings:
        raise Conflict(f"'{id_}' is a planting. Give the bed another identifier.")
    if old is None and not {"length", "width"} <= given.keys() and not (given.get("round") and "length" in given):
        raise UsageError(
            f"There is no bed '{id_}' yet. A new one needs its measures: "
            f"`kailyard bed {id_} --length 3.6 --width 1.2` (a round one: --round and its diameter as --length)."
        )
    payload = bed_payload(old, given, garden.units, id_)
    entry = desk.entry("bed", happened=happened, target=id_, payload=payload)
    desk.keep([entry])
    title = f"Bed {id_} changed" if old else f"Bed {id_} made"
    rows = (bed_row(desk.garden().beds[id_], garden.units),)
    return Table(title, COLUMNS, rows, (*_too_long(desk.garden(), id_), undo(handles(desk).of(entry), was=bool(old))))


def remove_bed(desk: Desk, id_: str, *, on: str | None = None) -> Table:
    """Take the bed away. Conflict while something stands in it."""
    garden = desk.garden()
    today = desk.today(garden)
    old = known_bed(garden, id_)
    if standing := not_over(garden, id_, today):
        raise Conflict(
            f"Bed '{id_}' has plantings that are not over: {', '.join(standing)}. "
            f"Clear each (`kailyard enter clear {standing[0]}`) or move it; nothing was changed."
        )
    happened = typed.past_day(on, today, "--on")
    entry = desk.entry("bed", happened=happened, target=id_, payload={**whole(old), "removed": True})
    desk.keep([entry])
    return Table(f"Bed {id_} is taken away", notes=(undo(handles(desk).of(entry), was=True),))


def not_over(garden: Garden, id_: str, today: date) -> list[str]:
    """Plantings of the bed that stand in it or are meant to."""
    held = [p for p in garden.plantings.values() if p.bed == id_]
    return sorted(p.id for p in held if not sight(p, garden.entries_of(p.id), today).ended)


def known_bed(garden: Garden, id_: str) -> Bed:
    """The bed; NotFound names those there are."""
    if id_ in garden.beds:
        return garden.beds[id_]
    there = f"There are: {', '.join(sorted(garden.beds))}." if garden.beds else "There are none yet."
    raise NotFound(f"The garden has no bed {typed.shown(id_)}. {there}")


def in_order(id_: str) -> tuple[tuple[str, int], ...]:
    """Sorts 'bed-2' before 'bed-10'."""
    return tuple((part, 0) if not part.isdecimal() else ("", int(part)) for part in id_.split("-"))


def option(key: str) -> str:
    """What the keyboard calls the measure `key`."""
    return f"--{key}"


def bed_payload(
    old: Bed | None, given: Mapping[str, Any], units: Units, id_: str, called: Callable[[str], str] = option
) -> dict[str, Any]:
    """The whole of a bed from what is there and what is given; `called` names a measure in messages."""
    found: dict[str, Any] = whole(old) if old else {"name": id_.replace("-", " ")}
    for key, field in (("length", "length_m"), ("width", "width_m"), ("height", "height_m")):
        if key in given:
            found[field] = typed.quantity(given[key], "m", units, called(key))
    if "name" in given:
        found["name"] = tidy_name(given["name"])
    if "soil" in given:
        found["soil"] = tidy_name(given["soil"])
    if "bearing" in given:
        bearing = typed.quantity(given["bearing"], "", units, called("bearing"))
        if not 0.0 <= bearing <= 360.0:
            raise UsageError(
                f"{called('bearing')} {bearing:g}: degrees clockwise from north, 0 to 360; 90 is east to west."
            )
        found["orientation_deg"] = bearing % 180.0
    if "at" in given:
        east, comma, north = given["at"].partition(",")
        if not comma:
            raise UsageError(
                f"{called('at')} {typed.shown(given['at'])}: write east and north of the origin, like 4.5,2."
            )
        found["east_m"] = typed.quantity(east, "m", units, f"{called('at')} east")
        found["north_m"] = typed.quantity(north, "m", units, f"{called('at')} north")
    for key in ("cover", "perennial"):
        if key in given:
            found[key] = given[key]
    if "round" in given:
        found["shape"] = "round" if given["round"] else "rectangle"
    if found.get("shape") == "round" and ("length" in given) != ("width" in given):
        found["length_m"] = found["width_m"] = found["length_m" if "length" in given else "width_m"]
    return found


def whole(bed: Bed) -> dict[str, Any]:
    """All that an entry says of a bed as it stands."""
    return {key: value for key, value in asdict(bed).items() if key != "id"}


def bed_row(bed: Bed, units: Units) -> tuple[str, ...]:
    """A bed's line under COLUMNS."""

    def metres(value_m: float) -> str:
        return figure(value_m, "m", units, 2)

    size = (
        f"{metres(bed.length_m)} across" if bed.shape == "round" else f"{metres(bed.length_m)} × {metres(bed.width_m)}"
    )
    has = ["round"] * (bed.shape == "round") + [bed.cover] * (bed.cover != "none") + ["perennial"] * bed.perennial
    return (
        bed.id,
        bed.name,
        size + (f", {metres(bed.height_m)} high" if bed.height_m else ""),
        f"{number(bed.orientation_deg, 0)}°",
        f"{metres(bed.east_m)}, {metres(bed.north_m)}",
        bed.soil,
        ", ".join(has),
    )


def _too_long(garden: Garden, id_: str) -> tuple[str, ...]:
    """Plantings that the bed as it is now cannot hold."""
    bed = garden.beds[id_]
    return tuple(
        f"Planting {p.id} reaches beyond the bed's end. See `kailyard planting {p.id}`."
        for p in garden.plantings.values()
        if p.bed == id_ and p.place_m + (p.length_m or 0.0) > bed.length_m + 1e-9
    )
