"""What beds, plantings and cultivars share as pages: a table whose rows open as forms, and a paste from elsewhere."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Literal
from urllib.parse import quote

from kailyard.desk.answer import once
from kailyard.desk.desk import Desk
from kailyard.desk.grid import (
    Grid,
    LastChange,
    Row,
    change_pasted,
    change_row,
    found_rows,
    last_change,
    remove_row,
    take_back,
)
from kailyard.web.register import Moved

TEMPLATE = "grid.html"
MOST_BYTES = 500_000


@dataclass(frozen=True, slots=True)
class Query:
    """`change`: the row that stands open; `find`: words that rows must have; `past`: what was over before this year
    too; `paste`: put all rows into the box.
    """

    change: str = ""
    find: str = ""
    past: bool = False
    paste: bool = False


@dataclass(frozen=True, slots=True)
class Form:
    """One wish at a time; `mark` is that of the page it was sent from, `was` that of the row."""

    wish: Literal["new", "change", "remove", "paste", "undo"]
    mark: str
    was: str = ""
    name: str = ""
    """The row to be taken away; to be taken back: the change."""
    pasted: str = ""
    cells: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Page:
    """The table, which row is open, and what may be taken back."""

    title: str
    what: str
    """One of them: 'bed'."""
    path: str
    under: str
    query: Query
    grid: Grid
    rows: tuple[Row, ...]
    doubts: tuple[str, ...]
    last: LastChange | None
    mark: str
    link: str
    """Where a row's own page begins; '' where it has none."""


def page(
    desk: Desk,
    query: Query,
    grid: Grid,
    *,
    title: str,
    path: str,
    under: str,
    doubts: tuple[str, ...] = (),
    link: str = "",
) -> Page:
    """The table as asked for."""
    opened = grid.rows.get(query.change)
    rows = found_rows(grid, query.find, past=query.past or (opened is not None and opened.past))
    return Page(title, grid.kind, path, under, query, grid, rows, doubts, last_change(desk, grid), once(), link)


def post(desk: Desk, form: Form, grid: Grid, *, path: str, may_go: Callable[[str], str]) -> Moved:
    """Do the one thing wished."""
    if form.wish == "paste":
        return Moved(path, change_pasted(desk, grid, form.pasted, mark=form.mark))
    if form.wish == "undo":
        return Moved(path, take_back(desk, grid, form.name, may_go))
    if form.wish == "remove":
        return Moved(path, remove_row(desk, grid, form.name, was=form.was, mark=form.mark))
    said = change_row(desk, grid, form.cells, was=form.was, mark=form.mark)
    at = quote(anchor(form.name)) if form.name else "new"
    return Moved(f"{path}#{at}", said)


def anchor(name: str) -> str:
    """A row's place on the page."""
    return f"row-{'-'.join(name.split())}"
