"""How right forecasts have been here: their error learnt by source and lead, once they have been met by what came."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date

import numpy as np

from kailyard.weather.days import year_month_slot
from kailyard.weather.forecast import SKILL_BY_LEAD, STATED, WET_MM, Belief, ForecastDay
from kailyard.weather.record import DailyRecord, FloatArray, IntArray, read_only
from kailyard.weather.trend import smooth_by_slot

FEWEST_MET = 10
"""Under so many forecasts of a lead that were met, what is stated stands (ours)."""
PRIOR_MET = 20.0
"""What is stated weighs as much as this many met forecasts (ours)."""
LEAST_SPREAD_C = 0.5
"""Climate's spread is taken to be no smaller, so that no departure grows beyond measure (ours). [°C]"""
MOST_DAYS = 40 * 366
"""So much of the record, the latest, says what is usual: as much as makes the possible seasons."""
LEADS = len(SKILL_BY_LEAD)


@dataclass(frozen=True, slots=True, eq=False)
class Learnt:
    """What is believed of one source, and what it rests on. Arrays run over lead, of temperatures (2, leads)."""

    source: str
    belief: Belief
    met: FloatArray
    """How many forecasts of lowest and highest were met by a day on record."""
    off_c: FloatArray
    """Mean of forecast less what came, as it was; NaN without any. [°C]"""
    miss_c: FloatArray
    """Root mean square of what remains when that is taken off; NaN without any. [°C]"""
    rain: FloatArray
    """(4, leads) days: said wet and was, said wet and was not, said dry and was not, said dry and was wet."""

    def learning(self, quantity: int, lead: int) -> bool:
        """Whether a lead's own error counts yet. `quantity`: 0 lowest, 1 highest."""
        return bool(self.met[quantity, lead - 1] >= FEWEST_MET)


def learn(forecast: Iterable[ForecastDay], record: DailyRecord, *, today: date) -> Mapping[str, Learnt]:
    """What the forecasts issued so far have shown of themselves, by source.

    A forecast is met where its day lies before `today` and on record. For each lead the bias is the mean of forecast
    less what came, drawn towards none; with it taken off, the departure that came is regressed on the one forecast,
    both in units of climate's spread on that day, and slope and remaining variance are drawn towards what is stated.
    What is stated weighs as much as `PRIOR_MET` met forecasts. The errors of following days are alike; that they are
    fewer witnesses than they seem is not allowed for.

    Parameters
    ----------
    forecast : iterable of ForecastDay
        As issued, every one of them.
    record : DailyRecord
        The station's; days on or after `today` are not looked at.
    """
    known = max(0, min(len(record), today.toordinal() - record.first.toordinal()))
    skip = max(0, known - MOST_DAYS)
    base = record.first.toordinal() + skip
    known -= skip
    by_source: dict[str, list[ForecastDay]] = {}
    # Of several issues of one day the last counts, as it does for the possible seasons.
    for each in {(f.source, f.issued, f.day): f for f in forecast}.values():
        if 0 <= each.day.toordinal() - base < known and each.lead <= LEADS:
            by_source.setdefault(each.source, []).append(each)
    if not any(len(days) >= FEWEST_MET for days in by_source.values()):
        return {}
    _, _, slots = year_month_slot(base + np.arange(known))
    *came, rain_mm = (a[skip:][:known] for a in (record.tmin_c, record.tmax_c, record.rain_mm))
    usual = [smooth_by_slot(a, slots)[slots] for a in came]
    spread = [_spread(a, u, slots)[slots] for a, u in zip(came, usual, strict=True)]
    return {
        source: _of_source(source, days, base, came, usual, spread, rain_mm)
        for source, days in sorted(by_source.items())
        if len(days) >= FEWEST_MET
    }


def spread_ahead_c(record: DailyRecord, today: date) -> FloatArray:
    """Climate's spread of lowest and highest on the day of each lead: what an unskilled forecast leaves open.

    (2, leads) [°C]; NaN where the record has less than a year before `today`.
    """
    known = max(0, min(len(record), today.toordinal() - record.first.toordinal()))
    skip = max(0, known - MOST_DAYS)
    if known < 365:
        return np.full((2, LEADS), np.nan)
    base = record.first.toordinal() + skip
    _, _, slots = year_month_slot(base + np.arange(known - skip))
    _, _, ahead = year_month_slot(today.toordinal() + np.arange(1, LEADS + 1))
    came = (record.tmin_c[skip:known], record.tmax_c[skip:known])
    return np.stack([_spread(a, smooth_by_slot(a, slots)[slots], slots)[ahead] for a in came])


def _spread(came: FloatArray, usual: FloatArray, slots: IntArray) -> FloatArray:
    """Standard deviation about the usual, by slot. (366,)"""
    return np.sqrt(np.maximum(smooth_by_slot((came - usual) ** 2, slots), LEAST_SPREAD_C**2))


def _of_source(
    source: str,
    days: list[ForecastDay],
    base: int,
    came: list[FloatArray],
    usual: list[FloatArray],
    spread: list[FloatArray],
    rain_mm: FloatArray,
) -> Learnt:
    at = np.array([f.day.toordinal() - base for f in days])
    lead = np.array([f.lead for f in days])
    bias, skill, left = STATED.bias_c.copy(), STATED.skill.copy(), STATED.left.copy()
    met = np.zeros((2, LEADS))
    off, miss = np.full((2, LEADS), np.nan), np.full((2, LEADS), np.nan)
    for q, said in enumerate((np.array([f.tmin_c for f in days]), np.array([f.tmax_c for f in days]))):
        error = said - came[q][at]
        for n in range(LEADS):
            use = (lead == n + 1) & ~np.isnan(error)
            count = int(np.count_nonzero(use))
            met[q, n] = count
            if not count:
                continue
            off[q, n] = float(np.mean(error[use]))
            miss[q, n] = float(np.sqrt(np.mean((error[use] - off[q, n]) ** 2)))
            if count < FEWEST_MET:
                continue
            bias[q, n] = off[q, n] * count / (count + PRIOR_MET)
            i = at[use]
            x = (said[use] - bias[q, n] - usual[q][i]) / spread[q][i]
            y = (came[q][i] - usual[q][i]) / spread[q][i]
            stated = SKILL_BY_LEAD[n]
            skill[q, n] = np.clip((PRIOR_MET * stated + np.sum(x * y)) / (PRIOR_MET + np.sum(x * x)), 0.0, 1.2)
            rest = (PRIOR_MET * (1 - stated**2) + np.sum((y - skill[q, n] * x) ** 2)) / (PRIOR_MET + count)
            left[q, n] = min(1.0, float(np.sqrt(rest)))
    rain, wet, dry = _rain(np.array([f.rain_mm for f in days]), rain_mm[at], lead, rain_mm)
    belief = Belief(read_only(bias), read_only(skill), read_only(left), read_only(wet), read_only(dry))
    return Learnt(source, belief, read_only(met), read_only(off), read_only(miss), read_only(rain))


def _rain(
    said_mm: FloatArray, came_mm: FloatArray, lead: np.ndarray, record_mm: FloatArray
) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Counts by lead, and the shares of seasons that take the forecast where it says wet and where it says dry.

    A share `s` of seasons taking it and the rest keeping climate's rain, wet with chance `c`, makes the chance of rain
    `s + (1 - s) c` where it was said and `(1 - s) c` where it was not; so `s` follows from the chances counted.
    """
    wet_share, dry_share = STATED.said_wet.copy(), STATED.said_dry.copy()
    counts = np.zeros((4, LEADS))
    known = ~np.isnan(record_mm)
    if not known.any():
        return counts, wet_share, dry_share
    usual = float(np.clip(np.mean(record_mm[known] >= WET_MM), 0.01, 0.99))
    there = ~np.isnan(said_mm) & ~np.isnan(came_mm)
    said, came = said_mm >= WET_MM, came_mm >= WET_MM
    for n in range(LEADS):
        use = there & (lead == n + 1)
        counts[:, n] = [
            np.count_nonzero(use & a & b) for a, b in ((said, came), (said, ~came), (~said, ~came), (~said, came))
        ]
        hit, false, right, missed = counts[:, n]
        if hit + false + right + missed < FEWEST_MET:
            continue
        stated_wet, stated_dry = STATED.said_wet[n], STATED.said_dry[n]
        if_wet = (hit + PRIOR_MET * (stated_wet + (1 - stated_wet) * usual)) / (hit + false + PRIOR_MET)
        if_dry = (missed + PRIOR_MET * (1 - stated_dry) * usual) / (right + missed + PRIOR_MET)
        wet_share[n] = np.clip((if_wet - usual) / (1 - usual), 0.0, 1.0)
        dry_share[n] = np.clip(1 - if_dry / usual, 0.0, 1.0)
    return counts, wet_share, dry_share
