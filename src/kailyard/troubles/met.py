"""Troubles that the daybook says were found, with the crop and the bed: what the next season is planned by."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from functools import lru_cache

from kailyard.garden.model import Entry, Garden, Planting
from kailyard.handbook.remedies import Course, courses
from kailyard.handbook.troubles import LISTED, Trouble, host_weight, troubles


@dataclass(frozen=True, slots=True)
class Met:
    """One finding."""

    trouble: Trouble
    course: Course | None
    day: date
    planting: str
    """'' where it was found in a bed."""
    crop: str
    """'' where it was found in a bed."""
    bed: str
    entry: Entry

    @property
    def name(self) -> str:
        """The trouble's name as short as a line wants it: without its second name and what stands in brackets."""
        return self.trouble.name.split(",")[0].split(" (")[0]

    @property
    def said(self) -> str:
        """The same at the head of a sentence."""
        return f"{self.name[0].upper()}{self.name[1:]}"


@dataclass(frozen=True, slots=True, eq=False)
class _Daybook:
    """Entries that are known again by being the same, not by being alike: comparing thousands would cost more."""

    garden: Garden

    def __hash__(self) -> int:
        return id(self.garden.entries)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Daybook) and other.garden.entries is self.garden.entries


def met(garden: Garden, today: date) -> tuple[Met, ...]:
    """Every finding up to a day, oldest first, what is normal or harmless left out; () at once where none was."""
    found = _met(_Daybook(garden))
    return found if not found or found[-1].day <= today else tuple(m for m in found if m.day <= today)


@lru_cache(maxsize=4)  # a sheet asks for every planting
def _met(of: _Daybook) -> tuple[Met, ...]:
    return tuple(_read(of.garden, (e for e in of.garden.entries if e.kind == "found")))


def _read(garden: Garden, entries: Iterable[Entry]) -> Iterable[Met]:
    for e in entries:
        known = troubles().get(str(e.payload.get("trouble", "")).replace("-", "_"))
        if known is None or known.harmless:
            continue
        one = garden.plantings.get(e.target)
        course = courses().get(known.id) or courses().get(known.cause)
        bed = one.bed if one is not None else e.target if e.target in garden.beds else ""
        yield Met(known, course, e.happened, one.id if one else "", one.crop if one else "", bed, e)


def met_on(garden: Garden, planting: Planting, first: date, today: date) -> tuple[Met, ...]:
    """What was found from a day on, on a planting, or in its bed where the planting is one of the trouble's hosts."""
    return tuple(
        m
        for m in met(garden, today)
        if m.day >= first
        and (
            m.planting == planting.id
            or (not m.planting and m.bed == planting.bed and host_weight(m.trouble, planting.crop) >= LISTED)
        )
    )
