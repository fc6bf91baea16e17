"""A planting's life: its stages, seen or foreseen."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import ClassVar, Literal

from kailyard.documents._parts import DayOdds, Reason


@dataclass(frozen=True, slots=True)
class Stage:
    """One step. Seen: `seen` holds the day (with the last 'not yet' before it, if any). Foreseen: `odds`."""

    stage: str
    words: str
    """'first female flower', 'first picking'."""
    bbch: str
    """BBCH code where one fits, else ''."""
    seen: date | None
    not_yet: date | None
    odds: DayOdds
    odds_words: str
    reasons: tuple[Reason, ...]


@dataclass(frozen=True, slots=True)
class Stages:
    """`kailyard.stages/1`"""

    schema: ClassVar[str] = "kailyard.stages/1"

    garden: str
    on: date
    units: Literal["metric", "us"]
    planting: str
    crop: str
    cultivar: str
    bed: str
    stages: tuple[Stage, ...]


DOCUMENT = Stages
