"""When crowns are first cut in a year: as was seen, else as in this bed's earlier years, else in the months printed."""

from __future__ import annotations

import math
from datetime import date, timedelta

import numpy as np

from kailyard.documents._parts import Reason
from kailyard.garden.model import Entry
from kailyard.season.by_months import WAITED_DAYS, months_of
from kailyard.season.draws import normal_point, strata
from kailyard.season.life import Life
from kailyard.season.measures import day_words
from kailyard.season.odds import DayArray
from kailyard.season.reasons import from_entry, from_fact, from_judgement
from kailyard.season.view import SeasonView

YEARS_SPREAD_DAYS = 8.0
"""First cuttings of one bed differ so from year to year: standard deviation, counted as two years' showing."""

CUT_WITHIN_DAYS = 150
"""So long after a first cutting the season is still that one; then the next is asked after."""

_MONTHS = ("emerge_month_first", "emerge_month_last")


def first_cuts(life: Life) -> tuple[Entry, ...]:
    """The first cutting of each year, the oldest first."""
    by_year: dict[int, Entry] = {}
    for entry in life.sightings.of("pick"):
        by_year.setdefault(entry.happened.year, entry)
    return tuple(by_year[year] for year in sorted(by_year))


def first_cut_days(view: SeasonView, life: Life) -> DayArray | None:
    """Day of the first cutting of the season that is on or comes next, (1, draws); None where nobody can tell.

    Of this bed's own years the mean and the spread, with the little they tell of either; without them the months.
    """
    cuts = first_cuts(life)
    today = view.today
    if cuts and (today - cuts[-1].happened).days < CUT_WITHIN_DAYS:
        return np.full((1, view.draws), cuts[-1].happened.toordinal(), dtype=np.int32)
    z = normal_point(strata(view.draws, f"{life.planting.id}/first cut"))
    if cuts:
        middle, spread = _own(cuts, today)
        return np.round(middle + spread * z).astype(np.int32)[None, :]
    since = life.sightings.planted or life.planting.since or today
    months = months_of(
        life.planting.crop, view.handbook, _MONTHS, today=today, since=since, latitude=view.garden.site.latitude
    )
    if months is None:
        return None
    low, high = months.first.toordinal(), months.last.toordinal()
    return np.round((low + high) / 2 + (high - low) / 2.563 * z).astype(np.int32)[None, :]


def own_span(view: SeasonView, life: Life) -> tuple[date, date] | None:
    """The middle eight tenths of the next first cutting by this bed's own years; None where it has none."""
    cuts = first_cuts(life)
    if not cuts:
        return None
    middle, spread = _own(cuts, view.today)
    return date.fromordinal(round(middle - 1.2816 * spread)), date.fromordinal(round(middle + 1.2816 * spread))


def first_cut_reasons(view: SeasonView, life: Life) -> tuple[Reason, ...]:
    """What the day of the first cutting rests on; () for what is not cut so."""
    if view.fact(life.planting, "cut_weeks_year_1_max") is None:
        return ()
    cuts = first_cuts(life)
    if cuts:
        said = (from_entry(e, f"First cut in {e.happened.year} on {day_words(e.happened)}.") for e in reversed(cuts))
        return (*said, from_judgement("From year to year it differs by about so much.", YEARS_SPREAD_DAYS, "days"))
    says = ("First month in which it comes up, of the northern half.", "Last month, of the northern half.")
    facts = ((view.fact(life.planting, name), said) for name, said in zip(_MONTHS, says, strict=True))
    return tuple(from_fact(fact, view.handbook, said) for fact, said in facts if fact is not None)


def _own(cuts: tuple[Entry, ...], today: date) -> tuple[float, float]:
    """Middle and spread of the next first cutting by earlier years. [ordinal, days]

    The spread is shrunk to ours as if two years had shown it, and widened for the mean of few years.
    """
    days = [_in_year(e.happened, 2001) for e in cuts]
    mean = sum(days) / len(days)
    seen = sum((day - mean) ** 2 for day in days)
    variance = (2 * YEARS_SPREAD_DAYS**2 + seen) / (2 + len(days) - 1)
    this = date.fromordinal(round(mean)).replace(year=today.year)
    coming = this if (today - this).days < WAITED_DAYS else this.replace(year=today.year + 1)
    return float(coming.toordinal()), math.sqrt(variance * (1 + 1 / len(days)))


def _in_year(day: date, year: int) -> int:
    """The same day of a common year. [ordinal]"""
    return (date(year, 1, 1) + timedelta(days=min(day.timetuple().tm_yday, 365) - 1)).toordinal()
