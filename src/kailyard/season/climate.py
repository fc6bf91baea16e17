"""The place: frost by chance, length of the season, and this season's warmth and rain against the years."""

from __future__ import annotations

from datetime import date, timedelta

import numpy as np
from numpy.typing import NDArray

from kailyard.documents._parts import Reason, RestsOn
from kailyard.documents.climate import Climate, FrostLevel, MonthTrend, WarmthSoFar
from kailyard.science.frost import (
    NORTH,
    SOUTH,
    FreezeSeasons,
    calendar_day,
    first_freeze_at_level,
    freeze_free_days,
    freeze_mixture,
    freeze_seasons,
    last_freeze_at_level,
)
from kailyard.season.sheet import rests
from kailyard.season.view import SeasonView
from kailyard.weather.days import year_month_slot
from kailyard.weather.record import DailyRecord

FloatArray = NDArray[np.float64]

LEVELS = ((2.2, "frost on the ground may be"), (0.0, "light freeze"), (-2.2, "killing freeze"), (-4.4, "severe freeze"))
"""Screen temperatures of 36, 32, 28 and 24 °F; the words are common practice (reference: US freeze classes)."""

MOST_YEARS = 40
BASES = ((10.0, "warmth for beans, corn, tomatoes"), (5.0, "warmth for peas, cabbages, lettuce"))
"""Bases for warm and cool crops, roughly. [°C] Common practice."""

LATE, MIDDLE, EARLY = 0.1, 0.5, 0.9


def climate_of(view: SeasonView, record: DailyRecord) -> Climate:
    """Frost odds at the garden's own minimum, warmth and rain so far, and the months' trend."""
    known = _until(record, view.today)
    moved = known + (_shift(view, known) if view.ensemble.trend.applied else 0.0)
    north = view.garden.site.latitude >= 0
    split = NORTH if north else SOUTH
    tmin = moved.tmin + view.minimum_offset_c
    years = sorted({int(y) for y in known.years if known.enough(int(y))})[-MOST_YEARS:]
    return Climate(
        garden=view.garden.name,
        on=view.today,
        units=view.garden.units,
        years=tuple(years),
        trend_on=view.ensemble.trend.applied,
        frost=tuple(_level(tmin, known.first, split, limit, words, view.today, north) for limit, words in LEVELS),
        warmth=tuple(_warmth(known, base, words, view.today, north) for base, words in BASES),
        trend=_trend(view),
        rain_so_far_mm=_rain(known, view.today, north)[0],
        rain_usual_mm=_rain(known, view.today, north)[1],
        reasons=_reasons(view),
    )


class _Known:
    """A record up to the day before today, with the year and calendar slot of each day."""

    def __init__(self, first: date, tmin: FloatArray, tmax: FloatArray, rain: FloatArray) -> None:
        self.first, self.tmin, self.tmax, self.rain = first, tmin, tmax, rain
        self.days = np.arange(first.toordinal(), first.toordinal() + len(tmin), dtype=np.int64)
        self.years, self.months, self.slots = year_month_slot(self.days)

    def enough(self, year: int) -> bool:
        """Whether a year is there nearly whole."""
        return int(np.count_nonzero(~np.isnan(self.tmin[self.years == year]))) >= 347

    def __add__(self, shift: FloatArray | float) -> _Known:
        return _Known(self.first, self.tmin + shift, self.tmax, self.rain)


def _until(record: DailyRecord, today: date) -> _Known:
    n = min(len(record), max((today - record.first).days, 0))
    return _Known(record.first, record.tmin_c[:n], record.tmax_c[:n], record.rain_mm[:n])


def _shift(view: SeasonView, known: _Known) -> FloatArray:
    """What brings each day's minimum to this year's climate. [°C]"""
    return np.asarray(view.ensemble.trend.tmin_c_year[known.months] * (view.today.year - known.years))


def _level(
    tmin: FloatArray, first: date, split: tuple[int, int], limit: float, words: str, today: date, north: bool
) -> FrostLevel:
    seasons = freeze_seasons(tmin, first_day=first, threshold_c=limit, split=split)
    seasons = _latest(seasons)
    free = freeze_free_days(seasons)[1]
    free = free[~np.isnan(free)]
    last, opening = seasons.last[seasons.counted], seasons.first[seasons.counted]
    spring = freeze_mixture(last)
    autumn = freeze_mixture(opening)

    def at(level: float, *, of_last: bool) -> date | None:
        model = spring if of_last else autumn
        pick = last_freeze_at_level if of_last else first_freeze_at_level
        if model.share == 0 or np.isnan(model.mean_day):
            return None
        spread = 0.0 if np.isnan(model.sd_days) else model.sd_days
        day = float(pick(level, share=model.share, mean_day=model.mean_day, sd_days=spread))
        return None if np.isnan(day) else _in_season(calendar_day(day, split=split), today, spring=of_last, north=north)

    short, middle, long = (float(np.quantile(free, q)) for q in (0.1, 0.5, 0.9)) if free.size else (None, None, None)
    return FrostLevel(
        threshold_c=limit,
        words=words,
        share_of_years=round(spring.share, 3),
        last_late=at(LATE, of_last=True),
        last_middle=at(MIDDLE, of_last=True),
        last_early=at(EARLY, of_last=True),
        first_early=at(LATE, of_last=False),
        first_middle=at(MIDDLE, of_last=False),
        first_late=at(EARLY, of_last=False),
        free_days_short=short,
        free_days_middle=middle,
        free_days_long=long,
    )


def _latest(seasons: FreezeSeasons) -> FreezeSeasons:
    """The latest seasons that can be told, at most forty."""
    keep = np.flatnonzero(seasons.counted)[-MOST_YEARS:]
    return FreezeSeasons(seasons.starts[keep], seasons.first[keep], seasons.last[keep], seasons.counted[keep])


def _in_season(month_day: tuple[int, int], today: date, *, spring: bool, north: bool) -> date:
    """A calendar day put into the growing season that today belongs to, or the one to come."""
    month, day = month_day
    if north:
        return date(today.year if spring or month > 6 else today.year + 1, month, day)
    start = today.year if today.month > 6 else today.year - 1
    return date(start if month > 6 else start + 1, month, day)


def _since(today: date, north: bool) -> date:
    """First day of the growing year."""
    if north:
        return date(today.year, 1, 1)
    return date(today.year if today.month >= 7 else today.year - 1, 7, 1)


def _warmth(known: _Known, base_c: float, words: str, today: date, north: bool) -> WarmthSoFar:
    mean = (known.tmin + known.tmax) / 2
    daily = np.maximum(mean - base_c, 0.0)
    since, length = _since(today, north), 365
    passed = (today - since).days
    rows: list[FloatArray] = []
    for back in range(1, MOST_YEARS + 1):
        start = date(since.year - back, since.month, since.day).toordinal() - known.first.toordinal()
        if start < 0:
            break
        row = daily[start : start + length]
        if len(row) == length and np.count_nonzero(np.isnan(row)) <= 18:
            rows.append(np.cumsum(np.where(np.isnan(row), np.nanmean(row), row)))
    start = since.toordinal() - known.first.toordinal()
    mine = daily[max(start, 0) : start + passed]
    this = np.cumsum(np.nan_to_num(mine))
    past = np.array(rows) if rows else np.zeros((1, length))
    low, middle, high = (np.quantile(past, q, axis=0) for q in (0.1, 0.5, 0.9))
    at = max(passed - 1, 0)
    now = float(this[-1]) if this.size else 0.0
    warmer = int(np.count_nonzero(past[:, at] < now))
    return WarmthSoFar(
        words=words,
        base_c=base_c,
        since=since,
        this_season=round(now, 1),
        years_low=round(float(low[at]), 1),
        years_middle=round(float(middle[at]), 1),
        years_high=round(float(high[at]), 1),
        rank_words=f"warmer than {warmer} of {len(rows)} years",
        days=tuple(since + timedelta(days=n) for n in range(length)),
        curve=tuple(np.round(this, 1).tolist()),
        low_curve=tuple(np.round(low, 1).tolist()),
        middle_curve=tuple(np.round(middle, 1).tolist()),
        high_curve=tuple(np.round(high, 1).tolist()),
    )


def _rain(known: _Known, today: date, north: bool) -> tuple[float, float]:
    """Rain of the growing year so far, and its usual amount for the same span. [mm]"""
    since = _since(today, north)
    passed = (today - since).days
    start = since.toordinal() - known.first.toordinal()
    mine = float(np.nansum(known.rain[max(start, 0) : start + passed]))
    others = []
    for back in range(1, MOST_YEARS + 1):
        a = date(since.year - back, since.month, since.day).toordinal() - known.first.toordinal()
        if a < 0:
            break
        others.append(float(np.nansum(known.rain[a : a + passed])))
    return round(mine, 1), round(float(np.median(others)), 1) if others else 0.0


def _trend(view: SeasonView) -> tuple[MonthTrend, ...]:
    t = view.ensemble.trend
    return tuple(
        MonthTrend(m + 1, round(10 * float(t.tmin_c_year[m]), 2), round(10 * float(t.tmax_c_year[m]), 2), t.applied)
        for m in range(12)
    )


def _reasons(view: SeasonView) -> tuple[Reason, ...]:
    frost = Reason(
        "Frost odds: share of years with a freeze, and a normal distribution of its day in those.",
        rests_on=RestsOn("published", "Thom 1959, Monthly Weather Review 87:136-144", "mixture for freezeless years"),
    )
    own = Reason(
        "The garden's minimum against the station's, added to every night.",
        round(view.minimum_offset_c, 2),
        "°C difference",
        RestsOn("observed", "daybook and site", ""),
    )
    return (frost, own, *rests(view))
