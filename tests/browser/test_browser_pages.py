"""Every page of the register as people read it: what shuts somebody out, narrow, large, dark, without motion."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from phone import Telephone, held
from playwright_words import expect
from served import TODAY, Server

from kailyard.desk.desk import Desk
from kailyard.web import register

PAGES = [page for page in register.pages() if page.page]
# WCAG 2.2, W3C Recommendation, levels A and AA, as axe-core tags its rules; its good practice too.
RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
NARROW, WIDE = {"width": 360, "height": 740}, {"width": 1280, "height": 900}
UNFOLD = "() => document.querySelectorAll('details:not([open])').forEach(each => each.open = !each.name)"


@pytest.fixture(scope="module")
def garden_served(garden: Path, lan: Any) -> Iterator[Server]:
    """The demo itself; nothing here changes it."""
    server = Server(garden, lan, "--today", TODAY)
    yield server
    server.stop()


@pytest.fixture(scope="module")
def telephone_in(browser: Any, lan: Any, garden_served: Server) -> Iterator[Telephone]:
    """One window for all pages; somebody is in."""
    address = f"https://{lan.host}/"
    phone = Telephone(address, browser.new_context(**held(address)))
    phone.come_in()
    yield phone
    phone.close()


def addresses(page: register.Page, folder: Path) -> list[str]:
    """A page's address, with the first two of what stands in its braces; forms that open by a query too."""
    desk = Desk(folder)
    found = desk.garden()
    things = {
        "planting": list(found.plantings)[:2],
        "bed": list(found.beds)[:2],
        "crop": ["tomato"],
        "reckoner": list(getattr(page.module, "names", list)())[:2],
    }
    more = {
        "enter": ["/enter?kind=stage", "/enter?kind=pick&of=pea-6"],
        "beds": [f"/beds?change={next(iter(found.beds))}"],
        "plantings": [f"/plantings?change={next(iter(found.plantings))}"],
        "what": ["/what?of=tomato-1", "/what?of=tomato-1&given.strap_narrow=yes&given.many_families=yes"],
        "daybook": [f"/daybook?entry={found.entries[-1].id}"],
    }
    desk.close()
    names = re.findall(r"{(\w+)}", page.path)
    if not names:
        return [page.path, *more.get(page.name, [])]
    return [page.path.replace(f"{{{names[0]}}}", thing) for thing in things[names[0]]]


@pytest.fixture
def shown(request: pytest.FixtureRequest, telephone_in: Any, garden: Path) -> Iterator[tuple[Any, str]]:
    """Each address of a page, opened."""
    return ((telephone_in.page, address) for address in addresses(request.param, garden))


def sideways(page: Any) -> list[str]:
    """What sticks out to the right, where the page can be pushed sideways."""
    return page.evaluate(
        """() => document.documentElement.scrollWidth <= innerWidth ? [] :
          [...document.querySelectorAll("body *")].filter(each => each.getBoundingClientRect().right > innerWidth + 1)
            .slice(0, 5).map(each => each.outerHTML.slice(0, 160))"""
    )


@pytest.mark.parametrize("shown", PAGES, ids=lambda page: page.name, indirect=True)
def test_axe_finds_nothing_in_both_themes_and_nothing_sticks_out(shown: Any, axe: str) -> None:
    found: list[str] = []
    for page, address in shown:
        for theme, size in (("light", NARROW), ("dark", WIDE)):
            page.set_viewport_size(size)
            page.emulate_media(color_scheme=theme)
            page.goto(address)
            page.evaluate(UNFOLD)
            found += [f"{address} at {size['width']} px: sticks out: {each}" for each in sideways(page)]
            page.evaluate(axe)
            said = page.evaluate("rules => axe.run(document, {runOnly: rules, resultTypes: ['violations']})", RULES)
            found += [
                f"{address} {theme}: {each['id']}, {each['help']}: {node['html'][:200]} {node['any'][:1]}"
                for each in said["violations"]
                for node in each["nodes"][:4]
            ]
    assert not found, "\n".join(found)


@pytest.mark.parametrize("shown", PAGES, ids=lambda page: page.name, indirect=True)
def test_nothing_is_lost_at_twice_the_size_and_nothing_moves(shown: Any) -> None:
    # WCAG 2.2, 1.4.4 and 1.4.10: 200 % on a screen of 1280 px is a page of 640 px with everything twice as large.
    for page, address in shown:
        page.set_viewport_size({"width": 640, "height": 450})
        page.emulate_media(reduced_motion="reduce", color_scheme="light")
        page.goto(address)
        page.evaluate(UNFOLD)
        assert not sideways(page), address
        page.evaluate("() => { document.documentElement.style.fontSize = '200%'; }")
        assert not sideways(page), address
        moving = page.evaluate("() => document.getAnimations().filter(each => each.playState === 'running').length")
        assert moving == 0, address


@pytest.mark.parametrize("shown", PAGES, ids=lambda page: page.name, indirect=True)
def test_the_keyboard_reaches_everything_and_shows_where_it_is(shown: Any) -> None:
    page, address = next(shown)
    page.set_viewport_size(WIDE)
    page.goto(address)
    wanted = page.evaluate(
        """() => [...document.querySelectorAll("a[href], button, input, select, textarea, summary, [tabindex='0']")]
          .filter(each => each.checkVisibility({visibilityProperty: true}) && each.type !== "hidden" && !each.disabled
            && each.tabIndex >= 0 && !(each.type === "radio" && !each.checked)).length"""
    )
    seen: set[str] = set()
    hidden: list[str] = []
    page.evaluate("() => { let n = 0; document.querySelectorAll('*').forEach(e => e.dataset.nth = n++); }")
    # A day is typed in three parts and chosen from a leaf of the calendar: four stops, one element.
    more = 3 * page.locator("input[type=date]").count() + 12
    for _ in range(min(wanted, 60) + more):
        page.keyboard.press("Tab")
        at = page.evaluate(
            """() => { const at = document.activeElement, style = getComputedStyle(at);
              return at === document.body ? null : {nth: at.dataset.nth, html: at.outerHTML.slice(0, 120),
                plain: style.outlineStyle === "none" || style.outlineWidth === "0px"}; }"""
        )
        if at is None:
            break
        seen.add(at["nth"])
        if at["plain"]:
            hidden.append(at["html"])
    assert not hidden, f"{address}: where the keyboard is cannot be seen: {hidden[:5]}"
    assert len(seen) >= min(wanted, 60), f"{address}: {len(seen)} of {wanted} reached"


def test_the_first_tab_leads_to_the_page_itself(telephone_in: Any) -> None:
    page = telephone_in.page
    page.goto("/")
    page.keyboard.press("Tab")
    expect(page.get_by_role("link", name="To the page itself")).to_be_focused()
    page.keyboard.press("Enter")
    assert page.evaluate("document.activeElement.id") == "main"
