"""A database that will not: one clear line, nothing changed."""

from __future__ import annotations

import os
import sqlite3
import tempfile
from contextlib import closing
from dataclasses import replace
from pathlib import Path

import pytest
from daybooks import GARDEN
from sqlalchemy import event

from kailyard.errors import Conflict, KailyardError, NotFound
from kailyard.store import (
    schema,
    verify,  # noqa: F401 before the test below becomes nobody, who may not read the program
)
from kailyard.store.base import StoreError
from kailyard.store.sqlite import create_store, open_store

NOTE = replace(GARDEN, id="n1", kind="note", payload={}, text="A wet day.")


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    create_store(tmp_path / "g", first=[GARDEN]).close()
    return tmp_path / "g"


def test_where_no_garden_is_the_way_to_make_one_is_told(tmp_path: Path) -> None:
    for place in (tmp_path, tmp_path / "nowhere", tmp_path / "a" / "b"):
        with pytest.raises(NotFound, match=r"There is no garden at .* `kailyard new` makes one"):
            open_store(place)
    assert list(tmp_path.iterdir()) == []


def test_a_garden_is_never_made_over_another(folder: Path) -> None:
    before = (folder / "garden.db").read_bytes()
    with pytest.raises(Conflict, match="There is a garden at"):
        create_store(folder)
    assert (folder / "garden.db").read_bytes() == before


def test_a_garden_whose_first_entries_are_faulty_is_not_made(tmp_path: Path) -> None:
    with pytest.raises(KailyardError, match="Entry n1"):
        create_store(tmp_path / "g", first=[GARDEN, replace(NOTE, quantity=1.0, unit="kg")])
    assert list((tmp_path / "g").iterdir()) == []


def test_a_place_that_is_no_folder_is_refused(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("x")
    with pytest.raises(StoreError, match=r"No garden can be made at .*Choose another folder"):
        create_store(tmp_path / "file" / "g")


@pytest.mark.parametrize("name", ["a?b#c%41&mode=ro", "गार्डन 🥕", "it's; --", "a b\\c"])
def test_folders_with_odd_names_hold_gardens(tmp_path: Path, name: str) -> None:
    with create_store(tmp_path / name, first=[GARDEN]) as store:
        store.append([NOTE])
        assert len(store.entries()) == 2
    assert [p.name for p in tmp_path.iterdir()] == [name]


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (b"", "damaged or is none"),
        (b"just some text, long enough to be a header of a file" * 99, "damaged or is none"),
        (bytes(range(256)) * 64, "damaged or is none"),
        (b"SQLite format 3\x00" + b"\x00" * 4080, "damaged or is none"),
    ],
)
def test_a_file_that_is_no_database_is_refused_and_left_alone(tmp_path: Path, content: bytes, says: str) -> None:
    (tmp_path / "garden.db").write_bytes(content)
    with pytest.raises(StoreError, match=says):
        open_store(tmp_path)
    assert (tmp_path / "garden.db").read_bytes() == content


def test_a_database_cut_short_is_told_by_verify_or_on_opening(folder: Path) -> None:
    whole = (folder / "garden.db").read_bytes()
    for share in (0.2, 0.5, 0.9):
        (folder / "garden.db").write_bytes(whole[: int(len(whole) * share)])
        with pytest.raises(StoreError, match="Restore a backup"), open_store(folder) as store:
            raise StoreError("\n".join(store.verify()))


def test_another_programs_database_is_refused(tmp_path: Path) -> None:
    with closing(sqlite3.connect(tmp_path / "garden.db")) as db:
        db.execute("CREATE TABLE recipes (name TEXT)")
    with pytest.raises(StoreError, match="damaged or is none"):
        open_store(tmp_path)


def test_a_database_of_a_newer_program_is_refused(folder: Path) -> None:
    with closing(sqlite3.connect(folder / "garden.db")) as db:
        db.execute("UPDATE alembic_version SET version_num = '0999'")
        db.commit()
    with pytest.raises(StoreError, match=rf"newer Kailyard .*state 999, this program knows {schema.NUMBER}"):
        open_store(folder)


def test_a_locked_database_is_waited_for_and_then_told(folder: Path) -> None:
    with (
        closing(sqlite3.connect(folder / "garden.db", isolation_level=None)) as other,
        open_store(folder, wait_s=0.05) as s,
    ):
        other.execute("BEGIN IMMEDIATE")
        with pytest.raises(StoreError, match="Another program is writing it"):
            s.append([NOTE])
        assert len(s.entries()) == 1
        other.execute("COMMIT")
        assert s.append([NOTE]) == 1


def test_a_full_disk_keeps_nothing_of_the_batch(folder: Path) -> None:
    with open_store(folder) as store:

        @event.listens_for(store._engine, "begin")
        def _(db) -> None:
            db.exec_driver_sql("PRAGMA max_page_count=1")  # no page more than there are

        with pytest.raises(StoreError, match=r"The disk is full\. Make room"):
            store.append([replace(NOTE, id=f"n{n}", text="wet " * 999) for n in range(50)])
    with open_store(folder) as store:
        assert len(store.entries()) == 1
        assert store.verify() == ()


@pytest.mark.skipif(not hasattr(os, "fork"), reason="needs a system that forks")
@pytest.mark.filterwarnings("ignore:.*fork:DeprecationWarning")  # the child uses nothing that another thread may hold
def test_a_garden_that_may_not_be_written_can_still_be_read() -> None:
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place) / "g"
        create_store(folder, first=[GARDEN]).close()
        Path(place).chmod(0o755)
        folder.chmod(0o555)
        (folder / "garden.db").chmod(0o444)
        child = os.fork()  # the superuser may write anywhere, so the question is asked as nobody
        if child == 0:
            told = 1
            try:
                if os.getuid() == 0:
                    os.setuid(65534)
                with open_store(folder) as store:
                    assert len(store.entries()) == 1
                    assert store.verify() == ()
                    try:
                        store.append([replace(GARDEN, id="later")])
                    except StoreError as err:
                        told = 0 if "It cannot be written" in str(err) else 2
            finally:
                os._exit(told)
        _, status = os.waitpid(child, 0)
        assert os.waitstatus_to_exitcode(status) == 0
        folder.chmod(0o755)
