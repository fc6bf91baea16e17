"""Stages that only months are known of: what comes again year by year shows, flowers and bears in its months.

Wide, and said so: months are printed for a region and its usual year. Nothing here answers to the weather.
"""

from __future__ import annotations

import calendar
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from kailyard.documents._parts import Reason
from kailyard.garden.model import Entry, Planting
from kailyard.handbook.types import Fact, Handbook
from kailyard.season.draws import normal_point, strata
from kailyard.season.odds import NEVER, DayArray, Odds
from kailyard.season.reasons import from_fact, from_judgement

MONTH_SPREAD_DAYS = 14.0
"""Standard deviation of a first or last day about the middle of its printed month: by place, kind and year."""

WAITED_DAYS = 30
"""So long after the last printed month the year's stage is still this year's."""

LEAST_RUN_DAYS = 10
"""A run of flowers or of picking lasts at least so long."""

_EDGES = (
    ("emerged", "emerge_month_first", "emerge_month_last", "first"),
    ("first-flower", "bloom_month_first", "bloom_month_last", "first"),
    ("last-flower", "bloom_month_first", "bloom_month_last", "last"),
    ("first-harvest", "pick_month_first", "pick_month_last", "first"),
    ("last-harvest", "pick_month_first", "pick_month_last", "last"),
)
"""Stage, the facts that hold its first and last month, and which end of them it is."""


@dataclass(frozen=True, slots=True)
class Months:
    """One year's run of months: its first day, its last, and the facts that say so."""

    first: date
    last: date
    facts: tuple[Fact, Fact]


def perennial(crop: str, handbook: Handbook) -> bool:
    """Whether gardens keep the crop from year to year."""
    grown = handbook.text(crop, "life_cycle_as_grown")
    return grown.startswith("perennial") and "grown as annual" not in grown


def lasts(planting: Planting, handbook: Handbook) -> bool:
    """Whether a planting comes again year by year: its crop is perennial, or it has stood there since it was put in."""
    return planting.since is not None or perennial(planting.crop, handbook)


def months_of(
    crop: str, handbook: Handbook, names: tuple[str, str], *, today: date, since: date, latitude: float
) -> Months | None:
    """The run of months that is on or comes next, six months on south of the equator; None where none are known."""
    first, last = handbook.get(crop, names[0]), handbook.get(crop, names[1])
    if first is None or last is None:
        return None
    shift = 0 if latitude >= 0 else 6
    begin, length = int(first.number) - 1 + shift, int(last.number - first.number) % 12
    waited = max(today - timedelta(days=WAITED_DAYS), since)
    for year in range(min(today.year, since.year) - 2, max(today.year, since.year) + 3):
        start, end = _month(year, begin), _month(year, begin + length)
        closed = end.replace(day=calendar.monthrange(end.year, end.month)[1])
        if closed >= waited:
            return Months(start, closed, (first, last))
    return None


def month_stages(
    planting: Planting,
    handbook: Handbook,
    entries: Iterable[Entry],
    *,
    begun: date,
    today: date,
    latitude: float,
    shape: tuple[int, int],
) -> dict[str, Odds]:
    """Odds of each stage that months are known of, held to what was entered this year.

    A plant raised from seed flowers in the year that the handbook gives, no sooner; one that was bought or planted may
    flower in its first summer.
    """
    told = tuple(entries)
    out: dict[str, Odds] = {}
    for stage, first, last, end in _EDGES:
        found = months_of(planting.crop, handbook, (first, last), today=today, since=begun, latitude=latitude)
        if found is None or (stage == "emerged" and not begun < found.first):
            continue
        days = _drawn(found, stage, end, shape[1], planting.id)
        if stage in ("first-flower", "last-flower"):
            days = np.where(_too_young(planting, handbook, begun, found.last, shape[1]), NEVER, days)
        days = np.where(days < NEVER, np.maximum(days, begun.toordinal() + 1), days)
        if end == "last":
            opened = out[stage.replace("last", "first")].days[0]
            days = np.where(opened < NEVER, np.maximum(days, opened + np.int32(LEAST_RUN_DAYS)), days)
        days = _held(days, told, stage, found.first - timedelta(days=60))
        out[stage] = Odds(np.broadcast_to(days.astype(np.int32)[None, :], shape))
    return out


def month_reasons(planting: Planting, handbook: Handbook, stage: str) -> tuple[Reason, ...]:
    """Why a stage lies where it does: its months, and how far they may be off."""
    for name, first, last, _ in _EDGES:
        one, other = handbook.get(planting.crop, first), handbook.get(planting.crop, last)
        if name == stage and one is not None and other is not None:
            young = [f for q in ("years_to_bloom_min", "years_to_bloom_max") if (f := handbook.get(planting.crop, q))]
            return (
                from_fact(one, handbook, "First month, of the northern half; six on in the southern."),
                from_fact(other, handbook, "Last month, of the northern half; six on in the southern."),
                from_judgement(
                    "Nothing firmer than months is known; a day is taken to be so far off, either way.",
                    MONTH_SPREAD_DAYS,
                    "days",
                ),
                *(from_fact(f, handbook, "Years from seed to the first flower.") for f in young if "flower" in stage),
            )
    return ()


def _month(year: int, months: int) -> date:
    return date(year + months // 12, months % 12 + 1, 1)


def _drawn(months: Months, stage: str, end: str, draws: int, seed: str) -> DayArray:
    """The day of a stage, one a draw."""
    z = normal_point(strata(draws, f"{seed}/{stage}"))
    if stage == "emerged":  # all of its months are waiting time: their ends are the middle eight tenths
        low, high = months.first.toordinal(), months.last.toordinal()
        middle, spread = (low + high) / 2, (high - low) / 2.563
    else:
        at = months.first if end == "first" else months.last.replace(day=1)
        whole = 14.5 if at != months.first or months.last.month != at.month else 7.0 if end == "first" else 23.0
        middle, spread = at.toordinal() + whole, MONTH_SPREAD_DAYS
    return np.asarray(np.round(middle + spread * z), dtype=np.int32)


def _too_young(planting: Planting, handbook: Handbook, begun: date, last: date, draws: int) -> np.ndarray:
    """Whether a plant raised from seed has not come to its first flower by then, one a draw."""
    least, most = (handbook.number(planting.crop, f"years_to_bloom_{end}", 1.0) or 1.0 for end in ("min", "max"))
    if planting.start not in ("sown", "raised"):
        least = most = 1.0
    years = np.round(least + (most - least) * strata(draws, f"{planting.id}/years")).astype(int)
    return np.asarray(begun.year + years - 1 > last.year)


def _held(days: DayArray, entries: tuple[Entry, ...], stage: str, since: date) -> DayArray:
    """Days made to agree with what was seen this year."""
    mine = [e for e in entries if e.kind == "stage" and e.payload.get("stage") == stage and e.happened >= since]
    seen = next((e.happened for e in mine if e.payload.get("state", "seen") == "seen"), None)
    unseen = [e.happened for e in mine if e.payload.get("state") == "not yet" and (seen is None or e.happened < seen)]
    if unseen:
        days = np.maximum(days, np.int32(unseen[-1].toordinal() + 1))
    if seen is not None:
        days = np.minimum(days, np.int32(seen.toordinal()))
    return days
