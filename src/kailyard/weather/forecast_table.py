"""A small table of forecast days taken apart. It is short and can be put right, so any bad row stops it."""

from __future__ import annotations

import math
from datetime import date

from kailyard.errors import DataError
from kailyard.weather.files import shown
from kailyard.weather.forecast import ForecastDay
from kailyard.weather.judge import POSSIBLE, WORDS
from kailyard.weather.options import ColumnMap, RainUnit, TemperatureUnit
from kailyard.weather.readers.mapped_csv import number_in_our_unit
from kailyard.weather.table import find_columns, rows


def forecast_days(
    file: str, text: str, *, issued: date | None, temperature_unit: TemperatureUnit, rain_unit: RainUnit
) -> tuple[ForecastDay, ...]:
    """Forecast days from a table's text, in order of issue and day; `file` is its name for messages.

    Raises
    ------
    DataError
        Every bad row at once.
    """
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
