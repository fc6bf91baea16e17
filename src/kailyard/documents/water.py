"""The garden's water: what is gone under each planting, when each bed wants water next, and what was used."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import ClassVar, Literal

from kailyard.documents._parts import DayOdds, Reason


@dataclass(frozen=True, slots=True)
class Gone:
    """One planting: depletion of its root zone day by day, observed and to come. [mm]"""

    planting: str
    says: str
    """'Snap beans ‘Lantern’'."""
    gone_mm: float
    give_or_take_mm: float
    easy_mm: float
    """Gone so far growth does not suffer."""
    all_mm: float
    """Gone so far plants wilt for good."""
    stands: str
    """How it stands, in words."""
    soil: str
    costs: str
    """What a dry spell costs it, in sentences; ''."""
    first: date
    """Day of the first value below."""
    low_mm: tuple[float, ...]
    middle_mm: tuple[float, ...]
    high_mm: tuple[float, ...]
    """Nine in ten are below the high, one in ten below the low."""
    easy_curve_mm: tuple[float, ...]
    reasons: tuple[Reason, ...]


@dataclass(frozen=True, slots=True)
class BedWater:
    """One bed with its next watering."""

    bed: str
    where: str
    line: str
    """Name of its line on the sheet."""
    plants: str
    next: DayOdds | None
    """None: not within the days foreseen in any possible season."""
    next_words: str
    how: str
    """When, how much, how long, in how many goes, at what hour; '' where nothing is asked."""
    mm: float
    litres: float
    plantings: tuple[Gone, ...]


@dataclass(frozen=True, slots=True)
class Used:
    """Litres over a stretch of days, as entered and as three ways would have used on the same weather."""

    words: str
    first: date
    last: date
    given_l: float
    unknown: int
    """Waterings entered without an amount."""
    needed_l: float
    inch_a_week_l: float
    minutes_daily_l: float


@dataclass(frozen=True, slots=True)
class Water:
    """`kailyard.water/1`"""

    schema: ClassVar[str] = "kailyard.water/1"

    garden: str
    on: date
    units: Literal["metric", "us"]
    days_words: str
    """On which days water may be given."""
    beds: tuple[BedWater, ...]
    used: tuple[Used, ...]
    left_out: tuple[str, ...]
    notes: tuple[str, ...]


DOCUMENT = Water
