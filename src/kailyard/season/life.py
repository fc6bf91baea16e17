"""A planting's life: every stage with its odds, on the weather of the possible seasons and what the daybook fixes."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

import numpy as np
from numpy.typing import NDArray

from kailyard.garden.model import Cultivar, Planting
from kailyard.handbook.types import Handbook
from kailyard.season.by_months import lasts
from kailyard.season.clock import Clock, Clocks
from kailyard.season.draws import normal_point, strata, truncated_normal
from kailyard.season.ladder import LEAST_SPREAD, OWN_SPREAD, Timeline
from kailyard.season.learning import GRID, Unknown, interval_chance
from kailyard.season.odds import BEYOND, NEVER, DayArray, Odds
from kailyard.season.safety import kill_limit_c, safe_to_set_out, sets_after
from kailyard.season.sightings import ENOUGH, Between, Sightings

FloatArray = NDArray[np.float64]

LONGEST_LIFE_DAYS = 420
"""An annual that is not ripe by then never will be."""

PAST_FROST_MARGIN_C = 1.5
"""A night of the past counts as having killed when it was this much colder than the limit: no thermometer of ours stood
among the plants."""

PATHS = 10
"""Ways from stage to stage that learning weighs for each multiplier."""

SIGN_SPREAD = 0.35
"""Spread of the days that are left once some plants show the sign of ripeness (ours)."""


@dataclass(frozen=True, slots=True, eq=False)
class Life:
    """One planting with its stages. Arrays are ordinals, (traces, draws)."""

    planting: Planting
    cultivar: Cultivar | None
    sightings: Sightings
    timeline: Timeline | None
    begun: DayArray
    """Sowing, setting out or planting where it stands; foreseen where it is still to be done. (traces, 1)"""
    begun_known: bool
    stages: Mapping[str, Odds]
    killed: DayArray
    """Night that kills it, if nothing is done; BEYOND where none does. Before today: one that seems to have."""
    multiplier: FloatArray
    """Draws of what this planting needs, as a multiple of the median; (draws,)."""
    over: bool = False
    """Ended so long ago that it has no odds, only days that were seen."""
    use: str = ""
    """What it is picked for, where that was said: its first picking is that of the use."""

    @property
    def standing(self) -> bool:
        """It is in its bed and not ended."""
        return self.begun_known and self.sightings.ended is None

    def stage(self, name: str) -> Odds | None:
        """Odds of one stage; None where the handbook cannot foresee it."""
        return self.stages.get(name)


class Beginning:
    """When plantings begin, or would: the anchor of everything later."""

    def __init__(self, clocks: Clocks, handbook: Handbook, latitude: float) -> None:
        self._clocks, self._handbook, self._latitude = clocks, handbook, latitude

    def of(self, planting: Planting, seen: Sightings) -> tuple[DayArray, bool]:
        """Day on which its life in the bed begins, (traces, 1), and whether that is known."""
        fixed = {"sown": seen.sown, "raised": seen.set_out, "bought": seen.set_out, "planted": seen.planted}[
            planting.start
        ]
        if fixed is None and planting.since is not None:
            fixed = planting.since
        if fixed is not None:
            return np.full((self._clocks.traces, 1), fixed.toordinal(), dtype=np.int32), True
        meant = self._meant(planting, seen)
        return safe_to_set_out(self._clocks, self._handbook, planting.crop, meant, self._latitude), False

    def _meant(self, planting: Planting, seen: Sightings) -> int:
        """Day from which it may begin: planned, and the plants are big enough where they are raised. [ordinal]"""
        today, crop = self._clocks.today, planting.crop
        weeks = (self._handbook.number(crop, "weeks_indoors_min", 4.0) or 0.0) if planting.start == "raised" else 0.0
        if seen.sown is not None and planting.start == "raised":
            return max(today, seen.sown.toordinal() + round(7 * weeks))
        if planting.planned is not None:
            return max(today, planting.planned.toordinal()) + round(7 * weeks)
        return sets_after(self._handbook, crop, today, self._latitude) + round(7 * weeks)


def _passed(clock: Clock, anchor: DayArray, day: date | None) -> FloatArray | None:
    """Degrees from anchor to the end of `day`, one a draw: traces differ in today's weather only, the mean is taken."""
    if day is None:
        return None
    return np.asarray(np.maximum(clock.reading(day.toordinal()) - clock.reading(anchor), 0.0).mean(axis=0))


def emergence(
    clocks: Clocks, timeline: Timeline, begun: DayArray, known: Between | None, draws: int, seed: str
) -> DayArray:
    """Days of coming up, (traces, draws)."""
    assert timeline.emergence is not None
    assert timeline.emergence_key is not None
    clock, need = clocks.clock(timeline.emergence_key), timeline.emergence
    low = high = None
    if known is not None:
        low, high = _passed(clock, begun, known.after), _passed(clock, begun, known.seen)
    z = _between(low, high, need.amount, need.spread, np.zeros(1), strata(draws, f"{seed}/emerged"))
    day = clock.reach(clock.reading(begun) + need.amount * np.exp(need.spread * z)[None, :])
    return _held(day, known)


def _between(
    low: FloatArray | None,
    high: FloatArray | None,
    amount: float,
    spread: float,
    log_multiplier: FloatArray,
    shares: FloatArray,
) -> FloatArray:
    """Standard normal draws of a stage's own deviation, held to what was seen."""
    if low is None and high is None:
        return normal_point(shares)
    least = np.full_like(shares, -6.0)
    most = np.full_like(shares, 6.0)
    if low is not None:
        least = (np.log(np.maximum(low, 1e-3) / amount) - log_multiplier) / spread
    if high is not None:
        most = (np.log(np.maximum(high, 1e-3) / amount) - log_multiplier) / spread
    least = np.broadcast_to(np.clip(least, -6.0, 5.9), shares.shape)
    most = np.broadcast_to(np.clip(most, -5.9, 6.0), shares.shape)
    return truncated_normal(shares, least, np.maximum(most, least + 1e-3))


def _held(day: DayArray, known: Between | None) -> DayArray:
    """Days made to agree with what was seen."""
    if known is None:
        return day
    if known.after is not None:
        day = np.maximum(day, np.int32(known.after.toordinal() + 1))
    if known.seen is not None:
        day = np.minimum(day, np.int32(known.seen.toordinal()))
    return day


def likelihood(clocks: Clocks, timeline: Timeline, seen: Sightings, anchor: DayArray) -> FloatArray | None:
    """What the entries on the main clock say of the multiplier, on the learning grid; None where nothing.

    Stages follow one another: where one was seen between two walks, paths spread over the days between go on from
    there, each with its weight. Counting the next stage from the walk that saw the last one would make it short.
    """
    told = [need.stage for need in timeline.stages if (k := seen.stages.get(need.stage)) and not k.implied]
    if not told:
        return None
    clock, paths = clocks.clock(timeline.key), _spread_out(anchor, PATHS)
    at_anchor, run = clock.reading(paths)[0][:, None], clock.cumulated[0]
    gone, weight = np.zeros((PATHS, len(GRID))), np.ones((PATHS, len(GRID)))
    amount = variance = 0.0
    for need in timeline.stages:
        variance = (variance * amount**2 + (need.spread * need.amount) ** 2) / (amount + need.amount) ** 2
        amount += need.amount
        if need.stage not in told:
            continue
        known = seen.stages[need.stage]
        low, high = (
            None if passed is None else passed[:, None] - gone
            for passed in (_passed(clock, paths, known.after), _passed(clock, paths, known.seen))
        )
        weight = weight * interval_chance(low, high, amount, math.sqrt(variance))
        if known.seen is not None and need.stage != told[-1]:
            own, shares = max(math.sqrt(variance), OWN_SPREAD), strata(PATHS, need.stage)[:, None]
            z = _between(low, high, amount, own, GRID, np.broadcast_to(shares, gone.shape))
            at = np.searchsorted(run, at_anchor + gone + amount * np.exp(GRID + own * z))
            gone = run[np.minimum(at, len(run) - 1)] - at_anchor  # the next stage counts from the end of a day
            amount = variance = 0.0
    return np.asarray(weight.mean(axis=0))


def _spread_out(anchor: DayArray, paths: int) -> DayArray:
    """Anchors of so many paths: evenly from early to late among the draws. (traces, paths)"""
    order = np.argsort(anchor.mean(axis=0), kind="stable")
    return anchor[:, order[((np.arange(paths) + 0.5) / paths * len(order)).astype(np.int64)]]


def unknown(planting: Planting, timeline: Timeline, evidence: FloatArray | None) -> Unknown:
    """The planting as a leaf of the learning tree."""
    return Unknown(
        planting.id,
        planting.crop,
        planting.cultivar,
        timeline.crop_spread,
        timeline.cultivar_spread,
        timeline.planting_spread,
        evidence,
    )


def main_stages(
    clocks: Clocks, timeline: Timeline, seen: Sightings, anchor: DayArray, log_multiplier: FloatArray, seed: str
) -> dict[str, DayArray]:
    """Days of the stages on the main clock, (traces, draws) each, one after the other from the anchor."""
    clock, draws = clocks.clock(timeline.key), len(log_multiplier)
    out: dict[str, DayArray] = {}
    start = anchor
    for need in timeline.stages:
        own = max(need.spread, OWN_SPREAD)
        known = seen.stages.get(need.stage)
        low = high = None
        if known is not None:
            low, high = _passed(clock, start, known.after), _passed(clock, start, known.seen)
        z = _between(low, high, need.amount, own, log_multiplier, strata(draws, f"{seed}/{need.stage}"))
        amount = need.amount * np.exp(log_multiplier + own * z)
        at_start = clock.reading(np.minimum(start, np.int32(clocks.first + clocks.days)))
        day = _held(clock.reach(at_start + amount[None, :]), known)
        start = np.where(start >= BEYOND, start, day).astype(np.int32)
        out[need.stage] = start
    if timeline.harvest == "mature" and seen.partial:
        out["mature"] = _by_its_sign(clocks, timeline, seen, out["mature"], strata(draws, f"{seed}/sign"))
    return out


def _by_its_sign(clocks: Clocks, timeline: Timeline, seen: Sightings, day: DayArray, shares: FloatArray) -> DayArray:
    """Ripeness from the share of plants that showed its sign last: that is nearer than any sum of warmth."""
    last = seen.partial[-1]
    share = float(last.payload["share"])
    if timeline.ripening_days is None or share >= ENOUGH:
        return day
    left = (ENOUGH - share) * timeline.ripening_days * np.exp(SIGN_SPREAD * normal_point(shares))
    told = np.int32(last.happened.toordinal()) + np.maximum(np.round(left), 1).astype(np.int32)
    unseen = np.maximum(told, np.int32(clocks.today))
    return np.broadcast_to(unseen[None, :], day.shape).astype(np.int32)


def killed(
    clocks: Clocks, handbook: Handbook, planting: Planting, seen: Sightings, alive_from: DayArray, gain_c: float
) -> DayArray:
    """The night that kills, from the day it stands open; perennials outlive the frost. (traces, draws)

    A night of the past is believed only where it was colder by a margin, nothing was covered, and no entry since shows
    living plants.
    """
    if lasts(planting, handbook):
        return np.full_like(alive_from, BEYOND)
    limit, today = kill_limit_c(planting.crop, handbook) - gain_c, np.int32(clocks.today)
    sound = max(seen.alive, seen.covered) if seen.alive and seen.covered else seen.alive or seen.covered
    doubted = np.maximum(alive_from, np.int32(0 if sound is None else sound.toordinal() + 1))
    past = clocks.cold_after(limit - PAST_FROST_MARGIN_C, doubted)
    return np.where(past < today, past, clocks.cold_after(limit, np.maximum(alive_from, today))).astype(np.int32)


def span_days(span: tuple[float, float], shares: FloatArray) -> NDArray[np.int32]:
    """Draws of a number of days whose low and high are the middle 80 %. (draws,)"""
    middle = math.sqrt(max(span[0], 1.0) * max(span[1], 1.0))
    spread = max(math.log(max(span[1], 1.0) / max(span[0], 1.0)) / 2.563, LEAST_SPREAD[4])
    return np.maximum(np.round(middle * np.exp(spread * normal_point(shares))), 1).astype(np.int32)


def cut_off(day: DayArray, begun: DayArray, dead: DayArray) -> DayArray:
    """NEVER where the plants are dead before, or the season has passed them by."""
    late = (day < BEYOND) & (day > begun + np.int32(LONGEST_LIFE_DAYS))
    return np.where((day > dead) | late | (begun == NEVER), NEVER, day).astype(np.int32)
