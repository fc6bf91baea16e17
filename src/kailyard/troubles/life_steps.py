"""Odds of each step of a pest's life on the possible seasons: every sum by itself, in the way its paper counted.

Nothing is added up here: a step counted from eggs seen starts at the eggs, not at the sum of another row.
"""

from __future__ import annotations

from datetime import date
from typing import cast

import numpy as np

from kailyard.documents._parts import Status
from kailyard.documents.scout import LifeStep
from kailyard.handbook.insects import Event, events_of
from kailyard.science.insect_phenology import day_of_total, insect_degree_days
from kailyard.season.odds import BEYOND, DayArray, Odds
from kailyard.season.view import SeasonView
from kailyard.weather.record import FloatArray

TRIGGERS = {
    "egg laid": "egg", "first eggs seen": "egg", "first eggs": "egg", "egg": "egg",
    "first intensive moth catch (9 or more in 1-2 nights)": "moth",
}  # fmt: skip
"""What a count must have found for the sums that start from it, by the start's own words."""
WEEK = 7


def steps(view: SeasonView, insect: str, seen: dict[str, date]) -> tuple[LifeStep, ...]:
    """Every step that can be told: from January's sums, and from what was seen this year.

    Parameters
    ----------
    seen
        First day of this year on which a count found 'egg' or 'moth'.
    """
    found = []
    for event in events_of(insect):
        days = step_days(view, event, seen)
        if days is not None:
            found.append(_told(view, event, days))
    return tuple(sorted(found, key=lambda s: (s.low is None, s.low or date.max, s.event)))


def step_days(view: SeasonView, event: Event, seen: dict[str, date], year: int | None = None) -> DayArray | None:
    """The day of one step in each possible season, from and to; None where it cannot be counted. (traces, 2)

    Parameters
    ----------
    year
        That of a sum that begins in January; None: this one.
    """
    if event.counts == "no":
        return None
    if event.counts == "calendar":
        start = date(year or view.today.year, 1, 1)
        if start < view.ensemble.first or view.garden.site.latitude < 0:
            return None  # the sums were made where winter lies at the year's turn
    else:
        begun = seen.get(TRIGGERS.get(event.start, ""))
        if begun is None or begun < view.ensemble.first:
            return None
        start = date.fromordinal(begun.toordinal() + 1)
    return view.clocks.keep(("life step", event, start), lambda: _days(view, event, start))


def _days(view: SeasonView, event: Event, start: date) -> DayArray:
    year = date(start.year, 1, 1)
    warmth = _warmth(view, event, max(year, view.ensemble.first))
    began = max(year, view.ensemble.first).toordinal()
    first = np.full(len(warmth), start.toordinal() - began)
    # A sum ends with the year in which it began: what it has not reached by then does not come.
    reached = {total: day_of_total(warmth, first_day=first, total=total) for total in {event.low, event.high}}
    at = np.stack([reached[event.low], reached[event.high]], axis=-1)
    return np.where(np.isnan(at), float(BEYOND), began + np.nan_to_num(at)).astype(np.int64).astype(np.int32)


def _warmth(view: SeasonView, event: Event, first: date) -> FloatArray:
    """Each day's warmth from `first` to the end of its year. (traces, days)"""
    ensemble = view.ensemble
    at = first.toordinal() - ensemble.first.toordinal()
    span = slice(at, at + date(first.year, 12, 31).toordinal() - first.toordinal() + 1)
    key = ("insect warmth", event.base_c, event.upper_c, event.method, event.medium, first)

    def make() -> FloatArray:
        low, high = ensemble.tmin_c[:, span], ensemble.tmax_c[:, span]
        if event.medium == "soil":
            low = high = view.clocks.soil_c[:, span]
        return insect_degree_days(
            low, np.maximum(low, high), lower_c=event.base_c, upper_c=event.upper_c, way=event.method
        )

    return view.clocks.keep(key, make)


def _told(view: SeasonView, event: Event, days: DayArray) -> LifeStep:
    today, first = view.today.toordinal(), Odds(days[:, :1])
    coming = (days[:, 0] >= today) & (days[:, 0] < today + WEEK)
    return LifeStep(
        event=event.event,
        come=float(np.mean(days[:, 0] < today)),
        week=float(np.mean(coming)),
        low=first.quantile(0.1),
        high=Odds(days[:, 1:]).quantile(0.9),
        status=cast(Status, event.status),
        source=event.source,
    )
