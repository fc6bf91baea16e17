"""Hours for the disease rules: observed and forecast ones where they are kept, made from days where they are not.

What is made is rough and is said to be: temperatures by a curve between the day's low and high, humidity from a dew
point at the night's low or a little below it, a day's rain as a shower at dawn.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

import numpy as np
from numpy.typing import NDArray

from kailyard.science.checks import FloatArray, InputError
from kailyard.science.disease_days import DiseaseHours
from kailyard.science.hourly_temperature import hours_of_days_c
from kailyard.science.humidity import saturation_vapour_pressure_kpa
from kailyard.science.sun import day_length_h
from kailyard.season.draws import normal_point, strata
from kailyard.weather.ensemble import Ensemble
from kailyard.weather.known_hours import FORECAST, OBSERVED, UNKNOWN

WET_PCT, WET_SPREAD_PCT = 90.0, 3.0
"""Leaves count as wet from this humidity on; possible seasons differ by so much either way, as published limits do."""
DEW_BELOW_C = 2.0
"""The dew point lies at the night's low (FAO-56) or up to so much below; possible seasons differ by as much. [°C]"""
SHOWER_H = 5
"""A day's rain without hours begins at this hour, so that it prolongs the wet night."""
MM_AN_HOUR, LONGEST_SHOWER_H = 5.0, 12
"""Each 5 mm wets one hour, 12 at most: an open library's rule (R. Hijmans)."""
FORECAST_C, FORECAST_C_A_DAY = 0.8, 0.3
"""How far an hourly forecast of temperature is off, at once and for each day ahead. [°C]"""
FORECAST_PCT, FORECAST_PCT_A_DAY = 5.0, 1.0
"""The same of its humidity. [%]"""


@dataclass(frozen=True, slots=True, eq=False)
class KeptHours:
    """Hours of whole days as they are kept, on the clock of the place without summer time; NaN where none is."""

    first: date
    temp_c: FloatArray
    humidity_pct: FloatArray
    rain_mm: FloatArray
    states: NDArray[np.int8]
    """How temperature and humidity of the hour are known, the less sure of the two."""


@dataclass(frozen=True, slots=True, eq=False)
class MadeHours:
    """Hours for every possible season, (traces, days × 24), and how each day is known."""

    first: date
    hours: DiseaseHours
    states: NDArray[np.int8]
    """(days,) the least of its hours: `OBSERVED`, `FORECAST`, or `UNKNOWN` where an hour had to be made."""

    @property
    def days(self) -> int:
        """How many days."""
        return len(self.states)


def made_hours(ensemble: Ensemble, first: date, last: date, *, latitude: float, kept: KeptHours | None) -> MadeHours:
    """The hours from `first` to `last`, both included, on the weather of the possible seasons.

    Raises
    ------
    InputError
        If the span leaves the ensemble, or the sun hardly rises or sets in it.
    """
    at = first.toordinal() - ensemble.first.toordinal()
    count = last.toordinal() - first.toordinal() + 1
    if at < 0 or count < 1 or at + count > ensemble.tmin_c.shape[1]:
        raise InputError(f"Hours from {first} to {last} are not among the possible seasons.")
    span = slice(at, at + count)
    low, high, rain = ensemble.tmin_c[:, span], ensemble.tmax_c[:, span], ensemble.rain_mm[:, span]
    dates = [date.fromordinal(first.toordinal() + i) for i in range(count)]
    doy = np.array([float(d.timetuple().tm_yday) for d in dates])
    temp = hours_of_days_c(low, np.maximum(low, high), latitude_deg=latitude, day_of_year=doy)
    dew = np.repeat(low - DEW_BELOW_C * strata(ensemble.traces, "risk/dew")[:, None], 24, axis=-1)
    humid = np.minimum(100 * saturation_vapour_pressure_kpa(dew) / saturation_vapour_pressure_kpa(temp), 100.0)
    wet_rain = _showers(rain)
    states = np.zeros(count * 24, dtype=np.int8)
    if kept is not None:
        states = _lay_over(kept, first, ensemble, temp, humid, wet_rain)
    limit = WET_PCT + WET_SPREAD_PCT * (2 * strata(ensemble.traces, "risk/wet") - 1)[:, None]
    wet = np.asarray((humid >= limit) | (wet_rain > 0), dtype=np.float64)
    half = np.repeat(day_length_h(latitude, doy), 24) / 2
    clock = np.tile(np.arange(24) + 0.5, count)
    light = np.array(np.broadcast_to(1.0 * (np.abs(clock - 12) <= half), temp.shape), dtype=np.float64)
    hours = DiseaseHours(temp, humid, wet_rain, wet, light)
    return MadeHours(first, hours, states.reshape(count, 24).min(axis=1))


def _showers(rain_mm: FloatArray) -> FloatArray:
    """Each day's rain as one shower from dawn on. (traces, days × 24)"""
    lasts = np.minimum(np.ceil(rain_mm / MM_AN_HOUR), LONGEST_SHOWER_H)
    clock = np.arange(24)
    falls = (clock >= SHOWER_H) & (clock < SHOWER_H + lasts[..., None])
    amount = falls * (rain_mm / np.maximum(lasts, 1))[..., None]
    return np.asarray(amount.reshape(*rain_mm.shape[:-1], -1))


def _lay_over(
    kept: KeptHours, first: date, ensemble: Ensemble, temp: FloatArray, humid: FloatArray, rain: FloatArray
) -> NDArray[np.int8]:
    """Write kept hours over the made ones; forecast hours are off by more, the farther ahead they lie."""
    length = temp.shape[-1]
    states = np.zeros(length, dtype=np.int8)
    shift = 24 * (kept.first.toordinal() - first.toordinal())
    lo, hi = max(0, shift), min(length, shift + len(kept.temp_c))
    if lo >= hi:
        return states
    here, there = slice(lo, hi), slice(lo - shift, hi - shift)
    known = kept.states[there].copy()
    known[np.isnan(kept.temp_c[there]) | np.isnan(kept.humidity_pct[there]) | (known < FORECAST)] = UNKNOWN
    states[here] = known
    ahead = np.maximum((np.arange(lo, hi) // 24) - (ensemble.today.toordinal() - first.toordinal()), 0)
    off = np.where(known == OBSERVED, 0.0, 1.0)
    warm = normal_point(strata(ensemble.traces, "risk/warm"))[:, None]
    damp = normal_point(strata(ensemble.traces, "risk/damp"))[:, None]
    laid = kept.temp_c[there] + off * warm * (FORECAST_C + FORECAST_C_A_DAY * ahead)
    moist = np.clip(kept.humidity_pct[there] + off * damp * (FORECAST_PCT + FORECAST_PCT_A_DAY * ahead), 1.0, 100.0)
    use = known >= FORECAST
    temp[:, here] = np.where(use, laid, temp[:, here])
    humid[:, here] = np.where(use, moist, humid[:, here])
    fallen = kept.rain_mm[there]
    rain[:, here] = np.where(use & ~np.isnan(fallen), np.nan_to_num(fallen), rain[:, here])
    return states
