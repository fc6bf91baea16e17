"""Forecast days, drawn towards climate as their skill falls with lead."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

import numpy as np
from numpy.typing import NDArray

from kailyard.weather.record import FloatArray

# Correlation of a forecast's departure from climate with the departure that comes, for lead 1 to 10 days. From memory
# of how public daily temperature forecasts of middle latitudes verify; stated, not learnt, until issued forecasts have
# been kept long enough.
SKILL_BY_LEAD = (0.97, 0.95, 0.92, 0.87, 0.80, 0.71, 0.61, 0.50, 0.40, 0.30)

# Of rain or none (a day of 1 mm or more): the chance of rain where it was forecast less that where it was not. From
# memory of how public forecasts of middle latitudes verify; it falls faster than that of temperature. Stated too.
RAIN_SKILL_BY_LEAD = (0.75, 0.70, 0.62, 0.52, 0.42, 0.32, 0.23, 0.16, 0.10, 0.06)
WET_MM = 1.0
"""A day with as much rain is wet (WMO's definition of a wet day, from memory). [mm]"""

_GOLDEN = (math.sqrt(5) - 1) / 2


@dataclass(frozen=True, slots=True)
class ForecastDay:
    """One day of one issued forecast. NaN where it says nothing. [°C, mm]"""

    issued: date
    day: date
    tmin_c: float
    tmax_c: float
    rain_mm: float = float("nan")
    source: str = ""
    """Who issued it; '' where it was typed."""

    @property
    def lead(self) -> int:
        """Days from issue to the day itself; the day of issue counts as 1."""
        return max(1, (self.day - self.issued).days)


def latest_by_day(forecast: Iterable[ForecastDay], today: date) -> tuple[ForecastDay, ...]:
    """The forecast to believe for each day from `today` on: the latest issued by then, if its lead has skill.

    In order of day. Among equals the last handed in wins.
    """
    best: dict[date, ForecastDay] = {}
    for each in forecast:
        if each.issued > today or each.day < max(today, each.issued) or each.lead > len(SKILL_BY_LEAD):
            continue
        if each.day not in best or best[each.day].issued <= each.issued:
            best[each.day] = each
    return tuple(best[d] for d in sorted(best))


@dataclass(frozen=True, slots=True, eq=False)
class Belief:
    """How far forecasts of one source are believed. Arrays run over lead, 1 to 10 days; of temperatures (2, leads)."""

    bias_c: FloatArray
    """Forecast less what came, of lowest and highest."""
    skill: FloatArray
    """Share of the forecast's departure from the usual that is believed."""
    left: FloatArray
    """Spread that remains around it, as a share of climate's own."""
    said_wet: FloatArray
    """Share of the possible seasons that take the forecast's rain where it says 1 mm or more."""
    said_dry: FloatArray
    """The same where it says less."""

    def takes_rain(self, day: ForecastDay) -> float:
        """Share of the possible seasons that take the day's forecast rain."""
        return float((self.said_wet if day.rain_mm >= WET_MM else self.said_dry)[day.lead - 1])


def _stated() -> Belief:
    skill = np.array([SKILL_BY_LEAD] * 2)
    rain = np.array(RAIN_SKILL_BY_LEAD)
    return Belief(np.zeros_like(skill), skill, np.sqrt(1 - skill**2), rain, rain)


STATED = _stated()
"""What is believed of any forecast until its own error has been seen."""


def blended(
    forecast_c: FloatArray,
    skill: FloatArray,
    usual_c: FloatArray,
    runs_c: FloatArray,
    left: FloatArray | None = None,
) -> FloatArray:
    """Temperatures of forecast days in every possible season.

    `usual + skill × (forecast - usual) + √(1 - skill²) × (run - usual)`: a perfect forecast leaves nothing of the run
    of the past year, a worthless one leaves it as it was, and between them the spread is what is left unforeseen.

    Parameters
    ----------
    forecast_c, skill, usual_c : ndarray
        (days,); NaN in `forecast_c` leaves the run as it was.
    runs_c : ndarray
        (traces, days) runs of past years brought to today's climate.
    left : ndarray
        (days,) share of the runs' spread that is left, where it has been learnt; else √(1 - skill²).
    """
    rest = np.sqrt(1 - skill**2) if left is None else left
    drawn = usual_c + skill * (forecast_c - usual_c) + rest * (runs_c - usual_c)
    return np.where(np.isnan(forecast_c), runs_c, drawn)


def takes_forecast_rain(skill: float, traces: int) -> NDArray[np.bool_]:
    """Which of the possible seasons take the forecast's amount of rain: a share `skill`, spread evenly over the years.

    The ones that take it at a low skill also take it at a higher one.
    """
    return np.asarray((np.arange(1, traces + 1) * _GOLDEN) % 1.0 < skill)
