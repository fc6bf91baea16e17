"""The whole garden as one JSON text, `kailyard.garden/1`, and a garden made from one. Documented in
`docs/reference/exchange-format.md`."""

from __future__ import annotations

from dataclasses import fields
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any

import msgspec
import numpy as np

from kailyard.errors import DataError
from kailyard.garden.model import Entry
from kailyard.store import codec, sqlite
from kailyard.store.base import HoursImport, Issued, KeptForecast, KeptNormals, Store, WeatherImport
from kailyard.store.files import OWN_FACTS, new_folder, write_file
from kailyard.store.hourly_codec import FORECAST_COLUMNS, cells, column
from kailyard.weather.hours import HOUR_COLUMNS, HourlyRecord
from kailyard.weather.issued import IssuedForecast
from kailyard.weather.normals import Normals
from kailyard.weather.record import DailyRecord, SetAside

SCHEMA = "kailyard.garden/1"
_EVER, _NEVER = datetime(1, 1, 1, tzinfo=UTC), datetime(9999, 12, 31, tzinfo=UTC)
_HOUR_COLUMNS = frozenset(HOUR_COLUMNS)


class ExchangedWeather(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A weather import; null where nothing usable was reported."""

    name: str
    imported: datetime
    source: str
    first: date
    tmin_c: list[float | None]
    tmax_c: list[float | None]
    rain_mm: list[float | None]
    set_aside: tuple[SetAside, ...]


class ExchangedHours(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Hours; a column that holds nothing is left out, null is a missing hour."""

    name: str
    imported: datetime
    forecast: str
    source: str
    first: datetime
    count: int
    wind_height_m: float
    columns: dict[str, list[float | None]]
    set_aside: tuple[SetAside, ...]


class ExchangedForecast(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A forecast as it was issued; null where it says nothing."""

    source: str
    issued: datetime
    kept: datetime
    on: date
    first: date
    tmin_c: list[float | None]
    tmax_c: list[float | None]
    rain_mm: list[float | None]
    credit: str


class Exchange(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """`kailyard.garden/1`"""

    schema: str
    garden: str
    entries: tuple[Entry, ...]
    weather: tuple[ExchangedWeather, ...]
    issued: tuple[Issued, ...]
    own_facts: str | None
    """Text of `facts.csv`; None where there is none."""
    hours: tuple[ExchangedHours, ...] = ()
    forecasts: tuple[ExchangedForecast, ...] = ()
    normals: tuple[KeptNormals, ...] = ()


def export_garden(store: Store) -> bytes:
    """Everything that is kept, as UTF-8 JSON; the same garden always gives the same bytes."""
    facts = store.folder / OWN_FACTS
    try:
        own_facts = facts.read_bytes().decode("utf-8") if facts.is_file() else None
    except UnicodeDecodeError as err:
        raise DataError(f"{facts}: byte {err.start + 1} is not UTF-8. Save the file as UTF-8.") from None
    return msgspec.json.encode(
        Exchange(
            schema=SCHEMA,
            garden=store.garden,
            entries=store.entries(),
            weather=tuple(map(_exchanged, store.kept_weather())),
            issued=store.issued(),
            own_facts=own_facts,
            hours=tuple(map(_exchanged_hours, store.hours(_EVER, _NEVER, forecast=None))),
            forecasts=tuple(map(_exchanged_forecast, store.forecasts())),
            normals=store.normals(),
        ),
        order="deterministic",
    )


def import_garden(content: bytes, folder: Path) -> None:
    """Make the garden in `content` anew in `folder`, there whole or not at all.

    Raises DataError naming what is wrong and where, Conflict where `folder` exists and is not empty.
    """
    given = _read(content)
    with new_folder(folder) as part:
        with sqlite.create_store(part, first=given.entries, garden=given.garden) as store:
            for kept in given.weather:
                store.add_weather(_record(kept), imported=kept.imported, name=kept.name)
            for document in given.issued:
                store.keep_issued(document)
            for forecast in given.forecasts:
                store.add_forecast(_forecast(forecast), kept=forecast.kept)
            for hours in given.hours:
                store.add_hours(_hours(hours), imported=hours.imported, name=hours.name, forecast=hours.forecast)
            for normals in given.normals:
                store.add_normals(normals.normals, kept=normals.kept)
        if given.own_facts is not None:
            write_file(part / OWN_FACTS, given.own_facts.encode())


def _read(content: bytes) -> Exchange:
    try:
        raw = msgspec.json.decode(content)
        if not isinstance(raw, dict) or raw.get("schema") != SCHEMA:
            found = ascii(raw.get("schema"))[:60] if isinstance(raw, dict) else type(raw).__name__
            raise DataError(f"This is no garden in the form '{SCHEMA}' (found {found}). `kailyard export` makes one.")
        given = msgspec.convert(raw, Exchange)
    except (msgspec.MsgspecError, UnicodeDecodeError, RecursionError) as err:
        raise DataError(
            f"The garden's JSON cannot be read: {str(err).replace('`', '')}. Nothing was changed."
        ) from None
    problems = [
        *_strange("entries", raw["entries"], Entry),
        *_strange("issued", raw["issued"], Issued),
        *(p for w in raw["weather"] for p in _strange("set_aside", w["set_aside"], SetAside)),
        *(p for h in raw.get("hours", ()) for p in _strange("set_aside", h["set_aside"], SetAside)),
        *_strange("normals", raw.get("normals", []), KeptNormals),
        *(p for n in raw.get("normals", ()) for p in _strange("normals", [n["normals"]], Normals)),
        *(f"hours: no column {c!a}" for h in raw.get("hours", ()) for c in sorted(h["columns"].keys() - _HOUR_COLUMNS)),
    ]
    if not given.garden.isalnum() or not given.garden.isascii() or len(given.garden) > 32:
        problems.append("garden: an identifier of up to 32 letters and digits is needed")
    if problems:
        raise DataError(problems)
    return given


def _strange(where: str, rows: list[dict[str, Any]], form: type[Any]) -> list[str]:
    """Fields that the form does not have: read past, they would be lost."""
    own = {f.name for f in fields(form)}
    return [f"{where}[{n}]: no field {sorted(row.keys() - own)!a}" for n, row in enumerate(rows) if row.keys() - own]


def _exchanged(kept: WeatherImport) -> ExchangedWeather:
    record = kept.record
    columns = {name: cells(getattr(record, name)) for name in codec.WEATHER_COLUMNS}
    return ExchangedWeather(
        name=kept.name,
        imported=kept.imported,
        source=record.source,
        first=record.first,
        set_aside=record.set_aside,
        **columns,
    )


def _record(kept: ExchangedWeather) -> DailyRecord:
    columns = {name: np.array(getattr(kept, name), dtype=np.float64) for name in codec.WEATHER_COLUMNS}
    return DailyRecord(kept.first, **columns, source=kept.source, set_aside=kept.set_aside)


def _exchanged_hours(kept: HoursImport) -> ExchangedHours:
    record = kept.record
    return ExchangedHours(
        name=kept.name,
        imported=kept.imported,
        forecast=kept.forecast,
        source=record.source,
        first=record.first,
        count=len(record),
        wind_height_m=record.wind_height_m,
        columns={name: cells(values) for name, values in record.columns.items() if not np.isnan(values).all()},
        set_aside=record.set_aside,
    )


def _hours(kept: ExchangedHours) -> HourlyRecord:
    lengths = {len(values) for values in kept.columns.values()}
    if kept.count < 1 or lengths - {kept.count}:
        raise DataError(f"hours of {kept.source!a}: columns of {sorted(lengths)} hours where {kept.count} are said")
    nothing = column([None] * kept.count)
    columns = {name: column(kept.columns[name]) if name in kept.columns else nothing for name in HOUR_COLUMNS}
    return HourlyRecord(
        kept.first, **columns, source=kept.source, wind_height_m=kept.wind_height_m, set_aside=kept.set_aside
    )


def _exchanged_forecast(kept: KeptForecast) -> ExchangedForecast:
    forecast = kept.forecast
    columns = {name: cells(getattr(forecast, name)) for name in FORECAST_COLUMNS}
    return ExchangedForecast(
        source=forecast.source,
        issued=forecast.issued,
        kept=kept.kept,
        on=forecast.on,
        first=forecast.first,
        credit=forecast.credit,
        **columns,
    )


def _forecast(kept: ExchangedForecast) -> IssuedForecast:
    columns = {name: column(getattr(kept, name)) for name in FORECAST_COLUMNS}
    if len({len(values) for values in columns.values()}) != 1:
        raise DataError(f"forecast of {kept.issued:%Y-%m-%d} by {kept.source!a}: its columns differ in length")
    return IssuedForecast(kept.source, kept.issued, kept.on, kept.first, **columns, credit=kept.credit)
