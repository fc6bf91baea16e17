"""Names as bad as they may be, typed into the pages: shown as they were typed, and nothing in them is ever run."""

from __future__ import annotations

from typing import Any

from hands import enter_rain
from playwright_words import expect
from served import PASSPHRASE

NAMES = (
    '"O\'Neill" & sons',
    "🌱🥕 👩‍🌾",
    "גינה שלנו / حديقة",
    "<script>globalThis.hurt = 1</script>",
    "<img src=x onerror='globalThis.hurt = 1'>",
    "</textarea></select>{{ 7*7 }}",
)
PEOPLE = NAMES[:4]


def cell(text: str) -> str:
    """As a spreadsheet copies it."""
    return '"' + text.replace('"', '""') + '"' if '"' in text else text


def said(page: Any) -> str:
    """All that is to be read on a page, what stands in its forms too."""
    return page.evaluate(
        """() => [document.body, ...document.querySelectorAll("input, textarea, option")]
          .map(each => each.value ?? each.textContent).join("\\n").replace(/\\s+/g, " ")"""
    )


def test_every_name_is_shown_and_none_is_run(serve, window) -> None:
    server, phone = serve(), window()
    phone.come_in()
    page = phone.page
    faults: list[str] = []
    page.on("pageerror", lambda error: faults.append(str(error)))
    page.on("console", lambda line: faults.append(line.text) if line.type == "error" else None)
    page.on("dialog", lambda dialog: (faults.append(dialog.message), dialog.dismiss()))

    def pasted(path: str, *lines: str) -> None:
        page.goto(path)
        page.get_by_role("textbox", name="Rows", exact=True).fill("\n".join(lines))
        page.get_by_role("button", name="Keep these rows").click()
        expect(page.locator(".message[role=status]")).to_be_visible()

    pasted(
        "/beds", "bed\tname\tlength\twidth\tsoil", *(f"odd-{n}\t{x}\t4\t1\t{x}" for n, x in enumerate(map(cell, NAMES)))
    )
    pasted("/cultivars", "crop\tcultivar\thabit", *(f"lettuce-leaf\t{x}\t{x}" for x in map(cell, NAMES)))
    pasted(
        "/plantings",
        "planting\tcrop\tcultivar\tbed\tstart\tnote",
        *(f"odd-lettuce-{n}\tlettuce-leaf\t{x}\todd-{n}\tsown\t{x}" for n, x in enumerate(map(cell, NAMES))),
    )
    for n, name in enumerate(NAMES):
        page.goto(f"/enter?kind=look&of=odd-lettuce-{n}&back=planting")
        form = page.locator("form.whole")
        form.locator("[name=found]").fill(name)
        form.locator("[name=text]").fill(name)
        form.get_by_role("button", name="Keep").click()
        page.wait_for_url(f"**/planting/odd-lettuce-{n}?kept=*")
        assert said(page).count(name) >= 4, "name, note, what was found, what is said back"

    for path in ("/beds", "/cultivars", "/plantings", "/daybook", "/enter", "/beds?paste=1", "/plantings?paste=1"):
        page.goto(path)
        assert [name for name in NAMES if name not in said(page)] == [], path
    page.goto("/")
    entered = [e for e in server.entries() if e.kind == "look" and e.target.startswith("odd-lettuce")]
    # Two that were written in one second stand in no order.
    assert sorted((e.payload["found"], e.text) for e in entered) == sorted((name, name) for name in NAMES)

    # What waits is written by a script.
    page.goto("/enter?kind=note")
    server.stop()
    for n, name in enumerate(NAMES):
        page.locator("form.whole [name=text]").fill(name)
        page.get_by_role("button", name="Keep").click()
        expect(page.locator("nav.menu .waiting")).to_have_text(f"{n + 1} waiting")
    page.goto("/waiting")
    expect(page.locator("#waiting li")).to_have_count(len(NAMES))
    assert [name for name in NAMES if name not in page.locator("#waiting").text_content()] == []
    assert page.evaluate("globalThis.hurt") is None
    assert not [fault for fault in faults if "ERR_CONNECTION_REFUSED" not in fault]


def test_a_person_may_be_called_anything(serve, window) -> None:
    server, keeper = serve(), window()
    keeper.come_in()
    for name in PEOPLE:
        keeper.page.goto("/people")
        adding = keeper.page.locator("form", has=keeper.page.get_by_role("button", name="Add the name"))
        adding.get_by_label("Name").fill(name)
        adding.get_by_label("Passphrase").fill(PASSPHRASE)
        adding.get_by_role("button", name="Add the name").click()
        expect(keeper.page.locator("main li b", has_text=name)).to_have_count(1)
    keeper.page.goto("/")
    before = server.rows()
    for name in PEOPLE:
        phone = window()
        phone.come_in(name)
        expect(phone.page.locator("nav.menu .who")).to_have_text(name)
        phone.page.goto("/enter")
        enter_rain(phone.page, "1")
        phone.page.wait_for_url("**/enter?kept=*")
        phone.page.goto("/daybook")
        expect(phone.page.locator("table.rows tbody tr").first).to_contain_text(name)
        assert phone.page.evaluate("globalThis.hurt") is None
        phone.close()
    assert [entry.who for entry in server.entries()[before:]] == list(PEOPLE)
