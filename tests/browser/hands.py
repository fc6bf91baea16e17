"""What a gardener does on the pages again and again, and what is then to be seen."""

from __future__ import annotations

from typing import Any

from phone import until
from playwright_words import expect


def enter_rain(page: Any, amount: str) -> None:
    gauge = page.locator("form.entry", has=page.get_by_label("rain gauge"))
    gauge.get_by_label("rain gauge").fill(amount)
    gauge.get_by_role("button", name="Keep").click()


def told(page: Any) -> Any:
    """The line above the page that a script wrote."""
    return page.locator("#said")


MINE = """count => kailyard.all().then(all =>
  all.filter(item => item.person === kailyard.page.person).length === count)"""


def waits(page: Any, count: int) -> None:
    """So many entries of whoever is in wait, in the browser's store and as it is shown."""
    until(page, MINE, count)
    if count:
        expect(page.locator("nav.menu .waiting")).to_have_text(f"{count} waiting")
    else:
        expect(page.locator("nav.menu .waiting")).to_have_count(0)
