"""How a past season is told: one row a planting, from which the daybook's lines of sowing to clearing are written.

The days in the tables were drawn once from the invented weather through the engine, with each cultivar's luck of 2026,
a planting's own, and the day or two until the next walk; they stand as they were drawn. What befell a planting besides
is told in words, year by year.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Final

from kailyard.demo._daybook import (
    IDONY,
    PERRIN,
    WENNA,
    Line,
    clear,
    harden,
    not_yet,
    pick,
    plant,
    said,
    seen,
    set_out,
    sow,
    support,
    work,
)
from kailyard.demo.place import CULTIVARS
from kailyard.garden.model import Planting

TIMED_YEAR: Final = 2025
"""The year in which Perrin looked at the clock while picking."""
_FETCHED_MIN: Final = 3
_MINUTES_KG: Final = {"bean-bush": 14, "pea": 18, "zucchini": 2, "tomato-indeterminate": 4, "cucumber-slicing": 3}

LAID_OUT: Final = {
    2021: date(2021, 3, 6),
    2022: date(2022, 1, 22),
    2023: date(2023, 1, 28),
    2024: date(2024, 1, 27),
    2025: date(2025, 1, 25),
}
"""The winter evening on which each year was laid out bed by bed; the first on the day the daybook was opened."""

CROP_OF: Final = {c.name: c.crop for c in CULTIVARS}


@dataclass(frozen=True, slots=True)
class _Way:
    """How a crop is grown here. `every`: days between pickings; 0 where all is lifted at once."""

    rows: int
    spacing_cm: float
    row_cm: float | None
    every: int
    unit: str = "kg"
    support: str = ""
    support_after: int = 1
    """Days from setting out or coming up."""
    thinned: bool = False
    ends: str = "over"


_WAYS: Final = {
    "bean-bush": _Way(2, 8, 60, 5),
    "cabbage": _Way(2, 45, 60, 9, "count", ends="all cut"),
    "carrot": _Way(4, 6, 30, 12, thinned=True, ends="lifted"),
    "cucumber-pickling": _Way(1, 25, None, 5, thinned=True),
    "cucumber-slicing": _Way(2, 45, 100, 5, support="strings to the tunnel bars"),
    "garlic": _Way(5, 12, 20, 0, ends="lifted"),
    "lettuce-head": _Way(1, 28, 30, 6, "count", ends="all cut"),
    "lettuce-leaf": _Way(2, 15, 20, 7, thinned=True, ends="running to seed"),
    "onion-long-day": _Way(4, 10, 28, 0, ends="lifted"),
    "pea": _Way(2, 5, 60, 4, support="hazel sticks of 1.2 m", support_after=9),
    "pepper-hot": _Way(2, 40, 50, 14, support="short stakes", support_after=9),
    "pepper-sweet": _Way(2, 40, 50, 10, support="short stakes", support_after=9),
    "potato": _Way(2, 30, 75, 0, ends="lifted"),
    "sweet-corn": _Way(3, 25, 60, 4, "count", thinned=True),
    "tomato-determinate": _Way(2, 60, 65, 7, support="short stakes", support_after=7),
    "tomato-indeterminate": _Way(2, 60, 65, 7, support="stakes of 1.8 m"),
    "winter-squash-maxima": _Way(1, 120, None, 30, "count", ends="cut with a hand of stalk"),
    "zucchini": _Way(1, 100, None, 5),
}
_IN_ROUND_BED: Final = {"lettuce-leaf": 24, "lettuce-head": 8}
"""Rows run across the round bed: plants of one row or two, whatever length of it they take."""
_TUNNEL_SUPPORT: Final = "strings to the tunnel bars"
_WEEDED_AFTER: Final = (19, 40)
"""Days from the first row of a bed coming up or being set out."""


@dataclass(frozen=True, slots=True)
class Grown:
    """One row: a planting and the days of its life; None where the table has a dash."""

    planting: Planting
    sown: date
    up: date | None
    out: date | None
    flower: date | None
    first: date | None
    last: date | None
    got: float

    @property
    def ends(self) -> date:
        """The day it was cleared."""
        assert self.last is not None
        return self.last if not _WAYS[self.planting.crop].every else self.last + timedelta(days=3)


def grown(year: int, table: str) -> tuple[Grown, ...]:
    """The rows of a table: id, bed, cultivar, place and length [m], sown, up, set out, flower, first, last, picked.

    Days are month and day of the season's year; '<' before one is the year before, '>' the year after. A planting
    without a last picking is cleared by the words of its year.
    """
    return tuple(_row(year, line.split()) for line in table.strip().splitlines())


def _row(year: int, cells: list[str]) -> Grown:
    id_, bed, cultivar, place, length, *days, got = cells
    name = cultivar.replace("_", " ")
    crop = CROP_OF[name]
    way = _WAYS[crop]
    sown, up, out, flower, first, last = (_day(year, cell) for cell in days)
    assert sown is not None
    rows = 5 if (crop, bed) == ("lettuce-leaf", "bed-12") else way.rows
    count = _IN_ROUND_BED[crop] if bed == "bed-5" else rows * int(float(length) * 100 / way.spacing_cm + 1e-6)
    planting = Planting(
        id_, crop, bed, "raised" if out else "planted" if _is_planted(name) else "sown", name, count, rows,
        way.spacing_cm, way.row_cm, float(place), float(length), out or sown, wave=_wave(crop, year),
    )  # fmt: skip
    return Grown(planting, sown, up, out, flower, first, last, float(got))


def _is_planted(cultivar: str) -> bool:
    return CROP_OF[cultivar] in ("garlic", "potato") or cultivar == "Dunnage"


def _wave(crop: str, year: int) -> str:
    return {"bean-bush": f"snap beans {year}", "pea": f"peas {year}", "sweet-corn": f"sweet corn {year}"}.get(crop, "")


def _day(year: int, cell: str) -> date | None:
    if cell == "-":
        return None
    away = {"<": -1, ">": 1}.get(cell[0], 0)
    month, day = cell.lstrip("<>").split("-")
    return date(year + away, int(month), int(day))


def planning(row: Grown) -> date:
    """The evening its year was laid out, or the day before it was begun where that came first."""
    return min(LAID_OUT[int(row.planting.id.split("-")[1]) + 2000], row.sown - timedelta(days=1))


def planted_lines(rows: tuple[Grown, ...]) -> list[Line]:
    """Each planting as it was laid out."""
    return [Line(planning(row), "planting", row.planting.id, who=IDONY, payload=said(row.planting)) for row in rows]


def lives(rows: tuple[Grown, ...], *, unsupported: frozenset[str] = frozenset()) -> list[Line]:
    """The lines of all rows; those named in `unsupported` get their sticks by the words of the year."""
    lines = [line for row in rows for line in _life(row, support_it=row.planting.id not in unsupported)]
    return lines + list(_weedings(rows))


def _life(row: Grown, *, support_it: bool) -> Iterator[Line]:
    p, way = row.planting, _WAYS[row.planting.crop]
    id_ = p.id
    yield from _begun(row)
    stood = row.out or row.up
    if row.up is not None:
        yield seen(row.up, id_, "emerged", 0.6, who=WENNA if p.start == "raised" else IDONY)
    if way.support and support_it and stood is not None:
        what = _TUNNEL_SUPPORT if p.bed == "bed-12" else way.support
        yield support(stood + timedelta(days=way.support_after), id_, what)
    if way.thinned and row.up is not None and p.start == "sown":
        yield work(row.up + timedelta(days=17), id_, "thinned", who=WENNA)
    if p.crop == "potato" and row.up is not None:
        yield work(row.up + timedelta(days=14), id_, "earthed up")
    if row.flower is not None:
        yield not_yet(row.flower - timedelta(days=5), id_, "first-flower")
        yield seen(row.flower, id_, "first-flower", 0.5)
    yield from _harvest(row, way)


def _begun(row: Grown) -> Iterator[Line]:
    p = row.planting
    if p.start == "planted":
        yield plant(row.sown, p.id, p.count)
    elif row.out is None:
        yield sow(row.sown, p.id, math.ceil(p.count * 1.5 / 10) * 10)
    else:
        yield sow(row.sown, p.id, p.count + 4, "cells", under_cover=True, who=WENNA)
        tunnel = p.bed == "bed-12"
        if not tunnel:
            yield harden(row.out - timedelta(days=7), p.id)
        yield set_out(row.out, p.id, p.count, hardened=None if tunnel else True)


def _harvest(row: Grown, way: _Way) -> Iterator[Line]:
    id_, first, last = row.planting.id, row.first, row.last
    if first is None or last is None:
        return
    if not way.every:
        yield not_yet(first - timedelta(days=9), id_, "mature")
        yield seen(first, id_, "mature", 0.6)
        yield pick(last, id_, row.got, way.unit, last=True)
    else:
        if row.planting.crop not in ("winter-squash-maxima", "zucchini"):
            yield not_yet(first - timedelta(days=4), id_, "first-harvest")
        yield from _pickings(row, way)
    yield clear(row.ends, id_, way.ends)


def _pickings(row: Grown, way: _Way) -> Iterator[Line]:
    """Pickings that swell and fall off, and come to what the row says together."""
    assert row.first is not None
    assert row.last is not None
    span = (row.last - row.first).days
    n = min(span // way.every + 1, round(row.got) if way.unit == "count" else 99)
    shares = [math.sin(math.pi * (i + 0.7) / (n + 0.4)) for i in range(n)]
    digits = 0 if way.unit == "count" else 1 if row.got >= 3 else 2
    taken = 0.0
    for i in range(n):
        upto = round(row.got * sum(shares[: i + 1]) / sum(shares), digits)
        day = row.first + timedelta(days=round(i * span / max(n - 1, 1)))
        amount = round(upto - taken, digits)
        taken = upto
        if amount > 0:
            timed = way.unit == "kg" and day.year == TIMED_YEAR
            minutes = float(round(_FETCHED_MIN + _MINUTES_KG.get(row.planting.crop, 6) * amount)) if timed else None
            yield pick(day, row.planting.id, amount, way.unit, last=i == n - 1, minutes=minutes)


def _weedings(rows: tuple[Grown, ...]) -> Iterator[Line]:
    """Twice in every bed, counted from the first row that stood in it."""
    beds: dict[str, date] = {}
    for row in rows:
        stood = row.out or row.up
        if stood is not None and stood.month >= 4 and row.planting.bed != "bed-12":
            beds[row.planting.bed] = min(beds.get(row.planting.bed, stood), stood)
    for bed, stood in sorted(beds.items()):
        for after, who in zip(_WEEDED_AFTER, (PERRIN, WENNA), strict=True):
            yield work(stood + timedelta(days=after), bed, "weeded", who=who)


def instead(lines: list[Line], *changes: Line) -> list[Line]:
    """The lines, and for each of `changes` the one of its day, kind and target left out: the same told with more."""
    told = {(c.day, c.kind, c.target) for c in changes}
    kept = [line for line in lines if (line.day, line.kind, line.target) not in told]
    missing = told - {(line.day, line.kind, line.target) for line in lines}
    assert not missing, missing
    return [*kept, *changes]


def cut_first(year: int) -> Line:
    """The first spears of a year seen in the old bed."""
    day = {2023: date(2023, 5, 4), 2024: date(2024, 4, 25), 2025: date(2025, 4, 25)}[year]
    return seen(day, "asparagus-1", "first-harvest", 0.4)


def cut(first: date, times: int, kg: float, *, last: date) -> list[Line]:
    """Asparagus cut so many times, most in the middle, `kg` on an average day."""
    span = (last - first).days
    return [
        pick(
            first + timedelta(days=round(i * span / (times - 1))),
            "asparagus-1",
            round(kg * (0.5 + math.sin(math.pi * (i + 0.5) / times)), 1),
        )
        for i in range(times)
    ]
