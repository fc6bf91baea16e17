"""Work that is counted in days from a stage: from when, how often, until when."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

import numpy as np

from kailyard.documents._parts import Reason
from kailyard.garden.model import Entry
from kailyard.season.life import Life
from kailyard.season.measures import day_words
from kailyard.season.odds import DayArray, later
from kailyard.season.reasons import from_entry, from_fact
from kailyard.season.view import SeasonView

FAR_DAYS = 77
"""What opens later than this is on no sheet: ten weeks are looked ahead, from the end of a week."""


def stood(view: SeasonView, life: Life) -> DayArray:
    """Coming up, or setting out where it was set out: what 'days from' means in the handbook. (traces, draws)"""
    up = life.stage("emerged") if life.planting.start in ("sown", "planted") else None
    return filled(view, life.begun if up is None else up.days)


def counted_from(view: SeasonView, life: Life, stage: str) -> DayArray | None:
    """Days of the stage that a quantity counts from; None where nobody can foresee it. (traces, draws)"""
    if stage in ("sown", "planted", "set-out"):
        return filled(view, life.begun)
    if stage == "emerged":
        return stood(view, life)
    odds = life.stage(stage)
    return None if odds is None else odds.days


def filled(view: SeasonView, days: DayArray) -> DayArray:
    """Days, one a trace or one for all, for every draw. (traces, draws)"""
    return np.broadcast_to(days, view.shape).astype(np.int32)


def same(view: SeasonView, day: date, plus: float = 0) -> DayArray:
    """One day in all possible seasons, or so many days after it. (traces, draws)"""
    return np.full(view.shape, day.toordinal() + round(plus), dtype=np.int32)


def opening(view: SeasonView, start: DayArray, from_days: float, last: Entry | None, again_days: float) -> DayArray:
    """From when work is to be done, `from_days` after a stage, or again, `again_days` after it was done last."""
    return later(start, round(from_days)) if last is None else same(view, last.happened, again_days)


def far_off(view: SeasonView, opens: DayArray) -> bool:
    """Whether it opens too late in all samples to stand on a sheet."""
    return int(opens.min()) > view.today.toordinal() + FAR_DAYS


def is_past(view: SeasonView, days: DayArray) -> bool:
    """Whether days have passed in most samples."""
    return float(np.mean(days < view.today.toordinal())) > 0.5


def spans(view: SeasonView, life: Life, quantity: str) -> tuple[float, float] | None:
    """The least and the most the handbook gives; None where it does not have both."""
    low, high = (view.fact(life.planting, f"{quantity}_{end}") for end in ("min", "max"))
    return None if low is None or high is None else (low.number, high.number)


def grounds(view: SeasonView, life: Life, says: Mapping[str, str], last: Entry | None = None) -> tuple[Reason, ...]:
    """The facts a line rests on, each with what it says; before them the entry that tells when it was done last."""
    done = () if last is None else (from_entry(last, f"Last done on {day_words(last.happened)}."),)
    facts = ((view.fact(life.planting, quantity), words) for quantity, words in says.items())
    return (*done, *(from_fact(fact, view.handbook, words) for fact, words in facts if fact is not None))
