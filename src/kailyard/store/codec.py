"""Rows of the tables from the garden's objects and back, exactly. Knows stored forms, decides nothing."""

from __future__ import annotations

import hashlib
import zlib
from collections.abc import Mapping, Sequence
from dataclasses import fields
from datetime import UTC, date, datetime, timedelta
from typing import Any

import msgspec
import numpy as np

from kailyard.errors import DataError
from kailyard.garden.model import Entry
from kailyard.store.base import Issued
from kailyard.weather.record import DailyRecord, FloatArray, SetAside

ISSUED_COLUMNS = ("schema", "for_day", "as_known", "made_at", "version", "facts", "body")
ENTRY_COLUMNS = tuple(f.name for f in fields(Entry))
WEATHER_COLUMNS = tuple(f.name for f in fields(DailyRecord) if f.type == "FloatArray")

_MISSING = {"tenths-i2": -(2**15), "tenths-i4": -(2**31)}
_TYPES: dict[str, np.dtype[Any]] = {"tenths-i2": np.dtype("<i2"), "tenths-i4": np.dtype("<i4"), "f8": np.dtype("<f8")}


def to_json(value: object) -> str:
    """JSON text, keys in order."""
    return msgspec.json.encode(value, order="deterministic").decode()


def moment(written: datetime) -> str:
    """A moment as stored. DataError where it is not in UTC and to the second."""
    if written.utcoffset() != timedelta(0) or written.microsecond:
        raise DataError(f"{written.isoformat()} must be in UTC and to the second")
    return f"{written:%Y-%m-%dT%H:%M:%S}Z"


def latest(as_known: datetime) -> str:
    """The last stored moment that counts as known at `as_known`."""
    if as_known.tzinfo is None:
        raise DataError(f"as known {as_known.isoformat()} has no time zone; give it in UTC")
    return moment(as_known.astimezone(UTC).replace(microsecond=0))


def entry_row(entry: Entry) -> dict[str, Any]:
    """The entry as a row, the garden's identifier apart."""
    row = {name: getattr(entry, name) for name in ENTRY_COLUMNS}
    row["happened"] = entry.happened.isoformat()
    row["written"] = moment(entry.written)
    row["payload"] = to_json(entry.payload)
    return row


def entry_of(row: Sequence[Any]) -> Entry:
    """The entry in a row of ENTRY_COLUMNS. DataError where the row holds no entry."""
    id_, kind, version, happened, written, who, target, quantity, unit, text, supersedes, payload = row
    try:
        return Entry(
            id_,
            kind,
            version,
            date.fromisoformat(happened),
            datetime.fromisoformat(written),
            who,
            target,
            quantity,
            unit,
            text,
            supersedes,
            {} if payload == "{}" else _payload(payload),
        )
    except (ValueError, TypeError, msgspec.DecodeError) as err:
        raise DataError(f"Entry {id_!r}: its row in the database cannot be read ({err}). Restore a backup.") from None


_payload = msgspec.json.Decoder(dict[str, Any]).decode


def pack(cells: FloatArray) -> tuple[str, bytes]:
    """A column in the smallest of the stored forms that gives back every cell exactly: (encoding, bytes)."""
    tenths = np.round(cells * 10.0)
    missing = np.isnan(cells)
    if np.all(missing | (tenths / 10.0 == cells)):
        for encoding, gap in _MISSING.items():
            if np.all(missing | (np.abs(tenths) < -gap)):
                whole = np.where(missing, gap, tenths).astype(_TYPES[encoding])
                return encoding, zlib.compress(whole.tobytes(), 1)
    return "f8", zlib.compress(cells.astype("<f8").tobytes(), 1)


def unpack(encoding: str, cells: bytes, days: int) -> FloatArray:
    """The column of `days` cells, read-only. DataError where the bytes are not those that `pack` makes."""
    try:
        raw = np.frombuffer(zlib.decompress(cells), dtype=_TYPES[encoding])
    except (zlib.error, KeyError, ValueError) as err:
        raise DataError(f"a column of weather in form '{encoding}' cannot be read ({err})") from None
    if len(raw) != days:
        raise DataError(f"a column of weather has {len(raw)} days, not {days}")
    out: FloatArray = raw.astype(np.float64)
    if encoding in _MISSING:
        out = np.where(raw == _MISSING[encoding], np.nan, out / 10.0)
    out.flags.writeable = False
    return out


def plain_record(record: DailyRecord) -> DailyRecord:
    """The record with one kind of NaN and no negative zero, so that equal records have equal bytes."""
    days = len(record)
    columns = {}
    for name in WEATHER_COLUMNS:
        cells = np.asarray(getattr(record, name), dtype=np.float64)
        if cells.shape != (days,) or not days:
            raise DataError(f"The weather record '{record.source}' has {cells.shape} cells in {name}, not ({days},)")
        if np.isinf(cells).any():
            raise DataError(f"The weather record '{record.source}' has infinite values in {name}")
        columns[name] = np.where(np.isnan(cells), np.nan, cells + 0.0)
        columns[name].flags.writeable = False
    return DailyRecord(record.first, **columns, source=record.source, set_aside=record.set_aside)


def record_id(head: Mapping[Any, Any], columns: Mapping[str, FloatArray]) -> str:
    """Digest of a weather import as stored: SHA-256, hexadecimal. When it was imported is no part of it.

    Made from what lies in the tables, not from a record, so that a field added to records later alters no digest.
    """
    says = [head["name"], head["first"], head["source"], head["set_aside"]]
    digest = hashlib.sha256(to_json(says).encode())
    for name in sorted(columns):
        digest.update(name.encode())
        digest.update(columns[name].astype("<f8").tobytes())
    return digest.hexdigest()


def set_aside_of(text: str) -> tuple[SetAside, ...]:
    """The lines that an import set aside."""
    return msgspec.json.decode(text, type=tuple[SetAside, ...])


def issued_row(document: Issued) -> dict[str, Any]:
    """The document as a row with its digest; when it was made is no part of that."""
    known = document.as_known.isoformat() if document.as_known else None
    says = [document.schema, document.on.isoformat(), known, document.version, document.facts, document.body]
    try:
        msgspec.json.decode(document.body)
        digest = hashlib.sha256(to_json(says).encode()).hexdigest()
    except (msgspec.DecodeError, UnicodeEncodeError) as err:
        raise DataError(f"A document of {document.on} ({document.schema}) is no JSON: {err}") from None
    made = moment(document.made_at)
    values = (says[0], says[1], known, made, document.version, document.facts, document.body)
    return {"id": digest, **dict(zip(ISSUED_COLUMNS, values, strict=True))}


def issued_of(row: Sequence[Any]) -> Issued:
    """The document in a row of ISSUED_COLUMNS."""
    schema, on, known, made, version, facts, body = row
    as_known = date.fromisoformat(known) if known else None
    return Issued(schema, date.fromisoformat(on), as_known, datetime.fromisoformat(made), version, facts, body)
