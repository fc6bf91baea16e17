"""Many at once: the season is made anew once for all who wait, and no page claims an entry that it does not know."""

from __future__ import annotations

import shutil
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from datetime import date
from pathlib import Path
from threading import Event, Lock
from time import sleep

import pytest
from browsing import Browser, SetClock, another

from kailyard.desk.cache import Behind, Keeper, WarmDesk
from kailyard.desk.desk import Desk
from kailyard.web import serve_page

IN_WORK = "being worked in"


class Making:
    """Makes the season when it is let, and counts."""

    def __init__(self) -> None:
        self.began, self.may_end, self.times = Event(), Event(), 0
        self._lock = Lock()

    def __call__(self, *_: object) -> None:
        with self._lock:
            self.times += 1
        self.began.set()
        assert self.may_end.wait(20)


@pytest.fixture
def making(monkeypatch: pytest.MonkeyPatch) -> Iterator[Making]:
    made = Making()
    made.may_end.set()
    monkeypatch.setattr(serve_page, "season_view", made)
    yield made
    made.may_end.set()


@pytest.fixture
def pool() -> Iterator[ThreadPoolExecutor]:
    with ThreadPoolExecutor(12) as made:
        yield made


def note(browser: Browser, text: str) -> str:
    """Enter a note; where that leads."""
    sent = browser.send("/enter", at="/enter", id=f"n-{text.replace(' ', '-')}", kind="note", text=text, back="sheet")
    assert sent.status_code == 303
    return str(sent.headers["location"])


def test_who_reads_meanwhile_gets_the_last_finished_sheet_and_is_told_what_it_lacks(
    here: Browser, making: Making, pool: ThreadPoolExecutor
) -> None:
    reader = another(here)
    assert IN_WORK not in reader.get("/").text
    entries = len(Desk(here.folder).store.entries())
    way = note(here, "dew at six")
    making.may_end.clear()
    making.began.clear()
    shown = pool.submit(here.get, way)  # the writer, who makes the season anew
    assert making.began.wait(20)
    page = reader.get("/")
    assert f"This page rests on {entries} entries. 1 that came in just now is {IN_WORK}" in page.text
    assert "kailyard-keep" not in page.headers
    making.may_end.set()
    assert "dew at six" in shown.result().text
    assert IN_WORK not in shown.result().text
    later = reader.get("/")
    assert IN_WORK not in later.text
    assert later.headers["kailyard-keep"]


@pytest.mark.parametrize("by", ["form", "entries", "typed"])
def test_who_wrote_waits_rather_than_see_a_page_without_it(
    here: Browser, making: Making, pool: ThreadPoolExecutor, by: str
) -> None:
    here.get("/")
    maker = another(here)
    way = note(maker, "the other one")
    making.may_end.clear()
    making.began.clear()
    other = pool.submit(maker.get, way)
    assert making.began.wait(20)
    if by == "form":
        note(here, "dew at six")
    elif by == "entries":
        here.entries({"id": "tel-1", "kind": "note", "happened": "2026-06-12", "text": "dew at six"})
    else:
        token = here.get("/api/session").json()["token"]
        form = {"id": "t-1", "to": "/enter", "typed": "2026-06-12T13:00:00Z"}
        form |= {"fields": [["id", "t-1"], ["kind", "note"], ["text", "dew at six"]]}
        answer = here.client.post("/entries/typed", json=[form], headers={"X-Kailyard-Token": token})
        assert answer.status_code == 200
    waits = pool.submit(here.get, "/")
    sleep(0.3)
    assert not waits.done()
    making.may_end.set()
    assert IN_WORK not in waits.result().text
    assert f"1 that came in just now is {IN_WORK}" in other.result().text


def test_ten_who_wait_are_answered_by_one_making(
    gardens: Callable[[str], Path], tmp_path: Path, clock: SetClock, pool: ThreadPoolExecutor
) -> None:
    folder = Path(shutil.copytree(gardens("demo"), tmp_path / "garden"))
    keeper, making = Keeper(folder), Making()

    def ask(n: int, *, write: bool) -> tuple[Behind | None, bool]:
        desk = WarmDesk(folder, keeper=keeper, clock=clock)
        if write:
            desk.keep([desk.entry("note", happened=date(2026, 6, 11), text=f"slug {n}")])
        with desk.settled(making) as behind:
            found = behind, any(e.text == f"slug {n}" for e in desk.garden().entries)
        desk.close()
        return found

    first = pool.submit(ask, 0, write=False)
    assert making.began.wait(20)
    writers = [pool.submit(ask, n, write=True) for n in range(1, 11)]
    for _ in range(200):
        if sum(e.text.startswith("slug") for e in Desk(folder).store.entries()) == 10:
            break
        sleep(0.05)
    making.may_end.set()
    assert first.result()[1] is False
    assert all(known for _, known in (w.result() for w in writers))
    assert making.times == 2
    keeper.close()


def test_the_garden_stands_still_within_one_page(
    gardens: Callable[[str], Path], tmp_path: Path, clock: SetClock
) -> None:
    folder = Path(shutil.copytree(gardens("demo"), tmp_path / "garden"))
    keeper = Keeper(folder)
    desk, other = (WarmDesk(folder, keeper=keeper, clock=clock) for _ in range(2))
    with desk.settled(lambda: None) as behind:
        before = len(desk.garden().entries)
        other.keep([other.entry("note", happened=date(2026, 6, 11), text="meanwhile")])
        assert len(other.garden().entries) == before + 1
        assert (behind, len(desk.garden().entries), len(desk.entries())) == (None, before, len(other.entries()) - 1)
    assert len(desk.garden().entries) == before + 1
