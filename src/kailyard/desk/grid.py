"""Beds, plantings and cultivars edited as tables: a row in place, or many pasted from a spreadsheet, all or none.

What is sent from one page is one change, though it may be many entries; the last change can be taken back whole. The
identifiers of its entries end alike, so that a form sent twice is one change too.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import timedelta
from hashlib import sha256
from typing import Any

from kailyard.desk.desk import Desk
from kailyard.errors import Conflict, DataError, KailyardError, NotFound, UsageError
from kailyard.garden.model import Entry

MOST_ROWS = 1000
_LONGEST_CHANGE = timedelta(seconds=MOST_ROWS)
_SAME_FORM = timedelta(hours=1)
"""A form is sent a second time within moments, or by the back button soon after."""
_MARK = 6
_WHERE = re.compile(r"(?:An entry of kind '[^']*'|Entry \S+(?: \([^)]*\))?): ")
_BOUND = re.compile(r"^(\w+?)(?:_(m|cm|deg))?: Expected (?:float|int) (<=|>=|<|>) (-?[0-9.]+?)(?:\.0)?$")
_BOUNDS = {"<=": "at most", ">=": "at least", "<": "less than", ">": "more than"}


@dataclass(frozen=True, slots=True)
class Column:
    """One column as it is typed."""

    key: str
    title: str
    """Its heading, in a spreadsheet too."""
    hint: str = ""
    choices: tuple[str, ...] = ()
    """The words it may hold; () for anything."""
    near: tuple[str, ...] = ()
    """Words to be offered."""
    needed: bool = False


@dataclass(frozen=True, slots=True)
class Row:
    """One thing as it stands."""

    name: str
    shown: tuple[str, ...]
    """To be read, under `Grid.heads`."""
    typed: Mapping[str, str]
    """As it would be typed, by key of column."""
    doubts: tuple[str, ...] = ()
    past: bool = False
    """Over before this year: shown to who asks for it."""

    @property
    def mark(self) -> str:
        """Of its state: another where anybody has changed it meanwhile."""
        return sha256(repr(sorted(self.typed.items())).encode()).hexdigest()[:16]


@dataclass(frozen=True, slots=True)
class Grid:
    """The things of one sort, and how a row becomes an entry."""

    kind: str
    """Of the entries; 'bed'."""
    columns: tuple[Column, ...]
    naming: tuple[str, ...]
    """Keys of the columns that name a thing; they stay as they are once it is there."""
    heads: tuple[str, ...]
    rows: Mapping[str, Row]
    name: Callable[[Mapping[str, str], frozenset[str]], str]
    """The name of the thing that a row speaks of; a free one where it names none. The set: names just given."""
    make: Callable[[str, Mapping[str, str]], dict[str, Any]]
    """Payload of an entry that makes or changes a thing, from the cells that say something new."""
    remove: Callable[[str], dict[str, Any]]
    """Payload of an entry that takes a thing away; Conflict where it cannot go."""
    targeted: bool = True
    """Whether an entry's target is the thing's name."""

    def column(self, key: str) -> Column:
        """The column of that key."""
        return next(c for c in self.columns if c.key == key)

    def as_text(self) -> str:
        """All rows as a spreadsheet takes them: cells parted by tabs, under a line of headings."""
        out = io.StringIO()
        write = csv.writer(out, delimiter="\t", lineterminator="\n")
        write.writerow([c.title for c in self.columns])
        write.writerows([[row.typed.get(c.key, "") for c in self.columns] for row in self.rows.values()])
        return out.getvalue()


@dataclass(frozen=True, slots=True)
class LastChange:
    """What was changed last, to be taken back."""

    entry: str
    """Identifier of its last entry, by which it is called."""
    names: tuple[str, ...]
    who: str


def change_row(desk: Desk, grid: Grid, cells: Mapping[str, str], *, was: str, mark: str) -> str:
    """Keep one row, new or changed; a sentence that says so. `was`: the row's mark on the page, '' for a new one."""
    name = grid.name(cells, frozenset())
    if kept := _kept_already(desk, grid, mark):
        return f"{_listed(kept)}: kept already."
    row = grid.rows.get(name)
    if row is None and was:
        raise Conflict(f"'{name}' was taken away meanwhile. Nothing was changed.")
    if row is not None and not was:
        raise Conflict(f"'{name}' is there already. Change it in its own row, or give the new one another name.")
    if row is not None and row.mark != was:
        raise Conflict(f"'{name}' was changed meanwhile by somebody else. Look at it anew; nothing was changed.")
    return change_rows(desk, grid, [("", cells)], mark=mark)


def change_pasted(desk: Desk, grid: Grid, text: str, *, mark: str) -> str:
    """Keep the rows of a pasted table, all or none; DataError names every bad one by row and rule."""
    return change_rows(desk, grid, pasted(text, grid), mark=mark)


def change_rows(desk: Desk, grid: Grid, rows: Sequence[tuple[str, Mapping[str, str]]], *, mark: str) -> str:
    """Keep rows, each with what it is called in messages ('' for the only one); a sentence that says what changed."""
    if kept := _kept_already(desk, grid, mark):
        return f"{_listed(kept)}: kept already."
    problems: list[str] = []
    made: dict[str, dict[str, Any]] = {}
    first: dict[str, str] = {}
    for called, cells in rows:
        before = f"{called}: " if called else ""
        try:
            name = grid.name(cells, frozenset(first))
            if name in first:
                raise UsageError(f"'{name}' stands in {first[name]} too. Leave one out.")
            first[name] = called
            before = f"{called} ({name}): " if called else ""
            if (new := _new_cells(grid, name, cells)) is not None:
                made[name] = grid.make(name, new)
                desk.entry(grid.kind, happened=_today(desk), target=_target(grid, name), payload=made[name])
        except KailyardError as err:
            problems += [before + line for line in plain(err)]
    if problems:
        raise DataError([*problems, "Nothing was changed."] if rows and rows[0][0] else problems)
    if not made:
        return "Nothing differs from what is kept."
    _keep(desk, grid, made, mark)
    entered = [name for name in made if name not in grid.rows]
    changed = [name for name in made if name in grid.rows]
    said = [f"{_listed(names)} {word}" for names, word in ((entered, "entered"), (changed, "changed")) if names]
    return f"{', '.join(said)}."


def remove_row(desk: Desk, grid: Grid, name: str, *, was: str, mark: str) -> str:
    """Take a thing away; a sentence that says so."""
    if _kept_already(desk, grid, mark):
        return f"{name}: taken away already."
    row = grid.rows.get(name)
    if row is None:
        raise NotFound(f"There is no {grid.kind} '{name}'.")
    if row.mark != was:
        raise Conflict(f"'{name}' was changed meanwhile by somebody else. Look at it anew; nothing was changed.")
    _keep(desk, grid, {name: grid.remove(name)}, mark)
    return f"{name} taken away."


def found_rows(grid: Grid, find: str, *, past: bool = True) -> tuple[Row, ...]:
    """Rows that have every word of `find` in what is shown or typed of them; without any, all, or all not past."""
    sought = find.casefold().split()
    return tuple(
        row
        for row in grid.rows.values()
        if (not sought and (past or not row.past))
        or (sought and all(word in " ".join((*row.shown, *row.typed.values())).casefold() for word in sought))
    )


def last_change(desk: Desk, grid: Grid) -> LastChange | None:
    """What was changed last, within a day; None where there is nothing to take back."""
    batch = _last(desk, grid.kind)
    if not batch:
        return None
    return LastChange(batch[-1].id, tuple(_name(grid, e) for e in batch), batch[-1].who)


def take_back(desk: Desk, grid: Grid, entry: str, may_go: Callable[[str], str]) -> str:
    """Withdraw the last change, called by its last entry; what was before it holds again.

    `may_go` says why a thing that the change made cannot vanish, '' where it can.
    """
    batch = _last(desk, grid.kind)
    if not batch or batch[-1].id != entry:
        raise Conflict("That change is taken back already, or another came after it. Nothing was changed.")
    today = _today(desk)
    ids = {e.id for e in batch}
    before = {_name(grid, e) for e in desk.garden().entries if e.kind == grid.kind and e.id not in ids}
    names = [_name(grid, e) for e in batch]
    if reasons := [reason for name in names if name not in before and (reason := may_go(name))]:
        raise Conflict(" ".join(reasons))
    desk.keep([desk.entry("withdraw", happened=today, supersedes=e.id, target=_still(grid, e)) for e in batch])
    return f"Taken back: {_listed(names)}. It stays in the daybook, marked."


def pasted(text: str, grid: Grid) -> list[tuple[str, Mapping[str, str]]]:
    """The rows of a pasted table with what each is called ('row 3'), cells by key of column.

    Raises DataError where it is no table, UsageError where there are too many rows.
    """
    reader = csv.reader(io.StringIO(text.removeprefix("\ufeff"), newline=""), delimiter="\t", strict=True)
    try:
        lines = [(reader.line_num, [cell.strip() for cell in cells]) for cells in reader]
    except csv.Error as err:
        raise DataError(f"row {reader.line_num}: cannot be read ({err}). Look at its quotation marks.") from None
    lines = [(number, cells) for number, cells in lines if any(cells)]
    if not lines:
        raise DataError("Nothing was pasted. Copy the cells in the spreadsheet with their line of headings.")
    keys = _keys(lines[0][1], grid)
    if len(lines) == 1:
        raise DataError("Only the line of headings was pasted. Copy the rows under it too.")
    if len(lines) > MOST_ROWS + 1:
        raise UsageError(f"{len(lines) - 1} rows at once; at most {MOST_ROWS}. Paste them in parts.")
    problems = [
        f"row {number}: {len(cells)} cells, but {len(keys)} headings."
        for number, cells in lines[1:]
        if len(cells) > len(keys) and any(cells[len(keys) :])
    ]
    if problems:
        raise DataError([*problems, "Nothing was changed."])
    return [(f"row {number}", dict(zip(keys, cells, strict=False))) for number, cells in lines[1:]]


def plain(err: KailyardError) -> list[str]:
    """An error's lines without what means nothing on a page: identifiers of entries, names of our types."""
    lines = err.problems if isinstance(err, DataError) else (str(err),)
    return [_bounded(_WHERE.sub("", line)) for line in lines]


def free_name(stem: str, taken: frozenset[str]) -> str:
    """'pea-3' where 'pea-1' and 'pea-2' are taken."""
    return next(f"{stem}-{n}" for n in range(1, len(taken) + 2) if f"{stem}-{n}" not in taken)


def _bounded(line: str) -> str:
    found = _BOUND.match(line)
    if found is None:
        return line
    name, unit, sign, bound = found.groups()
    return f"{name.replace('_', ' ')}: {_BOUNDS[sign]} {bound} {unit or ''}".rstrip() + "."


def _keys(heads: Sequence[str], grid: Grid) -> list[str]:
    known = {word.casefold(): c.key for c in grid.columns for word in (c.title, c.key)}
    titles = ", ".join(c.title for c in grid.columns)
    keys = [known.get(head.casefold(), "") for head in heads]
    if strange := [head for head, key in zip(heads, keys, strict=True) if not key]:
        tabs = " Cells are parted by tabs, as a spreadsheet copies them." if len(heads) == 1 else ""
        shown = ", ".join(f"'{head[:40]}'" for head in strange[:5])
        raise DataError(f"row 1: no column is called {shown}. There are: {titles}.{tabs}")
    if len(set(keys)) < len(keys):
        raise DataError("row 1: a heading stands there twice. Leave one column out.")
    return keys


def _new_cells(grid: Grid, name: str, cells: Mapping[str, str]) -> dict[str, str] | None:
    """Cells that say something new of the thing; None where nothing differs from what is kept."""
    row = grid.rows.get(name)
    cells = {key: text.strip() for key, text in cells.items()}
    for key, text in cells.items():
        column = grid.column(key)
        if text and column.choices and text not in column.choices:
            raise UsageError(f"{column.title}: '{text[:40]}' is none of {', '.join(filter(None, column.choices))}.")
    if row is None:
        lacking = [c.title for c in grid.columns if c.needed and not cells.get(c.key)]
        if lacking:
            raise UsageError(f"{' and '.join(lacking)} must be filled in for a new one.")
        return {key: text for key, text in cells.items() if text}
    new = {key: text for key, text in cells.items() if key not in grid.naming and text != row.typed.get(key, "")}
    if blank := [grid.column(key).title for key, text in new.items() if not text and grid.column(key).needed]:
        raise UsageError(f"{' and '.join(blank)} cannot be left blank.")
    return new or None


def _keep(desk: Desk, grid: Grid, made: Mapping[str, dict[str, Any]], mark: str) -> None:
    at, today = desk.clock(), _today(desk)
    desk.keep(
        [
            desk.entry(
                grid.kind,
                happened=today,
                target=_target(grid, name),
                payload=payload,
                id_=f"{at + timedelta(microseconds=i):%Y%m%d-%H%M%S-%f}{mark[:_MARK]}",
            )
            for i, (name, payload) in enumerate(made.items())
        ]
    )


def _kept_already(desk: Desk, grid: Grid, mark: str) -> list[str]:
    """What the form with that mark has changed, where it was sent before."""
    if not re.fullmatch(r"[0-9a-f]{20}", mark):
        raise UsageError("That form is not whole. Load its page again and send it anew.")
    since = desk.now() - _SAME_FORM
    return [
        _name(grid, e)
        for e in desk.garden().entries
        if e.kind == grid.kind and e.written >= since and e.who == desk.who and e.id.endswith(mark[:_MARK])
    ]


def _last(desk: Desk, kind: str) -> list[Entry]:
    """The entries of the last change of that kind within a day, in order."""
    since = desk.now() - timedelta(days=1)
    fresh = sorted(
        (e for e in desk.garden().entries if e.kind == kind and e.written >= since), key=lambda e: (e.written, e.id)
    )
    if not fresh:
        return []
    last = fresh[-1]
    return [
        e
        for e in fresh
        if e.id[-_MARK:] == last.id[-_MARK:] and e.who == last.who and last.written - e.written <= _LONGEST_CHANGE
    ]


def _name(grid: Grid, entry: Entry) -> str:
    return entry.target if grid.targeted else f"{entry.payload.get('crop')} {entry.payload.get('name')}"


def _target(grid: Grid, name: str) -> str:
    return name if grid.targeted else ""


def _still(grid: Grid, entry: Entry) -> str:
    """The target of a withdrawal: what is not there cannot be spoken of."""
    return entry.target if grid.targeted and entry.target in grid.rows else ""


def _today(desk: Desk) -> Any:
    return desk.today(desk.garden())


def _listed(names: Sequence[str]) -> str:
    return ", ".join(names) if len(names) <= 4 else f"{', '.join(names[:3])} and {len(names) - 3} more"


__all__ = [
    "Column",
    "Grid",
    "LastChange",
    "Row",
    "change_pasted",
    "change_row",
    "change_rows",
    "found_rows",
    "free_name",
    "last_change",
    "pasted",
    "plain",
    "remove_row",
    "take_back",
]
