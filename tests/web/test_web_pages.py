"""Every page of the register in three gardens: it answers, its markup is sound, and nothing a gardener typed acts."""

from __future__ import annotations

import dataclasses
import re
from collections.abc import Callable
from importlib.resources import files

import pytest
from browsing import HOSTILE, Browser
from markup_check import Checked

from kailyard.desk.desk import Desk
from kailyard.desk.people import Visitor
from kailyard.web import register, templates
from kailyard.web.register import Page

SHOWN = [page for page in register.pages() if page.page]


def addresses(page: Page, folder) -> list[str]:
    """The page's address, for each thing that stands in its braces; one that is not there where none is."""
    found = re.findall(r"{(\w+)(?::\w+)?}", page.path)
    if not found:
        return [page.path]
    desk = Desk(folder)
    garden = desk.garden()
    things = {
        "planting": list(garden.plantings),
        "bed": list(garden.beds),
        "entry": [e.id for e in garden.entries],
        "crop": ["lettuce-leaf", "no-such-crop"],
        "reckoner": getattr(page.module, "names", lambda: ["none"])(),
    }
    desk.close()
    (name,) = found
    some = things[name][:3] or ["not-there"]
    return [re.sub(r"{\w+(:\w+)?}", thing, page.path) for thing in some]


@pytest.mark.parametrize("garden", ["demo", "empty", "hostile"])
@pytest.mark.parametrize("page", SHOWN, ids=lambda page: page.name)
def test_every_page_answers_with_sound_markup(page: Page, garden: str, door: Callable[..., Browser]) -> None:
    browser = door(garden)
    for address in addresses(page, browser.folder):
        answer = browser.get(address)
        assert answer.status_code in ((200,) if garden == "demo" and "no-such" not in address else (200, 404, 422)), (
            address
        )
        checked = Checked(answer.text)
        assert checked.problems == []
        assert answer.headers["content-type"] == "text/html; charset=utf-8"
        assert "🌱 49" not in checked.text, "what was typed was run as a template"


def test_hostile_names_are_read_as_they_were_written(door: Callable[..., Browser]) -> None:
    browser = door("hostile")
    answer = browser.get("/daybook")
    assert "<script>alert(1)" not in answer.text
    assert HOSTILE in Checked(answer.text).text


@pytest.mark.parametrize("page", register.pages(), ids=lambda page: page.name)
def test_a_page_keeps_the_contract_of_the_register(page: Page) -> None:
    assert page.path.startswith("/")
    assert page.title[0].isupper()
    assert page.page or page.post, "a page is shown, takes a form, or both"
    for kind in filter(None, (page.query, page.form)):
        assert dataclasses.is_dataclass(kind)
        assert kind.__dataclass_params__.frozen
    if page.page:
        assert files("kailyard.web").joinpath("templates", page.template).is_file()
    if page.post:
        assert page.form is not None
    assert page.open == (page.name in ("login", "trust")), "only the way in is open"
    assert page.menu is None or page.page
    assert page.module.__doc__


def test_no_two_pages_share_an_address_or_a_title_in_the_menu() -> None:
    paths = [page.path for page in register.pages()]
    assert len(set(paths)) == len(paths)
    titles = [page.title for row in register.menu() for page in row]
    assert len(set(titles)) == len(titles)


def test_what_a_page_answers_is_a_frozen_object(here: Browser) -> None:
    for page in SHOWN:
        if "{" in page.path:
            continue
        with here.client.app.state.door.desk("") as desk:
            made = page.page(desk, page.query(), Visitor(True, keeper=True))
        assert dataclasses.is_dataclass(made), page.name
        assert made.__dataclass_params__.frozen, page.name


def test_no_template_lets_text_through_unescaped() -> None:
    for template in templates.environment().list_templates():
        text = files("kailyard.web").joinpath("templates", template).read_text("utf-8")
        assert "|safe" not in text.replace(" ", ""), template
        assert "autoescape" not in text, template


@pytest.mark.parametrize(
    ("address", "says"),
    [
        ("/?days=abc", "days: 'abc' does not fit. Expected a whole number."),
        ("/?days=99", "a sheet holds 1 to 31 days"),
        ("/?on=soon", "on: 'soon' does not fit. Expected a day like 2026-06-12."),
        ("/?on=2026-02-30", "on: '2026-02-30' does not fit."),
        ("/daybook?after=nowhere", "no mark of the daybook"),
    ],
)
def test_a_bad_address_is_one_clear_line(here: Browser, address: str, says: str) -> None:
    answer = here.get(address)
    assert answer.status_code == 400
    assert says in Checked(answer.text).text


def test_a_blank_or_unknown_part_of_an_address_is_passed_over(here: Browser) -> None:
    assert here.get("/?on=&days=&whence=elsewhere").status_code == 200


def test_a_form_that_is_not_taken_says_why_and_keeps_what_was_typed(here: Browser) -> None:
    answer = here.send("/people", at="/people", wish="add", name="Perrin", passphrase="short")
    assert answer.status_code == 400
    text = answer.text
    assert "12 to 200 characters" in Checked(text).text
    assert 'value="Perrin"' in text
    assert "short" not in text, "a passphrase is never sent back"


def test_the_daybook_is_leafed_through_without_gap_or_repeat(here: Browser) -> None:
    seen: list[str] = []
    path = "/daybook"
    for _ in range(50):
        page = here.get(path).text
        seen += re.findall(r'<tr id="([^"]+)"', page)
        after = re.search(r'name="after" value="([^"]+)"', page)
        if not after:
            break
        path = f"/daybook?after={after[1]}"
        here.entries({"id": f"late-{len(seen)}", "kind": "rain", "happened": "2026-06-12", "quantity": 1, "unit": "mm"})
    kept = Desk(here.folder).store.entries()
    assert seen == [e.id for e in reversed(kept) if not e.id.startswith("late-")]


def test_the_daybook_is_searched(here: Browser) -> None:
    kept = Desk(here.folder).store.entries()
    page = here.get("/daybook?kind=hurt").text
    assert re.findall(r'<tr id="([^"]+)"', page) == [e.id for e in reversed(kept) if e.kind == "hurt"]
    assert "No entry fits." in here.get("/daybook?find=nothing+like+it").text
