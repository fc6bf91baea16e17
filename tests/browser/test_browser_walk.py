"""From an empty folder through a day's work and back to signal, by the keyboard alone, in one go."""

from __future__ import annotations

import math
import random
from datetime import date, timedelta
from pathlib import Path

from playwright_words import expect
from served import Server

TODAY = date(2026, 6, 12)


def station(years: int = 12) -> str:
    """An invented station: a wave through the year, with weather thrown on it."""
    chance, first = random.Random(12), TODAY - timedelta(days=365 * years)
    rows = ["day,low,high,rain"]
    for n in range(365 * years):
        day = first + timedelta(days=n)
        mean = 10.5 - 8 * math.cos(2 * math.pi * (day.timetuple().tm_yday - 20) / 365) + chance.gauss(0, 2.5)
        rows.append(f"{day},{mean - 4.5:.1f},{mean + 5:.1f},{max(0.0, chance.gauss(-2, 5)):.1f}")
    return "\n".join(rows)


class Keys:
    """Somebody at the keyboard."""

    def __init__(self, page) -> None:
        self.page = page

    def to(self, what) -> None:
        """By Tab to one thing; it must be reached and be seen."""
        expect(what).to_have_count(1)
        for _ in range(400):
            if what.evaluate("each => each === document.activeElement"):
                return
            self.page.keyboard.press("Tab")
        raise AssertionError(f"the keyboard does not come to {what}")

    def fill(self, label: str, text: str, within=None) -> None:
        self.to((within or self.page).get_by_label(label, exact=True))
        self.page.keyboard.press("ControlOrMeta+a")
        self.page.keyboard.type(text)

    def press(self, what) -> None:
        self.to(what)
        self.page.keyboard.press("Enter")

    def button(self, name: str, within=None, *, leads: str = "") -> None:
        self.press((within or self.page).get_by_role("button", name=name))
        if leads:
            self.page.wait_for_url(leads)

    def menu(self, name: str) -> None:
        self.press(self.page.locator("nav.menu").get_by_role("link", name=name, exact=True))


def test_the_walk(peopled, serve, telephone, lan, tmp_path: Path) -> None:
    folder = tmp_path / "new"
    folder.mkdir()
    server: Server = serve(peopled(folder), "--today", TODAY.isoformat())
    phone = telephone()
    page, keys = phone.page, Keys(phone.page)
    hosts: set[str] = set()
    page.on("request", lambda request: hosts.add(request.url.split("/")[2]))
    faults: list[str] = []
    page.on("pageerror", lambda error: faults.append(str(error)))
    page.on("console", lambda line: faults.append(line.text) if "Content Security" in line.text else None)

    page.goto("/login")
    keys.fill("Name", "Idony")
    keys.fill("Passphrase", "four words quite apart")
    keys.button("Come in", leads="**/garden")

    # A new garden, its weather, a bed, plantings.
    for label, text in (("name", "Tern Bank"), ("latitude", "52.2"), ("longitude", "-4.1"), ("time zone", "UTC")):
        keys.to(page.get_by_role("combobox" if label == "time zone" else "textbox", name=label))
        page.keyboard.type(text)
    keys.button("Make the garden", leads="**/weather")
    with page.expect_file_chooser() as chosen:
        keys.press(page.get_by_label("The station's file"))
    chosen.value.set_files({"name": "station.csv", "mimeType": "text/csv", "buffer": station().encode()})
    columns = {"the day stands": "day", "the lowest": "low", "the highest": "high", "rain under": "rain"}
    for words, column in columns.items():
        keys.to(page.get_by_role("textbox", name=words))
        page.keyboard.type(column)
    keys.button("Read the file")
    expect(page.get_by_role("status").filter(has_text="Read station.csv")).to_be_visible()
    keys.menu("Beds")
    new = page.locator("#new")
    for label, text in (("length", "4"), ("width", "1.2")):
        keys.to(new.get_by_role("textbox", name=label))
        page.keyboard.type(text)
    keys.button("Enter the bed", leads="**/beds*")
    keys.menu("Plantings")
    keys.to(page.get_by_role("textbox", name="Rows", exact=True))
    page.keyboard.insert_text(
        "planting\tcrop\tbed\tstart\tplanned\n"
        "bean-1\tbean-bush\tbed-1\tsown\t2026-06-12\nlettuce-1\tlettuce-leaf\tbed-1\tsown\t2026-06-13\n"
    )
    keys.button("Keep these rows")
    expect(page.locator("table.rows")).to_contain_text("lettuce-1")

    # The sheet, done, and a mistake put right.
    keys.menu("Sheet")
    expect(page.locator("main")).to_contain_text("bean")
    phone.ready()
    done = page.locator("li", has_text="Sow snap beans").locator(".answers button", has_text="done").first
    said = done.get_attribute("aria-label")
    keys.press(done)
    page.wait_for_url("**/?kept=*")
    expect(page.locator(".taken")).to_contain_text("sown")
    keys.menu("Enter")
    gauge = page.locator("form.entry", has=page.get_by_label("rain gauge"))
    keys.fill("rain gauge", "70")
    keys.button("Keep", gauge, leads="**/enter?kept=*")
    keys.press(page.locator(".taken").get_by_role("link", name="put right"))
    keys.to(page.get_by_role("textbox", name="how much"))
    page.keyboard.press("ControlOrMeta+a")
    page.keyboard.type("7")
    keys.button("Put right", page.locator("form.whole"), leads="**/enter?kept=*")
    expect(page.locator(".taken")).to_contain_text("rain 7 mm")

    # Without signal, and with it again.
    keys.menu("Enter")
    page.wait_for_url("**/enter")
    phone.until("said => caches.match('/').then(at => at.text()).then(text => !text.includes(said))", said)
    lan.pull_out()
    keys.fill("rain gauge", "5")
    keys.button("Keep", gauge)
    expect(page.locator("nav.menu .waiting")).to_have_text("1 waiting")
    expect(page.locator("#said")).to_be_focused()
    keys.menu("Sheet")
    expect(page.locator(".as-of")).to_be_visible()
    expect(page.get_by_role("button", name=said, exact=True)).to_have_count(0)
    keys.menu("1 waiting")
    expect(page.locator("#waiting li")).to_contain_text("rain gauge 5")
    lan.plug_in()
    expect(page.get_by_text("Nothing waits.")).to_be_visible()
    expect(page.locator("#said")).to_contain_text("The entry that waited is in the daybook.")
    keys.menu("Daybook")
    expect(page.locator("table.rows")).to_contain_text("rain: 5 mm")

    kept = [(e.kind, e.target, e.quantity, e.who) for e in server.entries() if e.kind in ("sow", "rain")]
    assert sorted(kept, key=str) == sorted(
        [("sow", said_of(said), None, "Idony"), *(("rain", "", mm, "Idony") for mm in (70.0, 7.0, 5.0))], key=str
    )
    assert hosts == {lan.host}, "nothing is asked of any other host"
    assert not faults


def said_of(label: str) -> str:
    """The planting of which a line speaks."""
    return "bean-1" if "bean" in label.lower() else "lettuce-1"
