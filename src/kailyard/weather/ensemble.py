"""This season's weather as far as it is known, then forecast days, then runs of past years: the possible seasons."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

import numpy as np
from numpy.typing import NDArray

from kailyard.errors import DataError, KailyardError
from kailyard.weather.days import year_month_slot
from kailyard.weather.forecast import (
    STATED,
    Belief,
    ForecastDay,
    blended,
    latest_by_day,
    takes_forecast_rain,
)
from kailyard.weather.record import DailyRecord, FloatArray, IntArray, read_only
from kailyard.weather.runs import MOST_MISSING, Runs, fill_gaps, fill_rain, past_runs
from kailyard.weather.short import Fit, lengthened
from kailyard.weather.trend import Trend, month_means, month_slopes, slope_by_slot, smooth_by_slot

__all__ = [
    "FEWEST_YEARS",
    "HORIZON_DAYS",
    "YEARS_FOR_FINE_ODDS",
    "Ensemble",
    "ForecastDay",
    "TooFewYears",
    "Trend",
    "build_ensemble",
]

HORIZON_DAYS = 550
"""Length of each run from today: it crosses a year's end and the whole of the next season."""
FEWEST_YEARS = 5
"""Under this many usable years no odds are given."""
YEARS_FOR_FINE_ODDS = 20
"""Under this many, possible seasons are put together from parts of several years, and the reader is told."""


class TooFewYears(KailyardError):
    """The weather record does not bear odds."""

    exit_code = 3


@dataclass(frozen=True, slots=True, eq=False)
class Ensemble:
    """Possible seasons of one place. All arrays are (traces, days) float64, read-only, no NaN.

    The columns before `today` are observed and alike in every trace; day `j` is `first + j`. `today` itself is not
    yet observed: it is column `today_index`. The same trace is the same weather for every planting and bed.
    """

    first: date
    today_index: int
    tmin_c: FloatArray
    tmax_c: FloatArray
    rain_mm: FloatArray
    years: tuple[int, ...]
    """The past year from which each trace goes on today, one a trace."""
    forecast_days: int
    """Days from today that a forecast reaches; 0 without one."""
    filled: NDArray[np.bool_]
    """(days,) True where an observed day was missing and the mean of the possible seasons stands in."""
    trend: Trend
    usual_tmin_c: FloatArray
    usual_tmax_c: FloatArray
    """(days,) smooth mean climate of each day, today's climate."""
    source: str
    notes: tuple[str, ...] = ()
    """Doubtful input in words: years left out and why, gaps filled."""
    fit: Fit | None = None
    """From under `YEARS_FOR_FINE_ODDS` years: how the spread that was made stands to the spread between the years."""

    @property
    def today(self) -> date:
        """The day of the sheet."""
        return date.fromordinal(self.first.toordinal() + self.today_index)

    @property
    def traces(self) -> int:
        """Number of possible seasons."""
        return len(self.years)

    @property
    def tmean_c(self) -> FloatArray:
        """Half of minimum plus maximum. (traces, days) [°C]"""
        return (self.tmin_c + self.tmax_c) / 2


def build_ensemble(
    record: DailyRecord,
    *,
    today: date,
    start: date,
    forecast: tuple[ForecastDay, ...] = (),
    beliefs: Mapping[str, Belief] | None = None,
    use_trend: bool = True,
    most_traces: int = 40,
    horizon_days: int = HORIZON_DAYS,
) -> Ensemble:
    """The possible seasons on `today` from what was known then.

    Observed days run from `start` to the day before `today`; then come forecast days drawn towards climate as their
    skill falls with lead; then runs of past years, each the days that followed the same calendar day. Nothing of
    `record` on or after `today`, and no forecast issued after it, has any part in the result.

    Temperatures of past years are brought to today's climate by the trend of their months, shrunk; rain is left as it
    was. What stands in for missing days is told in `notes`.

    Parameters
    ----------
    record : DailyRecord
        The station's record; days on or after `today` are not looked at.
    today : date
        The day of the sheet, first one not observed.
    start : date
        First observed day that is wanted, not after `today`.
    forecast : tuple of ForecastDay
        Issued forecasts; for each day the latest one issued by `today` counts.
    beliefs : mapping
        How far forecasts are believed, by source, where their error has been learnt; else as stated.
    use_trend : bool
        False leaves the past as it was. The trend is reckoned and shown all the same.
    most_traces : int
        The most recent usable years are taken, this many at most.
    horizon_days : int
        Length of each run. [days, 1 or more]

    Raises
    ------
    TooFewYears
        Under five usable years: no odds are given.
    DataError
        If `start` lies after `today`.
    """
    if start > today:
        raise DataError(
            f"Weather is asked from {start.isoformat()}, after {today.isoformat()}. Begin on an earlier day."
        )
    if horizon_days < 1 or most_traces < FEWEST_YEARS:
        raise ValueError(f"horizon_days must be 1 or more and most_traces {FEWEST_YEARS} or more")
    known = max(0, min(len(record), today.toordinal() - record.first.toordinal()))
    past = [a[:known] for a in (record.tmin_c, record.tmax_c, record.rain_mm)]
    base = record.first.toordinal()
    runs = past_runs(past[0], past[1], first=record.first, today=today, length=horizon_days, most=most_traces)
    if len(runs.years) < FEWEST_YEARS:
        raise TooFewYears(_too_few(runs, record, known, today, horizon_days))

    from_day = runs.starts[-1]
    years, months, slots = year_month_slot(base + np.arange(from_day, known))
    used = [a[from_day:] for a in past]
    slopes = [month_slopes(*month_means(a, years, months)) for a in used[:2]]
    trend = Trend(
        tmin_c_year=read_only(slopes[0][1]),
        tmax_c_year=read_only(slopes[1][1]),
        tmin_raw=read_only(slopes[0][0]),
        tmax_raw=read_only(slopes[1][0]),
        applied=use_trend,
    )
    by_slot = [slope_by_slot(s) * use_trend for s in (trend.tmin_c_year, trend.tmax_c_year)]
    usual = [smooth_by_slot(a + b[slots] * (today.year - years), slots) for a, b in zip(used, by_slot, strict=False)]
    usual.append(np.maximum(np.nan_to_num(smooth_by_slot(used[2], slots)), 0.0))

    observed = today.toordinal() - start.toordinal()
    _, _, wanted_slots = year_month_slot(start.toordinal() + np.arange(observed + horizon_days))
    usual_days = [u[wanted_slots] for u in usual]
    ahead = _ahead(runs, used, slots, from_day, by_slot)
    from_years, fit = runs.years, None
    if len(runs.years) < min(YEARS_FOR_FINE_ODDS, most_traces):
        ahead, rows, fit = lengthened(ahead, most_traces, first=today.toordinal())
        from_years = tuple(runs.years[row] for row in rows)
    told = latest_by_day(forecast, today)
    _lay_forecast(ahead, [u[observed:] for u in usual_days], told, today, beliefs or {})
    seen, filled, rain_filled = _observed(past, base, start, observed, usual_days)

    columns = [np.hstack([np.tile(s, (len(a), 1)), a]) for s, a in zip(seen, ahead, strict=True)]
    low, high = np.minimum(columns[0], columns[1]), np.maximum(columns[0], columns[1])
    marks = np.concatenate([filled, np.zeros(horizon_days, dtype=np.bool_)])
    marks.setflags(write=False)
    return Ensemble(
        first=start,
        today_index=observed,
        tmin_c=read_only(low),
        tmax_c=read_only(high),
        rain_mm=read_only(columns[2]),
        years=from_years,
        forecast_days=(told[-1].day - today).days + 1 if told else 0,
        filled=marks,
        trend=trend,
        usual_tmin_c=read_only(usual_days[0]),
        usual_tmax_c=read_only(usual_days[1]),
        source=record.source,
        notes=_notes(
            runs,
            filled,
            rain_filled,
            behind=today.toordinal() - (base + known - 1),
            rain_known=bool(np.any(~np.isnan(used[2]))),
            trend=trend,
            fit=fit,
        ),
        fit=fit,
    )


def _ahead(
    runs: Runs,
    used: list[FloatArray],
    slots: IntArray,
    from_day: int,
    by_slot: list[FloatArray],
) -> list[FloatArray]:
    """Runs of past years brought to today's climate: tmin, tmax, rain. (traces, horizon) each."""
    at = runs.index - from_day
    out = [fill_gaps(a, slots)[at] + b[slots[at]] * runs.ago for a, b in zip(used[:2], by_slot, strict=True)]
    out.append(fill_rain(used[2][at]))
    return out


def _lay_forecast(
    ahead: list[FloatArray],
    usual: list[FloatArray],
    told: tuple[ForecastDay, ...],
    today: date,
    beliefs: Mapping[str, Belief],
) -> None:
    """Write the forecast days into the runs."""
    told = tuple(f for f in told if (f.day - today).days < ahead[0].shape[1])
    if not told:
        return
    at = np.array([(f.day - today).days for f in told])
    believed = [beliefs.get(f.source, STATED) for f in told]
    for q, said in enumerate(([f.tmin_c for f in told], [f.tmax_c for f in told])):
        bias, skill, left = (
            np.array([getattr(b, name)[q, f.lead - 1] for b, f in zip(believed, told, strict=True)])
            for name in ("bias_c", "skill", "left")
        )
        ahead[q][:, at] = blended(np.array(said) - bias, skill, usual[q][at], ahead[q][:, at], left)
    for j, each, belief in zip(at.tolist(), told, believed, strict=True):
        if not np.isnan(each.rain_mm):
            ahead[2][takes_forecast_rain(belief.takes_rain(each), len(ahead[2])), j] = each.rain_mm


def _observed(
    past: list[FloatArray], base: int, start: date, observed: int, usual: list[FloatArray]
) -> tuple[list[FloatArray], NDArray[np.bool_], int]:
    """Observed columns with usual weather where a day is missing, which days that are, and days without rain."""
    days = []
    for values in past:
        column = np.full(observed, np.nan)
        at = base - start.toordinal()
        lo, hi = max(0, at), min(observed, at + len(values))
        if lo < hi:
            column[lo:hi] = values[lo - at : hi - at]
        days.append(column)
    low, high, rain = (np.where(np.isnan(c), u[:observed], c) for c, u in zip(days, usual, strict=True))
    no_low, no_high, no_rain = (np.isnan(c) for c in days)
    # Where only one of the two is known, the usual other must not turn the day upside down.
    low = np.where(no_low & ~no_high, np.minimum(low, high), low)
    high = np.where(no_high & ~no_low, np.maximum(low, high), high)
    return [low, high, rain], no_low | no_high, int(np.count_nonzero(no_rain))


def _too_few(runs: Runs, record: DailyRecord, known: int, today: date, horizon_days: int) -> str:
    n = len(runs.years)
    last = date.fromordinal(record.first.toordinal() + known - 1).isoformat() if known else "no day"
    left = f"; {_left_out(runs)}" if runs.left_out else ""
    return (
        f"{n} usable year{_s(n)} of weather before {today.isoformat()}, {FEWEST_YEARS} are needed: no odds are given. "
        f"A year is usable when the {horizon_days} days from {today.day} {today:%B} on are in the record "
        f"({record.first.isoformat()} to {last}){left}. Import a longer record, or add that of a station near by."
    )


def _left_out(runs: Runs) -> str:
    years = ", ".join(f"{y} ({missing} days)" for y, missing in runs.left_out)
    return f"left out for more than {MOST_MISSING:.0%} of days missing: {years}"


def _s(n: int) -> str:
    return "" if n == 1 else "s"


def _notes(
    runs: Runs,
    filled: NDArray[np.bool_],
    rain_filled: int,
    *,
    behind: int,
    rain_known: bool,
    trend: Trend,
    fit: Fit | None,
) -> tuple[str, ...]:
    """What of the input is doubtful, in words. `behind`: days before today that the record ends, 1 being up to date."""
    notes = []
    if fit is not None:
        notes.append(f"Only {fit.years} years of weather are usable: weather rarer than theirs is missed. {fit}")
    if runs.left_out:
        notes.append(f"Years {_left_out(runs)}.")
    if runs.days_filled:
        notes.append(
            f"{runs.days_filled} missing day{_s(runs.days_filled)} within the years used: filled from the days around."
        )
    if missing := int(np.count_nonzero(filled)):
        notes.append(f"{missing} observed day{_s(missing)} missing: usual weather stands in.")
    if len(filled) and behind > 1:
        notes.append(f"The weather record ends {behind} days before the day of the sheet. Import the days since.")
    if not rain_known:
        notes.append("The record has no rain: 0 mm stands for every day. Do not go by its rain.")
    elif rain_filled:
        notes.append(f"Rain missing on {rain_filled} observed day{_s(rain_filled)}: usual rain stands in.")
    if trend.applied and (np.any(trend.tmin_c_year) or np.any(trend.tmax_c_year)):
        notes.append("Temperatures of past years are brought to today's climate; their rain is left as it was.")
    return tuple(notes)
