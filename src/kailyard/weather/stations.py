"""Two stations made into one record: one continuing and filling the other, or both averaged."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date

import numpy as np
from numpy.typing import NDArray

from kailyard.errors import DataError
from kailyard.weather.days import year_month_slot
from kailyard.weather.judge import MINIMUM_ABOVE_MAXIMUM, WORDS
from kailyard.weather.judging import stretches
from kailyard.weather.record import ELEMENTS, DailyRecord, FloatArray, IntArray, SetAside, read_only

FROM_THE_NEIGHBOUR = "missing here: from the neighbour"
"""The mark of days that another station's values fill."""
HOW_IT_DIFFERS = "how the neighbour differs"
"""The marks that keep, with a record made of two, by how much they differ."""
MARKS = (FROM_THE_NEIGHBOUR, HOW_IT_DIFFERS)
"""Nothing of these was set aside: they say where a record comes from."""
LEAST_OVERLAP = 120
"""Fewer days with both temperatures at both stations say too little of how they differ (ours). [days]"""
LEAST_IN_MONTH = 20
"""A calendar month with fewer such days takes the mean difference of all (ours)."""
LARGEST_OFFSET_C = 8.0
"""Stations that differ by more on average do not share a garden's weather (ours)."""
LEAST_RAIN_MM = 100.0
"""Rain is scaled only where both stations have had so much of it on days that both report (ours)."""


@dataclass(frozen=True, slots=True, eq=False)
class Joined:
    """The record made, and how the neighbour was fitted to it."""

    record: DailyRecord
    overlap: int
    """Days with both temperatures at both stations."""
    tmin_offset_c: FloatArray
    """(12,) station less neighbour, January first: what is added to the neighbour's minimum. [°C]"""
    tmax_offset_c: FloatArray
    rain_factor: float
    """By which the neighbour's rain is multiplied."""
    left_c: float
    """Standard deviation of what the offset leaves between the two on a day, mean of both temperatures. [°C]"""
    filled: int
    """Days on which anything is the neighbour's."""


def completed(station: DailyRecord, neighbour: DailyRecord) -> Joined:
    """The station's record, continued and filled by the neighbour's, which is shifted by month as the overlap has it.

    What is the neighbour's is named in `set_aside` of the record, under `FROM_THE_NEIGHBOUR`.

    Raises
    ------
    DataError
        If the two overlap on too few days, or differ too much.
    """
    mine, theirs, first = _side_by_side(station, neighbour)
    fit = _fitted(mine, theirs, first)
    moved = [theirs[0] + fit.low[fit.months], theirs[1] + fit.high[fit.months], theirs[2] * fit.factor]
    columns = [np.where(np.isnan(own), other, own) for own, other in zip(mine, moved, strict=True)]
    source = f"{station.source}; missing days from {neighbour.source}"
    return _joined(columns, mine, theirs, first, fit, source, station, neighbour)


def averaged(station: DailyRecord, neighbour: DailyRecord, *, weight: float = 0.5) -> Joined:
    """The weighted mean of the two, `weight` the station's share; a day that only one of them has is that one's.

    A day of one station alone is first shifted by month to where the mean of the two lies, so that no step appears
    where the other falls silent. Rain is averaged too: there are then more, and lesser, wet days than at either.

    Raises
    ------
    DataError
        As `completed`, or if the weight is not above 0 and below 1.
    """
    if not 0 < weight < 1:
        raise DataError(f"A weight of {weight:g} is no share: write one above 0 and below 1, as in 0.5.")
    mine, theirs, first = _side_by_side(station, neighbour)
    fit = _fitted(mine, theirs, first)
    apart = [fit.low[fit.months], fit.high[fit.months]]  # station less neighbour
    alone = [(own - (1 - weight) * d, other + weight * d) for own, other, d in zip(mine, theirs, apart, strict=False)]
    share = weight + (1 - weight) / fit.factor
    alone.append((mine[2] * share, theirs[2] * fit.factor * share))
    columns = []
    for own, other, (only_own, only_other) in zip(mine, theirs, alone, strict=True):
        both = weight * own + (1 - weight) * other
        columns.append(np.where(np.isnan(both), np.where(np.isnan(own), only_other, only_own), both))
    source = f"mean of {station.source} ({weight:.0%}) and {neighbour.source}"
    return _joined(columns, mine, theirs, first, fit, source, station, neighbour)


def from_the_neighbour(record: DailyRecord) -> tuple[SetAside, ...]:
    """The marks of days that are a neighbour's."""
    return tuple(a for a in record.set_aside if a.rule == FROM_THE_NEIGHBOUR)


@dataclass(frozen=True, slots=True)
class Differs:
    """How the neighbour of a kept record differs from the garden's own, as its marks say."""

    low_c: tuple[float, ...]
    """(12,) station less neighbour, January first."""
    high_c: tuple[float, ...]
    rain_factor: float
    left_c: float
    """What remains between the two on one day (standard deviation)."""
    neighbour: str


_MONTH = re.compile(r"month (\d+): low (-?[\d.]+), high (-?[\d.]+)")
_REST = re.compile(r"rain times ([\d.]+); on a day ([\d.]+)")


def differs(record: DailyRecord) -> Differs | None:
    """What the marks of a record made of two say; None where it was not made of two."""
    marks = [a for a in record.set_aside if a.rule == HOW_IT_DIFFERS]
    months = [m for a in marks if (m := _MONTH.fullmatch(a.value))]
    rest = next((m for a in marks if (m := _REST.fullmatch(a.value))), None)
    if len(months) != 12 or rest is None:
        return None
    low, high = (tuple(float(m[k]) for m in months) for k in (2, 3))
    return Differs(low, high, float(rest[1]), float(rest[2]), marks[0].file)


def _differing(fit: _Fit, lender: str) -> list[SetAside]:
    """The marks that `differs` reads."""
    pairs = zip(fit.low.tolist(), fit.high.tolist(), strict=True)
    says = [f"month {m}: low {low:.2f}, high {high:.2f}" for m, (low, high) in enumerate(pairs, 1)]
    says.append(f"rain times {fit.factor:.3f}; on a day {fit.left_c:.2f}")
    return [SetAside(0, None, words, HOW_IT_DIFFERS, lender) for words in says]


def _side_by_side(a: DailyRecord, b: DailyRecord) -> tuple[list[FloatArray], list[FloatArray], date]:
    first = min(a.first, b.first)
    length = (max(a.last, b.last) - first).days + 1
    both = []
    for record in (a, b):
        at = (record.first - first).days
        columns = [np.full(length, np.nan) for _ in ELEMENTS]
        for column, values in zip(columns, (record.tmin_c, record.tmax_c, record.rain_mm), strict=True):
            column[at : at + len(record)] = values
        both.append(columns)
    return both[0], both[1], first


@dataclass(frozen=True, slots=True, eq=False)
class _Fit:
    overlap: int
    months: IntArray
    low: FloatArray
    high: FloatArray
    factor: float
    left_c: float


def _fitted(mine: list[FloatArray], theirs: list[FloatArray], first: date) -> _Fit:
    """How the neighbour differs, from the days that both have."""
    there = ~np.isnan(mine[0] + mine[1] + theirs[0] + theirs[1])
    overlap = int(np.count_nonzero(there))
    if overlap < LEAST_OVERLAP:
        raise DataError(
            f"The two stations share {overlap} days with both temperatures; {LEAST_OVERLAP} are needed to tell how "
            "they differ. Take a neighbour whose record reaches into the station's."
        )
    _, months, _ = year_month_slot(first.toordinal() + np.arange(len(mine[0])))
    offsets = [_by_month(own - other, there, months) for own, other in zip(mine[:2], theirs[:2], strict=True)]
    largest = float(np.abs(offsets).mean())
    if largest > LARGEST_OFFSET_C:
        raise DataError(
            f"The two stations differ by {largest:.1f} °C on average, more than {LARGEST_OFFSET_C:g} °C: their "
            "weather is not one. Check the file and its unit, or take a nearer neighbour."
        )
    left = (mine[0] + mine[1] - theirs[0] - theirs[1] - (offsets[0] + offsets[1])[months])[there] / 2
    wet = ~np.isnan(mine[2] + theirs[2])
    sums = float(mine[2][wet].sum()), float(theirs[2][wet].sum())
    factor = sums[0] / sums[1] if min(sums) >= LEAST_RAIN_MM else 1.0
    return _Fit(overlap, months, read_only(offsets[0]), read_only(offsets[1]), factor, float(left.std()))


def _by_month(apart: FloatArray, there: NDArray[np.bool_], months: IntArray) -> FloatArray:
    """Mean difference of each calendar month; that of all where a month has too few days. (12,)"""
    whole = float(apart[there].mean())
    parts = [apart[there & (months == m)] for m in range(12)]
    return np.array([float(p.mean()) if len(p) >= LEAST_IN_MONTH else whole for p in parts])


def _joined(
    columns: list[FloatArray],
    mine: list[FloatArray],
    theirs: list[FloatArray],
    first: date,
    fit: _Fit,
    source: str,
    station: DailyRecord,
    neighbour: DailyRecord,
) -> Joined:
    """The record with its marks."""
    lender = neighbour.source
    lent = [np.isnan(own) & ~np.isnan(other) for own, other in zip(mine, theirs, strict=True)]
    low, high, rain = columns
    marks = []
    upside = low > high
    for i in np.flatnonzero(upside).tolist():
        says = f"minimum {low[i]:.1f} °C, maximum {high[i]:.1f} °C"
        marks.append(SetAside(0, date.fromordinal(first.toordinal() + i), says, MINIMUM_ABOVE_MAXIMUM, lender))
    low, high = np.where(upside, np.nan, low), np.where(upside, np.nan, high)
    kinds = sum(mask.astype(np.int64) << k for k, mask in enumerate(lent))
    for kind in sorted(set(np.unique(kinds).tolist()) - {0}):
        words = " and ".join(WORDS[e] for k, e in enumerate(ELEMENTS) if kind >> k & 1)
        for at, n in stretches(kinds == kind):
            day = date.fromordinal(first.toordinal() + at)
            marks.append(SetAside(0, day, f"{words}, {n} day{'s' if n > 1 else ''}", FROM_THE_NEIGHBOUR, lender))
    marks.sort(key=lambda m: (m.day or date.min, m.rule))
    before = (a for a in (*station.set_aside, *neighbour.set_aside) if a.rule != HOW_IT_DIFFERS)
    aside = (*before, *marks, *_differing(fit, lender))
    record = DailyRecord(first, read_only(low), read_only(high), read_only(rain), source, set_aside=aside)
    filled = int(np.count_nonzero(kinds))
    return Joined(record, fit.overlap, fit.low, fit.high, fit.factor, fit.left_c, filled)
