"""Weather that somebody set aside: an entry says which record, days of one, or forecast, and why. Withdrawn, it is used
again."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime
from typing import TYPE_CHECKING

import numpy as np

from kailyard.desk import typed
from kailyard.desk.desk import Desk
from kailyard.desk.withdraw import withdraw
from kailyard.documents.table import Table
from kailyard.errors import Conflict, NotFound, UsageError
from kailyard.garden.model import Entry, Garden
from kailyard.weather.record import DailyRecord, FloatArray

if TYPE_CHECKING:
    from kailyard.store.base import WeatherImport

KIND = "weather-aside"
OWN_GAUGE = "own-gauge"
"""Stands for the record where days of the garden's own rain gauge are set aside."""
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

    def has(self, day: date) -> bool:
        """Whether it speaks of the day."""
        return self.first is None or self.last is None or self.first <= day <= self.last


def in_use(desk: Desk, entries: Iterable[Entry], cut: datetime | None = None) -> tuple[DailyRecord, ...]:
    """The records imported by `cut`, earliest first, without what `entries`, those that stand, set aside."""
    return used(desk.store.kept_weather(cut), entries)


def used(kept: Sequence[WeatherImport], entries: Iterable[Entry]) -> tuple[DailyRecord, ...]:
    """The records kept, without what was set aside of them."""
    return tuple(record for _, record in used_of(kept, entries))


def used_of(kept: Sequence[WeatherImport], entries: Iterable[Entry]) -> tuple[tuple[WeatherImport, DailyRecord], ...]:
    """The same, each with the import that it is of."""
    aside = by_hand(entries)
    found = []
    for each in kept:
        mine = aside.get(each.id, ())
        if any(one.first is None for one in mine):
            continue
        record = each.record
        for one in mine:
            record = _without(record, one)
        found.append((each, record))
    return tuple(found)


def own_gauge(entries: Iterable[Entry], today: date) -> dict[date, float]:
    """What the garden's own rain gauge read before `today`, without what was set aside of it. [mm]"""
    entries = tuple(entries)
    out = by_hand(entries).get(OWN_GAUGE, ())
    return {
        e.happened: e.quantity
        for e in entries
        if e.kind == "rain"
        and e.quantity is not None
        and e.happened < today
        and not any(o.has(e.happened) for o in out)
    }


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
    """Set a record aside, or its days from `first` to `last`, or a fetched forecast as a whole.

    `record`: its identifier or how that begins, or `OWN_GAUGE`. `id_`: of the entry, where it was made elsewhere.
    Raises NotFound, UsageError; Conflict where it is aside already.
    """
    garden = desk.garden()
    today = desk.today(garden)
    kept = kept_called(desk, garden, record)
    days = tuple(typed.day(said, today, word) for word, said in (("first", first), ("last", last)) if said)
    if len(days) == 1:
        days = (days[0], days[0])
    if days and kept.whole:
        raise UsageError(f"{kept.name} is set aside as a whole: leave the days out.")
    if days and not (kept.first <= days[0] <= days[1] <= kept.last):
        raise UsageError(f"first {days[0]}, last {days[1]}: {kept.name} has the days {kept.first} to {kept.last}.")
    if id_ is None or id_ not in desk.store.known([id_]):
        for one in by_hand(garden.entries).get(kept.id, ()):
            if one.first is None or (days and one.has(days[0]) and one.has(days[1])):
                raise Conflict("That is set aside already. Nothing was changed.")
    payload: dict[str, object] = {"record": kept.id}
    payload |= {"first": days[0], "last": days[1]} if days else {}
    made = desk.entry(KIND, happened=today, text=why.strip(), payload=payload, id_=id_)
    desk.keep([made])
    what = "the whole of it" if not days else f"{days[0]} to {days[1]}" if days[0] != days[1] else f"{days[0]}"
    note = "It stays kept and is not used. Use it again: `kailyard withdraw ENTRY`, as the daybook calls the entry."
    return Table(f"Set aside of {kept.name}: {what}", notes=(note,))


@dataclass(frozen=True, slots=True)
class Kept:
    """What can be set aside."""

    id: str
    name: str
    first: date
    last: date
    whole: bool = False
    """It is set aside as a whole or not at all."""


def kept_called(desk: Desk, garden: Garden, called: str) -> Kept:
    """The record or forecast called so. NotFound where there is none, or several begin so."""
    if called == OWN_GAUGE and (read := [e.happened for e in garden.entries if e.kind == "rain"]):
        return Kept(OWN_GAUGE, "the garden's own rain gauge", min(read), max(read))
    found = [
        Kept(each.id, each.name or each.record.source, each.record.first, each.record.last)
        for each in desk.store.kept_weather()
        if called and each.id.startswith(called)
    ]
    found += [
        Kept(
            each.id,
            f"the forecast of {each.forecast.source} issued {each.forecast.issued:%Y-%m-%d %H:%M} UTC",
            each.forecast.first,
            each.forecast.days()[-1].day,
            whole=True,
        )
        for each in desk.store.forecasts()
        if called and each.id.startswith(called)
    ]
    if len(found) != 1:
        raise NotFound(
            f"No record or forecast of the weather is called {typed.shown(called)}. `kailyard weather` and `kailyard "
            "forecast` list them."
        )
    return found[0]


def use_again(desk: Desk, entry: str) -> str:
    """Take back that something was set aside, or left in use; a sentence that says so."""
    found = next((e for e in desk.garden().entries if e.id == entry and e.kind in (KIND, "weather-left")), None)
    if found is None:
        raise Conflict("That is used again already. Nothing was changed.")
    withdraw(desk, entry)
    if found.kind != KIND:
        return "It is asked about again. That it was left stays in the daybook, marked."
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
