"""What the weather means for diseases of what stands in the beds: published rules as odds, the rest in words."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import ClassVar, Literal

from kailyard.documents._parts import Reason, Status

Known = Literal["observed", "forecast by the hour", "made from days", "forecast by the day", "usual for the date"]
"""How the hours of a day are known, the least sure of them."""


@dataclass(frozen=True, slots=True)
class DayRisk:
    """One day under one rule."""

    day: date
    chance: float
    """That the rule says the weather favours it. 0 to 1"""
    known: Known


@dataclass(frozen=True, slots=True)
class RuleRisk:
    """One published rule, for what stands that it was made for."""

    model: str
    name: str
    troubles: tuple[str, ...]
    """Their names as typed: 'late-blight'."""
    of: tuple[str, ...]
    """Plants with their beds."""
    plantings: tuple[str, ...]
    """The same as plantings."""
    says: str
    """What it means that the level is reached."""
    days: tuple[DayRisk, ...]
    """From a week back to as far as is told."""
    past_week: float | None
    """Chance that it was reached on any day of the week to yesterday; None where none of them is told. 0 to 1"""
    coming_week: float | None
    """The same of the seven days from today."""
    later: float | None
    """The same of the days after them, usual for the date mostly."""
    sum_so_far: float | None
    """Of rules that add up: the sum to yesterday; None for the others."""
    since: date | None
    """Of rules that add up: the first day that is counted."""
    after: str
    """What was put on that day, so that the sum began anew; '' where it runs from the plants' own beginning."""
    level: float
    status: Status
    source: str
    note: str
    reasons: tuple[Reason, ...]


@dataclass(frozen=True, slots=True)
class Conditions:
    """A disease without a rule for gardens: what favours it, in words."""

    trouble: str
    name: str
    of: tuple[str, ...]
    """Plants: 'zucchini'."""
    says: str
    look: str
    """Where it shows first."""
    status: Status
    source: str


@dataclass(frozen=True, slots=True)
class Risk:
    """`kailyard.risk/1`"""

    schema: ClassVar[str] = "kailyard.risk/1"

    garden: str
    on: date
    units: Literal["metric", "us"]
    rules: tuple[RuleRisk, ...]
    """The likeliest of the coming week first."""
    conditions: tuple[Conditions, ...]
    notes: tuple[str, ...]
    """How hours and wetness are known; what the odds don't say."""


DOCUMENT = Risk
