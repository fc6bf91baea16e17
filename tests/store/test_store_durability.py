"""An acknowledged entry survives `kill -9`."""

from __future__ import annotations

import os
import random
import signal
import time
from datetime import UTC, date, datetime
from pathlib import Path

import pytest
from daybooks import GARDEN

from kailyard.garden.model import Entry
from kailyard.store.sqlite import create_store, open_store

KILLS = 200
WRITTEN = datetime(2026, 6, 1, tzinfo=UTC)


def batch(name: str) -> list[Entry]:
    """One entry that touches the tables of things and one that does not: both are kept or neither."""
    thing = {"crop": "pea", "bed": "bed-1", "start": "sown"}
    return [
        Entry(
            f"{name}.p", "planting", 1, date(2026, 6, 1), WRITTEN, target=f"pea-{name.replace('.', '-')}", payload=thing
        ),
        Entry(f"{name}.r", "rain", 1, date(2026, 6, 1), WRITTEN, quantity=1.5, unit="mm"),
    ]


def test_a_commit_waits_for_the_disk(tmp_path: Path) -> None:
    with create_store(tmp_path) as store, store.reading() as db:
        assert db.exec_driver_sql("PRAGMA synchronous").scalar() == 3  # EXTRA: SQLite documentation, PRAGMA synchronous
        assert db.exec_driver_sql("PRAGMA journal_mode").scalar() == "delete"


def write_until_killed(folder: Path, name: str, acknowledged: int) -> None:
    """In a child: write batches, say each aloud once `append` has returned. Never returns."""
    try:
        with open_store(folder) as store:
            for n in range(10_000):
                store.append(batch(f"{name}.{n}"))
                os.write(acknowledged, f"{name}.{n}\n".encode())
    finally:
        os._exit(1)


@pytest.mark.skipif(not hasattr(os, "fork"), reason="needs a system that forks")
@pytest.mark.filterwarnings("ignore:.*fork:DeprecationWarning")  # the child uses nothing that another thread may hold
def test_no_acknowledged_entry_is_lost_in_200_kills(tmp_path: Path) -> None:
    chance = random.Random(20260601)
    folder = tmp_path / "g"
    create_store(folder, first=[GARDEN]).close()
    acknowledged: set[str] = set()
    for kill in range(KILLS):
        hear, say = os.pipe()
        child = os.fork()
        if child == 0:
            os.close(hear)
            write_until_killed(folder, f"k{kill}", say)
        os.close(say)
        heard = os.read(hear, 65536)  # the first acknowledgement: the child is at work
        time.sleep(chance.uniform(0, 0.03))
        os.kill(child, signal.SIGKILL)
        os.waitpid(child, 0)
        while more := os.read(hear, 65536):
            heard += more
        os.close(hear)
        assert heard, "the child died before it wrote anything"
        acknowledged.update(heard.decode().split())
    with open_store(folder) as store:
        kept = {e.id for e in store.entries()}
        assert {f"{name}.{part}" for name in acknowledged for part in "pr"} <= kept
        assert {i[:-2] for i in kept if i.endswith(".p")} == {i[:-2] for i in kept if i.endswith(".r")}
        assert len(store.plantings()) == sum(i.endswith(".p") for i in kept)
        assert not [line for line in store.verify() if "table" in line or "damaged" in line]
