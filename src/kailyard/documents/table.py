"""A plain table or notice: what most commands answer."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar


@dataclass(frozen=True, slots=True)
class Table:
    """`kailyard.table/1`: a title, columns, rows of text, and lines said under it. Rows may be empty."""

    schema: ClassVar[str] = "kailyard.table/1"

    title: str
    columns: tuple[str, ...] = ()
    rows: tuple[tuple[str, ...], ...] = ()
    notes: tuple[str, ...] = ()


DOCUMENT = Table
