"""Asking a whole record every rule of `rules`: bad days are set aside, doubtful ones asked about."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from functools import cached_property
from types import ModuleType

import numpy as np
from numpy.typing import NDArray

from kailyard.discover import modules
from kailyard.weather.days import SLOTS, year_month_slot
from kailyard.weather.judge import WORDS
from kailyard.weather.record import ELEMENTS, DailyRecord, FloatArray, SetAside, read_only

_RULES = "kailyard.weather.rules"
_NORMAL = 1.4826
"""Times the median absolute deviation is the standard deviation, where values are normal."""
_MIDDLES = (np.array([0, 31, 60, 91, 121, 152, 182, 213, 244, 274, 305, 335]) + 15.25) / SLOTS


@dataclass(frozen=True, slots=True)
class Found:
    """Days in a row on which a rule found something."""

    at: int
    """Index of the first."""
    days: int
    elements: tuple[str, ...]
    """'tmin', 'tmax', 'rain': which of them."""
    sure: bool
    """True: set aside. False: asked about."""
    says: str
    """What is wrong, in words."""


@dataclass(frozen=True, slots=True)
class Doubt:
    """Days that a rule is not sure of: kept, used, and asked about."""

    first: date
    last: date
    what: str
    """Which elements, and what is odd about them, in words."""
    rule: str

    def __str__(self) -> str:
        return f"Please look at {self.first}: {self.what} ({self.rule})."


class Days:
    """A record as the rules look at it, and its neighbour's values on the same days (NaN where there are none).

    `called`: how the neighbour is named in what a rule says.
    """

    def __init__(
        self, record: DailyRecord, neighbour: DailyRecord | None = None, called: str = "the neighbour"
    ) -> None:
        self.first = record.first
        self.called = called
        self.tmin_c, self.tmax_c, self.rain_mm = record.tmin_c, record.tmax_c, record.rain_mm
        ordinals = record.first.toordinal() + np.arange(len(record))
        self.years, self.months, self.slots = year_month_slot(ordinals)
        beside = [np.full(len(record), np.nan) for _ in ELEMENTS]
        if neighbour is not None:
            shift = (neighbour.first - record.first).days
            lo, hi = max(0, shift), min(len(record), shift + len(neighbour))
            theirs = (neighbour.tmin_c, neighbour.tmax_c, neighbour.rain_mm)
            for mine, values in zip(beside, theirs, strict=True):
                if lo < hi:
                    mine[lo:hi] = values[lo - shift : hi - shift]
        self.beside_tmin_c, self.beside_tmax_c, self.beside_rain_mm = beside

    def __len__(self) -> int:
        return len(self.tmin_c)

    def temperatures(self) -> tuple[tuple[str, FloatArray], ...]:
        """Both temperatures by name."""
        return ("tmin", self.tmin_c), ("tmax", self.tmax_c)

    def day(self, at: int) -> date:
        """The day at an index."""
        return date.fromordinal(self.first.toordinal() + at)

    @cached_property
    def usual_c(self) -> dict[str, FloatArray]:
        """Usual minimum and maximum of each day: the median over the years of each month's median. (days,) each.

        Medians, so that a faulty stretch, or a faulty year in three, does not move it.
        """
        return {name: self._by_month(self._month_medians(values)) for name, values in self.temperatures()}

    @cached_property
    def spread_c(self) -> dict[str, FloatArray]:
        """Robust standard deviation of a day's departure from the usual. (days,) each."""
        out = {}
        for name, values in self.temperatures():
            away = np.abs(values - self.usual_c[name])
            out[name] = np.maximum(self._by_month(_NORMAL * self.monthly_median(away)), 0.5)
        return out

    def _month_medians(self, values: FloatArray) -> FloatArray:
        month = self.years * 12 + self.months
        starts = np.flatnonzero(np.diff(month, prepend=month[0] - 1))
        parts = np.split(values, starts[1:])
        medians = np.array([_median(p, least=10) for p in parts])
        of_month = self.months[starts]
        return np.array([_median(medians[of_month == m]) for m in range(12)])

    def monthly_median(self, values: FloatArray) -> FloatArray:
        """Median of the values of each calendar month and its two neighbours. (12,), NaN where there is none."""
        near = [np.isin(self.months, [(m - 1) % 12, m, (m + 1) % 12]) for m in range(12)]
        return np.array([_median(values[n]) for n in near])

    def by_month(self, monthly: FloatArray) -> FloatArray:
        """Twelve values drawn straight from the middle of one month to the next, for each day."""
        return self._by_month(monthly)

    def _by_month(self, monthly: FloatArray) -> FloatArray:
        there = ~np.isnan(monthly)
        if not there.any():
            return np.full(len(self), np.nan)
        course = np.interp((np.arange(SLOTS) + 0.5) / SLOTS, _MIDDLES[there], monthly[there], period=1.0)
        return np.asarray(course[self.slots])


def rules() -> tuple[ModuleType, ...]:
    """All rules, in order of file name."""
    return modules(_RULES)


def set_bad_aside(record: DailyRecord, *, file: str = "") -> DailyRecord:
    """The record without the values that a rule is sure of; each is named in `set_aside`.

    Asked again of what remains, until a rule finds no more (three times at most): a great fault can hide a small one.
    """
    for _ in range(3):
        found = [(rule, each) for rule, each in _asked(Days(record)) if each.sure]
        if not found:
            break
        columns = {name: np.array(values) for name, values in _columns(record)}
        aside = []
        for rule, each in found:
            part = slice(each.at, each.at + each.days)
            for name in each.elements:
                columns[name][part] = np.nan
            aside.append(_line(record, rule, each, file))
        low, high, rain = (read_only(columns[name]) for name in ELEMENTS)
        record = replace(record, tmin_c=low, tmax_c=high, rain_mm=rain, set_aside=(*record.set_aside, *aside))
    return record


def doubts(
    record: DailyRecord,
    neighbour: DailyRecord | None = None,
    *,
    called: str = "the neighbour",
    only: Collection[str] = (),
    sure_too: bool = False,
) -> tuple[Doubt, ...]:
    """What a rule is not sure of, in order of day: kept and used, for the gardener to look at.

    With a neighbour, named as `called`, the rules that compare two stations are asked too; `only`: no other rules than
    these, by NAME. `sure_too`: also what a rule is sure of, in a record that was kept before the rule was there.
    """
    found = [
        Doubt(
            record.first + timedelta(days=each.at),
            record.first + timedelta(days=each.at + each.days - 1),
            _says(each),
            rule.NAME,
        )
        for rule, each in _asked(Days(record, neighbour, called))
        if (sure_too or not each.sure) and (not only or rule.NAME in only)
    ]
    return tuple(sorted(found, key=lambda d: (d.first, d.rule)))


def asked_about(found: Sequence[Doubt]) -> tuple[str, ...]:
    """Doubts as questions, one a stretch of days."""
    return tuple(map(str, found))


def _asked(days: Days) -> list[tuple[ModuleType, Found]]:
    neighbour = bool((~np.isnan([days.beside_tmin_c, days.beside_tmax_c, days.beside_rain_mm])).any())
    return [(rule, each) for rule in rules() if neighbour or not rule.NEEDS_NEIGHBOUR for each in rule.finds(days)]


def _columns(record: DailyRecord) -> tuple[tuple[str, FloatArray], ...]:
    return tuple(zip(ELEMENTS, (record.tmin_c, record.tmax_c, record.rain_mm), strict=True))


def _line(record: DailyRecord, rule: ModuleType, each: Found, file: str) -> SetAside:
    return SetAside(0, record.first + timedelta(days=each.at), _says(each), rule.NAME, file)


def _says(each: Found) -> str:
    many = f" ({each.days} days)" if each.days > 1 else ""
    return f"{' and '.join(WORDS[e] for e in each.elements)}{many}: {each.says}"


def _median(values: FloatArray, least: int = 1) -> float:
    there = np.sort(values)  # NaN comes last
    n = len(there) - int(np.count_nonzero(np.isnan(there)))
    return float(there[(n - 1) // 2] + there[n // 2]) / 2 if n >= least else float("nan")


def stretches(mask: NDArray[np.bool_]) -> list[tuple[int, int]]:
    """First index and length of each run of True."""
    edges = np.flatnonzero(np.diff(mask.astype(np.int8), prepend=0, append=0)).reshape(-1, 2)
    return [(start, end - start) for start, end in edges.tolist()]


def equal_runs(values: FloatArray) -> list[tuple[int, int]]:
    """First index and length of each run of two or more equal values in a row."""
    return [(start, length + 1) for start, length in stretches(np.diff(values) == 0)]
