"""The place: odds of frost, length of the season, and this season against the years."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import ClassVar, Literal

from kailyard.documents._parts import Reason


@dataclass(frozen=True, slots=True)
class FrostLevel:
    """Last and first day at or below a threshold, by chance. Dates are of the shown season; None: no such day."""

    threshold_c: float
    words: str
    share_of_years: float
    """Share of years in which it happens at all."""
    last_late: date | None
    """1 year in 10 has it on this day or later: the safe date for tender plants."""
    last_middle: date | None
    last_early: date | None
    first_early: date | None
    """1 year in 10 has it on this day or earlier."""
    first_middle: date | None
    first_late: date | None
    free_days_short: float | None
    """1 year in 10 has a season this short or shorter. [days]"""
    free_days_middle: float | None
    free_days_long: float | None


@dataclass(frozen=True, slots=True)
class WarmthSoFar:
    """A running sum of warmth this season against the years, on the same span of days."""

    words: str
    base_c: float
    since: date
    this_season: float
    """[°C·d]"""
    years_low: float
    years_middle: float
    years_high: float
    rank_words: str
    """'warmer than 31 of 40 years'."""
    days: tuple[date, ...]
    """Days of the curves below."""
    curve: tuple[float, ...]
    """This season, cumulated; shorter than `days` (it ends yesterday)."""
    low_curve: tuple[float, ...]
    middle_curve: tuple[float, ...]
    high_curve: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class MonthTrend:
    """How a month has moved. [°C per decade]"""

    month: int
    tmin_c_decade: float
    tmax_c_decade: float
    applied: bool


@dataclass(frozen=True, slots=True)
class Climate:
    """`kailyard.climate/1`"""

    schema: ClassVar[str] = "kailyard.climate/1"

    garden: str
    on: date
    units: Literal["metric", "us"]
    years: tuple[int, ...]
    trend_on: bool
    frost: tuple[FrostLevel, ...]
    warmth: tuple[WarmthSoFar, ...]
    trend: tuple[MonthTrend, ...]
    rain_so_far_mm: float
    rain_usual_mm: float
    reasons: tuple[Reason, ...]


DOCUMENT = Climate
