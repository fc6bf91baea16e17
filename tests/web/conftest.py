"""Three gardens and two doors: to this machine alone, and to the local network over TLS."""

from __future__ import annotations

import shutil
from collections.abc import Callable, Iterator
from contextlib import ExitStack
from datetime import UTC, date, datetime
from pathlib import Path

import pytest
from argon2 import PasswordHasher
from browsing import HOSTILE, LAN, PASSPHRASE, Browser, SetClock
from starlette.testclient import TestClient

from kailyard.demo.weather import demo_record
from kailyard.desk import people
from kailyard.desk.demo import write_demo
from kailyard.desk.desk import Desk
from kailyard.desk.serving import Served, add_person
from kailyard.store.sqlite import create_store
from kailyard.web.app import create_app


@pytest.fixture(autouse=True)
def quick_hashes(monkeypatch: pytest.MonkeyPatch) -> None:
    """argon2id with the least work: how much it is in earnest has a test of its own."""
    hasher = PasswordHasher(time_cost=1, memory_cost=8, parallelism=1)
    monkeypatch.setattr(people, "_hasher", lambda: hasher)
    people._nobody.cache_clear()


@pytest.fixture
def clock() -> SetClock:
    return SetClock()


@pytest.fixture(scope="session")
def gardens(tmp_path_factory: pytest.TempPathFactory) -> Callable[[str], Path]:
    """Folders of the gardens, each written once; copy before changing."""
    root = tmp_path_factory.mktemp("gardens")
    makers = {"demo": _demo, "empty": _empty, "hostile": _hostile}

    def garden(name: str) -> Path:
        folder = root / name
        if not folder.exists():
            makers[name](folder)
        return folder

    return garden


@pytest.fixture
def door(gardens: Callable[[str], Path], tmp_path: Path, clock: SetClock) -> Iterator[Callable[..., Browser]]:
    """Opens a door of a copy of a garden; over the network if asked."""
    opened: list[str] = []
    with ExitStack() as stack:

        def open_door(garden: str = "demo", *, lan: bool = False) -> Browser:
            opened.append(garden)
            folder = shutil.copytree(gardens(garden), tmp_path / f"{garden}-{len(opened)}")
            served = Served(
                (LAN,), f"https://{LAN}:8347/", folder / "crt", folder / "key", 8348, f"http://{LAN}:8348/", "AA:BB"
            )
            app = create_app(folder, lan=served if lan else None, clock=clock, secure=lan)
            host = f"https://{LAN}:8347" if lan else "http://localhost:8347"
            client = stack.enter_context(TestClient(app, base_url=host))
            return Browser(client, folder, clock)

        yield open_door


@pytest.fixture
def here(door: Callable[..., Browser]) -> Browser:
    """At the demo's own machine, where nobody has a name."""
    return door()


@pytest.fixture
def lan(door: Callable[..., Browser]) -> Browser:
    """A stranger at the demo's door over the network; Idony has a name and keeps the names, Perrin has one too."""
    made = door(lan=True)
    desk = Desk(made.folder, clock=made.clock)
    add_person(desk, "Idony", PASSPHRASE)
    add_person(desk, "Perrin", PASSPHRASE)
    return made


def _demo(folder: Path) -> None:
    desk = Desk(folder, clock=lambda: datetime(2026, 6, 12, 14, 0, tzinfo=UTC))
    write_demo(desk)
    desk.close()


def _empty(folder: Path, name: str = "Bare Ground") -> None:
    desk = Desk(folder, clock=lambda: datetime(2026, 3, 1, 12, 0, tzinfo=UTC))
    payload = {"name": name, "latitude": 44.2, "longitude": -38.6, "elevation_m": 60.0}
    create_store(folder, first=[desk.entry("garden", happened=date(2026, 3, 1), payload=payload)]).close()


def _hostile(folder: Path) -> None:
    """Every name that a gardener may choose is chosen badly."""
    _empty(folder, HOSTILE)
    desk = Desk(folder, clock=lambda: datetime(2026, 5, 2, 12, 0, tzinfo=UTC), who=HOSTILE)
    day = date(2026, 5, 1)
    desk.store.add_weather(demo_record(), imported=desk.now(), name=HOSTILE)
    bed = {"name": HOSTILE, "length_m": 5.0, "width_m": 1.2, "soil": HOSTILE}
    cultivar = {"crop": "lettuce-leaf", "name": HOSTILE, "habit": HOSTILE}
    planting = {"crop": "lettuce-leaf", "bed": "bed-1", "start": "sown", "cultivar": HOSTILE, "note": HOSTILE}
    desk.keep(
        [
            desk.entry("bed", happened=day, target="bed-1", payload=bed),
            desk.entry("cultivar", happened=day, payload=cultivar),
            desk.entry("planting", happened=day, target="lettuce-1", payload=planting),
            desk.entry("sow", happened=day, target="lettuce-1", text=HOSTILE),
            desk.entry("look", happened=day, target="lettuce-1", text=HOSTILE, payload={"found": HOSTILE}),
            desk.entry("note", happened=day, text=HOSTILE),
            desk.entry("decide", happened=day, payload={"line": HOSTILE[:60].strip(), "verdict": "done"}),
        ]
    )
    desk.close()
