"""When someone will be in the garden, and what there is time for."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any

from kailyard.documents.sheet import Visit
from kailyard.season.measures import day_words
from kailyard.season.sightings import as_day
from kailyard.season.view import SeasonView

USUAL_DAYS = 7
"""Where no visit is planned, the next one is taken to be a week off, as the next sheet is."""


@dataclass(frozen=True, slots=True)
class Plan:
    """The days of a sheet on which work can be done, and the day on which it could be done next."""

    here: tuple[date, ...]
    """Days with a visit; every day of the sheet where none is planned."""
    after: date
    visits: tuple[Visit, ...]
    """Those of the sheet's days, and the next one."""
    minutes: int | None
    """Of work that the visits of the sheet's days have; None where nobody said."""

    def fits(self, minutes: Iterable[float]) -> tuple[bool, ...]:
        """For which pieces of work, in order, there is time."""
        if self.minutes is None:
            return tuple(True for _ in minutes)
        left, out = float(self.minutes), []
        for needed in minutes:
            out.append(needed <= left)
            left -= needed if out[-1] else 0.0
        return tuple(out)

    def nobody_before(self, days: tuple[date, ...]) -> str:
        """A word where a danger falls before anyone is expected; '' where someone is, or no visit is planned."""
        if not self.visits or self.visits[0].day <= min(days):
            return ""
        return f"Nobody is expected before {day_words(self.visits[0].day)}: ask someone near."


def planned(view: SeasonView, first: date, last: date) -> Plan:
    """The plan of the days from `first` to `last`."""
    ahead = sorted(
        (
            visit
            for e in view.garden.entries
            if e.kind == "visit" and e.happened <= view.today and (visit := _visit(e.payload)).day >= first
        ),
        key=lambda v: (v.day, v.what),
    )
    inside = [v for v in ahead if v.day <= last]
    beyond = [v for v in ahead if v.day > last]
    days = (last - first).days + 1
    if not inside:
        after = last + timedelta(days=1)
        return Plan(tuple(first + timedelta(days=n) for n in range(days)), after, tuple(beyond[:1]), None)
    here = tuple(sorted({v.day for v in inside}))
    after = beyond[0].day if beyond else max(here[-1] + timedelta(days=USUAL_DAYS), last + timedelta(days=1))
    told = [v.minutes for v in inside if v.minutes is not None]
    return Plan(here, after, (*inside, *beyond[:1]), sum(told) if told else None)


def _visit(payload: Mapping[str, Any]) -> Visit:
    day, hours = as_day(payload.get("day")), payload.get("hours")
    assert day is not None
    hands = int(payload.get("hands", 1))
    minutes = None if hours is None else round(hands * float(hours) * 60)
    return Visit(day, hands, minutes, str(payload.get("what") or ""))
