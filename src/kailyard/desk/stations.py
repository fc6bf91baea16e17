"""A neighbour's record laid beside the garden's own: to continue and fill it, or to take the mean of both."""

from __future__ import annotations

import calendar
from pathlib import Path

from kailyard.desk.desk import Desk
from kailyard.desk.weather_aside import in_use
from kailyard.documents.table import Table
from kailyard.errors import DataError
from kailyard.garden.identifiers import name_problem
from kailyard.publish.units import figure
from kailyard.weather.files import file_name
from kailyard.weather.judging import asked_about, doubts
from kailyard.weather.options import ColumnMap, ReadOptions
from kailyard.weather.reading import read_record
from kailyard.weather.record import merge
from kailyard.weather.stations import averaged, completed, from_the_neighbour

COLUMNS = ("month", "low against the neighbour", "high against the neighbour")
MOST_ASKED = 5
"""So many doubts are shown; the rest is counted."""


def lay_beside(
    desk: Desk, file: str, *, columns: str | None = None, station: str = "", weight: float | None = None
) -> Table:
    """Read a neighbour's file and keep the record that it and the garden's own make.

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
    declared = None if columns is None else ColumnMap.parse(columns)
    other = read_record(Path(file), ReadOptions(columns=declared, station=station))
    made = completed(own, other) if weight is None else averaged(own, other, weight=weight)
    name = file_name(Path(file))
    new = desk.store.add_weather(made.record, imported=desk.now(), name="" if name_problem(name) else name)
    rows = tuple(
        (calendar.month_name[m + 1], *(figure(float(o[m]), "°C difference", garden.units, 1) for o in offsets))
        for offsets in [(made.tmin_offset_c, made.tmax_offset_c)]
        for m in range(12)
    )
    left = figure(made.left_c, "°C difference", garden.units, 1)
    questions = asked_about(doubts(own, other))
    notes = [
        f"{made.overlap} days are in both records; on one day the two still differ by {left} (standard deviation).",
        f"Rain of the neighbour is multiplied by {made.rain_factor:.2f}.",
        f"{made.filled} days have something of the neighbour's; each stretch is marked in the record.",
        *(str(mark) for mark in from_the_neighbour(made.record)[-MOST_ASKED:]),
        *questions[:MOST_ASKED],
        *([f"... and {len(questions) - MOST_ASKED} more to look at."] if len(questions) > MOST_ASKED else []),
        "A file of your own station that is read later wins on its days."
        if new
        else "Just this record is kept already; nothing was stored again.",
    ]
    return Table(f"Record made with {name}", COLUMNS, rows, tuple(notes))
