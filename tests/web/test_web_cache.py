"""What is kept between requests is never stale, whoever changed the garden and however."""

from __future__ import annotations

import shutil
import subprocess
import sys
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from datetime import date
from pathlib import Path

import pytest
from browsing import SetClock
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from kailyard.demo.weather import demo_record
from kailyard.desk.ask import sheet, stages
from kailyard.desk.cache import MOST, Keeper, WarmDesk
from kailyard.desk.desk import Desk
from kailyard.errors import NotFound
from kailyard.store.sqlite import open_store


@pytest.fixture
def folder(gardens: Callable[[str], Path], tmp_path: Path) -> Path:
    return Path(shutil.copytree(gardens("demo"), tmp_path / "garden"))


@pytest.fixture
def warm(folder: Path, clock: SetClock) -> WarmDesk:
    return WarmDesk(folder, keeper=Keeper(folder), clock=clock, who="Idony")


def rain(desk: Desk, mm: float) -> None:
    desk.keep([desk.entry("rain", happened=date(2026, 6, 11), quantity=mm, unit="mm")])


def made(desk: Desk) -> list[int]:
    """Ask for a value; a list that grows each time it had to be made."""
    count: list[int] = desk.kept("count", list)
    return count


def test_what_is_kept_is_the_very_same(warm: WarmDesk) -> None:
    assert sheet(warm) is sheet(warm)
    assert stages(warm, "pea-1") is stages(warm, "pea-1")


@pytest.mark.parametrize(
    "who", ["this desk", "another desk", "another program", "own facts", "weather", "another file"]
)
def test_a_change_by_anyone_is_seen_at_once(warm: WarmDesk, folder: Path, clock: SetClock, who: str) -> None:
    before = made(warm)
    if who == "this desk":
        rain(warm, 9)
    elif who == "another desk":
        rain(Desk(folder, clock=clock), 9)
    elif who == "another program":
        words = ["enter", "note", "--text", "dew", "--on", "2026-06-10"]
        subprocess.run(
            [sys.executable, "-m", "kailyard", "--garden", str(folder), *words], check=True, capture_output=True
        )
    elif who == "own facts":
        (folder / "facts.csv").write_text("subject,quantity,value,unit,status,source,locator\n", encoding="utf-8")
    elif who == "weather":
        open_store(folder).add_weather(demo_record(), imported=clock.now, name="again, under another name")
        with open_store(folder) as store:
            record = demo_record()
            store.add_weather(
                record.__class__(**{**_fields(record), "source": "other"}), imported=clock.now, name="other"
            )
    else:
        shutil.copy(folder / "garden.db", folder / "new.db")
        other = Desk(folder, clock=clock)
        rain(other, 3)
        other.close()
        (folder / "new.db").replace(folder / "garden.db")
        rain(warm, 5)
    assert made(warm) is not before


def test_keeping_a_sheet_as_issued_throws_nothing_away(warm: WarmDesk) -> None:
    before = made(warm)
    sheet(warm)
    assert len(warm.store.issued()) >= 1
    assert made(warm) is before


def test_the_day_is_part_of_what_is_asked(warm: WarmDesk, clock: SetClock) -> None:
    before = sheet(warm)
    clock.move_on(days=1)
    assert sheet(warm).first == date(2026, 6, 13)
    assert before.first == date(2026, 6, 12)


def test_no_more_is_kept_than_is_stated(warm: WarmDesk) -> None:
    for n in range(MOST * 2):
        warm.kept(n, lambda n=n: n)
    assert len(warm._keeper.present(warm).slots) <= MOST


def test_what_cannot_be_made_is_tried_again(warm: WarmDesk) -> None:
    def fail() -> None:
        raise NotFound("not yet")

    with pytest.raises(NotFound):
        warm.kept("x", fail)
    assert warm.kept("x", lambda: 1) == 1


def test_many_at_once_make_it_once(folder: Path, clock: SetClock) -> None:
    keeper, times = Keeper(folder), []

    def one(_: int) -> int:
        desk = WarmDesk(folder, keeper=keeper, clock=clock)
        try:
            return desk.kept("slow", lambda: times.append(1) or len(times))
        finally:
            desk.close()

    with ThreadPoolExecutor(8) as pool:
        assert set(pool.map(one, range(40))) == {1}


@settings(max_examples=15, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.lists(st.sampled_from(["write", "read", "other", "issue"]), max_size=8))
def test_a_warm_desk_always_answers_what_a_cold_one_does(folder: Path, clock: SetClock, steps: list[str]) -> None:
    keeper = Keeper(folder)
    for n, step in enumerate(steps):
        clock.move_on(seconds=1)
        desk = WarmDesk(folder, keeper=keeper, clock=clock)
        cold = Desk(folder, clock=clock)
        if step == "write":
            rain(desk, n + 1)
        elif step == "other":
            rain(cold, n + 1)
        elif step == "issue":
            sheet(desk)
        assert desk.garden() == cold.garden()
        assert desk.garden().entries == cold.garden().entries
        desk.close()
        cold.close()
    keeper.close()


def _fields(record: object) -> dict[str, object]:
    return {name: getattr(record, name) for name in type(record).__dataclass_fields__}
