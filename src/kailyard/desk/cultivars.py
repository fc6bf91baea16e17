"""The cultivars as their packets tell them."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import asdict
from typing import Any

from kailyard.desk import typed
from kailyard.desk.beds import option
from kailyard.desk.desk import Desk
from kailyard.desk.handles import handles, undo
from kailyard.desk.shelf import handbook
from kailyard.documents.table import Table
from kailyard.errors import NotFound, UsageError
from kailyard.garden.identifiers import tidy_name
from kailyard.garden.model import Cultivar
from kailyard.publish.units import number
from kailyard.units import Units

COLUMNS = ("crop", "cultivar", "days", "counted from", "counted", "resists", "habit")


def cultivar(
    desk: Desk, crop: str | None, name: str | None, given: Mapping[str, Any], *, on: str | None = None
) -> Table:
    """What is asked of the cultivars: all of them, those of a crop, or one entered, changed or put aside ('remove')."""
    if crop is None or name is None:
        if given or on is not None:
            raise UsageError("Which cultivar? Name crop and cultivar first: `kailyard cultivar pea Lantern --days 60`.")
        return cultivars(desk, crop)
    if given.get("remove"):
        if len(given) > 1:
            raise UsageError("--remove stands alone: a cultivar is put aside or changed, not both.")
        return remove_cultivar(desk, crop, name, on=on)
    return set_cultivar(desk, crop, name, given, on=on)


def cultivars(desk: Desk, crop: str | None = None) -> Table:
    """Every cultivar, or those of one crop."""
    garden = desk.garden()
    key = handbook(desk).crop(crop) if crop else ""
    rows = tuple(cultivar_row(c) for _, c in sorted(garden.cultivars.items()) if not key or c.crop == key)
    return Table(
        "Cultivars", COLUMNS, rows, ("A new one: `kailyard cultivar bean-bush Lantern --days 55 --from sown`.",)
    )


def set_cultivar(desk: Desk, crop: str, name: str, given: Mapping[str, Any], *, on: str | None = None) -> Table:
    """Enter a cultivar, or change what `given` names and keep the rest."""
    garden = desk.garden()
    happened = typed.past_day(on, desk.today(garden), "--on")
    key, name = handbook(desk).crop(crop), tidy_name(name)
    old = garden.cultivars.get((key, name))
    payload = cultivar_payload(old, given, garden.units, key, name)
    entry = desk.entry("cultivar", happened=happened, payload=payload)
    desk.keep([entry])
    kept = desk.garden().cultivars[key, name]
    title = f"Cultivar {name} of {key} {'changed' if old else 'entered'}"
    return Table(title, COLUMNS, (cultivar_row(kept),), (undo(handles(desk).of(entry), was=bool(old)),))


def remove_cultivar(desk: Desk, crop: str, name: str, *, on: str | None = None) -> Table:
    """Put a cultivar aside; plantings of it keep its name."""
    garden = desk.garden()
    happened = typed.past_day(on, desk.today(garden), "--on")
    key, name = handbook(desk).crop(crop), tidy_name(name)
    if (key, name) not in garden.cultivars:
        there = ", ".join(sorted(n for c, n in garden.cultivars if c == key))
        raise NotFound(f"There is no cultivar {typed.shown(name)} of {key}. There are: {there or 'none'}.")
    payload = {**asdict(garden.cultivars[key, name]), "removed": True}
    entry = desk.entry("cultivar", happened=happened, payload=payload)
    desk.keep([entry])
    return Table(f"Cultivar {name} of {key} is put aside", notes=(undo(handles(desk).of(entry), was=True),))


def cultivar_payload(
    old: Cultivar | None,
    given: Mapping[str, Any],
    units: Units,
    crop: str,
    name: str,
    called: Callable[[str], str] = option,
) -> dict[str, Any]:
    """The whole of a cultivar from what is there and what is given; `called` names a field in messages."""
    payload: dict[str, Any] = asdict(old) if old else {"crop": crop, "name": name}
    if "days" in given:
        payload["days_to_maturity"] = None
        if given["days"] != "none":
            payload["days_to_maturity"] = typed.quantity(given["days"], "", units, called("days"))
    if "days_from" in given:
        payload["days_from"] = given["days_from"]
    if "counted_here" in given:
        payload["counted_here"] = given["counted_here"]
    if "resists" in given:
        payload["resistance"] = [code for part in given["resists"].split(",") if (code := tidy_name(part))]
    if "habit" in given:
        payload["habit"] = tidy_name(given["habit"])
    if payload.get("days_to_maturity") is not None and not old and "days_from" not in given:
        raise UsageError(
            f"{called('days')}: say from what they count: {called('from')} sown, set-out, planted or first-flower."
        )
    return payload


def cultivar_row(c: Cultivar) -> tuple[str, ...]:
    """A cultivar's line under COLUMNS."""
    days = number(c.days_to_maturity, 1) if c.days_to_maturity is not None else ""
    counted = ("here" if c.counted_here else "on the packet") if days else ""
    return (c.crop, c.name, days, c.days_from if days else "", counted, ", ".join(c.resistance), c.habit)
