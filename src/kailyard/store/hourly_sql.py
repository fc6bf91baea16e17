"""Hours, forecasts as issued and normals in any SQL database: the part of `SqlStore` that keeps them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import AbstractContextManager
from datetime import datetime
from typing import Any

from sqlalchemy import ColumnElement, Connection, Table, insert, select

from kailyard.errors import DataError
from kailyard.garden.identifiers import require_name
from kailyard.store import codec, hourly_codec
from kailyard.store import schema as tables
from kailyard.store.base import HoursImport, KeptForecast, KeptNormals
from kailyard.weather.hours import HourlyRecord
from kailyard.weather.issued import IssuedForecast
from kailyard.weather.normals import Normals
from kailyard.weather.record import FloatArray


class HourlyTables:
    """`base.Store` says what each method promises."""

    garden: str

    def reading(self) -> AbstractContextManager[Connection]:
        """A connection that sees one state of the database."""
        raise NotImplementedError

    def writing(self) -> AbstractContextManager[Connection]:
        """A connection that alone may write."""
        raise NotImplementedError

    def add_hours(self, record: HourlyRecord, *, imported: datetime, name: str = "", forecast: str = "") -> bool:
        """Keep hours; False where just these are kept already."""
        try:
            require_name("the name of an hourly record", name, empty=True)
        except ValueError as err:
            raise DataError(str(err)) from None
        head, columns = hourly_codec.hours_row(record, name=name, forecast=forecast, imported=imported)
        with self.writing() as db:
            if self._has(db, tables.hours, head["id"]):
                return False
            db.execute(insert(tables.hours), {"garden": self.garden, **head})
            for column, values in columns.items():
                encoding, cells = codec.pack(values)
                row = {"garden": self.garden, "hours": head["id"], "name": column}
                db.execute(insert(tables.hours_column), {**row, "encoding": encoding, "cells": cells})
        return True

    def hours(
        self, first: datetime, last: datetime, *, forecast: str | None = "", as_known: datetime | None = None
    ) -> tuple[HoursImport, ...]:
        """Imports with any hour from `first` to `last`, earliest import first."""
        head = tables.hours.c
        known = [head.first <= codec.moment(last), head.last >= codec.moment(first)]
        if forecast is not None:
            known.append(head.forecast == forecast)
        if as_known is not None:
            known.append(head.imported <= codec.latest(as_known))
        with self.reading() as db:
            return tuple(hourly_codec.hours_of(row, cells) for row, cells in self.hour_rows(db, *known))

    def hour_rows(
        self, db: Connection, *known: ColumnElement[bool]
    ) -> Iterator[tuple[Mapping[Any, Any], dict[str, FloatArray]]]:
        """Hours as stored: the import's own row, and its columns by name. DataError where a column cannot be read."""
        head, column = tables.hours, tables.hours_column
        query = select(head).where(self._own(head), *known).order_by(head.c.imported, head.c.id)
        for row in db.execute(query).mappings().all():
            own = select(column).where(self._own(column), column.c.hours == row["id"])
            try:
                cells = {c.name: codec.unpack(c.encoding, c.cells, row["count"]) for c in db.execute(own)}
            except DataError as err:
                raise DataError(f"{hourly_codec.hours_words(row)}: {err}. Restore a backup.") from None
            yield row, cells

    def add_forecast(self, forecast: IssuedForecast, *, kept: datetime) -> str:
        """Keep a forecast as issued; its identifier, '' where just this one is kept already."""
        row = hourly_codec.forecast_row(forecast, kept=kept)
        with self.writing() as db:
            if self._has(db, tables.issued_forecast, row["id"]):
                return ""
            db.execute(insert(tables.issued_forecast), {"garden": self.garden, **row})
        return str(row["id"])

    def forecasts(self, as_known: datetime | None = None, *, since: datetime | None = None) -> tuple[KeptForecast, ...]:
        """Forecasts issued from `since` on that had come here by `as_known`, in the order of issue."""
        table = tables.issued_forecast
        query = select(table).where(self._own(table)).order_by(table.c.issued, table.c.kept, table.c.id)
        if as_known is not None:
            query = query.where(table.c.kept <= codec.latest(as_known))
        if since is not None:
            query = query.where(table.c.issued >= codec.moment(since))
        with self.reading() as db:
            return tuple(map(hourly_codec.forecast_of, db.execute(query).mappings()))

    def add_normals(self, normals: Normals, *, kept: datetime) -> bool:
        """Keep stated means by month; False where just these are kept already."""
        row = hourly_codec.normals_row(normals, kept=kept)
        with self.writing() as db:
            if self._has(db, tables.normals, row["id"]):
                return False
            db.execute(insert(tables.normals), {"garden": self.garden, **row})
        return True

    def normals(self) -> tuple[KeptNormals, ...]:
        """Stated means by month, in the order they came here."""
        table = tables.normals
        query = select(table).where(self._own(table)).order_by(table.c.kept, table.c.id)
        with self.reading() as db:
            return tuple(map(hourly_codec.normals_of, db.execute(query).mappings()))

    def weather_marks(self) -> tuple[str, ...]:
        """Identifiers of all hours and forecasts."""
        with self.reading() as db:
            return tuple(
                id_
                for table in (tables.hours, tables.issued_forecast)
                for id_ in db.execute(select(table.c.id).where(self._own(table)).order_by(table.c.id)).scalars()
            )

    def _own(self, table: Table) -> ColumnElement[bool]:
        return table.c.garden == self.garden

    def _has(self, db: Connection, table: Table, id_: str) -> bool:
        return db.execute(select(table.c.id).where(self._own(table), table.c.id == id_)).first() is not None
