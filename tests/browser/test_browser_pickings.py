"""Pickings on a telephone: weigh in with two taps, from page and sheet; say what for; see it foreseen."""

from __future__ import annotations

import os
from pathlib import Path

from playwright_words import expect

LOOKS = os.environ.get("KAILYARD_LOOKS")
WIDTHS = (360, 1100)


def crop(page, name: str):
    return page.locator("section.picking", has=page.get_by_role("heading", name=name, exact=True))


def planting(page, id_: str):
    return page.locator("section.picking li", has_text=f"({id_})")


def said(page):
    """What was kept last, said back."""
    return page.locator(".taken")


def weigh(page, beside, amount: str, *, minutes: str = "", use: str = "") -> None:
    """A tap unfolds, the weight is typed, a tap keeps."""
    beside.locator("summary", has_text="picked").or_(beside.locator(".answers summary", has_text="done")).first.click()
    expect(beside.locator("input[name=amount]").first).to_be_focused()
    page.keyboard.type(amount)
    if minutes:
        beside.locator("input[name=minutes]").first.fill(minutes)
    if use:
        beside.locator("select[name=use]").first.select_option(use)
    button = beside.get_by_role("button", name="picked").first
    assert page.evaluate("() => document.documentElement.scrollWidth - innerWidth") <= 0
    assert button.bounding_box()["height"] < 60  # one line
    button.click()
    expect(said(page)).to_contain_text(f"picked {amount} kg")


def test_a_weight_goes_in_from_the_page_and_from_the_sheet_and_is_seen_in_both(serve, window) -> None:
    server, phone = serve(), window()
    phone.come_in()
    page, before = phone.page, server.rows()
    page.goto("/pickings")
    expect(page.get_by_role("heading", level=1)).to_have_text("What will be picked")
    for theme in ("light", "dark"):
        for width in WIDTHS:
            page.emulate_media(color_scheme=theme)
            page.set_viewport_size({"width": width, "height": 800})
            pushed = page.evaluate("() => document.documentElement.scrollWidth - innerWidth")
            assert pushed <= 0, (theme, width)
            expect(page.locator("section.picking svg:visible").first).to_have_attribute("role", "img")
            if LOOKS:
                Path(LOOKS).mkdir(parents=True, exist_ok=True)
                page.screenshot(path=str(Path(LOOKS) / f"pickings-{theme}-{width}.png"), full_page=True)
    page.set_viewport_size({"width": 360, "height": 800})
    expect(planting(page, "asparagus-1")).to_contain_text("in 16 pickings")
    weigh(page, planting(page, "asparagus-1"), "0.8", minutes="12")
    expect(planting(page, "asparagus-1")).to_contain_text("in 17 pickings")
    expect(page.locator("table", has_text="asparagus-1 2026").locator("thead")).to_contain_text("kg/h")
    page.goto("/")
    weigh(page, page.locator("section.work li", has_text="Cut asparagus").first, "0.7", minutes="10")
    page.goto("/pickings")
    expect(planting(page, "asparagus-1")).to_contain_text("in 18 pickings")
    assert server.rows() == before + 2


def test_what_it_is_picked_for_is_said_and_the_forecast_follows(serve, window) -> None:
    server, phone = serve(), window()
    phone.come_in()
    page, before = phone.page, server.rows()
    page.goto("/pickings")
    expect(crop(page, "Gherkins")).not_to_contain_text("cucumber-3")
    planting(page, "cucumber-3").get_by_role("link", name="say what it is picked for").click()
    form = page.locator("form.whole")
    form.get_by_label("picked for").select_option("gherkin")
    form.get_by_role("button", name="Keep").click()
    page.wait_for_url("**/pickings?kept=*")
    expect(crop(page, "Gherkins")).to_contain_text("3 to 5 cm long")
    expect(crop(page, "Gherkins")).to_contain_text("cucumber-3")
    expect(crop(page, "Pickling cucumbers")).to_have_count(0)  # both rows are for gherkins now
    weigh(page, planting(page, "cucumber-3"), "0.4", use="dill pickle")
    expect(said(page)).to_contain_text("dill pickle")
    assert server.rows() == before + 2


def test_a_slip_of_the_pen_is_asked_about_and_undone(serve, window) -> None:
    server, phone = serve(), window()
    phone.come_in()
    page, before = phone.page, server.rows()
    page.goto("/pickings")
    weigh(page, planting(page, "asparagus-1"), "4000")
    expect(said(page)).to_contain_text("4000 kg at once?")
    expect(page.locator("main")).to_contain_text("till then nothing is learned from it")
    assert server.rows() == before + 1  # kept, whatever the answer
    said(page).get_by_role("button", name="Undo").click()
    page.wait_for_url("**/pickings*")
    expect(planting(page, "asparagus-1")).to_contain_text("in 16 pickings")
    expect(page.locator("main")).not_to_contain_text("nothing is learned from it")
