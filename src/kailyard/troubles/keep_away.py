"""Which bed must not take which crop, until when: only against what lives on in its soil.

What the wind brings, or what hatches from leaves that were cleared, is not kept off by another bed: it gets no hold.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from kailyard.garden.model import Garden
from kailyard.handbook.troubles import LISTED, crop_words, host_weight
from kailyard.troubles.met import Met, met

FOR_GOOD_YEARS = 50
"""Years from which nobody waits: it is said to be for good."""
OWN_KIN = frozenset({"fusarium_wilt", "potato_scab"})
"""What holds hosts of the family alone on which it was found: a wilt has a form for each, so that what
is in the soil after tomatoes does not take the asparagus; scab of potatoes hardly marks a carrot."""


@dataclass(frozen=True, slots=True)
class KeptOut:
    """A crop that a bed must not take."""

    met: Met
    until: date | None
    """First day on which it may come back at the earliest; None: for good."""
    years: str
    """'3 to 7 years'."""


def kept_out(garden: Garden, bed: str, crop: str, today: date) -> KeptOut | None:
    """What keeps a crop out of a bed on a day, the longest of it; None where nothing does."""
    found: list[KeptOut] = []
    for one in met(garden, today):
        if one.bed != bed or not lives_on(one) or not _takes(one, crop):
            continue
        assert one.course is not None
        assert one.course.away_years is not None
        low, high = (round(years) for years in one.course.away_years)
        until = None if low >= FOR_GOOD_YEARS else _years_on(one.day, low)
        if until is None or until > today:
            span = "for good" if until is None else f"{low} years" if low == high else f"{low} to {high} years"
            found.append(KeptOut(one, until, span))
    return max(found, key=lambda k: (k.until is None, k.until or date.max), default=None)


def lives_on(one: Met) -> bool:
    """Whether it stays in the soil for years that are known."""
    return one.course is not None and one.course.lives_in_soil and one.course.away_years is not None


def _takes(one: Met, crop: str) -> bool:
    kin = crop_words(one.crop).family == crop_words(crop).family
    if one.crop and not kin and OWN_KIN & {one.trouble.id, one.trouble.cause}:
        return False
    return host_weight(one.trouble, crop) >= LISTED


def _years_on(day: date, years: int) -> date:
    return date(day.year + years, day.month, min(day.day, 28))
