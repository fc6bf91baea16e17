"""The season as foreseen on one day: garden, possible seasons and handbook become lives with odds.

`foresee` makes it; kinds of work, the sheet and every question read it. Each array is computed once.
"""

from __future__ import annotations

import math
from collections.abc import Hashable, Mapping
from dataclasses import dataclass, replace
from datetime import date
from functools import partial

import numpy as np

from kailyard.garden.model import Bed, Cultivar, Entry, Garden, Planting
from kailyard.handbook.types import Fact, Handbook
from kailyard.season.bulbs import counts_from, not_ripe_before
from kailyard.season.by_months import lasts, month_stages, perennial
from kailyard.season.clock import Clocks
from kailyard.season.draws import strata
from kailyard.season.ladder import Timeline, timeline
from kailyard.season.learning import Unknown, learn
from kailyard.season.life import (
    Beginning,
    Life,
    cut_off,
    emergence,
    killed,
    likelihood,
    main_stages,
    span_days,
    unknown,
)
from kailyard.season.odds import BEYOND, DayArray, Odds
from kailyard.season.past_life import Past, over_before, past_life, seen_only
from kailyard.season.sightings import Sightings, sight
from kailyard.season.uses import early_picks, for_its_use, use_said
from kailyard.units import convert, in_running_text
from kailyard.weather.ensemble import Ensemble
from kailyard.weather.record import FloatArray

DRAWS = 50
"""Draws of what is unknown besides the weather, for each possible season."""

LONG_ENDED_DAYS = 60
"""What ended so long ago has no odds any more, only the days that were seen; free ground is called for as long."""

GROWING_DAYS = 150
"""Days that were counted in this garden are taken to hold at the mean of the year's warmest days, so many of them."""


@dataclass(frozen=True, slots=True, eq=False)
class SeasonView:
    """What is known and foreseen on one day. Made by `foresee`; nothing in it changes."""

    garden: Garden
    ensemble: Ensemble
    handbook: Handbook
    clocks: Clocks
    minimum_offset_c: float
    """Garden minimum less station minimum, readings considered; the mean where it differs by night. [°C]"""
    draws: int
    lives: Mapping[str, Life]
    """By planting, sorted."""
    mean_area_m2: float
    """Ground of an average planting that is not ended. [m²]"""
    today: date
    """The day on which is foreseen; its own weather is not known yet."""

    @property
    def shape(self) -> tuple[int, int]:
        """(traces, draws) of every array of odds."""
        return self.ensemble.traces, self.draws

    def bed(self, planting: Planting) -> Bed | None:
        """The bed of a planting."""
        return self.garden.beds.get(planting.bed)

    def perennial(self, planting: Planting) -> bool:
        """Whether it comes again year by year."""
        return comes_again(planting, self.handbook)

    def where(self, planting: Planting) -> str:
        """The bed as said on the sheet."""
        bed = self.bed(planting)
        return bed.name if bed else planting.bed

    def fact(self, planting: Planting, quantity: str) -> Fact | None:
        """What the handbook says of the planting's crop."""
        return self.handbook.get(planting.crop, quantity)

    def number(self, planting: Planting, quantity: str, default: float) -> float:
        """The number the handbook gives for the planting's crop, or `default`."""
        value = self.handbook.number(planting.crop, quantity)
        return default if value is None else value

    def produce(self, planting: Planting) -> str:
        """What is picked: 'snap beans'."""
        return self.handbook.text(planting.crop, "produce") or self.plants(planting)

    def plants(self, planting: Planting) -> str:
        """The plants as the sheet names them."""
        name = self.handbook.text(planting.crop, "plain_name") or self.handbook.text(planting.crop, "common_name")
        return (name or planting.crop.replace("-", " ")).lower()

    def with_cultivar(self, planting: Planting) -> str:
        """Plants and cultivar: 'snap beans ‘Lantern’'."""
        return f"{self.plants(planting)} ‘{planting.cultivar}’" if planting.cultivar else self.plants(planting)

    def told_apart(self, planting: Planting) -> str:
        """The plants, by cultivar where another kind of them stands in the same bed: 'garlic ‘Nightwatch’'."""
        name = self.plants(planting)
        others = (life.planting for life in self.lives.values() if life.standing and life.planting.bed == planting.bed)
        kinds = {other.cultivar for other in others if self.plants(other) == name}
        return self.with_cultivar(planting) if kinds - {planting.cultivar} else name

    def seems_killed(self, life: Life) -> date | None:
        """The night of the past that seems to have killed a standing planting; None where none does."""
        past = life.killed[life.killed < self.today.toordinal()]
        return date.fromordinal(int(np.median(past))) if life.standing and 2 * past.size > life.killed.size else None

    def said(self, planting: Planting, quantity: str, default: str = "") -> str:
        """What the handbook says of the planting's crop in words, figures in the garden's units."""
        return in_running_text(self.handbook.text(planting.crop, quantity, default), self.garden.units)

    def degrees(self, temp_c: float) -> str:
        """A temperature in running text, in the garden's units: '−1 °C', '30 °F'."""
        shown, unit = (temp_c * 1.8 + 32, "°F") if self.garden.units == "us" else (temp_c, "°C")
        whole = f"{shown:.1f}".removesuffix(".0").replace("-", "−")
        return f"{'0' if whole == '−0' else whole} {unit}"

    def depth(self, depth_cm: float) -> str:
        """A sowing depth in running text, in the garden's units, as fine as a finger can measure: '2.5 cm', '1 in'."""
        shown, unit = convert(depth_cm, "cm", self.garden.units)
        if unit == "in":
            step = 1.0 if shown >= 3 else 0.25 if shown >= 0.2 else 0.125
            shown = max(round(shown / step), 1) * step
        return f"{shown:g} {unit}"

    def cover_gain_c(self, planting: Planting) -> float:
        """How much warmer the bed's cover keeps a night. [°C]"""
        bed = self.bed(planting)
        cover = bed.cover if bed else "none"
        gain = self.handbook.number(f"cover-{cover}", "night_gain_c", 0.0)
        return gain or 0.0


def foresee(
    garden: Garden,
    ensemble: Ensemble,
    handbook: Handbook,
    *,
    minimum_offset_c: float | FloatArray | None = None,
    draws: int = DRAWS,
    clocks: Clocks | None = None,
) -> SeasonView:
    """Every planting's stages with odds.

    Parameters
    ----------
    minimum_offset_c
        Garden minimum less station minimum as its readings have it, one for all nights or (traces, days); None: as
        the site says. [°C]
    clocks
        Those of just this ensemble and offset, where an earlier view made them: they serve again.
    """
    by_night = np.asarray(garden.site.minimum_offset_c if minimum_offset_c is None else minimum_offset_c)
    offset = float(by_night.mean())
    if clocks is None:
        clocks = Clocks(ensemble, garden_tmin_c=ensemble.tmin_c + by_night)
    by_target: dict[str, list[int]] = {}
    for i, entry in enumerate(garden.entries):
        by_target.setdefault(entry.target, []).append(i)
    ground = _Ground(garden.site.latitude, clocks, handbook, draws, own_mean_c(ensemble))
    plan: dict[str, tuple[_Draft, tuple[Hashable, ...]]] = {}
    unknowns: list[Unknown] = []
    past: dict[str, Life] = {}
    for id_ in sorted(garden.plantings):
        planting = garden.plantings[id_]
        own = tuple(garden.entries[i] for i in by_target.get(id_, ()))
        if over_before(planting, own, today=ensemble.today, first=clocks.first, long_days=LONG_ENDED_DAYS):
            cultivar = garden.cultivars.get((planting.crop, planting.cultivar))
            counted = cultivar is not None and cultivar.counted_here
            asked = Past(planting, cultivar, handbook, tuple(e.id for e in own), own)
            past[id_] = past_life(asked, clocks.traces, draws, ground.own_mean_c if counted else None)
            continue
        mine = set(by_target.get(id_, ()))
        # A cover over the bed lies over all that stands in it, and so is a bed weeded or mulched.
        mine.update(i for i in by_target.get(planting.bed, ()) if garden.entries[i].kind in ("protect", "work"))
        entries = tuple(garden.entries[i] for i in sorted(mine))
        cultivar = garden.cultivars.get((planting.crop, planting.cultivar))
        bed = garden.beds.get(planting.bed)
        cover = bed.cover if bed else ""
        told = tuple(e.id for e in entries)
        what: tuple[Hashable, ...] = (planting, cultivar, cover, told, handbook, draws, ground.latitude)
        draft = clocks.keep(("draft", *what), partial(ground.draft, planting, cultivar, cover, entries))
        if draft.asked is not None:
            unknowns.append(draft.asked)
        plan[id_] = (draft, what)
    learned = learn(unknowns, draws, garden.name)
    lives = {}
    for id_ in sorted(garden.plantings):
        if id_ in past:
            lives[id_] = past[id_]
            continue
        draft, what = plan[id_]
        drawn = learned.get(id_)
        luck = None if drawn is None else drawn.tobytes()
        lives[id_] = clocks.keep(("life", *what, luck), partial(_life, draft, ground, drawn))
    areas = [
        area_m2(life.planting, garden.beds.get(life.planting.bed))
        for life in lives.values()
        if life.sightings.ended is None
    ]
    mean_area = sum(areas) / len(areas) if areas else 1.0
    return SeasonView(garden, ensemble, handbook, clocks, offset, draws, lives, mean_area, ensemble.today)


def area_m2(planting: Planting, bed: Bed | None) -> float:
    """Ground a planting takes. [m²]"""
    if bed is None:
        return 1.0
    if bed.shape == "round":
        share = min(planting.length_m / bed.length_m, 1.0) if planting.length_m else 1.0
        return max(share * math.pi * bed.length_m * bed.width_m / 4, 0.1)
    return max((planting.length_m or bed.length_m) * bed.width_m, 0.1)


def comes_again(planting: Planting, handbook: Handbook) -> bool:
    """Whether a planting comes again year by year."""
    return lasts(planting, handbook)


def own_mean_c(ensemble: Ensemble) -> float:
    """Mean temperature of this garden's growing season: the warmest days of the year to come. [°C]"""
    year = ensemble.tmean_c[:, ensemble.today_index : ensemble.today_index + 365]
    return float(np.mean(np.sort(year)[:, -GROWING_DAYS:]))


@dataclass(frozen=True, slots=True, eq=False)
class _Draft:
    """A planting before anything is learned of it."""

    planting: Planting
    cultivar: Cultivar | None
    cover: str
    seen: Sightings
    way: Timeline | None
    begun: DayArray
    known: bool
    up: DayArray | None = None
    asked: Unknown | None = None
    """What is to be learned of it; None where nothing can be."""
    over: bool = False

    light: int | None = None
    """The day from which warmth counts for what waits for longer days; None for other crops. [ordinal]"""

    @property
    def stands_from(self) -> DayArray:
        """Coming up, or setting out."""
        return self.begun if self.up is None else self.up

    @property
    def anchor(self) -> DayArray:
        """Where the main clock starts."""
        return self.stands_from if self.light is None else np.maximum(self.stands_from, np.int32(self.light))


@dataclass(frozen=True, slots=True, eq=False)
class _Ground:
    """What all plantings of one view are drafted with."""

    latitude: float
    clocks: Clocks
    handbook: Handbook
    draws: int
    own_mean_c: float

    def draft(self, planting: Planting, cultivar: Cultivar | None, cover: str, entries: tuple[Entry, ...]) -> _Draft:
        """What the entries of a planting fix, and what is to be learned from them."""
        clocks, handbook = self.clocks, self.handbook
        today = date.fromordinal(clocks.today)
        early = early_picks(handbook, planting, entries)
        seen = sight(planting, entries, today, perennial=comes_again(planting, handbook), early=early)
        nursery = (
            float((seen.set_out - seen.sown).days)
            if seen.set_out and seen.sown and planting.start == "raised"
            else None
        )
        way = timeline(planting, cultivar, handbook, nursery_days=nursery, own_mean_c=self.own_mean_c)
        begun, known = Beginning(clocks, handbook, self.latitude).of(planting, seen)
        if known and perennial(planting.crop, handbook) and date.fromordinal(int(begun[0, 0])).year < today.year:
            way = None  # what stood here before this year counts from no sowing: its months say when
        over = seen.ended is not None and (today - seen.ended).days > LONG_ENDED_DAYS
        light = counts_from(handbook, planting.crop, self.latitude, int(begun.min()))
        draft = _Draft(planting, cultivar, cover, seen, way, begun, known, over=over, light=light)
        # What was begun before the observed days has no weather to be read by: it teaches nothing.
        held = not known or int(begun[0, 0]) >= clocks.first
        if way is None or not (held or not over):
            return draft
        up = (
            emergence(clocks, way, begun, seen.stages.get("emerged"), self.draws, planting.id)
            if way.emergence
            else None
        )
        draft = replace(draft, up=up)
        learnt = likelihood(clocks, way, seen, draft.anchor) if held else None
        return replace(draft, asked=unknown(planting, way, learnt))


def _life(draft: _Draft, ground: _Ground, log_multiplier: np.ndarray | None) -> Life:
    clocks, handbook, draws = ground.clocks, ground.handbook, ground.draws
    planting, way, shape = draft.planting, draft.way, (clocks.traces, draws)
    use = use_said(handbook, planting, draft.seen.entries)
    if draft.over:
        multiplier = np.ones(draws) if log_multiplier is None else np.exp(log_multiplier)
        return Life(
            planting, draft.cultivar, draft.seen, way, draft.begun, draft.known, seen_only(draft.seen),
            np.full((clocks.traces, 1), BEYOND, dtype=np.int32), multiplier, over=True,
        )  # fmt: skip
    begun = np.broadcast_to(draft.begun, shape).astype(np.int32)
    gain = handbook.number(f"cover-{draft.cover}", "night_gain_c", 0.0) if draft.cover else 0.0
    open_from = np.broadcast_to(draft.stands_from, shape).astype(np.int32)
    dead = killed(clocks, handbook, planting, draft.seen, open_from, gain or 0.0)
    stages: dict[str, Odds] = {}
    multiplier = np.ones(draws)
    if way is not None and log_multiplier is not None:
        multiplier = np.exp(log_multiplier)
        if draft.up is not None:
            stages["emerged"] = Odds(cut_off(draft.up, begun, np.maximum(dead, draft.up)))
        anchor = np.broadcast_to(draft.anchor, shape)
        days = main_stages(clocks, way, draft.seen, anchor, log_multiplier, planting.id)
        if way.harvest == "mature" and "mature" not in draft.seen.stages and not draft.seen.partial:
            first = not_ripe_before(handbook, planting.crop, ground.latitude, int(draft.begun.min()))
            days["mature"] = days["mature"] if first is None else np.maximum(days["mature"], np.int32(first))
        way, days = for_its_use(handbook, planting, use, draft.seen, way, days, begun, draws)
        for stage, day in days.items():
            stages[stage] = Odds(cut_off(day, begun, dead))
        lasts = span_days(way.harvest_days, strata(draws, f"{planting.id}/lasts"))
        ready = stages[way.harvest].days
        end = np.minimum(np.where(ready < BEYOND, ready + lasts[None, :], ready), np.where(ready < BEYOND, dead, ready))
        stages["last-harvest"] = Odds(end.astype(np.int32))
    elif draft.known and way is None and draft.seen.ended is None:
        stages = month_stages(
            planting,
            handbook,
            draft.seen.entries,
            begun=date.fromordinal(int(draft.begun[0, 0])),
            today=date.fromordinal(clocks.today),
            latitude=ground.latitude,
            shape=shape,
        )
    return Life(planting, draft.cultivar, draft.seen, way, begun, draft.known, stages, dead, multiplier, use=use)
