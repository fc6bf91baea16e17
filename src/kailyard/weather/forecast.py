"""Forecast days: read from a small table, and drawn towards climate as their skill falls with lead."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from kailyard.errors import DataError
from kailyard.weather.files import read_text, shown
from kailyard.weather.judge import POSSIBLE, WORDS
from kailyard.weather.options import ColumnMap, RainUnit, TemperatureUnit
from kailyard.weather.readers.mapped_csv import number_in_our_unit
from kailyard.weather.record import FloatArray
from kailyard.weather.table import find_columns, rows

# Correlation of a forecast's departure from climate with the departure that comes, for lead 1 to 10 days. From memory
# of how public daily temperature forecasts of middle latitudes verify; stated, not learnt, until issued forecasts have
# been kept long enough.
SKILL_BY_LEAD = (0.97, 0.95, 0.92, 0.87, 0.80, 0.71, 0.61, 0.50, 0.40, 0.30)
LONGEST_RAIN_LEAD = 3
"""A forecast amount of rain is believed up to this lead only. [days]"""

_GOLDEN = (math.sqrt(5) - 1) / 2


@dataclass(frozen=True, slots=True)
class ForecastDay:
    """One day of one issued forecast. NaN where it says nothing. [°C, mm]"""

    issued: date
    day: date
    tmin_c: float
    tmax_c: float
    rain_mm: float = float("nan")

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


def blended(forecast_c: FloatArray, skill: FloatArray, usual_c: FloatArray, runs_c: FloatArray) -> FloatArray:
    """Temperatures of forecast days in every possible season.

    `usual + skill × (forecast - usual) + √(1 - skill²) × (run - usual)`: a perfect forecast leaves nothing of the run
    of the past year, a worthless one leaves it as it was, and between them the spread is what is left unforeseen.

    Parameters
    ----------
    forecast_c, skill, usual_c : ndarray
        (days,); NaN in `forecast_c` leaves the run as it was.
    runs_c : ndarray
        (traces, days) runs of past years brought to today's climate.
    """
    drawn = usual_c + skill * (forecast_c - usual_c) + np.sqrt(1 - skill**2) * (runs_c - usual_c)
    return np.where(np.isnan(forecast_c), runs_c, drawn)


def takes_forecast_rain(skill: float, traces: int) -> NDArray[np.bool_]:
    """Which of the possible seasons take the forecast's amount of rain: a share `skill`, spread evenly over the years.

    The ones that take it at a low skill also take it at a higher one.
    """
    return np.asarray((np.arange(1, traces + 1) * _GOLDEN) % 1.0 < skill)


def read_forecast(
    data: bytes | Path,
    *,
    issued: date | None = None,
    temperature_unit: TemperatureUnit = "C",
    rain_unit: RainUnit = "mm",
    name: str = "",
) -> tuple[ForecastDay, ...]:
    """Forecast days from a table with the columns day, tmin, tmax and, where there are any, rain and issued.

    Parameters
    ----------
    data : bytes or Path
        CSV with a header; ISO dates.
    issued : date
        Day of issue of all rows, where the table has no such column.

    Raises
    ------
    DataError
        Every bad row at once: a forecast is short and can be put right.
    """
    file, text = read_text(data, name)
    table = rows(file, text)
    line, header = next(table, (1, []))
    header = [h.strip().lower() for h in header]
    find_columns(file, line, header, ["day", "tmin", "tmax"])
    if "issued" not in header and issued is None:
        raise DataError(f"{file}:{line}: no column 'issued'. Say on which day the forecast was issued.")
    units = ColumnMap("day", "tmin", "tmax", temperature_unit=temperature_unit, rain_unit=rain_unit)
    problems: list[str] = []
    days: list[ForecastDay] = []
    seen: dict[tuple[date, date], int] = {}
    for number, cells in table:
        try:
            if len(cells) != len(header):
                raise DataError(f"{len(cells)} fields where the header has {len(header)}.")
            each = _forecast_day(dict(zip(header, cells, strict=True)), issued, units)
            key = (each.issued, each.day)
            if key in seen:
                raise DataError(f"{each.day.isoformat()} stands on line {seen[key]} already.")
            seen[key] = number
            days.append(each)
        except DataError as err:
            problems += [f"{file}:{number}: {p}" for p in err.problems]
    if problems:
        raise DataError(problems)
    if not days:
        raise DataError(f"{file}: no forecast day below the header.")
    return tuple(sorted(days, key=lambda d: (d.issued, d.day)))


def _forecast_day(cells: dict[str, str], issued: date | None, units: ColumnMap) -> ForecastDay:
    day = _date(cells["day"], "day")
    issue = _date(cells["issued"], "issued") if cells.get("issued", "").strip() or issued is None else issued
    if issue > day:
        raise DataError(f"{day.isoformat()} lies before the day of issue, {issue.isoformat()}.")
    values: dict[str, float] = {}
    for element in ("tmin", "tmax", "rain"):
        text = cells.get(element, "").strip()
        low, high, unit = POSSIBLE[element]
        if text in units.missing:
            values[element] = math.nan
            continue
        value = number_in_our_unit(element, text, units)
        if value is None:
            raise DataError(f"{WORDS[element]} '{shown(text)}' is not a number.")
        if not low <= value <= high:
            raise DataError(f"{WORDS[element]} {shown(text)} is outside the possible, {low:g} to {high:g} {unit}.")
        values[element] = value
    if values["tmin"] > values["tmax"]:
        raise DataError(f"minimum {cells['tmin'].strip()} is above maximum {cells['tmax'].strip()}.")
    return ForecastDay(issue, day, values["tmin"], values["tmax"], values["rain"])


def _date(text: str, word: str) -> date:
    try:
        return date.fromisoformat(text.strip())
    except ValueError as err:
        raise DataError(f"{word} '{shown(text)}' is no date; write it as 2026-06-12.") from err
