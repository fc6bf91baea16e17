"""What any store promises, and the small records it hands out beside the garden's own."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path
from types import TracebackType
from typing import Protocol, Self

from kailyard.errors import KailyardError
from kailyard.garden.model import Bed, Cultivar, Entry, Planting
from kailyard.weather.hours import HourlyRecord
from kailyard.weather.issued import IssuedForecast
from kailyard.weather.normals import Normals
from kailyard.weather.record import DailyRecord


class StoreError(KailyardError):
    """The garden's folder or database cannot be used as it is: locked, full, read-only, damaged, too new."""

    exit_code = 6


@dataclass(frozen=True, slots=True, eq=False)
class WeatherImport:
    """A weather record as it was imported; several are kept side by side."""

    id: str
    """Digest of the content: the same record imported twice is one."""
    name: str
    imported: datetime
    """In UTC, to the second."""
    record: DailyRecord


@dataclass(frozen=True, slots=True, eq=False)
class HoursImport:
    """Hours as they were read from a file, or those of a forecast."""

    id: str
    """Digest of the content: the same hours read twice are one."""
    name: str
    imported: datetime
    """In UTC, to the second."""
    record: HourlyRecord
    forecast: str = ""
    """Identifier of the forecast whose hours they are; '' where they were observed."""


@dataclass(frozen=True, slots=True, eq=False)
class KeptForecast:
    """A forecast as it was issued, and when it came here."""

    id: str
    kept: datetime
    """In UTC, to the second."""
    forecast: IssuedForecast


@dataclass(frozen=True, slots=True)
class KeptNormals:
    """Stated means by month, and when they came here."""

    kept: datetime
    """In UTC, to the second."""
    normals: Normals


@dataclass(frozen=True, slots=True)
class Issued:
    """A document as it went out."""

    schema: str
    """Name and version of its form: 'kailyard.sheet/1'."""
    on: date
    """The day it speaks for."""
    as_known: date | None
    made_at: datetime
    """In UTC, to the second."""
    version: str
    """Of the program that made it."""
    facts: str
    """Which facts it leaned on: a digest of the handbook."""
    body: str
    """The document as JSON."""


class Store(Protocol):
    """One garden, kept. Every method raises StoreError where the database cannot be used."""

    garden: str
    """Identifier of the garden, made when it was; every row carries it."""
    folder: Path

    def append(self, entries: Iterable[Entry]) -> int:
        """Keep `entries`, all or none; how many were new. When it returns they survive a crash.

        An entry already kept with the same body is passed over. Raises Conflict where an identifier is known with
        another body, DataError where an entry breaks a rule; then nothing of the batch is kept.
        """

    def entries(self, as_known: datetime | None = None) -> tuple[Entry, ...]:
        """Every entry written by `as_known` (UTC), superseded ones included, by (happened, written, id)."""

    def known(self, ids: Sequence[str]) -> Mapping[str, Entry]:
        """Those entries among `ids` that are kept, superseded ones too, by identifier."""

    def find(self, target: str) -> Bed | Planting | None:
        """The bed or planting called `target` as it stands now."""

    def beds(self) -> Mapping[str, Bed]:
        """Beds as they stand now, by identifier."""

    def cultivars(self) -> Mapping[tuple[str, str], Cultivar]:
        """Cultivars as they stand now, by (crop, name)."""

    def plantings(self) -> Mapping[str, Planting]:
        """Plantings as they stand now, by identifier."""

    def add_weather(self, record: DailyRecord, *, imported: datetime, name: str = "") -> bool:
        """Keep a weather record; False where just this one is kept already."""

    def weather_imports(self, as_known: datetime | None = None) -> tuple[DailyRecord, ...]:
        """Records imported by `as_known`, earliest import first."""

    def weather_ids(self) -> tuple[str, ...]:
        """Identifiers of the records imported, earliest import first."""

    def kept_weather(self, as_known: datetime | None = None) -> tuple[WeatherImport, ...]:
        """The same with name and time of import."""

    def add_hours(self, record: HourlyRecord, *, imported: datetime, name: str = "", forecast: str = "") -> bool:
        """Keep hours, of the forecast with the identifier `forecast` or observed; False where just these are kept."""

    def hours(
        self, first: datetime, last: datetime, *, forecast: str | None = "", as_known: datetime | None = None
    ) -> tuple[HoursImport, ...]:
        """Imports with any hour from `first` to `last` (UTC), earliest import first.

        `forecast`: '' the observed ones, an identifier those of that forecast, None all.
        """

    def add_forecast(self, forecast: IssuedForecast, *, kept: datetime) -> str:
        """Keep a forecast as issued; its identifier, '' where just this one is kept already."""

    def forecasts(self, as_known: datetime | None = None, *, since: datetime | None = None) -> tuple[KeptForecast, ...]:
        """Forecasts issued from `since` on (UTC) that had come here by `as_known`, in the order of issue."""

    def add_normals(self, normals: Normals, *, kept: datetime) -> bool:
        """Keep stated means by month; False where just these are kept already."""

    def normals(self) -> tuple[KeptNormals, ...]:
        """Stated means by month, in the order they came here."""

    def weather_marks(self) -> tuple[str, ...]:
        """Identifiers of all hours and forecasts: equal marks, nothing came in between."""

    def keep_issued(self, document: Issued) -> bool:
        """Keep a document as issued; False where the same one, whenever made, is kept already."""

    def issued(self, *, schema: str = "", as_known: datetime | None = None) -> tuple[Issued, ...]:
        """Documents kept, in the order they were made; of one schema, made by `as_known`."""

    def verify(self) -> tuple[str, ...]:
        """Everything wrong or odd with what is kept, one line each; () where all is well."""

    def rebuild(self) -> None:
        """Make the tables of beds, cultivars and plantings anew from the entries."""

    def close(self) -> None:
        """Let go of the database."""

    def __enter__(self) -> Self: ...

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None: ...
