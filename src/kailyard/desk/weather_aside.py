"""Weather that somebody set aside: an entry says which record or days, and why. Withdrawn, they are used again."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime
from typing import TYPE_CHECKING

import numpy as np

from kailyard.desk import typed
from kailyard.desk.desk import Desk
from kailyard.desk.record import withdraw
from kailyard.documents.table import Table
from kailyard.errors import Conflict, NotFound, UsageError
from kailyard.garden.model import Entry
from kailyard.weather.record import DailyRecord, FloatArray

if TYPE_CHECKING:
    from kailyard.store.base import WeatherImport

KIND = "weather-aside"
SHORT = 8
"""So many signs of a record's identifier are shown."""


@dataclass(frozen=True, slots=True)
class ByHand:
    """What one entry set aside of a record."""

    entry: str
    first: date | None
    """None: the whole record."""
    last: date | None
    who: str
    why: str


def in_use(desk: Desk, entries: Iterable[Entry], cut: datetime | None = None) -> tuple[DailyRecord, ...]:
    """The records imported by `cut`, earliest first, without what `entries`, those that stand, set aside."""
    return used(desk.store.kept_weather(cut), entries)


def used(kept: Sequence[WeatherImport], entries: Iterable[Entry]) -> tuple[DailyRecord, ...]:
    """The records kept, without what was set aside of them."""
    aside = by_hand(entries)
    found = []
    for each in kept:
        mine = aside.get(each.id, ())
        if any(one.first is None for one in mine):
            continue
        record = each.record
        for one in mine:
            record = _without(record, one)
        found.append(record)
    return tuple(found)


def by_hand(entries: Iterable[Entry]) -> dict[str, tuple[ByHand, ...]]:
    """What was set aside of each record, by its identifier."""
    found: dict[str, tuple[ByHand, ...]] = {}
    for e in entries:
        if e.kind == KIND:
            first, last = _day(e.payload.get("first")), _day(e.payload.get("last"))
            one = ByHand(e.id, first, last, e.who, e.text)
            record = str(e.payload["record"])
            found[record] = (*found.get(record, ()), one)
    return found


def set_aside(
    desk: Desk, record: str, *, first: str = "", last: str = "", why: str = "", id_: str | None = None
) -> Table:
    """Set a record aside, or its days from `first` to `last`; `record`: its identifier or how that begins.

    `id_`: of the entry, where it was made elsewhere. Raises NotFound, UsageError; Conflict where it is aside already.
    """
    garden = desk.garden()
    found = [each for each in desk.store.kept_weather() if record and each.id.startswith(record)]
    if len(found) != 1:
        raise NotFound(f"No record of the weather is called {typed.shown(record)}. `kailyard weather` lists them.")
    kept = found[0].record
    today = desk.today(garden)
    days = tuple(typed.day(said, today, word) for word, said in (("first", first), ("last", last)) if said)
    if len(days) == 1:
        days = (days[0], days[0])
    if days and not (kept.first <= days[0] <= days[1] <= kept.last):
        raise UsageError(f"first {days[0]}, last {days[1]}: the record has the days {kept.first} to {kept.last}.")
    if id_ is None or id_ not in desk.store.known([id_]):
        for one in by_hand(garden.entries).get(found[0].id, ()):
            if one.first is None or (days and one.last is not None and one.first <= days[0] and days[1] <= one.last):
                raise Conflict("That is set aside already. Nothing was changed.")
    payload: dict[str, object] = {"record": found[0].id}
    payload |= {"first": days[0], "last": days[1]} if days else {}
    made = desk.entry(KIND, happened=today, text=why.strip(), payload=payload, id_=id_)
    desk.keep([made])
    what = "The whole record" if not days else f"{days[0]} to {days[1]}" if days[0] != days[1] else f"{days[0]}"
    name = found[0].name or kept.source
    note = "It stays kept and is not used. Use it again: `kailyard withdraw ENTRY`, as the daybook calls the entry."
    return Table(f"Set aside of {name}: {what[:1].lower()}{what[1:]}", notes=(note,))


def use_again(desk: Desk, entry: str) -> str:
    """Take back that something was set aside; a sentence that says so."""
    if not any(e.id == entry and e.kind == KIND for e in desk.garden().entries):
        raise Conflict("That is used again already. Nothing was changed.")
    withdraw(desk, entry)
    return "It is used again. That it was set aside stays in the daybook, marked."


def _without(record: DailyRecord, one: ByHand) -> DailyRecord:
    assert one.first is not None
    assert one.last is not None
    at, end = ((day - record.first).days for day in (one.first, one.last))

    def blanked(column: FloatArray) -> FloatArray:
        out = column.copy()
        out[max(0, at) : max(0, end + 1)] = np.nan
        out.flags.writeable = False
        return out

    return replace(
        record,
        tmin_c=blanked(record.tmin_c),
        tmax_c=blanked(record.tmax_c),
        rain_mm=blanked(record.rain_mm),
    )


def _day(value: object) -> date | None:
    return None if value is None else value if isinstance(value, date) else date.fromisoformat(str(value))
