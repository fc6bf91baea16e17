"""A month in the demo garden with a telephone, by somebody who opens no terminal after `make serve`."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from collections import Counter
from collections.abc import Iterator
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest
from phone import SIZE, begun
from playwright_words import expect
from relay import free_port
from served import LONG_S

from kailyard.desk.desk import Desk
from kailyard.garden.model import Entry

ROOT = Path(__file__).resolve().parents[2]
FIRST, DAYS = date(2026, 6, 12), 30


@pytest.fixture
def made_serve(tmp_path: Path) -> Iterator[tuple[str, Path]]:
    """What `make serve` starts: its address and the garden's folder."""
    folder, port = tmp_path / "demo-garden", free_port()
    # The environment is that of these tests: make is told that it is new enough.
    told = [f"DEMO={folder}", f"VENV={sys.prefix}", f"SERVE_ARGS=--port {port}", "-o", f"{sys.prefix}/installed"]
    served = subprocess.Popen(
        ["make", "--no-print-directory", "serve", *told],
        cwd=ROOT,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.PIPE,
        text=True,
        start_new_session=True,
    )
    said = []
    assert served.stderr
    for line in served.stderr:
        said.append(line)
        if line.startswith("Ctrl-C"):
            break
    else:
        raise AssertionError("".join(said))
    yield said[0].split()[-1].rstrip("/"), folder
    os.killpg(served.pid, signal.SIGINT)
    served.communicate(timeout=LONG_S)


class Gardener:
    """Somebody with a telephone in one hand: taps, types little, and notices when something goes wrong."""

    def __init__(self, page: Any) -> None:
        self.page = page
        self.faults: list[str] = []
        self.kept: list[tuple[str, ...]] = []
        """What was said back after each entry."""
        page.on("pageerror", lambda error: self.faults.append(str(error)))
        page.on("console", lambda line: self.faults.append(line.text) if line.type == "error" else None)
        page.on("response", self._answered)

    def _answered(self, response: Any) -> None:
        if response.status >= 400:
            self.faults.append(f"{response.status} {response.url}")

    def looks(self) -> None:
        """Nothing sticks out, nothing went wrong."""
        wide = self.page.evaluate("document.documentElement.scrollWidth - innerWidth")
        if wide > 0:
            self.faults.append(f"{self.page.url} can be pushed sideways by {wide} px")
        self.faults += self.page.locator(".problem").all_inner_texts()

    def menu(self, name: str) -> None:
        self.page.locator("nav.menu").get_by_role("link", name=name, exact=True).tap()
        expect(self.page.locator("nav.menu [aria-current]")).to_have_text(name)
        self.looks()

    def sends(self, button: Any) -> str:
        """Tap, and wait until it is said back; what it says."""
        was = self.page.url
        button.tap()
        self.page.wait_for_url(lambda url: url != was and "?kept=" in url)
        taken = self.page.locator(".taken")
        expect(taken).to_be_visible()
        says = tuple(taken.locator("b").all_inner_texts())
        self.kept.append(says)
        self.looks()
        return " ".join(says)

    def lines(self) -> list[str]:
        """The first words of each line to do or to look at that takes an answer."""
        return self.page.locator("section:is(.work, .plain) li:has(.answers) b:first-child").all_inner_texts()

    def answer(self, n: int, verdict: str) -> str:
        """One line of the sheet; what it asked."""
        line = self.page.locator("section:is(.work, .plain) li:has(.answers)").nth(n)
        asked = line.locator("b").first.inner_text()
        answers = line.locator(".answers")
        if verdict == "not yet":
            self.sends(answers.get_by_text("not yet", exact=True))
        elif verdict == "leave it":
            answers.locator("summary", has_text="leave it").tap()
            self.sends(answers.locator("details[open] button", has_text="leave it"))
        elif answers.locator("> button", has_text="done").count():
            self.sends(answers.locator("> button", has_text="done"))
        else:
            answers.locator("summary", has_text="done").tap()
            opened = answers.locator("details[open]").first
            if (amount := opened.locator("[name=amount]")).count():
                amount.first.fill("1.5" if opened.locator("select").first.input_value() == "kg" else "3")
                self.sends(opened.locator("button").first)
            elif (found := opened.locator("[name=text]")).count():
                found.fill("all as it should be")
                sound = opened.get_by_role("button", name="sound", exact=True)
                self.sends(sound if sound.count() else opened.locator("button").first)
            else:
                self.sends(opened.locator("button").first)
        return asked

    def reads_off(self, what: str, figure: str) -> None:
        self.menu("Enter")
        form = self.page.locator("form.entry", has=self.page.get_by_label(what))
        form.get_by_label(what).fill(figure)
        self.sends(form.get_by_role("button", name="Keep"))

    def a_day_on(self) -> None:
        self.page.get_by_role("button", name="a day on").tap()
        expect(self.page.get_by_role("status").filter(has_text="It is ")).to_be_visible()
        self.looks()


def station(first: date, last: date) -> bytes:
    """The station's file of some days of an invented summer."""
    days = range((last - first).days + 1)
    rows = (f"{first + timedelta(days=n)},{11 + n % 5},{21 + n % 7},{4 * (n % 6 == 3)}" for n in days)
    return "\n".join(("day,low,high,rain", *rows)).encode()


def sends_weather(who: Gardener, first: date, last: date) -> None:
    who.menu("Weather")
    page = who.page
    file = {"name": "pier.csv", "mimeType": "text/csv", "buffer": station(first, last)}
    page.get_by_label("The station's file").set_input_files(file)
    columns = {"the day stands": "day", "the lowest": "low", "the highest": "high", "rain under": "rain"}
    for words, column in columns.items():
        page.get_by_role("textbox", name=words).fill(column)
    page.get_by_role("button", name="Read the file").tap()
    expect(page.get_by_role("status").filter(has_text="Read pier.csv")).to_be_visible()


def new_bed_and_planting(who: Gardener) -> None:
    who.menu("Beds")
    page = who.page
    new = page.locator("#new form")
    for label, text in (("bed", "strip"), ("length", "4"), ("width", "0.9")):
        new.locator(f"[name='cells.{label}']").fill(text)
    new.get_by_role("button", name="Enter the bed").tap()
    expect(page.locator("#row-strip")).to_be_visible()
    who.menu("Plantings")
    new = page.locator("#new form")
    for label, text in (("planting", "radish-9"), ("crop", "radish"), ("bed", "strip")):
        new.locator(f"[name='cells.{label}']").fill(text)
    new.locator("[name='cells.start']").select_option("sown")
    new.get_by_role("button", name="Enter the planting").tap()
    expect(page.locator("#row-radish-9")).to_be_visible()
    page.locator("#row-radish-9").get_by_role("link", name="radish-9", exact=True).tap()
    page.wait_for_url("**/planting/radish-9")
    page.get_by_role("link", name="anything else of radish-9").tap()
    page.get_by_label("another kind").select_option("sow")
    page.get_by_role("button", name="Take it").tap()
    who.sends(page.locator("form.whole").get_by_role("button", name="Keep"))


def entries_of(folder: Path) -> tuple[Entry, ...]:
    desk = Desk(folder)
    try:
        return tuple(desk.store.entries())
    finally:
        desk.close()


def test_a_month_with_a_telephone(
    made_serve: tuple[str, Path], playwright: Any, debians_chromium: str, tmp_path: Path
) -> None:
    address, folder = made_serve
    before = {entry.id for entry in entries_of(folder)}
    browser = playwright.chromium.launch(**begun(Path(debians_chromium), tmp_path))
    held = browser.new_context(base_url=address, viewport=SIZE, has_touch=True, is_mobile=True, locale="en-GB")
    held.set_default_timeout(1000 * LONG_S)
    page = held.new_page()
    who = Gardener(page)
    page.goto("/")
    first_lines = who.lines()
    verdicts: Counter[str] = Counter()
    looks = os.environ.get("KAILYARD_LOOKS")  # a folder for pictures, for whoever wants to see the month
    for n in range(DAYS):
        today = FIRST + timedelta(days=n)
        expect(page.get_by_role("form", name="The day")).to_contain_text(f"{today.day} {today:%B} {today.year}")
        if n:
            who.menu("Sheet")
        assert str(today.day) in page.locator("h1").inner_text()
        today_asked: set[str] = set()
        for turn in range(4):
            lines = who.lines()
            fresh = [at for at, line in enumerate(lines) if line not in today_asked]
            if not fresh:
                break
            at = fresh[-1] if turn == 3 else fresh[min(3 * turn, len(fresh) - 1)]  # the last is to be looked at
            verdict = "not yet" if turn == 1 and n % 4 == 1 else "leave it" if turn == 2 and n % 6 == 2 else "done"
            today_asked.add(who.answer(at, verdict))
            verdicts[verdict] += 1
            if looks and turn == 0:
                page.screenshot(path=Path(looks) / f"day-{n:02}-said.png")
        if looks and n % 6 == 0:
            page.screenshot(path=Path(looks) / f"day-{n:02}.png", full_page=True)
        if n % 3 == 0:
            who.reads_off("rain gauge", str(n + 1))
        if n % 5 == 1:
            who.reads_off("air minimum", "9.5")
        if n % 5 == 2:
            who.menu("Enter")
            who.sends(page.locator(".offers").get_by_role("button", name="watered").first)
        if n % 4 == 2:
            sees_a_stage(who)
        if n == 9:  # the point was missing
            page.goto("/daybook")
            page.locator("tr", has_text="rain: 10 mm").get_by_role("link", name="open").tap()
            page.get_by_role("link", name="Open it as it was entered").tap()
            page.get_by_label("how much").fill("1")
            page.get_by_role("button", name="Put right").tap()
            page.wait_for_url("**/daybook?kept=*")
        if n == 10:
            new_bed_and_planting(who)
        if n in (14, 28):
            sends_weather(who, FIRST, today - timedelta(days=1))
        if n == 20:  # a slip of the thumb, taken back
            who.menu("Enter")
            who.sends(page.locator(".offers").get_by_role("button", name="watered").first)
            page.locator(".taken").get_by_role("button", name="Undo").tap()
            page.wait_for_url(f"{address}/enter")
        who.a_day_on()

    new = [entry for entry in entries_of(folder) if entry.id not in before]
    assert not who.faults, "\n".join(who.faults)
    kinds = Counter(entry.kind for entry in new)
    assert kinds["rain"] == DAYS // 3 + 1
    assert {e.quantity for e in new if e.kind == "rain"} == {float(n) for n in (1, *range(1, DAYS + 1, 3))}
    assert kinds["air-temperature"] == 6
    assert kinds["stage"] >= 1
    assert kinds["bed"] == kinds["planting"] == 1
    assert kinds["withdraw"] == 1
    assert {e.happened for e in new} == {FIRST + timedelta(days=n) for n in range(DAYS)}
    assert kinds["decide"] >= verdicts["not yet"] + verdicts["leave it"]
    assert verdicts["done"] > 80
    assert len(kinds) >= 11, "work of many kinds was done"

    # The daybook tells it all, and the sheet is another.
    who.menu("Daybook")
    listed: set[str] = set()
    while True:
        listed |= set(page.locator("table.rows tbody tr").evaluate_all("all => all.map(each => each.id)"))
        if {e.id for e in new} <= listed:
            break
        leaf = page.url
        page.get_by_role("button", name="Earlier entries").tap()
        page.wait_for_url(lambda url, leaf=leaf: url != leaf)
    who.menu("Sheet")
    assert "12" in page.locator("h1").inner_text()
    assert set(who.lines()) != set(first_lines)
    assert not who.faults, "\n".join(who.faults)
    browser.close()


def sees_a_stage(who: Gardener) -> None:
    """The first stage that is asked for, where one is."""
    who.menu("Enter")
    due = who.page.locator(".quick details", has=who.page.locator("[name=stage]:not([value=mature])")).first
    if due.count():
        due.locator("summary").tap()
        who.sends(due.get_by_role("button", name="seen", exact=True))
