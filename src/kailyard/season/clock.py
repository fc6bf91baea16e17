"""Thermal clocks: each response to temperature is cumulated once a trace, and days are found by search."""

from __future__ import annotations

from collections.abc import Callable, Hashable
from dataclasses import dataclass
from typing import Any, TypeVar

import numpy as np
from numpy.typing import NDArray

from kailyard.handbook.types import Leg
from kailyard.science.development import effective_degrees, max_foldback_degrees
from kailyard.science.soil_temperature import katterer_andren_soil_c
from kailyard.season.odds import BEYOND, DayArray
from kailyard.weather.ensemble import Ensemble

FloatArray = NDArray[np.float64]


SEED_DEPTH_CM = 4.0
"""Depth at which soil temperature is estimated for every sowing."""

MOST_KEPT = 4000
"""So many values made on one weather are kept; then all are forgotten, and made anew as they are asked for."""

_Value = TypeVar("_Value")
_NONE: Any = object()


@dataclass(frozen=True, slots=True)
class ResponseKey:
    """What makes two legs run on the same clock."""

    response: str
    base_c: float | None
    opt_low_c: float | None
    opt_high_c: float | None
    ceiling_c: float | None
    soil: bool

    @staticmethod
    def of(leg: Leg) -> ResponseKey:
        """The clock of a handbook leg."""
        return ResponseKey(leg.response, leg.base_c, leg.opt_low_c, leg.opt_high_c, leg.ceiling_c, leg.soil)

    def degrees(self, tmean_c: float) -> float:
        """Effective degrees of one day at a steady mean. [°C·d a day; days a day where the response is none]"""
        return float(_effective(self, np.array([tmean_c]))[0])


CALENDAR = ResponseKey("none", None, None, None, None, soil=False)
"""A clock that counts days."""


def _effective(key: ResponseKey, tmean_c: FloatArray) -> FloatArray:
    if key.response == "none" or key.base_c is None:
        return np.ones_like(tmean_c)
    return effective_degrees(
        tmean_c,
        response=key.response,
        base_c=key.base_c,
        opt_low_c=key.opt_low_c,
        opt_high_c=key.opt_high_c,
        ceiling_c=key.ceiling_c,
    )


@dataclass(frozen=True, slots=True, eq=False)
class Clock:
    """Cumulated effective degrees, (traces, days + 1): column k is the sum of the first k days.

    The rows also lie end to end in `_flat`, each lifted above the one before, so that one search serves all traces.
    """

    cumulated: FloatArray
    first: int
    """Ordinal of day 0."""
    _flat: FloatArray
    _lift: float
    _rows: NDArray[np.int64]
    """Where each trace begins in an array laid end to end. (traces, 1)"""
    _alike: float
    """Up to this reading all traces are one: what is observed is the same in every possible season."""

    @staticmethod
    def of_daily(daily: FloatArray, first: int) -> Clock:
        """A clock from effective degrees a day, (traces, days)."""
        traces, days = daily.shape
        cumulated = np.zeros((traces, days + 1))
        np.cumsum(daily, axis=1, out=cumulated[:, 1:])
        lift = float(cumulated[:, -1].max()) + 1.0
        flat = (cumulated + lift * np.arange(traces)[:, None]).ravel()
        apart = (cumulated != cumulated[0]).any(axis=0)
        alike = int(np.argmax(apart)) - 1 if apart.any() else days
        rows = (days + 1) * np.arange(traces, dtype=np.int64)[:, None]
        return Clock(cumulated, first, flat, lift, rows, float(cumulated[0, alike]))

    @property
    def days(self) -> int:
        """Number of days the clock spans."""
        return int(self.cumulated.shape[1]) - 1

    def reading(self, day: DayArray | int) -> FloatArray:
        """Degrees cumulated by the end of `day` (ordinals, (traces, draws), (traces, 1) or one day for all)."""
        index = np.minimum(np.maximum(np.asarray(day, dtype=np.int64) - (self.first - 1), 0), self.days)
        if index.ndim == 0:
            return self.cumulated[:, index][:, None]
        return np.asarray(self.cumulated.ravel()[index + self._rows])

    def reach(self, target: FloatArray) -> DayArray:
        """First day (ordinal) by whose end the clock stands at `target`, (traces, draws); BEYOND the horizon else."""
        if target.max() <= self._alike and (target == target[0]).all():
            column = np.searchsorted(self.cumulated[0], target[0], side="left")
            day = (np.maximum(column, 1) - 1 + self.first).astype(np.int32)
            return np.broadcast_to(day, target.shape)
        found = np.searchsorted(self._flat, self._lifted(target), side="left").reshape(target.shape)
        day = np.maximum(found - self._rows, 1) - 1 + self.first
        return np.where(target > self.cumulated[:, -1:], BEYOND, day).astype(np.int32)

    def last_start(self, end: DayArray, needed: FloatArray) -> DayArray:
        """Last day (ordinal) after whose end `needed` still passes by the end of `end`; `first` - 1 where none."""
        target = self.reading(end) - needed
        found = np.searchsorted(self._flat, self._lifted(target), side="right").reshape(target.shape)
        return np.where(target < 0, self.first - 1, found - self._rows - 2 + self.first).astype(np.int32)

    def _lifted(self, target: FloatArray) -> FloatArray:
        """Targets lifted to their trace's place in `_flat`, end to end."""
        held = np.minimum(np.maximum(target, 0.0), self._lift - 0.5)
        return np.asarray(held + self._lift * np.arange(len(self.cumulated))[:, None]).ravel()


class Clocks:
    """Every clock of one ensemble, made when first asked and kept. Also when it is next cold, warm or hot."""

    def __init__(self, ensemble: Ensemble, *, garden_tmin_c: FloatArray) -> None:
        self._ensemble = ensemble
        self._tmean_c = ensemble.tmean_c
        self._garden_tmin_c = garden_tmin_c
        self._soil_c: FloatArray | None = None
        self._clocks: dict[ResponseKey, Clock] = {}
        self._next_cold: dict[float, DayArray] = {}
        self._next_warm: dict[tuple[float, int], DayArray] = {}
        self._fit: dict[tuple[float, int, int], tuple[DayArray, DayArray]] = {}
        self._next_cool: dict[tuple[float, int], DayArray] = {}
        self._kept: dict[Hashable, Any] = {}
        self.traces = ensemble.traces
        self.first = ensemble.first.toordinal()
        self.today = ensemble.today.toordinal()
        self.days = self._tmean_c.shape[1]

    def keep(self, what: Hashable, make: Callable[[], _Value]) -> _Value:
        """What `make` answers, which depends on this weather and on `what` alone: made once.

        When an entry comes in, all plantings that it does not speak of are as they were.
        """
        value = self._kept.get(what, _NONE)
        if value is _NONE:
            value = make()
            if len(self._kept) >= MOST_KEPT:
                self._kept.clear()
            self._kept[what] = value
        found: _Value = value
        return found

    @property
    def garden_tmin_c(self) -> FloatArray:
        """Night minimum in the garden, not at the station, (traces, days). [°C]"""
        return self._garden_tmin_c

    @property
    def soil_c(self) -> FloatArray:
        """Estimated soil temperature at seed depth, (traces, days). [°C]"""
        if self._soil_c is None:
            self._soil_c = katterer_andren_soil_c(self._tmean_c, depth_cm=SEED_DEPTH_CM)
        return self._soil_c

    def clock(self, key: ResponseKey) -> Clock:
        """The clock of a response."""
        if key not in self._clocks:
            if key.response == "max-foldback":
                assert key.base_c is not None
                assert key.opt_low_c is not None
                daily = max_foldback_degrees(self._ensemble.tmax_c, base_c=key.base_c, turn_c=key.opt_low_c)
            else:
                daily = _effective(key, self.soil_c if key.soil else self._tmean_c)
            self._clocks[key] = Clock.of_daily(daily, self.first)
        return self._clocks[key]

    def next_cold(self, threshold_c: float) -> DayArray:
        """Ordinal of the next night at or below a threshold in the garden, on or after each day. (traces, days + 1)"""
        if threshold_c not in self._next_cold:
            self._next_cold[threshold_c] = self._next(self._garden_tmin_c <= threshold_c)
        return self._next_cold[threshold_c]

    def _next(self, hit: NDArray[np.bool_]) -> DayArray:
        traces, days = hit.shape
        at = np.where(hit, np.arange(days) + self.first, BEYOND).astype(np.int32)
        out = np.full((traces, days + 1), BEYOND, dtype=np.int32)
        out[:, :days] = np.minimum.accumulate(at[:, ::-1], axis=1)[:, ::-1]
        return out

    def cold_after(self, threshold_c: float, after: DayArray) -> DayArray:
        """First night at or below the threshold on or after `after`. (traces, draws)"""
        return take_next(self.next_cold(threshold_c), after, self.first)

    def warm_soil_after(self, threshold_c: float, span: int, after: DayArray) -> DayArray:
        """First day on or after `after` on which the soil's mean over `span` days is at the threshold."""
        if (threshold_c, span) not in self._next_warm:
            self._next_warm[threshold_c, span] = self._next(_trailing_mean(self.soil_c, span) >= threshold_c)
        return take_next(self._next_warm[threshold_c, span], after, self.first)

    def cool_soil_after(self, threshold_c: float, span: int, after: DayArray) -> DayArray:
        """First day on or after `after` on which the soil's mean over `span` days is down to the threshold."""
        if (threshold_c, span) not in self._next_cool:
            self._next_cool[threshold_c, span] = self._next(_trailing_mean(self.soil_c, span) <= threshold_c)
        return take_next(self._next_cool[threshold_c, span], after, self.first)

    def fit_for_harvest(self, heat_c: float, span: int, shortest: int) -> tuple[DayArray, DayArray]:
        """Tables of the next day that is, and is not, free of heat. (traces, days + 1)

        Heat is a mean of the daily maxima over `span` days at `heat_c`; a break in it of fewer than `shortest` days
        counts as heat.
        """
        key = (heat_c, span, shortest)
        if key not in self._fit:
            hot = _trailing_mean(self._ensemble.tmax_c, span) >= heat_c
            at, far = np.arange(self.days), self.days + shortest
            since = np.maximum.accumulate(np.where(hot, at, -far), axis=1)
            until = np.minimum.accumulate(np.where(hot, at, 2 * far)[:, ::-1], axis=1)[:, ::-1]
            hot = until - since - 1 < shortest
            self._fit[key] = (self._next(~hot), self._next(hot))
        return self._fit[key]

    def last_cold(self, threshold_c: float, first: int, last: int) -> DayArray:
        """Last night at or below the threshold from `first` to `last`; `first` - 1 where there is none. (traces, 1)"""
        a, b = (min(max(day - self.first, 0), self.days) for day in (first, last + 1))
        hit = self._garden_tmin_c[:, a:b] <= threshold_c
        if b <= a:
            return np.full((hit.shape[0], 1), first - 1, dtype=np.int32)
        back = np.argmax(hit[:, ::-1], axis=1)
        day = np.where(hit.any(axis=1), (b - 1 - back) + self.first, first - 1)
        return day.astype(np.int32)[:, None]


def take_next(table: DayArray, after: DayArray, first: int) -> DayArray:
    """Look `after` (ordinals) up in a (traces, days + 1) table of next days."""
    columns = table.shape[1]
    index = np.minimum(np.maximum(np.asarray(after, dtype=np.int64) - first, 0), columns - 1)
    return np.asarray(table.ravel()[index + columns * np.arange(len(table))[:, None]])


def _trailing_mean(values: FloatArray, span: int) -> FloatArray:
    """Mean of the last `span` days, of as many as there are at the start. (traces, days)"""
    run = np.cumsum(values, axis=1)
    mean = run / np.minimum(np.arange(1, values.shape[1] + 1), span)
    mean[:, span:] = (run[:, span:] - run[:, :-span]) / span
    return mean
