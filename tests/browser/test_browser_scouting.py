"""The round on a telephone: numbers tapped up, none found in one tap, a count above leads on to what may be done."""

from __future__ import annotations

import os
from pathlib import Path

from playwright_words import expect

LOOKS = os.environ.get("KAILYARD_LOOKS")
WIDTHS = (360, 1100)


def asked(page, trouble: str):
    """The first thing to look for with this trouble, with its form."""
    return page.locator(f".round:has(input[name=trouble][value={trouble}])").first


def opened(page, trouble: str):
    """The same, unfolded where it stands among those looked for as usual."""
    page.evaluate("() => document.querySelectorAll('.stop > details').forEach(d => { d.open = true; })")
    return asked(page, trouble)


def test_a_round_is_counted_by_tapping_and_leads_on(serve, window) -> None:
    server, phone = serve(), window()
    phone.come_in()
    page = phone.page
    page.goto("/scouting")
    expect(page.get_by_role("heading", level=1)).to_contain_text("Scouting")
    for theme in ("light", "dark"):
        for width in WIDTHS:
            page.emulate_media(color_scheme=theme)
            page.set_viewport_size({"width": width, "height": 800})
            opened(page, "squash-bug")
            pushed = page.evaluate("() => document.documentElement.scrollWidth - innerWidth")
            assert pushed <= 0, (theme, width)
            if LOOKS:
                Path(LOOKS).mkdir(parents=True, exist_ok=True)
                page.screenshot(path=str(Path(LOOKS) / f"scouting-{theme}-{width}.png"), full_page=True)
    page.set_viewport_size({"width": 360, "height": 800})
    before = server.rows()

    # None found: the number of plants is there already, so it is one tap.
    mite = opened(page, "two-spotted-spider-mite")
    mite.get_by_role("button", name="none found").click()
    page.wait_for_url("**/scouting?kept=*")
    expect(page.locator(".taken")).to_contain_text("two-spotted-spider-mite")

    # Some found: tapped up, and what is found on more plants than were looked at raises those as well.
    bug = opened(page, "striped-cucumber-beetle")
    bug.locator("summary", has_text="some found").click()
    looked, on = bug.locator("input[name=looked_at]"), bug.locator("input[name=found_on]")
    looked.fill("1")
    more = bug.get_by_role("button", name="one more: found on")
    box = more.bounding_box()
    assert box is not None
    assert min(box["width"], box["height"]) >= 43.5
    for _ in range(3):
        more.click()
    expect(on).to_have_value("3")
    expect(looked).to_have_value("3")
    bug.get_by_role("button", name="one less: found on").click()
    expect(on).to_have_value("2")
    total = bug.get_by_role("button", name="one more: in all")
    for _ in range(40):
        total.click()
    bug.get_by_role("button", name="Keep the count").click()
    expect(page.locator(".taken")).to_contain_text("striped-cucumber-beetle")
    assert server.rows() == before + 2

    # 40 beetles on three plants are above one or five a plant: the way leads on to the options of that trouble.
    page.get_by_role("link", name="What may be done").first.click()
    page.wait_for_url("**/options/*?trouble=*")
    expect(page.get_by_role("heading", level=1)).to_be_visible()
