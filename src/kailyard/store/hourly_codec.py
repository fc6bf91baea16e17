"""Rows of the hourly tables from hours, forecasts, normals and back, exactly. Knows stored forms, decides nothing."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from datetime import date, datetime
from typing import Any

import msgspec
import numpy as np

from kailyard.errors import DataError
from kailyard.store import codec
from kailyard.store.base import HoursImport, KeptForecast, KeptNormals
from kailyard.weather.hours import HOUR_COLUMNS, HourlyRecord
from kailyard.weather.issued import IssuedForecast
from kailyard.weather.normals import Normals
from kailyard.weather.record import FloatArray, read_only

HOURS_HEAD = ("name", "forecast", "source", "first", "wind_height_m", "set_aside")
FORECAST_COLUMNS = ("tmin_c", "tmax_c", "rain_mm")


class _Days(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A forecast's days as stored; null where it says nothing."""

    on: date
    first: date
    tmin_c: list[float | None]
    tmax_c: list[float | None]
    rain_mm: list[float | None]
    credit: str


def cells(column: FloatArray) -> list[float | None]:
    """A column for JSON: None where nothing is known."""
    return [None if cell != cell else cell for cell in column.tolist()]


def column(values: list[float | None]) -> FloatArray:
    """The column that `cells` was made from."""
    return read_only(np.array(values, dtype=np.float64))


def hours_row(
    record: HourlyRecord, *, name: str, forecast: str, imported: datetime
) -> tuple[dict[str, Any], dict[str, FloatArray]]:
    """Hours as a row with their digest, and the columns that hold anything. DataError where they cannot be kept."""
    columns = {}
    for each, values in record.columns.items():
        if values.shape != (len(record),) or not len(record) or np.isinf(values).any():
            raise DataError(f"The hourly record '{record.source}' has odd cells in {each}")
        if not np.isnan(values).all():
            columns[each] = np.where(np.isnan(values), np.nan, values + 0.0)
    head: dict[str, Any] = {
        "name": name,
        "forecast": forecast,
        "source": record.source,
        "first": codec.moment(record.first),
        "last": codec.moment(record.last),
        "count": len(record),
        "wind_height_m": float(record.wind_height_m),
        "set_aside": codec.to_json(record.set_aside),
    }
    return {**head, "id": hours_id(head, columns), "imported": codec.moment(imported)}, columns


def hours_id(head: Mapping[Any, Any], columns: Mapping[str, FloatArray]) -> str:
    """Digest of hours as stored: SHA-256, hexadecimal. When they were read is no part of it."""
    digest = hashlib.sha256(codec.to_json([head[n] for n in HOURS_HEAD]).encode())
    for name in sorted(columns):
        digest.update(name.encode())
        digest.update(columns[name].astype("<f8").tobytes())
    return digest.hexdigest()


def hours_words(head: Mapping[Any, Any]) -> str:
    """What a message calls an import of hours."""
    return f"The hourly import of {head['imported']} ('{head['source']}')"


def hours_of(head: Mapping[Any, Any], columns: Mapping[str, FloatArray]) -> HoursImport:
    """The import in a row and its columns."""
    try:
        nothing = read_only(np.full(head["count"], np.nan))
        record = HourlyRecord(
            datetime.fromisoformat(head["first"]),
            **{name: columns.get(name, nothing) for name in HOUR_COLUMNS},
            source=head["source"],
            wind_height_m=head["wind_height_m"],
            set_aside=codec.set_aside_of(head["set_aside"]),
        )
        imported = datetime.fromisoformat(head["imported"])
    except (TypeError, ValueError, msgspec.DecodeError) as err:
        raise DataError(f"{hours_words(head)}: {err}. Restore a backup.") from None
    return HoursImport(head["id"], head["name"], imported, record, head["forecast"])


def forecast_row(forecast: IssuedForecast, *, kept: datetime) -> dict[str, Any]:
    """A forecast as a row with its digest; when it came here is no part of that."""
    columns = {name: cells(getattr(forecast, name)) for name in FORECAST_COLUMNS}
    body = codec.to_json(_Days(on=forecast.on, first=forecast.first, credit=forecast.credit, **columns))
    head = {"source": forecast.source, "issued": codec.moment(forecast.issued), "body": body}
    return {**head, "id": _digest(*head.values()), "kept": codec.moment(kept)}


def forecast_of(row: Mapping[Any, Any]) -> KeptForecast:
    """The forecast in a row. DataError where it holds none."""
    try:
        days = msgspec.json.decode(row["body"], type=_Days)
        issued, kept = datetime.fromisoformat(row["issued"]), datetime.fromisoformat(row["kept"])
    except (ValueError, TypeError, msgspec.DecodeError) as err:
        raise DataError(f"The forecast issued {row['issued']} cannot be read ({err}). Restore a backup.") from None
    columns = {name: column(getattr(days, name)) for name in FORECAST_COLUMNS}
    forecast = IssuedForecast(row["source"], issued, days.on, days.first, **columns, credit=days.credit)
    return KeptForecast(row["id"], kept, forecast)


def normals_row(normals: Normals, *, kept: datetime) -> dict[str, Any]:
    """Normals as a row with their digest."""
    body = codec.to_json(normals)
    return {"id": _digest(body), "kept": codec.moment(kept), "body": body}


def normals_of(row: Mapping[Any, Any]) -> KeptNormals:
    """The normals in a row. DataError where it holds none."""
    try:
        return KeptNormals(datetime.fromisoformat(row["kept"]), msgspec.json.decode(row["body"], type=Normals))
    except (ValueError, TypeError, msgspec.DecodeError) as err:
        raise DataError(f"Normals kept {row['kept']} cannot be read ({err}). Restore a backup.") from None


def _digest(*said: str) -> str:
    return hashlib.sha256(codec.to_json(list(said)).encode()).hexdigest()
