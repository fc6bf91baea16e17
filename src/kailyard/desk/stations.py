"""A neighbour's record laid beside the garden's own: to continue and fill it, or to take the mean of both."""

from __future__ import annotations

import calendar
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from kailyard.desk import typed
from kailyard.desk.desk import Desk
from kailyard.desk.judged import SHOWN
from kailyard.desk.weather import declared_columns, is_as_named
from kailyard.desk.weather_aside import by_hand, in_use
from kailyard.documents.table import Table
from kailyard.errors import DataError, UsageError
from kailyard.garden.identifiers import name_problem
from kailyard.publish.units import figure
from kailyard.units import Units, in_running_text
from kailyard.weather.files import file_name
from kailyard.weather.judging import asked_about, doubts
from kailyard.weather.options import ColumnMap, ReadOptions
from kailyard.weather.reading import read_record
from kailyard.weather.record import DailyRecord, merge
from kailyard.weather.stations import LEAST_OVERLAP, averaged, completed, differs, from_the_neighbour

__all__ = ["LEAST_OVERLAP", "Beside", "lay_beside", "made_of_two", "send_neighbour", "take_neighbour"]

COLUMNS = ("month", "low against the neighbour", "high against the neighbour")


def lay_beside(
    desk: Desk, file: str, *, columns: str | None = None, station: str = "", weight: float | None = None
) -> Table:
    """Read a neighbour's file named at the keyboard and keep the record that it and the garden's own make."""
    declared = None if columns is None else ColumnMap.parse(columns)
    return take_neighbour(desk, Path(file), ReadOptions(columns=declared, station=station), weight=weight)


def _taken_words(days: int) -> str:
    if not days:
        return "Your own record lacks nothing that the neighbour has: nothing was taken from it."
    lead = "1 day has" if days == 1 else f"{days} days have"
    return f"{lead} something of the neighbour's; each stretch is marked in the record."


def take_neighbour(desk: Desk, data: Path | bytes, options: ReadOptions, *, weight: float | None) -> Table:
    """Read a neighbour's file, or its content named in `options`, and keep the record that it and the own make.

    `weight`: the own station's share of the mean of both; None: own days stand, the neighbour fills what is missing.
    Nothing is kept where the two cannot be fitted.
    """
    garden = desk.garden()
    kept = in_use(desk, garden.entries)
    if not kept:
        raise DataError(
            "The garden has no weather record that a neighbour could fill. Read one: `kailyard weather FILE`."
        )
    own = merge(kept)
    other = read_record(data, options)
    made = completed(own, other) if weight is None else averaged(own, other, weight=weight)
    name = file_name(data, options.name)
    new = desk.store.add_weather(made.record, imported=desk.now(), name="" if name_problem(name) else name)
    questions = [in_running_text(each, garden.units) for each in asked_about(doubts(own, other))]
    left = figure(made.left_c, "°C difference", garden.units, 1)
    notes = [
        f"{made.overlap} days are in both records. That difference taken off, a day still lies {left} apart as a rule.",
        "The neighbour's rain is taken as it is."
        if abs(made.rain_factor - 1) < 0.005
        else f"The neighbour's rain is taken {made.rain_factor:.2f} times, as much as falls at your own station.",
        _taken_words(made.filled),
        *(str(mark) for mark in from_the_neighbour(made.record)[-SHOWN:]),
        *questions[:SHOWN],
        *([f"... and {len(questions) - SHOWN} more to look at."] if len(questions) > SHOWN else []),
        "A file of your own station that is read later wins on its days."
        if new
        else "Just this record is kept already; nothing was stored again.",
    ]
    return Table(f"Record made with {name}", COLUMNS, _offsets(made.record, garden.units), tuple(notes))


def send_neighbour(
    desk: Desk, name: str, content: bytes, *, station: str, declared: Mapping[str, str], mean: bool, weight: str
) -> str:
    """Lay a neighbour's file sent from a page beside the own record; a sentence of what was made.

    `mean`: the mean of both is taken, the own station counting `weight` of it; else only gaps are filled.
    """
    try:
        is_as_named(name, content)
        share = typed.share(weight or "50%", "the own station's share") if mean else None
        if share is not None and not 0 < share < 1:
            raise UsageError("the own station's share: write more than 0 % and less than 100 %, as in 50%.")
        options = ReadOptions(name=name or "the file", columns=declared_columns(declared), station=station)
        made = take_neighbour(desk, content, options, weight=share)
    except (DataError, UsageError) as err:
        raise type(err)(f"{err} Nothing was kept.") from err
    return f"{made.title}. {' '.join(note for note in made.notes if not note.startswith(name))}"


@dataclass(frozen=True, slots=True)
class Beside:
    """A kept record that was made of two."""

    name: str
    read: date
    neighbour: str
    source: str
    """How it was made, in words: 'mean of ...', 'missing days from ...'."""
    columns: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    """Month, and by how much the garden's own station lies above the neighbour, low and high."""
    rain_factor: str
    left: str
    stretches: int
    """So many stretches of days have something of the neighbour's."""
    latest: tuple[str, ...]
    """The latest of them."""
    out: bool
    """It is set aside as a whole."""


def made_of_two(desk: Desk) -> tuple[Beside, ...]:
    """Every kept record that was made of two, the latest first."""
    garden = desk.garden()
    aside = by_hand(garden.entries)
    found = []
    for each in reversed(desk.store.kept_weather()):
        how = differs(each.record)
        if how is None:
            continue
        lent = from_the_neighbour(each.record)
        found.append(
            Beside(
                each.name or each.record.source,
                each.imported.date(),
                how.neighbour,
                each.record.source,
                COLUMNS,
                _offsets(each.record, garden.units),
                f"{how.rain_factor:.2f}",
                figure(how.left_c, "°C difference", garden.units, 1),
                len(lent),
                tuple(f"{a.day}: {a.value}" for a in lent[-SHOWN:]),
                any(one.first is None for one in aside.get(each.id, ())),
            )
        )
    return tuple(found)


def _offsets(record: DailyRecord, units: Units) -> tuple[tuple[str, ...], ...]:
    how = differs(record)
    assert how is not None
    return tuple(
        (calendar.month_name[m + 1], *(figure(c[m], "°C difference", units, 1) for c in (how.low_c, how.high_c)))
        for m in range(12)
    )
