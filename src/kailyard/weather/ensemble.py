"""This season's weather as far as it is known, then forecast days, then runs of past years: the possible seasons."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

import numpy as np
from numpy.typing import NDArray

from kailyard.weather.record import DailyRecord, FloatArray

HORIZON_DAYS = 550
"""Length of each run from today: it crosses a year's end and the whole of the next season."""


@dataclass(frozen=True, slots=True)
class ForecastDay:
    """One day of one issued forecast. NaN where it says nothing. [°C, mm]"""

    issued: date
    day: date
    tmin_c: float
    tmax_c: float
    rain_mm: float = float("nan")


@dataclass(frozen=True, slots=True, eq=False)
class Trend:
    """How the months have moved over the years used, shrunk towards their common mean and towards none.

    `tmin_c_year`, `tmax_c_year`: 12 slopes, January first [°C a year]; `*_raw` before shrinking.
    """

    tmin_c_year: FloatArray
    tmax_c_year: FloatArray
    tmin_raw: FloatArray
    tmax_raw: FloatArray
    applied: bool


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
    """The past year from which each trace goes on, one a trace."""
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
    use_trend: bool = True,
    most_traces: int = 40,
    horizon_days: int = HORIZON_DAYS,
) -> Ensemble:
    """The possible seasons on `today` from what was known then.

    Stub of the contract: to be written by the weather room. Observed days run from `start` to the day before `today`
    (nothing of `record` on or after `today` is used as observation, nor as the source of a trace that would need it);
    then forecast days blended towards climate; then runs of past years brought to today's climate.

    Raises
    ------
    TooFewYears
        Under five usable years: no odds are given.
    """
    raise NotImplementedError
