"""What each quantity of the handbook is: its kind, its one unit, its sane range. Declared once, in quantities.csv."""

from __future__ import annotations

import csv
import io
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib import resources
from types import MappingProxyType
from typing import Literal, cast

Kind = Literal["number", "text", "choice"]

SPELLINGS: Mapping[str, str] = MappingProxyType(
    {
        "C": "°C",
        "degC": "°C",
        "C d": "°C·d",
        "day": "d",
        "days": "d",
        "week": "wk",
        "weeks": "wk",
        "kg/m2": "kg/m²",
        "g/m2": "g/m²",
        "min/m2": "min/m²",
        "cm": "cm",
    }
)
"""Spellings of a unit that a gardener's own file may use. They name the same unit: nothing is converted."""


@dataclass(frozen=True, slots=True)
class Quantity:
    """One quantity of one table."""

    name: str
    table: str
    kind: Kind
    unit: str
    """The only unit its values may stand in; '' for text and pure numbers."""
    low: float | None
    high: float | None
    """Values outside this range are taken for slips. The range is ours, wide on purpose."""
    words: tuple[str, ...]
    """The allowed words of a choice; words that may stand in place of a number ('NG': no germination)."""
    meaning: str


@cache
def quantities() -> Mapping[str, Mapping[str, Quantity]]:
    """Table -> quantity -> declaration, as the package ships them."""
    text = resources.files("kailyard.handbook").joinpath("data/quantities.csv").read_text(encoding="utf-8")
    by_table: dict[str, dict[str, Quantity]] = {}
    for row in csv.DictReader(io.StringIO(text)):
        by_table.setdefault(row["table"], {})[row["quantity"]] = Quantity(
            name=row["quantity"],
            table=row["table"],
            kind=cast(Kind, row["kind"]),
            unit=row["unit"],
            low=float(row["low"]) if row["low"] else None,
            high=float(row["high"]) if row["high"] else None,
            words=tuple(row["words"].split("; ")) if row["words"] else (),
            meaning=row["meaning"],
        )
    return MappingProxyType({table: MappingProxyType(rows) for table, rows in by_table.items()})
