"""Until when a sowing or setting out still pays: the harvest comes before what ends it, in so many possible seasons."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date

import numpy as np

from kailyard.documents._parts import Reason, RestsOn
from kailyard.garden.model import HowStarted
from kailyard.season.ladder import timeline
from kailyard.season.life import Life
from kailyard.season.measures import day_words
from kailyard.season.odds import BEYOND, DayArray
from kailyard.season.reasons import from_fact
from kailyard.season.safety import kill_limit_c
from kailyard.season.view import SeasonView

HOT_DAYS = 7
"""Heat ends a cool crop when the mean of the daily maxima over this many days is at its limit."""

USEFUL_SHARE = 0.5
"""Of the shortest harvest in the handbook, this share must fit in before the end for a sowing to pay."""

CUT_GREEN_DAYS = 300
"""Where no frost kills it, growth is given this many days."""


@dataclass(frozen=True, slots=True, eq=False)
class Paying:
    """Last day that pays, by possible season and draw, and the reasons. `first` - 1 of the clock where none does."""

    last: DayArray
    reasons: tuple[Reason, ...]

    def in_share(self, share: float) -> date | None:
        """Last day that pays in at least `share` of the samples; None where no day does."""
        flat = np.sort(self.last, axis=None)
        day = int(flat[int(np.floor((1 - share) * len(flat) + 1e-9))])
        return None if day >= BEYOND else date.fromordinal(max(day, 1))

    def share_on(self, day: date) -> float:
        """Share of samples in which beginning on `day` pays."""
        return float(np.mean(self.last >= day.toordinal()))


def end_of_season(view: SeasonView, life: Life, begin: DayArray) -> tuple[DayArray, str]:
    """Day by which the harvest must be in: killing night, or lasting heat for a cool crop. (traces, 1) and words."""
    planting, clocks = life.planting, view.clocks
    limit = kill_limit_c(planting.crop, view.handbook) - view.cover_gain_c(planting)
    end = clocks.cold_after(limit, begin)
    end = np.where(end == BEYOND, np.minimum(begin + np.int32(CUT_GREEN_DAYS), clocks.first + clocks.days - 1), end)
    said = f"a night of {limit:g} °C"
    heat = view.handbook.number(planting.crop, "heat_limit_day_c")
    if heat is not None and view.handbook.text(planting.crop, "season_class") == "cool":
        hot = clocks.hot_after(heat, HOT_DAYS, begin + np.int32(20))
        if float(np.mean(hot < end)) > 0.5:
            said = "lasting heat"
        end = np.minimum(end, hot)
    return end.astype(np.int32), said


def still_pays(view: SeasonView, life: Life, *, start: HowStarted, begin: DayArray) -> Paying | None:
    """Last sowing ('sown'), setting out ('raised') or planting day that pays; None where development is unknown.

    Parameters
    ----------
    begin
        Day from which the season is looked at, (traces, 1): the end is the first one after it.
    """
    planting, clocks = life.planting, view.clocks
    way = timeline(replace(planting, start=start), life.cultivar, view.handbook)
    if way is None:
        return None
    end, said = end_of_season(view, life, begin)
    useful = round(USEFUL_SHARE * way.harvest_days[0]) if way.harvest != "mature" else 0
    last_ready = np.minimum(end - np.int32(useful), np.int32(clocks.first + clocks.days - 1))
    needed = (way.stages[-1].amount * life.multiplier)[None, :]
    anchor = clocks.clock(way.key).last_start(
        np.broadcast_to(last_ready, view.shape), np.broadcast_to(needed, view.shape)
    )
    if way.emergence is not None and way.emergence_key is not None and way.anchor == "emerged":
        up = np.full(view.shape, way.emergence.amount)
        anchor = clocks.clock(way.emergence_key).last_start(anchor, up)
    paying = Paying(anchor, ())
    shares = [(years, paying.in_share(years / 10)) for years in (9, 8, 5)]
    spoken = "; ".join(f"by {day_words(day)} in {years} years of 10" for years, day in shares if day is not None)
    reason = Reason(
        f"It still pays {spoken}: {useful} days of picking before {said}." if spoken else "It hardly pays any more.",
        rests_on=RestsOn("computed", "search on the possible seasons", "docs/explanation/how-a-season-is-foreseen.md"),
        because=(*way.reasons, *end_reasons(view, life)),
    )
    return Paying(anchor, (reason,))


def end_reasons(view: SeasonView, life: Life) -> tuple[Reason, ...]:
    """The facts that say what ends the season."""
    found = []
    for quantity, says in (
        ("kill_c", "The plants die at about this temperature."),
        ("heat_limit_day_c", "Heat by day spoils it from"),
    ):
        fact = view.fact(life.planting, quantity)
        if fact is not None:
            found.append(from_fact(fact, view.handbook, says))
    return tuple(found)
