"""What people type to have something reckoned: names, numbers with units, runs, columns of files, grids.

Every message is one line that names the input and its range.
"""

from __future__ import annotations

import csv
import math
import re
from collections.abc import Collection, Sequence
from dataclasses import dataclass
from difflib import get_close_matches
from pathlib import Path

import numpy as np

from kailyard.desk.typed import quantity, shown, split_number
from kailyard.errors import UsageError
from kailyard.science.reckon import Choice, Input, Quantity, Reckoner
from kailyard.units import turned, unit_typed

Given = float | str | list[float]

_POWER = re.compile(r"[+-]?\d+(?:\.\d*)?e[+-]?\d{1,3}", re.ASCII | re.IGNORECASE)
"""A number in powers of ten, which has no unit of its own."""

MISSING = ("", "nan", "-", "none", "na")
"""Typed, or standing in a file, where a value is missing."""
MOST_IN_A_GRID = 200
MOST_FROM_A_FILE = 5_000_000

SUFFIXES = (
    *("_mj_m2", "_ml_m2", "_wh_m2", "_m2_s", "_ds_m", "_pct_per_ds_m", "_mm_week", "_kpa_c", "_g_m2", "_kg_m3"),
    *("_l_min", "_ml_l", "_l_ha", "_m_s", "_kpa", "_pct", "_deg", "_rad", "_kwh", "_dba"),
    *("_mm", "_cm", "_m2", "_kg", "_ml", "_wh", "_ah", "_c", "_m", "_d", "_h", "_g", "_l", "_v", "_w"),
)
"""Units at the end of a name, longest first among those that end alike; a name may be typed without."""
DIFFERENCES = frozenset({"amplitude_c", "delta_t_c", "depression_c", "dry_above_c", "wet_below_c"})
"""Inputs in °C that are differences of temperatures: 9 °F is 5 °C there."""


@dataclass(frozen=True, slots=True)
class Grid:
    """The values of one axis of a teaching table."""

    values: tuple[float, ...]


def bare(name: str) -> str:
    """`name` without the unit at its end."""
    return next((name.removesuffix(end) for end in SUFFIXES if name.endswith(end) and name != end), name)


def meant(typed: str, known: Collection[str]) -> list[str]:
    """Those of `known` that `typed` may mean: the name itself, or without its unit, or its first words.

    One means it is unambiguous; a name written in full is always alone.
    """
    key = typed.strip().lower().replace("-", "_")
    if key in known:
        return [key]
    whole = [name for name in known if bare(name) == key]
    return whole or [name for name in known if key and name.startswith(f"{key}_")]


def span(each: Input) -> str:
    """'-60 to 60 °C', 'one of short, tall'."""
    if isinstance(each.kind, Choice):
        return f"one of {', '.join(each.kind.words)}"
    ends = f"{each.kind.low:g} to {each.kind.high:g} {each.kind.unit}".rstrip()
    return f"values from {ends}, commas between" if each.kind.series else ends


def takes(each: Input) -> str:
    """'tmax_c takes -60 to 60 °C'."""
    return f"{each.name} takes {span(each)}"


def read(found: Reckoner, words: Sequence[str]) -> dict[str, Given | Grid]:
    """`name=value` words as the method's inputs; UsageError names what is wrong, doubled or missing."""
    inputs = {each.name: each for each in found.inputs}
    given: dict[str, Given | Grid] = {}
    for word in words:
        typed, equals, text = word.partition("=")
        names = meant(typed, inputs) if equals else []
        if len(names) != 1:
            near = names or get_close_matches(typed, inputs, n=1)
            hint = f"Did you mean {' or '.join(f'{n}=' for n in near)}?" if near else f"It takes {', '.join(inputs)}."
            raise UsageError(f"{found.name}: {shown(typed)} is no input of it. Write name=value. {hint}")
        (name,) = names
        if name in given:
            raise UsageError(f"{found.name}: {name} is given twice.")
        given[name] = _value(inputs[name], text.strip())
    lacking = [f"{each.name} ({span(each)})" for each in found.inputs if each.required and each.name not in given]
    if lacking:
        raise UsageError(f"{found.name} needs {', '.join(lacking)}.")
    grids = [name for name, value in given.items() if isinstance(value, Grid)]
    if len(grids) > 2:
        raise UsageError(f"{found.name}: {', '.join(grids)} are grids. A teaching table has one or two.")
    return given


def _value(each: Input, text: str) -> Given | Grid:
    if isinstance(each.kind, Choice):
        near = get_close_matches(text, each.kind.words, n=1, cutoff=0.1)
        if text not in each.kind.words:
            hint = f" Did you mean {near[0]}?" if near else ""
            raise UsageError(f"{takes(each)}; {shown(text)} is none.{hint}")
        return text
    if text.startswith("@"):
        return _column(each, each.kind, text[1:])
    if ".." in text:
        return _grid(each, each.kind, text)
    if "," in text or each.kind.series:
        return [_number(each, each.kind, part) for part in text.split(",")]
    return _number(each, each.kind, text)


def _number(each: Input, kind: Quantity, text: str, unit: str = "") -> float:
    """One number in the input's unit; `unit` holds where none is typed."""
    text = text.strip()
    if text and text.lower() in MISSING:
        return math.nan
    own = "°C difference" if each.name in DIFFERENCES else kind.unit
    parts = split_number(text)
    if parts is not None and _same(parts[1], kind.unit):
        number = parts[0]
    elif unit and parts is not None and not parts[1]:
        number = _turned(each, parts[0], unit, own)
    else:
        try:
            number = float(text) if _POWER.fullmatch(text) else quantity(text, own, "metric", each.name)
        except (UsageError, ValueError):
            raise UsageError(f"{takes(each)}; {shown(text)} is none.") from None
    if not kind.low <= number <= kind.high:
        ends = f"{kind.low:g} to {kind.high:g} {kind.unit}".rstrip()
        raise UsageError(f"{each.name}: {number:g} is outside {ends}.")
    return number


def _same(word: str, unit: str) -> bool:
    """Whether `word` is the input's unit as it stands in print, a square written as 2 included."""
    plain = word.replace(" ", "").lower()
    return bool(plain) and plain in (unit.lower(), unit.lower().replace("²", "2").replace("³", "3"))


def _turned(each: Input, number: float, unit: str, own: str) -> float:
    if unit == "°F" and own == "°C difference":
        unit = "°F difference"
    try:
        return turned(number, unit, own)
    except (KeyError, ValueError):
        raise UsageError(f"{takes(each)}; {shown(unit)} is no unit of it.") from None


def _grid(each: Input, kind: Quantity, text: str) -> Grid:
    """'20..30/2': from 20 to 30 in steps of 2; '20..30' in steps of one."""
    if kind.series:
        raise UsageError(f"{takes(each)}; a run of values cannot be a grid.")
    low_typed, _, high_typed = text.partition("..")
    step_typed = ""
    if "/" in high_typed and not _whole(high_typed, kind):  # km/h has a stroke of its own
        high_typed, _, step_typed = high_typed.rpartition("/")
    low, high = _number(each, kind, low_typed), _number(each, kind, high_typed)
    parts = split_number(step_typed or "1")
    if parts is None or parts[1] or not parts[0] > 0 or not low <= high:
        raise UsageError(f"{takes(each)}; a grid is written like {each.name}=20..30/2, a plain step after the stroke.")
    in_typed = _unit(low_typed) or _unit(high_typed)
    own = "°C difference" if each.name in DIFFERENCES else kind.unit
    step = parts[0]
    if in_typed and in_typed != own:  # steps of what was typed: 70F..80F/2 goes in steps of 2 °F
        step = _turned(each, step, in_typed, own) - _turned(each, 0.0, in_typed, own)
    count = math.floor((high - low) / step + 1e-9) + 1
    if count > MOST_IN_A_GRID:
        raise UsageError(f"{takes(each)}; {shown(text)} makes {count} values, more than {MOST_IN_A_GRID}.")
    return Grid(tuple(round(low + i * step, 9) for i in range(count)))


def _whole(typed: str, kind: Quantity) -> bool:
    """Whether it is a number with its unit, and nothing behind."""
    parts = split_number(typed)
    return parts is not None and (unit_typed(parts[1]) is not None or _same(parts[1], kind.unit))


def _unit(typed: str) -> str | None:
    parts = split_number(typed)
    return unit_typed(parts[1]) if parts and parts[1] else None


def _column(each: Input, kind: Quantity, where: str) -> list[float]:
    """'file.csv:column', or 'file.csv:column:F' where the column is in another unit."""
    parts = where.rsplit(":", 2)
    unit = unit_typed(parts[2]) if len(parts) == 3 else None
    if unit is None:
        parts = where.rsplit(":", 1)
    if len(parts) < 2 or not all(parts):
        raise UsageError(f"{takes(each)}; a column of a file is written {each.name}=@file.csv:column.")
    file, column = Path(parts[0]), parts[1]
    try:
        with file.open(encoding="utf-8-sig", newline="") as lines:
            table = csv.DictReader(lines)
            heads = [head.strip() for head in table.fieldnames or ()]
            if column not in heads:
                has = f"has {', '.join(heads[:12])}" if heads else "is empty"
                raise UsageError(f"{takes(each)}; {file.name} has no column {shown(column)}: it {has}.")
            table.fieldnames = heads
            values = []
            for row in table:
                values.append(_cell(each, kind, row[column] or "", unit or "", f"{file.name}:{table.line_num}"))
                if len(values) > MOST_FROM_A_FILE:
                    raise UsageError(f"{takes(each)}; {file.name} has more than {MOST_FROM_A_FILE:,} rows.")
    except OSError as err:
        raise UsageError(f"{takes(each)}; {shown(str(file))} cannot be read: {err.strerror}.") from None
    except (UnicodeDecodeError, csv.Error):
        raise UsageError(f"{takes(each)}; {shown(file.name)} is no table of text in UTF-8, commas between.") from None
    if not values:
        raise UsageError(f"{takes(each)}; {file.name} has no rows.")
    return values


def _cell(each: Input, kind: Quantity, text: str, unit: str, place: str) -> float:
    if text.strip().lower() in MISSING:
        return math.nan
    try:
        return _number(each, kind, text, unit)
    except UsageError as err:
        raise UsageError(f"{place}: {err}") from None


def lengths(given: dict[str, Given | Grid]) -> str:
    """'tmin_c has 3 values, tmax_c has 4'."""
    runs = {name: len(value) for name, value in given.items() if isinstance(value, list)}
    return ", ".join(f"{name} has {count} values" for name, count in runs.items())


def plain(value: object) -> float | str | tuple[float | None, ...] | None:
    """A value as a document has it: missing or endless ones as None, arrays as one tuple."""
    if value is None or isinstance(value, str):
        return value
    array = np.asarray(value, dtype=np.float64)
    flat = tuple(float(x) if math.isfinite(x) else None for x in array.ravel())
    return flat if array.ndim else flat[0]
