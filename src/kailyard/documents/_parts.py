"""Pieces that several documents are made of."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Literal

Status = Literal["published", "common practice", "memory", "yours", "observed", "computed"]
"""What a figure rests on. `yours`: typed by the gardener; `observed`: a record or an entry; `computed`: here."""


@dataclass(frozen=True, slots=True)
class RestsOn:
    """The ground under a statement: its status, who says so and where in it."""

    status: Status
    source: str
    """Citation in words, 'daybook' or 'weather record', or the formula's name."""
    locator: str = ""
    """Table, page, equation; file and line; or entry identifier."""


@dataclass(frozen=True, slots=True)
class Reason:
    """One step of an explanation. `because` opens it further, down to a published source, an entry or the weather."""

    says: str
    figure: float | None = None
    unit: str = ""
    """SI, as inside the program: °C, mm, °C·d, days, cm. Renderers convert where the garden asks for °F and inches."""
    rests_on: RestsOn | None = None
    because: tuple[Reason, ...] = ()


@dataclass(frozen=True, slots=True)
class DayOdds:
    """A distribution over days as a reader needs it."""

    low: date | None
    """One in ten falls before this day; None where that share is never reached."""
    middle: date | None
    high: date | None
    """Nine in ten fall on or before this day; None where fewer do."""
    never: float
    """Chance that it never happens (killed, or the season ends first). 0 to 1."""
    beyond: float
    """Chance that it lies beyond the horizon. 0 to 1."""
    first: date
    """First day of `chances`."""
    chances: tuple[float, ...]
    """Chance of each day from `first` on. A stage falls on it; a window is open."""
