"""Until when a sowing or setting out still pays: the harvest comes before what ends it, in so many possible seasons."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date
from functools import cached_property, partial

import numpy as np
from numpy.typing import NDArray

from kailyard.documents._parts import Reason, RestsOn
from kailyard.garden.model import HowStarted
from kailyard.season.bulbs import days_long_enough
from kailyard.season.clock import ResponseKey, take_next
from kailyard.season.ladder import Timeline, timeline
from kailyard.season.life import Life
from kailyard.season.measures import day_words
from kailyard.season.odds import BEYOND, DayArray
from kailyard.season.reasons import from_fact
from kailyard.season.safety import kill_limit_c
from kailyard.season.view import SeasonView, own_mean_c

FloatArray = NDArray[np.float64]

USEFUL_SHARE = 0.5
"""Of the shortest harvest in the handbook, this share must fit in before the end for a sowing to pay."""

CUT_GREEN_DAYS = 300
"""Where no frost kills it, growth is given this many days."""

BULB_GRACE_DAYS = 14
"""Begun later than this after the days have grown long enough for bulbs, an onion stays small."""

COOL_BREAK_DAYS = 10
"""A break in the heat that is shorter than this is no season for a cool crop."""

MOST_RUNS = 3
"""Runs of days between heat that are looked for: before it, in a cool summer's long break, after it."""


@dataclass(frozen=True, eq=False)
class Paying:
    """First and last day of the next run of days that pay, by possible season and draw, (traces, draws), and reasons.

    Where no day pays, `last` lies before `first`. `more` are the runs beyond, where heat ends the next one.
    """

    first: DayArray
    last: DayArray
    more: tuple[tuple[DayArray, DayArray], ...]
    today: date
    needs: str
    """What must fit in, in words: '8 days of picking before a night of −1 °C'."""
    because: tuple[Reason, ...]

    @property
    def reasons(self) -> tuple[Reason, ...]:
        """Until when it pays, and what that rests on."""
        ground = RestsOn("computed", "search on the possible seasons", "docs/explanation/how-a-season-is-foreseen.md")
        return (Reason(f"{until_words(self, self.today)}: {self.needs}.", rests_on=ground, because=self.because),)

    @property
    def runs(self) -> tuple[tuple[DayArray, DayArray], ...]:
        """All runs, as first and last days."""
        return ((self.first, self.last), *self.more)

    def share_on(self, day: date) -> float:
        """Share of samples in which beginning on `day` pays."""
        d = day.toordinal()
        return float(sum(np.mean((first <= d) & (d <= last)) for first, last in self.runs))

    def share_at_once(self, begin: DayArray) -> float:
        """Share of samples in which it pays from `begin` on, (traces, 1), with no heat to wait out."""
        return float(np.mean((self.first <= begin) & (self.first <= self.last)))

    def shares(self, first: date, days: int) -> FloatArray:
        """The same for a run of days."""
        span = np.arange(first.toordinal(), first.toordinal() + days)
        out = np.zeros(days)
        for begins, ends in self._ordered:
            out += np.searchsorted(begins, span, side="right")
            out -= np.searchsorted(ends, span, side="left")
        return out / self.first.size

    @cached_property
    def _ordered(self) -> tuple[tuple[DayArray, DayArray], ...]:
        """The beginnings and ends of every run that is one, each sorted."""
        return tuple(
            (np.sort(begins[good]), np.sort(ends[good])) for begins, ends in self.runs for good in (begins <= ends,)
        )

    def until(self, share: float, after: date) -> date | None:
        """Last day within a year that pays in at least `share` of the samples; None where no day does."""
        enough = np.flatnonzero(self.shares(after, 365) >= share - 1e-9)
        return date.fromordinal(after.toordinal() + int(enough[-1])) if enough.size else None

    def best(self, after: date) -> tuple[date, float]:
        """The first of the days within a year that pay most surely, and that share."""
        shares = self.shares(after, 365)
        at = int(np.argmax(shares))
        return date.fromordinal(after.toordinal() + at), float(shares[at])


def still_pays(view: SeasonView, life: Life, *, start: HowStarted, begin: DayArray) -> Paying | None:
    """The next run of days, from `begin` (traces, 1) on, on which a beginning pays; None where growth is unknown.

    A beginning pays if the harvest, and a useful stretch of picking after it, comes before the night that kills, and
    if a cool crop comes ready in no lasting heat. `start`: 'sown' where it stays, 'raised' or 'bought' for setting out.
    """
    cover = bed.cover if (bed := view.bed(life.planting)) else ""
    entries = tuple(e.id for e in life.sightings.entries)
    multiplier = life.multiplier.tobytes()
    what = (start, life.planting, life.cultivar, cover, entries, multiplier, begin.tobytes(), view.handbook, view.draws)
    return view.clocks.keep(("pays", *what), partial(_still_pays, view, life, start, begin))


def _still_pays(view: SeasonView, life: Life, start: HowStarted, begin: DayArray) -> Paying | None:
    clocks = view.clocks
    way = life.timeline
    if start != life.planting.start:
        way = timeline(
            replace(life.planting, start=start), life.cultivar, view.handbook, own_mean_c=own_mean_c(view.ensemble)
        )
    if way is None:
        return None
    useful = round(USEFUL_SHARE * way.harvest_days[0]) if way.harvest != "mature" else 0
    needed = np.broadcast_to((way.total * life.multiplier)[None, :], view.shape)
    up = _emergence_need(way)
    killing, said = _end(view, life, begin)
    end = np.minimum(killing - np.int32(useful), np.int32(clocks.first + clocks.days - 1))
    begin_all = np.broadcast_to(begin, view.shape).astype(np.int32)
    ready = _ready(view, way, begin_all, needed, up)
    # Heat takes no bulb or tuber that lies ripe in the ground.
    good, bad = (None, None) if way.harvest == "mature" else _heat_tables(view, life)

    longest = days_long_enough(view.handbook, life.planting.crop, view.garden.site.latitude, int(begin.min()))

    def run(from_day: DayArray, to_day: DayArray) -> tuple[DayArray, DayArray]:
        """Beginnings that come ready from one day to another."""
        earliest = _last_begin(view, way, from_day - np.int32(1), needed, up) + np.int32(1)
        first = np.where(from_day == ready, begin_all, np.maximum(earliest, begin_all))
        last = _last_begin(view, way, np.broadcast_to(to_day, view.shape), needed, up)
        if longest is not None:
            last = np.minimum(last, np.int32(longest + BULB_GRACE_DAYS))
        never = (from_day > to_day) | (first > last)
        return np.where(never, BEYOND, first).astype(np.int32), np.where(never, clocks.first, last).astype(np.int32)

    runs = []
    if good is None or bad is None:
        runs.append(run(ready, end))
    else:
        said = f"{said} and not into heat"
        after = ready
        for _ in range(MOST_RUNS):
            from_day = take_next(good, after, clocks.first)
            if runs and np.all(from_day > end):
                break
            to_day = np.minimum(end, take_next(bad, from_day, clocks.first) - np.int32(1))
            runs.append(run(from_day, to_day))
            after = np.maximum(from_day, to_day) + np.int32(1)
    (first, last), *more = _next_first(runs)
    needs = f"{useful} days of picking before {said}"
    return Paying(first, last, tuple(more), view.today, needs, (*way.reasons, *end_reasons(view, life)))


def _next_first(runs: list[tuple[DayArray, DayArray]]) -> list[tuple[DayArray, DayArray]]:
    """The same runs, each sample's empty ones last."""
    if len(runs) == 1:
        return runs
    firsts, lasts = (np.stack(ends) for ends in zip(*runs, strict=True))
    order = np.argsort(firsts > lasts, axis=0, kind="stable")
    ordered = (np.take_along_axis(firsts, order, axis=0), np.take_along_axis(lasts, order, axis=0))
    return list(zip(*ordered, strict=True))


def until_words(paying: Paying, today: date) -> str:
    """'Pays until 1 July in 9 years of 10, 6 July in 8, 15 July in 5'."""
    found = [(years, paying.until(years / 10, today)) for years in (9, 8, 5)]
    said = [f"{day_words(day)} in {years}" for years, day in found if day is not None]
    if not said:
        return "It hardly pays any more this season"
    return f"Pays until {', '.join(said)} years of 10"


def _end(view: SeasonView, life: Life, begin: DayArray) -> tuple[DayArray, str]:
    """The night that kills, after `begin`; where none does, a long summer's end. (traces, 1), and words."""
    limit = kill_limit_c(life.planting.crop, view.handbook) - view.cover_gain_c(life.planting)
    end = view.clocks.cold_after(limit, begin)
    longest = np.minimum(begin + np.int32(CUT_GREEN_DAYS), np.int32(view.clocks.first + view.clocks.days - 1))
    return np.where(end == BEYOND, longest, end).astype(np.int32), f"a night of {view.degrees(limit)}"


def _heat_tables(view: SeasonView, life: Life) -> tuple[DayArray | None, DayArray | None]:
    """Tables of the next day fit, and unfit, for the crop to be ready; None for one that lasting heat does not end."""
    heat, days = (view.handbook.number(life.planting.crop, q) for q in ("heat_limit_day_c", "heat_ends_after_days"))
    if heat is None or days is None:
        return None, None
    return view.clocks.fit_for_harvest(heat, round(days), COOL_BREAK_DAYS)


def _emergence_need(way: Timeline) -> tuple[ResponseKey, float] | None:
    if way.anchor != "emerged" or way.emergence is None or way.emergence_key is None:
        return None
    return way.emergence_key, way.emergence.amount


def _ready(
    view: SeasonView, way: Timeline, begin: DayArray, needed: FloatArray, up: tuple[ResponseKey, float] | None
) -> DayArray:
    if up is not None:
        soil = view.clocks.clock(up[0])
        begin = soil.reach(soil.reading(begin) + up[1])
    clock = view.clocks.clock(way.key)
    return clock.reach(clock.reading(np.minimum(begin, np.int32(view.clocks.first + view.clocks.days))) + needed)


def _last_begin(
    view: SeasonView, way: Timeline, ready: DayArray, needed: FloatArray, up: tuple[ResponseKey, float] | None
) -> DayArray:
    """Last day of beginning that is ready by `ready`."""
    anchor = view.clocks.clock(way.key).last_start(ready, needed)
    if up is None:
        return anchor
    return view.clocks.clock(up[0]).last_start(anchor, np.full(view.shape, up[1]))


def end_reasons(view: SeasonView, life: Life) -> tuple[Reason, ...]:
    """The facts that say what ends the season."""
    found = []
    heat = view.fact(life.planting, "heat_ends_after_days") is not None
    for quantity, says, holds in (
        ("kill_c", "The plants die at about this temperature.", True),
        ("heat_limit_day_c", "Days as hot as this, one after the other, end it.", heat),
        ("heat_ends_after_days", "So many of them.", heat),
        (
            "bulb_start_day_length_h",
            "Bulbs begin when days are this long; begun much later they stay small.",
            True,
        ),
    ):
        fact = view.fact(life.planting, quantity)
        if fact is not None and holds:
            found.append(from_fact(fact, view.handbook, says))
    return tuple(found)
