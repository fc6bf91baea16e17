"""The life of what was over before the observed days: days that were seen, whatever the weather does."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date
from functools import lru_cache

import numpy as np

from kailyard.garden.model import Cultivar, Entry, Planting
from kailyard.handbook.types import Handbook
from kailyard.season.by_months import lasts
from kailyard.season.ladder import timeline
from kailyard.season.life import Life
from kailyard.season.odds import BEYOND, Odds
from kailyard.season.sightings import Sightings, sight
from kailyard.season.uses import early_picks


@dataclass(frozen=True, slots=True)
class Past:
    """A planting of which no weather at hand has anything to say any more."""

    planting: Planting
    cultivar: Cultivar | None
    handbook: Handbook
    told: tuple[str, ...]
    """Identifiers of its entries, which say all that they hold."""
    entries: tuple[Entry, ...] = field(compare=False)


def over_before(planting: Planting, own: tuple[Entry, ...], *, today: date, first: int, long_days: int) -> bool:
    """Whether it was begun before the observed days (from `first` on) and cleared more than `long_days` ago."""
    if planting.since is not None:
        return False
    begun = [e.happened for e in own if e.kind in ("sow", "set-out", "plant")]
    ended = [e.happened for e in own if e.kind == "clear"]
    if not begun or not ended or max(begun).toordinal() >= first or own[-1].happened > today:
        return False
    return (today - max(ended)).days > long_days


@lru_cache(maxsize=4096)  # what is past stays as it is, whatever the weather does
def past_life(asked: Past, traces: int, draws: int, own_mean: float | None) -> Life:
    """Its life: the days that were seen, and no odds."""
    planting, handbook, last = asked.planting, asked.handbook, asked.entries[-1].happened
    early = early_picks(handbook, planting, asked.entries)
    seen = sight(planting, asked.entries, last, perennial=lasts(planting, handbook), early=early)
    raised = seen.set_out is not None and seen.sown is not None and planting.start == "raised"
    nursery = float((seen.set_out - seen.sown).days) if raised and seen.set_out and seen.sown else None
    way = timeline(planting, asked.cultivar, handbook, nursery_days=nursery, own_mean_c=own_mean)
    by_start = {"sown": seen.sown, "raised": seen.set_out, "bought": seen.set_out, "planted": seen.planted}
    begun = by_start[planting.start] or seen.sown or seen.set_out or seen.planted
    days = np.full((traces, 1), BEYOND if begun is None else begun.toordinal(), dtype=np.int32)
    never = np.full((traces, 1), BEYOND, dtype=np.int32)
    return Life(
        planting, asked.cultivar, seen, way, days, begun is not None, seen_only(seen), never, np.ones(draws), over=True
    )


def seen_only(seen: Sightings) -> dict[str, Odds]:
    """The stages that were seen, each on its day in every possible season."""
    days = {stage: known.seen for stage, known in seen.stages.items() if not known.implied}
    days["last-harvest"] = max((e.happened for e in seen.of("pick")), default=None)
    return {stage: _on(day) for stage, day in days.items() if day is not None}


@lru_cache(maxsize=4096)
def _on(day: date) -> Odds:
    return Odds.certain(day, (1, 1))
