"""One line of the sheet, opened down to its sources."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import ClassVar, Literal

from kailyard.documents._parts import DayOdds, Reason


@dataclass(frozen=True, slots=True)
class Why:
    """`kailyard.why/1`"""

    schema: ClassVar[str] = "kailyard.why/1"

    garden: str
    on: date
    units: Literal["metric", "us"]
    name: str
    says: str
    where: str
    detail: str
    odds: DayOdds | None
    reasons: tuple[Reason, ...]


DOCUMENT = Why
