"""The tables of beds, plantings and cultivars as they are typed in a browser or a spreadsheet."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Mapping
from datetime import date
from typing import Any

from kailyard.desk.beds import COLUMNS as BED_HEADS
from kailyard.desk.beds import bed_payload, bed_row, in_order, known_bed, not_over, whole
from kailyard.desk.cultivars import COLUMNS as CULTIVAR_HEADS
from kailyard.desk.cultivars import cultivar_payload, cultivar_row
from kailyard.desk.desk import Desk
from kailyard.desk.grid import Column, Grid, Row, free_name
from kailyard.desk.plantings import COLUMNS as PLANTING_HEADS
from kailyard.desk.plantings import LENGTHS, NONE, doubts, of_earlier_years, planting_payload, planting_row
from kailyard.desk.shelf import handbook
from kailyard.desk.typed import yes_or_no
from kailyard.errors import Conflict, NotFound, UsageError
from kailyard.garden.identifiers import thing_id_problem, tidy_name
from kailyard.garden.model import Bed, Cultivar, Entry, Garden, Planting
from kailyard.handbook.types import Handbook
from kailyard.publish.units import figure, number
from kailyard.units import Units, shown_unit

_YES_NO = ("", "yes", "no")


def bed_grid(desk: Desk) -> Grid:
    """The beds, each by its measures in the garden's units."""
    return desk.kept("bed grid", lambda: _bed_grid(desk.garden(), desk.today(desk.garden())))


def planting_grid(desk: Desk) -> Grid:
    """The plantings."""
    garden = desk.garden()
    today = desk.today(garden)
    return desk.kept(("planting grid", today), lambda: _planting_grid(garden, handbook(desk), today))


def cultivar_grid(desk: Desk) -> Grid:
    """The cultivars."""
    return desk.kept("cultivar grid", lambda: _cultivar_grid(desk.garden(), handbook(desk)))


def planting_doubts(desk: Desk, name: str) -> tuple[str, ...]:
    """What is odd about where and as what a planting stands, said for a page."""
    garden = desk.garden()
    if name not in garden.plantings:
        return ()
    found = doubts(garden, garden.plantings[name], desk.today(garden))
    return tuple(line.partition(" With its days the odds are its own:")[0] for line in found)


def bed_may_go(desk: Desk) -> Callable[[str], str]:
    """Why a bed cannot vanish, '' where it can."""
    held = {p.bed for p in desk.garden().plantings.values()}
    return lambda name: f"Bed '{name}' has plantings by now. Move them first; nothing was changed." * (name in held)


def planting_may_go(desk: Desk) -> Callable[[str], str]:
    """Why a planting cannot vanish, '' where it can."""
    spoken = {e.target for e in desk.garden().entries if e.kind != "planting"}
    says = "Planting '{}' has entries in the daybook by now. Withdraw them first; nothing was changed."
    return lambda name: says.format(name) * (name in spoken)


def cultivar_may_go(desk: Desk) -> Callable[[str], str]:
    """A cultivar can always vanish: plantings keep its name."""
    return lambda name: ""


def _bed_grid(garden: Garden, today: date) -> Grid:
    units = garden.units
    length = f"{shown_unit('m', units)}; {'12ft or 3.6m' if units == 'us' else '3.6m or 12ft'}"
    columns = (
        Column("bed", "bed", "short, like bed-3; left blank: the next number"),
        Column("name", "name", "what the sheet calls it"),
        Column("length", "length", f"of the long side, or across a round one: {length}", needed=True),
        Column("width", "width", shown_unit("m", units)),
        Column("height", "height", "above the paths; 0 is flat"),
        Column("bearing", "bearing", "of the long side in degrees from north: 90 is east to west"),
        Column("at", "middle at", "east,north of the garden's own origin: 4.5,2"),
        Column("soil", "soil"),
        Column("cover", "cover", choices=("none", "fleece", "tunnel", "glass")),
        Column("shape", "shape", choices=("rectangle", "round")),
        Column("perennial", "perennial", choices=_YES_NO),
    )
    names = {c.key: c.title for c in columns}
    ids = sorted(garden.beds, key=in_order)
    rows = {id_: Row(id_, bed_row(garden.beds[id_], units), _typed_bed(garden.beds[id_], units)) for id_ in ids}

    def make(id_: str, new: Mapping[str, str]) -> dict[str, Any]:
        blank = {"height": "0", "bearing": "0", "at": "0,0", "cover": "none", "name": id_.replace("-", " ")}
        given: dict[str, Any] = {key: text or blank.get(key, "") for key, text in new.items() if key != "bed"}
        if "shape" in given:
            given["round"] = given.pop("shape") == "round"
        if "perennial" in given:
            given["perennial"] = given["perennial"] != "" and yes_or_no(given["perennial"], "perennial")
        old = garden.beds.get(id_)
        if old is None and not given.get("round") and "width" not in given:
            raise UsageError("width must be filled in for a new one, unless it is round.")
        return bed_payload(old, given, units, id_, names.__getitem__)

    def remove(id_: str) -> dict[str, Any]:
        if standing := not_over(garden, id_, today):
            raise Conflict(
                f"Bed '{id_}' has plantings that are not over: {', '.join(standing)}. Clear or move each first; "
                "nothing was changed."
            )
        return {**whole(known_bed(garden, id_)), "removed": True}

    def name(cells: Mapping[str, str], taken: frozenset[str]) -> str:
        return _thing_name(cells.get("bed", ""), "bed", taken | frozenset(garden.beds), garden.plantings, "planting")

    return Grid("bed", columns, ("bed",), BED_HEADS, rows, name, make, remove)


def _typed_bed(bed: Bed, units: Units) -> dict[str, str]:
    def metres(value_m: float) -> str:
        return figure(value_m, "m", units, 3)

    return {
        "bed": bed.id,
        "name": bed.name,
        "length": metres(bed.length_m),
        "width": metres(bed.width_m),
        "height": metres(bed.height_m) if bed.height_m else "",
        "bearing": number(bed.orientation_deg, 2),
        "at": f"{metres(bed.east_m)},{metres(bed.north_m)}",
        "soil": bed.soil,
        "cover": bed.cover,
        "shape": bed.shape,
        "perennial": "yes" if bed.perennial else "no",
    }


def _planting_grid(garden: Garden, book: Handbook, today: date) -> Grid:
    units = garden.units
    small, large = shown_unit("cm", units), shown_unit("m", units)
    cultivars = tuple(sorted({name for _, name in garden.cultivars}))
    columns = (
        Column("planting", "planting", "short, like pea-6; left blank: the next number"),
        Column("crop", "crop", "of the handbook", near=book.crops, needed=True),
        Column("cultivar", "cultivar", near=cultivars),
        Column("bed", "bed", near=tuple(sorted(garden.beds, key=in_order)), needed=True),
        Column("start", "start", choices=("sown", "raised", "bought", "planted"), needed=True),
        Column("count", "plants", "that are meant to stand"),
        Column("rows", "rows"),
        Column("spacing", "spacing", f"in the row: {small}; {'4in or 10cm' if units == 'us' else '10cm or 4in'}"),
        Column("row", "between rows", small),
        Column("place", "place", f"where along the bed it begins: {large}"),
        Column("length", "length", f"of the bed that it takes: {large}; blank: the rest"),
        Column("planned", "planned", "the day it is meant to be begun: 2026-06-14"),
        Column("since", "since", "a perennial: the day it was put in"),
        Column("wave", "wave", "name that sowings in waves share"),
        Column("note", "note"),
    )
    names = {c.key: c.title for c in columns}
    of: dict[str, list[Entry]] = defaultdict(list)
    for entry in garden.entries:
        of[entry.target].append(entry)
    ids = sorted(garden.plantings, key=in_order)
    rows = {
        id_: Row(
            id_,
            planting_row(garden, p, today, of[id_]),
            _typed_planting(p, units),
            past=of_earlier_years(p, of[id_], today),
        )
        for id_ in ids
        if (p := garden.plantings[id_])
    }

    def make(id_: str, new: Mapping[str, str]) -> dict[str, Any]:
        blank = {"count": "1", "rows": "1"} | dict.fromkeys((*LENGTHS, "planned", "since"), NONE)
        given = {key: text or blank.get(key, "") for key, text in new.items() if key != "planting"}
        if "crop" in given:
            given["crop"] = _crop(book, given["crop"])
        if "bed" in given:
            known_bed(garden, given["bed"])
        return planting_payload(garden.plantings.get(id_), given, units, today, names.__getitem__)

    def remove(id_: str) -> dict[str, Any]:
        if id_ in of and any(e.kind != "planting" for e in of[id_]):
            raise Conflict(
                f"Planting '{id_}' has entries in the daybook. If it is over, enter that it was cleared; if it never "
                "was, withdraw its entries first. Nothing was changed."
            )
        return {**planting_payload(garden.plantings[id_], {}, units, today), "removed": True}

    def name(cells: Mapping[str, str], taken: frozenset[str]) -> str:
        stem = cells.get("crop", "").strip().partition("-")[0]
        return _thing_name(cells.get("planting", ""), stem, taken | frozenset(garden.plantings), garden.beds, "bed")

    return Grid("planting", columns, ("planting",), PLANTING_HEADS, rows, name, make, remove)


def _typed_planting(p: Planting, units: Units) -> dict[str, str]:
    def length(value: float | None, unit: str) -> str:
        return "" if value is None else figure(value, unit, units, 3)

    return {
        "planting": p.id,
        "crop": p.crop,
        "cultivar": p.cultivar,
        "bed": p.bed,
        "start": p.start,
        "count": f"{p.count}",
        "rows": f"{p.rows}",
        "spacing": length(p.spacing_cm, "cm"),
        "row": length(p.row_cm, "cm"),
        "place": length(p.place_m or None, "m"),
        "length": length(p.length_m, "m"),
        "planned": f"{p.planned or ''}",
        "since": f"{p.since or ''}",
        "wave": p.wave,
        "note": p.note,
    }


def _cultivar_grid(garden: Garden, book: Handbook) -> Grid:
    columns = (
        Column("crop", "crop", "of the handbook", near=book.crops, needed=True),
        Column("name", "cultivar", needed=True),
        Column("days", "days", "to maturity, as the packet says or as you counted"),
        Column("days_from", "counted from", choices=("", "sown", "set-out", "planted", "first-flower")),
        Column("counted_here", "counted here", "yes: in this garden, not printed on a packet", choices=_YES_NO),
        Column("resists", "resists", "codes, commas between: F,N"),
        Column("habit", "habit", "bush, climbing"),
    )
    titles = {"from": "counted from"} | {c.key: c.title for c in columns}
    rows = {
        f"{c.crop} {c.name}": Row(f"{c.crop} {c.name}", cultivar_row(c), _typed_cultivar(c)) for c in _sorted(garden)
    }

    def make(id_: str, new: Mapping[str, str]) -> dict[str, Any]:
        crop, _, name = id_.partition(" ")
        given: dict[str, Any] = {key: text for key, text in new.items() if key not in ("crop", "name")}
        if given.get("days") == "":
            given["days"] = NONE
        if given.get("days_from") == "":
            given.pop("days_from")
        if "counted_here" in given:
            given["counted_here"] = given["counted_here"] != "" and yes_or_no(given["counted_here"], "counted here")
        return cultivar_payload(garden.cultivars.get((crop, name)), given, garden.units, crop, name, titles.__getitem__)

    def remove(id_: str) -> dict[str, Any]:
        crop, _, name = id_.partition(" ")
        return {**cultivar_payload(garden.cultivars[crop, name], {}, garden.units, crop, name), "removed": True}

    def name(cells: Mapping[str, str], taken: frozenset[str]) -> str:
        called = tidy_name(cells.get("name", ""))
        if not called or not cells.get("crop", "").strip():
            raise UsageError("crop and cultivar must be filled in.")
        return f"{_crop(book, cells['crop'].strip())} {called}"

    return Grid("cultivar", columns, ("crop", "name"), CULTIVAR_HEADS, rows, name, make, remove, targeted=False)


def _sorted(garden: Garden) -> list[Cultivar]:
    return [garden.cultivars[key] for key in sorted(garden.cultivars)]


def _typed_cultivar(c: Cultivar) -> dict[str, str]:
    return {
        "crop": c.crop,
        "name": c.name,
        "days": "" if c.days_to_maturity is None else number(c.days_to_maturity, 3),
        "days_from": "" if c.days_to_maturity is None else c.days_from,
        "counted_here": "" if c.days_to_maturity is None else "yes" if c.counted_here else "no",
        "resists": ",".join(c.resistance),
        "habit": c.habit,
    }


def _thing_name(said: str, stem: str, taken: frozenset[str], others: Mapping[str, object], other: str) -> str:
    """The identifier that a row gives, or the next free one; Conflict where it is that of the `other` sort."""
    id_ = said.strip() or free_name(stem if not thing_id_problem(stem) else "planting", taken | frozenset(others))
    if problem := thing_id_problem(id_):
        raise UsageError(problem)
    if id_ in others:
        raise Conflict(f"'{id_}' is a {other}. Give it another identifier.")
    return id_


def _crop(book: Handbook, said: str) -> str:
    """The crop; NotFound names those that begin alike."""
    if said in book.crops:
        return said
    near = [c for c in book.crops if said and c.startswith(said[:3])]
    hint = f"Did you mean {', '.join(near)}?" if near else "The handbook's page lists them."
    raise NotFound(f"crop: the handbook has none called '{said[:40]}'. {hint}")
