"""Insects and their like: where and how to look, when each step of their life comes, how many are worth acting on.

Sums of warmth are counted each in its own way: rows of different bases, starts or methods are never added.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache, partial
from types import MappingProxyType
from typing import Literal, cast, get_args

from kailyard.errors import DataError
from kailyard.handbook.diseases import number, words
from kailyard.handbook.troubles import FOLDER, troubles
from kailyard.handbook.whole_tables import read_table

_rows_of = partial(read_table, FOLDER)

Counts = Literal["calendar", "after", "no"]
Method = Literal["simple", "sine", "sine intermediate"]


@dataclass(frozen=True, slots=True)
class Insect:
    """One pest, with how to look for it."""

    id: str
    name: str
    scientific_name: str
    hosts: str
    overwinters_as: str
    biofix: str
    """What its sums of warmth are counted from, or what begins its year."""
    generations: str
    life_cycle: str
    life_status: str
    life_source: str
    where_to_look: str
    how_to_look: str
    every_days: float | None
    """Days from one look to the next; None where the source does not say. [d]"""
    host_stages: tuple[str, ...]
    """Stages of the plants in which it is looked for: 'young', 'growing', 'flowering', 'bearing'; () is any. Ours."""
    scouting_status: str
    scouting_source: str
    natural_enemies: str
    controls_status: str
    damage: str
    status: str
    source: str


@dataclass(frozen=True, slots=True)
class Event:
    """One step of an insect's life by a sum of warmth."""

    insect: str
    event: str
    low: float
    """Sum from which it comes, and to which it may: alike where one figure is printed. [°C·d]"""
    high: float
    printed_f: str
    base_c: float
    upper_c: float | None
    start: str
    """From what the sum is counted, in the source's words."""
    counts: Counts
    """'calendar': from 1 January; 'after': from a thing seen; 'no': never, for the reason in `note`."""
    method: Method
    medium: Literal["air", "soil"]
    place: str
    status: str
    source: str
    note: str


@dataclass(frozen=True, slots=True)
class Threshold:
    """From how many on a pest is worth acting on, for one crop and stage."""

    insect: str
    crops: str
    crop_words: tuple[str, ...]
    """The same in the words of the lists of hosts; 'all' is any crop."""
    stage: str
    host_stages: tuple[str, ...]
    """The same as 'young', 'growing', 'flowering', 'bearing': our reading of the source's words."""
    measure: str
    """What is counted: 'egg masses', 'leaf loss tolerated', 'plants with any caterpillar'."""
    low: float | None
    """None where there is no figure. A range has two ends: the stricter is the lower."""
    high: float | None
    unit: str
    """'per plant', 'percent', 'per leaf', ..."""
    status: str
    source: str
    note: str
    value: str
    """As printed; '0.5 and 10 percent' is no figure to compare with."""


_INSECT_COLUMNS = tuple(Insect.__dataclass_fields__)
_EVENT_COLUMNS = (
    *("insect", "event", "dd", "dd_low", "dd_high", "printed_f", "base_c", "upper_c", "start", "counts"),
    *("method", "medium", "place", "status", "source", "note"),
)
_THRESHOLD_COLUMNS = (
    *("insect", "crops", "crop_words", "stage", "host_stages", "measure", "value", "unit", "status", "source", "note"),
)


@cache
def insects() -> Mapping[str, Insect]:
    """Every insect, mite, slug or nematode by its id, which is that of a trouble."""
    found: dict[str, Insect] = {}
    for cells in _rows_of("insects.csv", _INSECT_COLUMNS):
        row = dict(zip(_INSECT_COLUMNS, cells, strict=True))
        every = number("insects.csv", row.pop("every_days"))
        stages = words(row.pop("host_stages"))
        found[row["id"]] = Insect(**row, every_days=every, host_stages=stages)
    strange = sorted(set(found) - set(troubles()))
    if strange:
        raise DataError(f"troubles/insects.csv: no trouble is called {', '.join(strange)}.")
    return MappingProxyType(found)


@cache
def events() -> tuple[Event, ...]:
    """Every step of life with a sum of warmth, those that may not be counted among them, in the table's order."""
    return tuple(
        _event(dict(zip(_EVENT_COLUMNS, c, strict=True))) for c in _rows_of("insect_events.csv", _EVENT_COLUMNS)
    )


@cache
def events_of(insect: str) -> tuple[Event, ...]:
    """The steps of one insect's life."""
    return tuple(event for event in events() if event.insect == insect)


@cache
def thresholds() -> tuple[Threshold, ...]:
    """Every threshold, in the table's order."""
    found = []
    for cells in _rows_of("thresholds.csv", _THRESHOLD_COLUMNS):
        row = dict(zip(_THRESHOLD_COLUMNS, cells, strict=True))
        low, high = _range(row["value"])
        if row["insect"] not in insects():
            raise DataError(f"troubles/thresholds.csv: no insect is called {row['insect']}.")
        crops, stages = words(row.pop("crop_words")), words(row.pop("host_stages"))
        found.append(Threshold(low=low, high=high, crop_words=crops, host_stages=stages, **row))
    return tuple(found)


@cache
def thresholds_of(insect: str) -> tuple[Threshold, ...]:
    """The thresholds of one insect."""
    return tuple(one for one in thresholds() if one.insect == insect)


def _range(cell: str) -> tuple[float | None, float | None]:
    if not cell or "and" in cell:
        return None, None
    low, _, high = cell.partition("-")
    least = number("thresholds.csv", low)
    return least, number("thresholds.csv", high) or least


def _event(row: dict[str, str]) -> Event:
    file = "insect_events.csv"
    if row["insect"] not in insects():
        raise DataError(f"troubles/{file}: no insect is called {row['insect']}.")
    if row["counts"] not in get_args(Counts) or row["method"] not in get_args(Method):
        raise DataError(f"troubles/{file}: {row['insect']}, {row['event']}: counts or method is none that is known.")
    one, low, high = (number(file, row[c]) for c in ("dd", "dd_low", "dd_high"))
    least, base = low if low is not None else one, number(file, row["base_c"])
    if row["counts"] != "no" and (least is None or base is None):
        raise DataError(f"troubles/{file}: {row['insect']}, {row['event']}: a sum and its base are needed to count.")
    return Event(
        insect=row["insect"],
        event=row["event"],
        low=least or 0.0,
        high=high if high is not None else one if one is not None else least or 0.0,
        printed_f=row["printed_f"],
        base_c=base or 0.0,
        upper_c=number(file, row["upper_c"]),
        start=row["start"],
        counts=cast(Counts, row["counts"]),
        method=cast(Method, row["method"]),
        medium="soil" if row["medium"] == "soil" else "air",
        place=row["place"],
        status=row["status"],
        source=row["source"],
        note=row["note"],
    )
