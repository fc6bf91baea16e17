"""From text to rows to facts: the one place where a line is read. Every bad line is named, none stops the rest."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import cast, get_args

from kailyard.handbook.quantities import SPELLINGS, Quantity
from kailyard.handbook.types import Fact, FactStatus

FACT_COLUMNS = ("subject", "quantity", "value", "unit", "status", "source", "locator", "note")
LEG_COLUMNS = ("subject", "from_stage", "to_stage", "order", *FACT_COLUMNS[1:])
LARGEST_BYTES = 2_000_000
"""A table file larger than this is refused before it is read: one value a row never gets there."""

_STATUSES = frozenset(get_args(FactStatus)) - {"yours"}
_NUMBER = re.compile(r"-?[0-9]{1,9}(\.[0-9]{1,9})?")
_CONTROL = re.compile(r"[\x00-\x08\x0a-\x1f\x7f-\x9f\u2028\u2029\u202a-\u202e]")


@dataclass(frozen=True, slots=True)
class LegRow:
    """One value of one development leg, as it stands on its line."""

    from_stage: str
    to_stage: str
    order: int
    fact: Fact


def read_rows(
    text: str,
    *,
    file: str,
    columns: Sequence[str],
    problems: list[str],
    optional: Mapping[str, str] | None = None,
) -> Iterator[tuple[int, list[str]]]:
    """Lines of a table as cells in the order of `columns`, with their line numbers.

    Without `optional` the header must be exactly `columns`. With it, columns may come in any order and those named
    in `optional` may be missing; their cells then hold the value given there. What is wrong goes to `problems`.
    """
    if not text.strip("\ufeff \t\r\n"):
        problems.append(f"{file}:1: the file is empty. Its first line must be: {','.join(columns)}")
        return
    reader = csv.reader(io.StringIO(text.removeprefix("\ufeff"), newline=""), strict=True)
    try:
        header = next(reader)
        places = _places(header, file=file, columns=columns, problems=problems, optional=optional)
        if places is None:
            return
        straight = tuple(header) == tuple(columns)
        width = len(header)
        fill = optional or {}
        for cells in reader:
            if len(cells) != width:
                if cells:
                    problems.append(
                        f"{file}:{reader.line_num}: {len(cells)} cells where the header has {width}. "
                        'Put quotation marks ("...") round a text that holds a comma.'
                    )
                continue
            if straight:
                yield reader.line_num, cells
            else:
                yield reader.line_num, [cells[at] if at is not None else fill[c] for c, at in places.items()]
    except csv.Error as err:
        problems.append(f"{file}:{reader.line_num}: not a CSV line ({err}). Check the quotation marks on it.")


def _places(
    header: list[str], *, file: str, columns: Sequence[str], problems: list[str], optional: Mapping[str, str] | None
) -> dict[str, int | None] | None:
    """Where each column stands in the header; None (with a problem noted) where the header will not do."""
    if optional is None:
        if tuple(header) == tuple(columns):
            return {c: i for i, c in enumerate(columns)}
        problems.append(f"{file}:1: the header is {_short(','.join(header))}. It must be: {','.join(columns)}")
        return None
    missing = [c for c in columns if c not in header and c not in optional]
    unknown = [c for c in header if c not in columns]
    if missing or unknown or len(set(header)) != len(header):
        what = [f"lacks {', '.join(missing)}"] if missing else []
        what += [f"has unknown or repeated {_short(', '.join(unknown or header))}"] if unknown or not missing else []
        problems.append(f"{file}:1: the header {' and '.join(what)}. It must be: {','.join(columns)}")
        return None
    return {c: header.index(c) if c in header else None for c in columns}


def make_fact(
    cells: Sequence[str],
    *,
    known: Mapping[str, Quantity],
    file: str,
    line: int,
    problems: list[str],
    own: bool = False,
) -> Fact | None:
    """The fact of one line (cells in the order of FACT_COLUMNS), or None with what is wrong in `problems`.

    Read here: the quantity is known, the value is a number where it must be, the status is one of ours. Everything
    that is a judgement rather than a reading (units, ranges, sources, order) is in `check.py`.
    """
    subject, quantity, value, unit, status, source, locator, note = cells
    declared = known.get(quantity)
    if declared is None:
        problems.append(
            f"{file}:{line}: unknown quantity {_short(quantity)}. "
            f"{_near(quantity, known)}quantities.csv declares what a table may hold."
        )
        return None
    if own:
        unit, status = SPELLINGS.get(unit, unit), "yours"
    elif status not in _STATUSES:
        problems.append(
            f"{file}:{line}: {subject} {quantity}: status {_short(status)} is none of the handbook's. "
            "Write published, common practice or memory ('yours' stands only in a gardener's own facts)."
        )
        return None
    parsed: float | str = value
    if declared.kind == "number" and value not in declared.words:
        if not _NUMBER.fullmatch(value):
            words = f" (or {', '.join(declared.words)})" if declared.words else ""
            hint = " Write a decimal point, not a comma." if "," in value else ""
            hint = hint or (" Leave out the row where nothing is known." if not value else "")
            problems.append(
                f"{file}:{line}: {subject} {quantity}: {_short(value)} is not a number{words}.{hint}"
                " Digits with at most one point are read."
            )
            return None
        parsed = float(value)
    return Fact(subject, quantity, parsed, unit, cast(FactStatus, status), source, locator, note, file, line)


def read_facts(text: str, *, known: Mapping[str, Quantity], file: str, problems: list[str]) -> list[Fact]:
    """Every readable fact of a table with the columns FACT_COLUMNS; every unreadable line in `problems`."""
    facts: list[Fact] = []
    for line, cells in read_rows(text, file=file, columns=FACT_COLUMNS, problems=problems):
        fact = make_fact(cells, known=known, file=file, line=line, problems=problems)
        if fact is not None:
            facts.append(fact)
    return facts


def make_leg_row(
    cells: Sequence[str],
    *,
    known: Mapping[str, Quantity],
    file: str,
    line: int,
    problems: list[str],
    own: bool = False,
) -> LegRow | None:
    """The leg value of one line (cells in the order of LEG_COLUMNS), or None with what is wrong in `problems`."""
    subject, from_stage, to_stage, order, *rest = cells
    if not order.isascii() or not order.isdigit() or not 1 <= len(order) <= 2 or int(order) < 1:
        problems.append(
            f"{file}:{line}: {subject} {from_stage} to {to_stage}: order {_short(order)} is not a whole number "
            "from 1. 1 is the leg used first."
        )
        return None
    fact = make_fact([subject, *rest], known=known, file=file, line=line, problems=problems, own=own)
    return None if fact is None else LegRow(from_stage, to_stage, int(order), fact)


def unprintable(text: str) -> bool:
    """Whether a text holds characters that no sheet should print: controls, line breaks, direction marks."""
    return _CONTROL.search(text) is not None


def one_line(message: str) -> str:
    """A message as one printable line, whatever cells it quotes."""
    return _CONTROL.sub("�", message)


def _near(quantity: str, known: Mapping[str, Quantity]) -> str:
    near = [q for q in known if quantity and q.startswith(quantity[:5])][:4]
    return f"Did you mean {', '.join(near)}? " if near else ""


def _short(text: str) -> str:
    """A cell as it may be shown in a message: quoted, unprintable characters escaped, cut to a line's part."""
    shown = repr(text)
    return shown if len(shown) <= 60 else shown[:57] + "...'"
