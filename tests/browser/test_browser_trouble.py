"""White powder on squash, by telephone: what it is, what may be done, not now, the next chance, done, looked again."""

from __future__ import annotations

from datetime import UTC, date, datetime
from pathlib import Path

import numpy as np
from playwright_words import expect

from kailyard.demo.weather import demo_record
from kailyard.desk.desk import Desk
from kailyard.store.sqlite import create_store
from kailyard.troubles.case import QUESTIONS
from kailyard.weather.hours import hour_number, hourly
from kailyard.weather.issued import IssuedForecast

FIRST = date(2026, 7, 14)
PLACE = {"name": "Nether Wold", "latitude": 44.2, "longitude": 100.0, "timezone": "UTC"}
"""So far east that at eight by its clock, where a pretended day begins, it is afternoon: the flowers have shut."""
TYPED = {
    "active": "sulfur", "registered_in": "Westmark", "number": "WM-1042", "crops": "squash, cucumber",
    "sites": "home garden", "troubles": "powdery mildew", "rate": "3 g/L", "days": "3", "entry": "24 h",
    "most_uses": "4", "interval": "7", "temp_max": "32C", "temp_min": "none", "rain_free": "none", "wind_max": "none",
    "water": "none", "gaps": "oil: after 30, before 30", "bees": "none", "group": "FRAC M02",
}  # fmt: skip
"""Typed off the label of an invented product."""


def garden(folder: Path) -> Path:
    """Squash in one bed; day by day a forecast by the hour: 36 °C on the 14th and 15th, then 25 °C, never rain."""
    desk = Desk(folder, clock=lambda: datetime(2026, 7, 13, 8, tzinfo=UTC))
    create_store(folder, first=[desk.entry("garden", happened=date(2026, 5, 1), payload=PLACE)]).close()
    desk.store.add_weather(demo_record(), imported=desk.now(), name="station")
    bed = {"name": "bed 4", "length_m": 4.0, "width_m": 1.2}
    squash = {"crop": "zucchini", "bed": "bed-4", "start": "sown", "count": 4}
    desk.keep(
        [
            desk.entry("bed", happened=date(2026, 5, 1), target="bed-4", payload=bed),
            desk.entry("planting", happened=date(2026, 5, 1), target="zucchini-1", payload=squash),
            desk.entry("sow", happened=date(2026, 5, 15), target="zucchini-1"),
        ]
    )
    for n in range(3):
        day, highs = date(2026, 7, 14 + n), np.array([36.0, 36.0, *[25.0] * 10])[n : n + 10]
        issued = datetime(2026, 7, 14 + n, 1, tzinfo=UTC)
        made = IssuedForecast("made-up", issued, day, day, np.full(10, 14.0), highs, np.zeros(10))
        kept = desk.store.add_forecast(made, kept=desk.now())
        columns = {"temp_c": 24.0, "humidity_pct": 50.0, "wind_m_s": 3.0, "rain_mm": 0.0}
        numbers = hour_number(issued.replace(hour=0)) + np.arange(240)
        hours = hourly(numbers, {c: np.full(240, v) for c, v in columns.items()}, source="made-up")
        desk.store.add_hours(hours, imported=desk.now(), forecast=kept)
    desk.close()
    return folder


def on(page, words: str) -> None:
    """Let a day or a week pass."""
    page.goto("/")
    page.get_by_role("button", name=words).click()
    page.wait_for_load_state()


def test_white_powder_from_seen_to_looked_at_again(serve, peopled, window, tmp_path: Path) -> None:
    server = serve(peopled(garden(tmp_path / "wold")), "--today", FIRST.isoformat())
    phone = window()
    phone.come_in()
    page = phone.page

    # Seen, and what it is.
    page.goto("/what?of=zucchini-1")
    answer = page.locator("[name='given.white_powder_upper'][value=yes]")
    answer.evaluate(
        "each => { while ((each = each.parentElement)) if (each.localName === 'details') each.open = true }"
    )
    answer.check()
    page.get_by_role("button", name="Answer").click()
    keep = page.locator("form", has=page.get_by_role("heading", name="Keep it"))
    keep.locator("select[name=trouble]").select_option("powdery-mildew-cucurbit")
    keep.locator("select[name=sure]").select_option("settled")
    keep.get_by_role("button", name="Keep").click()
    page.wait_for_url("**/options/zucchini-1*")

    # What may be done; one step is not possible here.
    step = page.locator("input[name=gone]:not(:checked)").first
    gone = step.get_attribute("value")
    step.check()
    page.get_by_role("button", name="Keep this").click()
    expect(page.locator(f"input[name=gone][value='{gone}']")).to_be_checked()
    expect(page.locator("main")).to_contain_text("Not possible here")

    # The label, and whose registrations count.
    page.goto("/check/zucchini-1")
    expect(page.locator("main")).to_contain_text("Nothing is allowed without a label")
    page.goto("/labels")
    form = page.locator("#label form")
    form.locator("input[name=name]").fill("Mealmute")
    for key, text in TYPED.items():
        form.locator(f"input[name='given.{key}']").fill(text)
    form.get_by_role("button", name="Keep").click()
    expect(page.locator("main")).to_contain_text("Mealmute")
    page.goto("/enter?kind=rules")
    rules = page.locator("form.whole")
    rules.locator("input[name=registered_in]").fill("Westmark")
    rules.get_by_role("button", name="Keep").click()
    page.wait_for_url("**/enter?kept=*")

    # Not now, and the next chance.
    check = "/check/zucchini-1?label=Mealmute"
    page.goto(check)
    expect(page.get_by_role("heading", level=1)).to_contain_text("Not now")
    expect(page.locator("main")).to_contain_text("36 °C on 15 July, and no more than 29 °C while the spray is fresh")
    expect(page.locator("main")).to_contain_text("Next chance: 16 July")
    for question in QUESTIONS.values():
        expect(page.get_by_text(question)).to_have_count(1)

    # The day has come: watered, looked at on the spot, allowed, done.
    on(page, "a day on")
    on(page, "a day on")
    page.goto("/enter?kind=water")
    water = page.locator("form.whole")
    water.locator("select[name=target]").select_option("bed-4")
    water.locator("input[name=amount]").fill("400")
    water.locator("select[name=unit]").select_option("L")
    water.get_by_role("button", name="Keep").click()
    page.wait_for_url("**/enter?kept=*")
    page.goto(check)
    expect(page.get_by_role("heading", level=1)).to_contain_text("Unknown: so not yet")
    for key in QUESTIONS:
        page.locator(f"input[name='seen.{key}'][value=yes]").check()
    page.locator("input[name=walk]").fill("1 L on 10 m2")
    page.get_by_role("button", name="Check").click()
    expect(page.get_by_role("heading", level=1)).to_contain_text("May.")
    expect(page.locator("main")).to_contain_text("in 0.48 L, by your label and your own walk")
    before = server.rows()
    done = page.locator("#done form")
    done.locator("input[name=mix]").fill("0.48 L")
    done.locator("input[name=hour]").fill("08:00")
    done.locator("select[name=flowers_open]").select_option("no")
    done.get_by_role("button", name="It was put on").click()
    page.wait_for_url("**/planting/zucchini-1*")
    assert server.rows() == before + 1

    # Held on the sheet and beside the next check.
    page.goto("/")
    expect(page.locator("main")).to_contain_text("Do not pick zucchini")
    expect(page.locator("main")).to_contain_text("free again from 19 July by the label, never sooner")
    expect(page.locator("main")).to_contain_text("nobody goes in until 17 July, 08:00")
    page.goto(check)
    expect(page.get_by_role("heading", level=1)).to_contain_text("Not now; look again from 23 July")
    expect(page.get_by_role("heading", name="Held now")).to_be_visible()

    # A week on somebody looks what came of it.
    on(page, "a week on")
    line = page.locator("li", has_text="what came of it")
    expect(line).to_contain_text("Judge the new growth")
    expect(page.locator("main")).not_to_contain_text("free again from 19 July")
    line.locator("summary", has_text="done").click()
    line.get_by_label("what was found").fill("new leaves clean")
    line.get_by_role("button", name="sound", exact=True).click()
    page.wait_for_url("**/?kept=*")
    expect(page.locator("li", has_text="what came of it")).to_have_count(0)
    (look,) = [e for e in server.entries() if e.kind == "look"]
    assert "new leaves clean" in (look.text, look.payload.get("found"))
