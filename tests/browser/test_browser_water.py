"""Water on a telephone: look, measure an outlet, say how a handful holds, give water, and see the page believe it."""

from __future__ import annotations

import os
from pathlib import Path

from playwright_words import expect

LOOKS = os.environ.get("KAILYARD_LOOKS")
WIDTHS = (360, 1100)


def bed(page, name: str):
    return page.locator("section.water", has=page.get_by_role("heading", name=f"{name},"))


def entered(page, kind: str, target: str, amount: str = "", unit: str = "", **fields: str) -> None:
    """An entry of a kind by its whole form."""
    page.goto(f"/enter?kind={kind}")
    form = page.locator("form.whole")
    form.locator("select[name=target]").select_option(target)
    if amount:
        form.locator("input[name=amount]").fill(amount)
        form.locator("select[name=unit]").select_option(unit)
    for name, value in fields.items():
        form.locator(f"select[name={name}]").select_option(value)
    form.get_by_role("button", name="Keep").click()
    page.wait_for_url("**/enter?kept=*")


def test_the_page_shows_water_and_believes_what_is_entered(serve, window) -> None:
    server, phone = serve(), window()
    phone.come_in()
    page, before = phone.page, server.rows()
    page.goto("/water")
    expect(page.get_by_role("heading", level=1)).to_contain_text("Water")
    expect(bed(page, "Bed 3")).to_contain_text("hose")
    for theme in ("light", "dark"):
        for width in WIDTHS:
            page.emulate_media(color_scheme=theme)
            page.set_viewport_size({"width": width, "height": 800})
            pushed = page.evaluate("() => document.documentElement.scrollWidth - innerWidth")
            assert pushed <= 0, (theme, width)
            # No cell of the table of litres is squeezed to a letter a line.
            cells = page.locator("table td, table th")
            tall = cells.evaluate_all("cells => Math.max(...cells.map(c => c.getBoundingClientRect().height))")
            assert tall < 70, (theme, width, tall)
            drawn = page.locator("section.water svg:visible").first
            expect(drawn).to_have_attribute("role", "img")
            if LOOKS:
                Path(LOOKS).mkdir(parents=True, exist_ok=True)
                page.screenshot(path=str(Path(LOOKS) / f"water-{theme}-{width}.png"), full_page=True)
    entered(page, "outlet", "bed-3", "4", "L/min", what="drip")
    page.goto("/water")
    expect(bed(page, "Bed 3")).to_contain_text("the drip line")
    entered(page, "moisture", "bed-3", feel="firm")
    page.goto("/water")
    expect(bed(page, "Bed 3")).not_to_contain_text("nothing is entered")
    entered(page, "water", "bed-3", "600", "L")
    page.goto("/water")
    expect(bed(page, "Bed 3")).not_to_contain_text("short of water")
    assert server.rows() == before + 3


def test_a_handful_is_answered_beside_the_line_that_asks_for_it(serve, window) -> None:
    server, phone = serve(), window()
    phone.come_in()
    page, before = phone.page, server.rows()
    page.goto("/?whole=true")
    line = page.locator("li", has_text="Feel the soil under", has=page.locator("summary")).first
    line.locator("summary", has_text="done").click()
    line.get_by_role("button", name="crumbly").click()
    page.wait_for_url("**/?kept=*")
    expect(page.locator(".taken")).to_contain_text("soil moisture: crumbly")
    assert server.rows() == before + 1


def test_a_bed_s_water_is_entered_from_its_place_on_the_page(serve, window) -> None:
    server, phone = serve(), window()
    phone.come_in()
    page, before = phone.page, server.rows()
    page.goto("/water")
    bed(page, "Bed 3").get_by_role("link", name="watered").click()
    form = page.locator("form.whole")
    expect(form.locator("select[name=target]")).to_have_value("bed-3")
    form.locator("input[name=amount]").fill("40")
    form.get_by_role("button", name="Keep").click()
    page.wait_for_url("**/enter?kept=*")
    assert server.rows() == before + 1


def test_a_gauge_fourfold_off_the_station_is_asked_about_in_place(serve, window) -> None:
    server, phone = serve(), window()
    phone.come_in()
    page, before = phone.page, server.rows()
    page.goto("/enter?kind=rain")
    form = page.locator("form.whole")
    form.locator("input[name=amount]").fill("88")
    form.locator("input[name=happened]").fill("2026-06-11")
    form.get_by_role("button", name="Keep").click()
    page.wait_for_url("**/enter?kept=*")
    expect(page.locator(".taken")).to_contain_text("Is 88.0 mm right?")
    assert server.rows() == before + 1


def test_what_cannot_be_is_refused_on_the_form_and_nothing_is_lost(serve, window) -> None:
    server, phone = serve(), window()
    phone.come_in()
    page, before = phone.page, server.rows()
    page.goto("/enter?kind=water")
    form = page.locator("form.whole")
    form.locator("select[name=target]").select_option("bed-3")
    form.locator("input[name=amount]").fill("4000")
    form.locator("select[name=unit]").select_option("mm")
    form.get_by_role("button", name="Keep").click()
    expect(page.locator("body")).to_contain_text("4000 mm is outside 0 to 300 mm at once")
    expect(page.locator("nav.menu .waiting")).to_have_text("1 waiting")  # it is kept until somebody puts it right
    assert server.rows() == before
