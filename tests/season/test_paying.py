"""Until when a sowing pays, against trying every day."""

from __future__ import annotations

from datetime import date, timedelta

import numpy as np
import pytest
from gardens import HOT, MIDLAND, SOUTHERN, Climate, beans, handbook, look_ahead, peas, plot, seasons, tomatoes

from kailyard.garden.model import Cultivar, Planting
from kailyard.season.ladder import Timeline
from kailyard.season.life import Life
from kailyard.season.odds import BEYOND
from kailyard.season.paying import COOL_BREAK_DAYS, CUT_GREEN_DAYS, USEFUL_SHARE, Paying, still_pays
from kailyard.season.safety import kill_limit_c, safe_to_set_out
from kailyard.season.view import SeasonView

DRAWS = 4


def in_short_break(hot: list[bool], j: int, shortest: int) -> bool:
    low, high = j, j
    while low > 0 and not hot[low - 1]:
        low -= 1
    while high < len(hot) - 1 and not hot[high + 1]:
        high += 1
    return any(hot[:j]) and any(hot[j:]) and high - low + 1 < shortest


def reached(daily: np.ndarray, after: int, needed: float) -> int | None:
    """First column by whose end `needed` has passed since the end of column `after`."""
    total = 0.0
    for j in range(max(after + 1, 0), len(daily)):
        total += daily[j]
        if total >= needed - 1e-9:
            return j
    return None


class Naive:
    """Tries one day of beginning in one possible season."""

    def __init__(self, view: SeasonView, life: Life, way: Timeline, trace: int, needed: float) -> None:
        clocks = view.clocks
        self.needed, self.way = needed, way
        self.main = np.diff(clocks.clock(way.key).cumulated[trace])
        self.soil = None
        if way.anchor == "emerged" and way.emergence_key is not None:
            self.soil = np.diff(clocks.clock(way.emergence_key).cumulated[trace])
        crop = life.planting.crop
        self.cold = view.ensemble.tmin_c[trace] + view.minimum_offset_c <= kill_limit_c(crop, handbook())
        heat = handbook().number(crop, "heat_limit_day_c")
        days = handbook().number(crop, "heat_ends_after_days")
        tmax = view.ensemble.tmax_c[trace]
        self.hot = np.zeros(len(tmax), dtype=bool)
        if heat is not None and days is not None:
            hot = [tmax[max(0, j - round(days) + 1) : j + 1].mean() >= heat for j in range(len(tmax))]
            self.hot = np.array([h or in_short_break(hot, j, COOL_BREAK_DAYS) for j, h in enumerate(hot)])
        self.useful = round(USEFUL_SHARE * way.harvest_days[0]) if way.harvest != "mature" else 0

    def end(self, begin: int) -> int:
        for j in range(begin, len(self.cold)):
            if self.cold[j]:
                return j
        return min(begin + CUT_GREEN_DAYS, len(self.cold) - 1)

    def pays(self, start: int, end: int) -> bool:
        up: int | None = start
        if self.soil is not None:
            assert self.way.emergence is not None
            up = reached(self.soil, start, self.way.emergence.amount)
        ready = None if up is None else reached(self.main, up, self.needed)
        if ready is None or ready + self.useful > end:
            return False
        return not self.hot[ready]


CASES = [
    (beans(), date(2026, 6, 1), MIDLAND, 45.0),
    (beans(), date(2026, 7, 28), MIDLAND, 45.0),
    (peas(), date(2026, 4, 1), MIDLAND, 45.0),
    (Planting("let-1", "lettuce-head", "bed-1", "sown"), date(2026, 4, 1), MIDLAND, 45.0),
    (Planting("let-1", "lettuce-leaf", "bed-1", "sown"), date(2026, 7, 1), MIDLAND, 45.0),
    (Planting("corn-1", "sweet-corn", "bed-1", "sown", cultivar="Lantern"), date(2026, 5, 1), MIDLAND, 45.0),
    (tomatoes(start="bought"), date(2026, 5, 1), MIDLAND, 45.0),
    (Planting("pot-1", "potato", "bed-1", "planted"), date(2026, 4, 10), MIDLAND, 45.0),
    (beans(), date(2026, 11, 20), SOUTHERN, -40.0),
    (Planting("let-1", "lettuce-leaf", "bed-1", "sown"), date(2026, 9, 20), SOUTHERN, -40.0),
    (beans(), date(2026, 6, 1), HOT, 20.0),
]


@pytest.mark.parametrize(("planting", "today", "climate", "latitude"), CASES)
def test_the_days_that_pay_are_those_that_trying_each_finds(
    planting: Planting, today: date, climate: Climate, latitude: float
) -> None:
    ensemble = seasons(today, climate, traces=6)
    garden = plot(planting, latitude=latitude, cultivars=(Cultivar("sweet-corn", "Lantern", 75.0),))
    view = look_ahead(garden, today, ensemble=ensemble, draws=DRAWS)
    life = view.lives[planting.id]
    begin = safe_to_set_out(view.clocks, view.handbook, planting.crop, today.toordinal(), latitude)
    paying = still_pays(view, life, start=planting.start, begin=begin)
    assert paying is not None
    assert life.timeline is not None
    tried = wrong = asked = 0
    for trace in range(len(begin)):
        start = int(begin[trace, 0]) - view.clocks.first
        for draw in range(DRAWS):
            naive = Naive(view, life, life.timeline, trace, life.timeline.total * float(life.multiplier[draw]))
            end = naive.end(start)
            first, last = (int(a[trace, draw]) - view.clocks.first for a in (paying.first, paying.last))
            if first > last:
                # A cold week can make the day of ripeness jump over a short fit span; else no day pays at all.
                found = [d for d in range(start, start + 150) if naive.pays(d, end)]
                assert not found or naive.hot.any()
                continue
            tried += 1
            assert naive.pays(first, end)
            assert naive.pays(last, end)
            assert all(naive.pays(d, end) for d in range(first, last + 1, 7))
            assert first == start or not naive.pays(first - 1, end)
            assert not naive.pays(last + 1, end)
            if first > start:
                # Nothing before the run that would have paid as well.
                assert not any(naive.pays(d, end) for d in range(start, first))
            # Beyond the heat the second run begins; together they are all the days that pay.
            found = np.array([naive.pays(d, end) for d in range(start, start + 120)])
            told = np.zeros(120, dtype=bool)
            for a, b in paying.runs:
                low, high = (int(x[trace, draw]) - view.clocks.first - start for x in (a, b))
                told[max(low, 0) : max(high + 1, 0)] = True
            assert np.mean(found != told) < 0.02 or naive.hot.any()
            wrong += int(np.count_nonzero(found != told))
            asked += 120
    assert tried >= 6
    assert wrong <= 0.02 * asked


def pays(planting: Planting, today: date, climate: Climate = MIDLAND, latitude: float = 45.0) -> Paying:
    view = look_ahead(plot(planting, latitude=latitude), today, climate=climate)
    begin = safe_to_set_out(view.clocks, view.handbook, planting.crop, today.toordinal(), latitude)
    paying = still_pays(view, view.lives[planting.id], start=planting.start, begin=begin)
    assert paying is not None
    return paying


@pytest.mark.parametrize("case", [c for c in CASES if c[2] is not HOT])
def test_the_surer_it_is_to_be_the_earlier_it_must_be_sown(case: tuple[Planting, date, Climate, float]) -> None:
    planting, today, climate, latitude = case
    paying = pays(planting, today, climate, latitude)
    days = [d for years in (9, 8, 5) if (d := paying.until(years / 10, today)) is not None]
    assert days == sorted(days)
    assert paying.until(0.1, today) is not None


def test_the_share_that_pays_is_counted_sample_by_sample() -> None:
    day = date(2026, 6, 1)
    paying = pays(beans(), day)
    for n in (0, 10, 40, 60, 80, 120):
        at = day.toordinal() + n
        counted = np.mean((paying.first <= at) & (at <= paying.last))
        assert paying.share_on(date.fromordinal(at)) == pytest.approx(counted)
        assert paying.shares(day, 200)[n] == pytest.approx(counted)


def test_lettuce_has_a_gap_of_heat_that_beans_have_not() -> None:
    # Common practice: head lettuce is not sown to come ready in high summer; snap beans are.
    today = date(2026, 6, 10)
    lettuce, bean = pays(Planting("let-1", "lettuce-head", "bed-1", "sown"), today), pays(beans(), today)
    shares = lettuce.shares(today, 120)
    assert shares[:7].max() < 0.3
    assert shares[30:60].max() > 0.7
    assert bean.shares(today, 40).min() > 0.9


def test_south_of_the_equator_the_same_seasons_come_half_a_year_later() -> None:
    north = pays(beans(), date(2026, 5, 1)).until(0.8, date(2026, 5, 1))
    south = pays(beans(), date(2026, 11, 1), SOUTHERN, -45.0).until(0.8, date(2026, 11, 1))
    assert north
    assert south
    assert abs((south - north).days - 184) < 25


def test_where_nothing_kills_a_sowing_pays_for_long() -> None:
    today = date(2026, 6, 1)
    until = pays(beans(), today, HOT, 20.0).until(0.8, today)
    assert until
    assert until > today + timedelta(days=150)


def test_too_late_is_said_as_never() -> None:
    paying = pays(Planting("sq-1", "winter-squash-maxima", "bed-1", "sown"), date(2026, 8, 20))
    assert paying.until(0.5, date(2026, 8, 20)) is None
    assert np.all(paying.first[paying.first > paying.last] == BEYOND)


def test_days_counted_here_count_here_in_what_pays_too() -> None:
    # One planting, one way: what its stages are foreseen by is what its sowing is weighed by.
    corn = Planting("corn-1", "sweet-corn", "bed-1", "sown", cultivar="Lantern")
    counted = Cultivar("sweet-corn", "Lantern", 85.0, counted_here=True)
    today = date(2026, 5, 10)
    ends = []
    for cultivar in (counted, Cultivar("sweet-corn", "Lantern", 85.0)):
        view = look_ahead(plot(corn, cultivars=(cultivar,)), today)
        begin = safe_to_set_out(view.clocks, view.handbook, corn.crop, today.toordinal(), 45.0)
        paying = still_pays(view, view.lives["corn-1"], start="sown", begin=begin)
        assert paying is not None
        ends.append(
            (float(np.median(paying.last)), float(np.median(view.lives["corn-1"].stages["first-harvest"].days)))
        )
    # In a place warmer than the reference, days counted here mean more warmth: later ripe, sooner too late.
    (end_here, ripe_here), (end_packet, ripe_packet) = ends
    assert (end_here < end_packet) is (ripe_here > ripe_packet)
    assert end_here != end_packet
