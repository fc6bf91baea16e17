"""What any store promises, asked of a folder and of another database given by address (here SQLite in memory)."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from tempfile import TemporaryDirectory

import numpy as np
import pytest
from daybooks import GARDEN, daybooks
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from sqlalchemy import StaticPool, create_engine, delete, insert, update
from sqlalchemy.dialects import postgresql
from sqlalchemy.schema import CreateTable

from kailyard.errors import Conflict, DataError
from kailyard.garden.model import Entry
from kailyard.garden.project import project
from kailyard.store import schema
from kailyard.store.base import Issued, Store
from kailyard.store.sql import SqlStore
from kailyard.store.sqlite import create_store, open_store
from kailyard.weather.hours import hour_number, hourly
from kailyard.weather.issued import IssuedForecast
from kailyard.weather.normals import Normals
from kailyard.weather.record import DailyRecord, SetAside

JUNE = datetime(2026, 6, 1, 9, tzinfo=UTC)
NAN = float("nan")
BED = Entry("bed", "bed", 1, JUNE.date(), JUNE, target="bed-1", payload={"name": "B", "length_m": 4.0, "width_m": 1.2})
PEA = replace(BED, id="pea", kind="planting", target="pea-1", payload={"crop": "pea", "bed": "bed-1", "start": "sown"})
PICK = replace(BED, id="pick", kind="pick", target="pea-1", payload={}, quantity=1.5, unit="kg")


@contextmanager
def in_folder() -> Iterator[SqlStore]:
    with TemporaryDirectory() as folder, create_store(Path(folder)) as store:
        yield store


@contextmanager
def by_address() -> Iterator[SqlStore]:
    engine = create_engine("sqlite://", poolclass=StaticPool)
    schema.metadata.create_all(engine)
    with SqlStore(engine, garden="g1", folder=Path("nowhere")) as store:
        yield store


@pytest.fixture(params=[in_folder, by_address])
def store(request: pytest.FixtureRequest) -> Iterator[Store]:
    with request.param() as made:
        yield made


def by_order(entries: list[Entry]) -> list[Entry]:
    return sorted(entries, key=lambda e: (e.happened, e.written, e.id))


def record(**more: object) -> DailyRecord:
    columns = {
        "tmin_c": np.array([-1.5, NAN, 0.3]),
        "tmax_c": np.array([4.0, 5.5, 1 / 3]),
        "rain_mm": np.array([0.0, 4000.1, NAN]),
    }
    return DailyRecord(**{"first": date(2025, 12, 31), **columns, "source": "invented", **more})


def same_record(one: DailyRecord, other: DailyRecord) -> bool:
    return (one.first, one.source, one.set_aside) == (other.first, other.source, other.set_aside) and all(
        np.array_equal(getattr(one, c), getattr(other, c), equal_nan=True) for c in ("tmin_c", "tmax_c", "rain_mm")
    )


# One example costs a database; the same laws hold for few as for many.
few = settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])


@few
@given(daybooks(), st.integers(0, 25), st.randoms(use_true_random=False))
def test_a_daybook_comes_back_as_it_was_and_its_tables_agree(entries: list[Entry], cut: int, shuffler) -> None:
    mixed = list(entries)
    shuffler.shuffle(mixed)
    with by_address() as store:
        assert store.append(mixed[:cut]) + store.append(mixed[cut:]) == len(entries)
        assert list(store.entries()) == by_order(entries)
        garden = project(entries)
        assert (store.beds(), store.cultivars(), store.plantings()) == (garden.beds, garden.cultivars, garden.plantings)
        assert not [line for line in store.verify() if "table" in line.lower()]
        assert store.append(mixed) == 0
        assert list(store.entries()) == by_order(entries)
        before = store.verify()
        store.rebuild()
        assert store.verify() == before
        assert store.plantings() == garden.plantings


@few
@given(daybooks(), st.integers(0, 5000))
def test_what_was_known_is_asked_of_the_moment_written(entries: list[Entry], minutes: int) -> None:
    then = datetime(2026, 1, 1, tzinfo=UTC) + timedelta(minutes=minutes)
    with by_address() as store:
        store.append(entries)
        assert list(store.entries(as_known=then)) == by_order([e for e in entries if e.written <= then])


def test_another_body_under_a_known_identifier_is_a_conflict_and_nothing_is_kept(store: Store) -> None:
    store.append([GARDEN, BED, PEA, PICK])
    other = replace(PICK, quantity=2.5, text="heavier")
    with pytest.raises(Conflict, match="Entry pick is known with another quantity, text"):
        store.append([replace(PICK, id="new"), replace(PEA, id="pea2", target="pea-2"), other])
    assert [e.id for e in store.entries()] == ["garden-0", "bed", "pea", "pick"]
    assert list(store.plantings()) == ["pea-1"]
    with pytest.raises(Conflict, match="pick"):
        store.append([replace(PICK, id="pick3"), replace(PICK, id="pick3", unit="count")])


def test_a_faulty_entry_keeps_its_whole_batch_out_and_every_fault_is_told(store: Store) -> None:
    with pytest.raises(DataError) as caught:
        store.append([GARDEN, replace(PICK, unit="lb"), replace(PEA, target="Pea 1")])
    assert len(caught.value.problems) == 2
    assert store.entries() == ()


def test_whole_numbers_and_decimals_of_one_value_are_one_body(store: Store) -> None:
    assert store.append([GARDEN, BED]) == 2
    assert store.append([replace(BED, payload={"width_m": 1.2, "length_m": 4, "name": "B"})]) == 0


def test_beds_and_plantings_are_found_as_they_stand(store: Store) -> None:
    store.append([GARDEN, BED, PEA])
    assert store.find("pea-1") == store.plantings()["pea-1"]
    assert store.find("bed-1") == store.beds()["bed-1"]
    assert store.find("pea-2") is None
    later = JUNE + timedelta(hours=1)
    store.append([replace(PEA, id="gone", written=later, payload={**PEA.payload, "removed": True})])
    assert store.find("pea-1") is None
    store.append([replace(PEA, id="undo", kind="withdraw", payload={}, supersedes="gone", written=later)])
    assert store.find("pea-1") is not None


@few
@given(
    st.lists(
        st.tuples(*[st.none() | st.floats(-5e3, 5e3) | st.integers(-900, 900).map(lambda n: n / 10)] * 3), min_size=1
    )
)
def test_weather_comes_back_exactly(rows: list[tuple[float | None, ...]]) -> None:
    tmin, tmax, rain = (np.array(column, dtype=np.float64) for column in zip(*rows, strict=True))
    aside = (SetAside(7, date(2026, 2, 3), 'a "b"\x00\n', "rule"), SetAside(0, None, "", "gap"))
    given_record = record(tmin_c=tmin, tmax_c=tmax, rain_mm=rain, set_aside=aside)
    with by_address() as store:
        store.add_weather(given_record, imported=JUNE, name="shed")
        (got,) = store.weather_imports()
        assert same_record(got, given_record)
        assert not got.tmin_c.flags.writeable
        assert store.verify() == ()


def test_several_imports_are_kept_and_the_same_one_once(store: Store) -> None:
    assert store.add_weather(record(), imported=JUNE, name="shed")
    assert not store.add_weather(record(), imported=JUNE + timedelta(days=2), name="shed")
    assert store.add_weather(record(source="later"), imported=JUNE + timedelta(days=1))
    assert [(w.name, w.imported, w.record.source) for w in store.kept_weather()] == [
        ("shed", JUNE, "invented"),
        ("", JUNE + timedelta(days=1), "later"),
    ]
    assert len(store.weather_imports(as_known=JUNE)) == 1
    assert store.weather_imports(as_known=JUNE - timedelta(seconds=1)) == ()


def test_a_weather_record_that_cannot_be_kept_exactly_is_refused(store: Store) -> None:
    with pytest.raises(DataError, match="infinite values in rain_mm"):
        store.add_weather(record(rain_mm=np.array([0.0, np.inf, 0.0])), imported=JUNE)
    with pytest.raises(DataError, match=r"\(2,\) cells in tmax_c"):
        store.add_weather(record(tmax_c=np.array([0.0, 1.0])), imported=JUNE)
    with pytest.raises(DataError, match="unseen character"):
        store.add_weather(record(), imported=JUNE, name="a\x07")
    with pytest.raises(DataError, match="must be in UTC"):
        store.add_weather(record(), imported=JUNE.replace(tzinfo=None))
    assert store.weather_imports() == ()


def test_hours_come_back_exactly_for_the_stretch_asked_for(store: Store) -> None:
    first, hours = hour_number(JUNE), 30
    cells = np.round(np.sin(np.arange(hours)) * 7, 3)
    cells[3] = NAN
    record = hourly(first + np.arange(hours), {"temp_c": cells}, source="s", wind_height_m=2.0)
    later = JUNE + timedelta(hours=hours)
    assert store.add_hours(record, imported=JUNE, name="h")
    assert not store.add_hours(record, imported=later, name="h")
    assert store.add_hours(record, imported=later, forecast="f1")
    (kept,) = store.hours(JUNE + timedelta(hours=29), later)
    assert kept.record.temp_c.tobytes() == record.temp_c.tobytes()
    assert (kept.record.wind_height_m, kept.name, kept.forecast) == (2.0, "h", "")
    assert np.isnan(kept.record.rain_mm).all()
    assert store.hours(later, later + timedelta(days=9)) == ()
    assert len(store.hours(JUNE, later, forecast=None)) == 2
    assert [k.forecast for k in store.hours(JUNE, later, forecast="f1")] == ["f1"]
    assert len(store.hours(JUNE, later, forecast=None, as_known=JUNE)) == 1


def test_forecasts_are_kept_as_issued_once_each_in_order_of_issue(store: Store) -> None:
    days = np.array([1.0, NAN])
    new = IssuedForecast("nws", JUNE, JUNE.date(), JUNE.date(), days, days + 9, days, "whose")
    old = replace(new, issued=JUNE - timedelta(hours=6))
    id_ = store.add_forecast(new, kept=JUNE)
    assert id_
    assert store.add_forecast(new, kept=JUNE + timedelta(hours=1)) == ""
    assert store.add_forecast(old, kept=JUNE + timedelta(hours=2))
    assert [k.forecast.issued for k in store.forecasts()] == [old.issued, JUNE]
    assert [k.id for k in store.forecasts(JUNE)] == [id_]
    assert [k.id for k in store.forecasts(since=JUNE)] == [id_]
    back = store.forecasts()[1].forecast
    assert back.tmax_c.tobytes() == new.tmax_c.tobytes()
    assert [(d.lead, d.source) for d in back.days()] == [(1, "nws")]
    assert len(store.weather_marks()) == 2


def test_documents_are_kept_as_issued_once_each(store: Store) -> None:
    sheet = Issued("kailyard.sheet/1", date(2026, 6, 12), None, JUNE, "0.1.0", "f1", '{"number": 24}')
    assert store.keep_issued(sheet)
    assert not store.keep_issued(replace(sheet, made_at=JUNE + timedelta(hours=1)))
    assert store.keep_issued(replace(sheet, as_known=date(2026, 6, 1), made_at=JUNE + timedelta(hours=2)))
    assert store.keep_issued(replace(sheet, schema="kailyard.why/1", made_at=JUNE + timedelta(hours=3)))
    assert [d.made_at.hour for d in store.issued()] == [9, 11, 12]
    assert store.issued(schema="kailyard.sheet/1", as_known=JUNE) == (sheet,)
    with pytest.raises(DataError, match="no JSON"):
        store.keep_issued(replace(sheet, body="{"))
    assert store.verify() == ()


def test_verify_names_whatever_was_altered_behind_its_back() -> None:
    with by_address() as store:
        store.append([GARDEN, BED, PEA, PICK])
        store.add_weather(record(), imported=JUNE)
        store.keep_issued(Issued("kailyard.why/1", date(2026, 6, 12), None, JUNE, "0.1.0", "", "{}"))
        assert store.verify() == ()
        with store.writing() as db:
            db.execute(update(schema.planting).values(entry="nobody"))
            db.execute(insert(schema.bed), {"garden": "g1", "id": "bed-9", "body": "{}", "entry": "x"})
            db.execute(update(schema.entry).where(schema.entry.c.id == "pick").values(unit="lb", target="pea-7"))
            db.execute(update(schema.weather).values(source="another"))
            db.execute(update(schema.issued).values(body="[]"))
        said = store.verify()
        assert [line.partition(".")[0][:52] for line in said] == [
            "Entry pick (pick, 2026-06-01): the unit 'lb' is not ",
            "Entry pick (pick) speaks of 'pea-7', which is neithe",
            "The table 'bed' differs from the daybook at bed-9",
            "The table 'planting' differs from the daybook at pea",
            "The weather import 'another' is not what was importe",
            "The document issued 2026-06-01T09:00:00Z (kailyard",
        ]
        store.rebuild()
        assert not [line for line in store.verify() if "table" in line]
        with store.writing() as db:
            db.execute(update(schema.entry).where(schema.entry.c.id == "pick").values(payload="{"))
            db.execute(delete(schema.weather_column))
        (line,) = store.verify()
        assert "Entry 'pick': its row in the database cannot be read" in line
        with pytest.raises(DataError, match="The weather import of"):
            store.weather_imports()


def test_verify_names_hours_forecasts_and_normals_that_were_altered() -> None:
    with by_address() as store:
        hours = hourly(np.arange(3) + hour_number(JUNE), {"temp_c": np.array([1.0, 2.0, 3.0])}, source="s")
        store.add_hours(hours, imported=JUNE)
        days = np.array([1.0])
        store.add_forecast(IssuedForecast("nws", JUNE, JUNE.date(), JUNE.date(), days, days, days), kept=JUNE)
        store.add_normals(Normals("X", "1991-2020", (1.0,) * 12, (2.0,) * 12, (3.0,) * 12), kept=JUNE)
        assert store.verify() == ()
        with store.writing() as db:
            db.execute(update(schema.hours).values(source="another"))
            db.execute(update(schema.issued_forecast).values(source="another"))
            db.execute(update(schema.normals).values(body="{}"))
        assert [line[:31] for line in store.verify()] == [
            "The hourly import of 2026-06-01",
            "The forecast issued 2026-06-01T",
            "Normals kept 2026-06-01T09:00:0",
        ]
        with store.writing() as db:
            db.execute(update(schema.hours_column).values(cells=b""))
        with pytest.raises(DataError, match="The hourly import of"):
            store.hours(JUNE, JUNE)


def test_gardens_in_one_database_do_not_see_each_other() -> None:
    engine = create_engine("sqlite://", poolclass=StaticPool)
    schema.metadata.create_all(engine)
    mine, yours = (SqlStore(engine, garden=name, folder=Path(name)) for name in ("mine", "yours"))
    mine.append([GARDEN, BED, PEA])
    mine.add_weather(record(), imported=JUNE)
    yours.append([replace(GARDEN, text="another body, another garden")])
    yours.rebuild()
    assert (yours.beds(), yours.weather_imports(), len(yours.entries())) == ({}, (), 1)
    assert list(mine.plantings()) == ["pea-1"]
    mine.close()


def test_the_tables_can_be_made_in_another_kind_of_database() -> None:
    for table in schema.metadata.sorted_tables:
        assert "CREATE TABLE" in str(CreateTable(table).compile(dialect=postgresql.dialect()))
        assert table.name in ("alembic_version", "garden") or "garden" in table.primary_key.columns


def test_a_folder_keeps_its_garden_over_closing_and_opening(tmp_path: Path) -> None:
    with create_store(tmp_path / "g", first=[GARDEN, BED, PEA]) as store:
        garden = store.garden
    with open_store(tmp_path / "g") as store:
        assert store.garden == garden
        assert [e.id for e in store.entries()] == ["garden-0", "bed", "pea"]
    assert [p.name for p in (tmp_path / "g").iterdir()] == ["garden.db"]
