"""The invented island's weather: forty-one calendar years of days from one seed, the last spring shaped to the story.

Nothing here was observed anywhere. A day is a seasonal mean, a slow warming, spells that last for days and are shared
by minimum and maximum, and a daily span that rain narrows. Only uniform numbers are drawn from the generator, because
their stream is the part that numpy keeps the same from release to release.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, timedelta
from functools import cache
from typing import Final

import numpy as np
from numpy.typing import NDArray

from kailyard.weather.record import DailyRecord, FloatArray

FIRST: Final = date(1986, 1, 1)
LAST: Final = date(2026, 6, 11)
"""The day before the demo's fixed date: what a gardener knows in the morning."""
SEED: Final = 440_417
WARMING_C_DECADE: Final = 0.25
WARMING_CENTRE: Final = 2006.0

# Twelve months, January first.
MEAN_C: Final = (-2.4, -1.4, 2.1, 7.0, 12.2, 17.4, 20.9, 20.0, 14.6, 8.2, 3.0, -0.9)
SPAN_C: Final = (6.4, 7.6, 9.8, 12.4, 13.4, 12.8, 12.4, 12.6, 12.8, 11.4, 8.0, 6.4)
"""Maximum less minimum on a dry day."""
SPELL_SD_C: Final = (3.5, 3.4, 3.2, 3.0, 2.8, 2.4, 2.1, 2.2, 2.6, 2.9, 3.1, 3.4)
WET_AFTER_DRY: Final = (0.26, 0.24, 0.23, 0.21, 0.20, 0.17, 0.14, 0.15, 0.18, 0.22, 0.26, 0.27)
WET_AFTER_WET: Final = 0.46
RAIN_SCALE_MM: Final = (4.3, 4.1, 4.3, 4.6, 5.1, 5.9, 6.4, 6.6, 6.1, 5.6, 5.0, 4.6)

SPELL_KEEPS: Final = 0.74
"""Share of a spell left on the next day."""
SEASON_KEEPS: Final = 0.975
SEASON_SD_C: Final = 0.7
RAIN_SHAPE: Final = 0.85
WET_SPAN: Final = 0.62
"""Span of a wet day as a share of a dry one's."""
CLEAR_NIGHT: Final = 0.2
"""How much deeper the minimum falls, for each degree a dry spell is colder than usual."""

SPRING_2026: Final = (
    (date(2026, 3, 25), 0.0),
    (date(2026, 4, 8), -1.0),
    (date(2026, 4, 19), 0.5),
    (date(2026, 4, 23), 4.6),
    (date(2026, 5, 4), 4.2),
    (date(2026, 5, 10), 4.0),
    (date(2026, 5, 13), -2.4),
    (date(2026, 5, 14), -4.7),
    (date(2026, 5, 15), -5.6),
    (date(2026, 5, 17), -1.5),
    (date(2026, 5, 24), -2.0),
    (date(2026, 5, 29), -1.8),
    (date(2026, 6, 2), 0.6),
    (date(2026, 6, 7), 2.2),
    (date(2026, 6, 10), 3.4),
    (date(2026, 6, 11), 1.6),
)
"""The story's spring as days warmer or colder than usual, straight lines between: a warm spell that draws everyone
out early, the frost of 14 and 15 May, a cool end of May, warm days since. [°C]"""
SPRING_NOISE: Final = 0.3
"""Share of what was drawn that is left inside that stretch."""
SPRING_RAIN_MM: Final[Mapping[date, float]] = {
    date(2026, 3, 27): 4.2,
    date(2026, 3, 31): 7.6,
    date(2026, 4, 1): 2.4,
    date(2026, 4, 6): 5.8,
    date(2026, 4, 7): 9.2,
    date(2026, 4, 11): 1.6,
    date(2026, 4, 15): 11.4,
    date(2026, 4, 16): 3.2,
    date(2026, 4, 21): 6.0,
    date(2026, 4, 29): 8.8,
    date(2026, 5, 6): 2.2,
    date(2026, 5, 11): 12.6,
    date(2026, 5, 12): 4.4,
    date(2026, 5, 17): 3.8,
    date(2026, 5, 20): 14.2,
    date(2026, 5, 21): 6.6,
    date(2026, 5, 25): 2.8,
    date(2026, 5, 27): 9.4,
    date(2026, 6, 3): 16.8,
    date(2026, 6, 11): 3.4,
}
"""Every wet day of that stretch; the other days are dry. 3 June is the hail."""


@cache
def demo_record() -> DailyRecord:
    """The station's days from 1 January 1986 to 11 June 2026, to a tenth, without a gap."""
    days = (LAST - FIRST).days + 1
    dates = [FIRST + timedelta(days=i) for i in range(days)]
    month = _seasonal(dates)
    uniform = np.random.Generator(np.random.PCG64(SEED)).random((10, days))

    wet = _wet_days(dates, uniform[0])
    rain_mm = np.where(wet, np.maximum(0.2, _by_month(RAIN_SCALE_MM, dates) * _weibull(uniform[1], RAIN_SHAPE)), 0.0)
    normal = _normal(uniform[2:6], uniform[6:])
    spell_c = month["spell_sd"] * _persisting(normal[0], SPELL_KEEPS) + SEASON_SD_C * _persisting(
        normal[1], SEASON_KEEPS
    )
    for i, wanted_c in _spring(dates).items():
        spell_c[i] = wanted_c + SPRING_NOISE * spell_c[i]
        normal[2:, i] *= SPRING_NOISE
        rain_mm[i] = SPRING_RAIN_MM.get(dates[i], 0.0)
    wet = rain_mm > 0

    years = np.array([d.year + (d.timetuple().tm_yday - 1) / 365.25 for d in dates])
    mean_c = month["mean"] + WARMING_C_DECADE / 10 * (years - WARMING_CENTRE) + spell_c
    span_c = np.where(wet, WET_SPAN, 1.0) * month["span"] * np.clip(1 + 0.16 * normal[2], 0.55, 1.5)
    clear_c = np.where(wet, 0.0, CLEAR_NIGHT * np.maximum(0.0, -spell_c))
    tmin_c = mean_c - span_c / 2 - clear_c + 0.7 * normal[3]
    tmax_c = np.maximum(mean_c + span_c / 2, tmin_c + 1.0)
    return DailyRecord(
        first=FIRST,
        tmin_c=_tenths(tmin_c),
        tmax_c=_tenths(tmax_c),
        rain_mm=_tenths(rain_mm),
        source="Merrowsay pier, an invented station (demo, seed 440417)",
    )


def on_day(day: date) -> tuple[float, float, float]:
    """Minimum, maximum [°C] and rain [mm] of one day of the record."""
    record = demo_record()
    i = (day - record.first).days
    return float(record.tmin_c[i]), float(record.tmax_c[i]), float(record.rain_mm[i])


def _tenths(values: FloatArray) -> FloatArray:
    rounded = np.round(values, 1) + 0.0  # no negative zero
    rounded.setflags(write=False)
    return rounded


def _by_month(values: tuple[float, ...], dates: list[date]) -> FloatArray:
    return np.array([values[d.month - 1] for d in dates])


def _seasonal(dates: list[date]) -> dict[str, FloatArray]:
    """Smooth yearly courses through the months: mean and two waves. (days,) [°C]"""
    middle = 2 * np.pi * (np.arange(12) + 0.5) / 12
    turn = 2 * np.pi * np.array([(d.timetuple().tm_yday - 0.5) / (366 if _leap(d.year) else 365) for d in dates])
    courses = {}
    for name, values in (("mean", MEAN_C), ("span", SPAN_C), ("spell_sd", SPELL_SD_C)):
        months = np.array(values)
        course = np.full(len(dates), months.mean())
        for wave in (1, 2):
            course += (months @ np.cos(wave * middle)) / 6 * np.cos(wave * turn)
            course += (months @ np.sin(wave * middle)) / 6 * np.sin(wave * turn)
        courses[name] = course
    return courses


def _leap(year: int) -> bool:
    return year % 4 == 0  # true from 1901 to 2099


def _wet_days(dates: list[date], uniform: FloatArray) -> NDArray[np.bool_]:
    wet = np.zeros(len(dates), dtype=np.bool_)
    before = False
    for i, day in enumerate(dates):
        before = bool(uniform[i] < (WET_AFTER_WET if before else WET_AFTER_DRY[day.month - 1]))
        wet[i] = before
    return wet


def _weibull(uniform: FloatArray, shape: float) -> FloatArray:
    return np.asarray((-np.log1p(-uniform)) ** (1 / shape))


def _normal(lengths: FloatArray, turns: FloatArray) -> FloatArray:
    """Standard normal numbers from two blocks of uniform ones, by the Box-Muller transform."""
    return np.asarray(np.sqrt(-2 * np.log1p(-lengths)) * np.cos(2 * np.pi * turns))


def _persisting(shocks: FloatArray, keeps: float) -> FloatArray:
    """First-order autoregression of unit variance."""
    out = np.empty_like(shocks)
    fresh = np.sqrt(1 - keeps**2)
    state = 0.0
    for i, shock in enumerate(shocks):
        state = keeps * state + fresh * shock
        out[i] = state
    return out


def _spring(dates: list[date]) -> dict[int, float]:
    """Column -> how much warmer than usual the story wants that day."""
    at = [d.toordinal() for d, _ in SPRING_2026]
    start = at[0] - FIRST.toordinal()
    wanted = np.interp([d.toordinal() for d in dates[start:]], at, [c for _, c in SPRING_2026])
    return {start + i: float(c) for i, c in enumerate(wanted)}
