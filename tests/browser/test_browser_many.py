"""A garden of 400 plantings and 20,000 entries on the telephone: read, searched, leafed through, entered into."""

from __future__ import annotations

import re
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from phone import Telephone, held
from playwright_words import expect
from served import TODAY, Server

ROOT = Path(__file__).resolve().parents[2]
MAKE = "import sys; from pathlib import Path; from benchmarks.run import large; large(Path(sys.argv[1]))"


@pytest.fixture(scope="module")
def served(tmp_path_factory: pytest.TempPathFactory, lan: Any, peopled: Any) -> Iterator[Server]:
    """The garden that the benchmarks are measured on: the demo's, many times over."""
    folder = tmp_path_factory.mktemp("many") / "garden"
    subprocess.run([sys.executable, "-c", MAKE, str(folder)], check=True, capture_output=True, cwd=ROOT)
    server = Server(peopled(folder), lan, "--today", TODAY)
    yield server
    server.stop()


@pytest.fixture(scope="module")
def phone(browser: Any, lan: Any, served: Server) -> Iterator[Telephone]:
    address = f"https://{lan.host}/"
    made = Telephone(address, browser.new_context(**held(address)))
    made.come_in()
    yield made
    made.close()


def rows(page: Any) -> list[str]:
    return page.locator("table.rows tbody tr").evaluate_all("all => all.map(each => each.id)")


def fits(page: Any) -> bool:
    return page.evaluate("document.documentElement.scrollWidth <= innerWidth")


def test_every_planting_is_in_the_table_and_found_by_its_words(phone: Telephone, served: Server) -> None:
    page = phone.page
    page.goto("/plantings")
    page.get_by_role("link", name="list them too").click()
    plantings = {e.target for e in served.entries() if e.kind == "planting"}
    assert len(plantings) >= 400
    assert len(rows(page)) == len(set(rows(page))) == len(plantings)
    assert fits(page)
    page.get_by_role("search").get_by_label("find").fill("garlic-1")
    page.get_by_role("button", name="Find").click()
    expect(page.locator("form[role=search]")).to_contain_text(f"of {len(plantings)}")
    found = rows(page)
    assert found
    assert set(found) == {f"row-{name}" for name in plantings if "garlic-1" in name}
    page.locator("table.rows tbody tr").first.get_by_role("link", name="change").click()
    expect(page.locator("tr.open")).to_be_visible()


def test_the_daybook_is_leafed_through_without_a_gap_and_searched(phone: Telephone, served: Server) -> None:
    page = phone.page
    page.goto("/daybook")
    entries = served.entries()
    assert len(entries) >= 20_000
    expect(page.locator("main header")).to_contain_text(f"{len(entries)} entries")
    seen: list[str] = []
    for _ in range(5):
        assert fits(page)
        leaf = rows(page)
        seen += leaf
        page.get_by_role("button", name="Earlier entries").click()
        page.wait_for_function("last => document.querySelector('table.rows tbody tr').id !== last", arg=leaf[0])
    assert len(seen) == len(set(seen)), "no entry comes twice"
    newest = sorted(entries, key=lambda e: (e.happened, e.written, e.id), reverse=True)
    by_id = {e.id: e for e in entries}
    days = [by_id[id_].happened for id_ in seen]
    assert days == sorted(days, reverse=True)
    assert days == [e.happened for e in newest[: len(seen)]], "none is left out"

    page.goto("/daybook")
    form = page.get_by_role("search")
    form.get_by_label("words").fill("hail")
    form.get_by_label("since").fill("2026-06-01")
    form.get_by_role("button", name="Find").click()
    page.wait_for_url("**/daybook?find=hail*")
    listed = page.locator("table.rows tbody tr")
    assert listed.count() > 0
    for text in listed.all_inner_texts():
        assert re.search("hail", text, re.IGNORECASE), text


def test_a_picking_is_entered_of_any_of_them(phone: Telephone, served: Server) -> None:
    page, before = phone.page, served.rows()
    page.goto("/enter")
    assert fits(page)
    assert page.locator(".offers li").count() <= 12, "the likeliest, not all"
    chosen = page.get_by_label("another planting")
    assert chosen.locator("option").count() >= 400
    offered = chosen.locator("option").evaluate_all("all => all.map(one => one.value)")
    pea = [id_ for id_ in offered if id_.startswith("pea-1-c")][-1]
    chosen.select_option(pea)
    page.locator("form", has=chosen).get_by_role("button", name="Show").click()
    page.get_by_text("picked", exact=True).click()
    page.get_by_label(f"how much was picked of {pea}").fill("1.2")
    page.locator("details[open]").get_by_role("button", name="Keep").click()
    page.wait_for_url("**/enter?kept=*")
    expect(page.locator(".taken")).to_contain_text("picked 1.2 kg")
    assert served.rows() == before + 1
    page.goto(f"/planting/{pea}")
    expect(page.locator(".own")).to_contain_text("picked 1.2 kg")
    assert fits(page)


def test_the_sheet_stays_one_side_of_paper(phone: Telephone) -> None:
    page = phone.page
    page.goto("/")
    assert fits(page)
    expect(page.locator(".work")).to_contain_text("may wait")
    assert page.locator(".work > ol > li").count() <= 12
