"""Reading a weather file of any known kind, and a file of forecast days."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from types import ModuleType

from kailyard.discover import modules
from kailyard.errors import DataError, NotFound
from kailyard.weather.files import file_name, read_bytes, read_text, shown
from kailyard.weather.forecast import ForecastDay
from kailyard.weather.forecast_table import forecast_days
from kailyard.weather.judging import set_bad_aside
from kailyard.weather.options import RainUnit, ReadOptions, TemperatureUnit
from kailyard.weather.record import DailyRecord

_READERS = "kailyard.weather.readers"
_HEAD_BYTES = 4096


def readers() -> tuple[ModuleType, ...]:
    """All readers, in order of file name."""
    return modules(_READERS)


def read_record(data: bytes | Path, options: ReadOptions | None = None, *, reader: str = "") -> DailyRecord:
    """The record in a file, gzip or plain, without what a rule of judging is sure is wrong.

    Parameters
    ----------
    data : bytes or Path
        The file, or its content (name it in `options` then).
    options : ReadOptions
        With columns declared the file is read by them; without, the readers are asked whose form it has.
    reader : str
        NAME of a reader, to have no asking.

    Raises
    ------
    DataError
        Naming file, line and rule, where the file as a whole cannot be used.
    NotFound
        If there is no reader of that name.
    """
    options = options or ReadOptions()
    name = file_name(data, options.name)
    content = read_bytes(data, options.name)
    chosen = _named(reader) if reader else _sniffed(name, content[:_HEAD_BYTES], declared=options.columns is not None)
    named = ReadOptions(name=name, columns=options.columns, station=options.station, source=options.source)
    return set_bad_aside(chosen.read(content, named), file=name)


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
    return forecast_days(file, text, issued=issued, temperature_unit=temperature_unit, rain_unit=rain_unit)


def _named(reader: str) -> ModuleType:
    for each in readers():
        if reader == each.NAME:
            return each
    known = ", ".join(r.NAME for r in readers())
    raise NotFound(f"There is no reader '{shown(reader)}'. Readers: {known}.")


def _sniffed(name: str, head: bytes, *, declared: bool) -> ModuleType:
    by_columns = [r for r in readers() if r.NEEDS_COLUMNS]
    if declared:
        return by_columns[0]
    for each in [r for r in readers() if not r.NEEDS_COLUMNS] + by_columns:
        if each.sniff(name, head):
            return each
    kinds = "; ".join(r.HELP for r in readers())
    raise DataError(f"{name}:1: no reader knows this form. Known: {kinds}.")
