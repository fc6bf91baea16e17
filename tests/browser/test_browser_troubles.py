"""What is it?, options and checks without signal: what was asked is read, what is found waits, nothing old allows."""

from __future__ import annotations

from hands import told, waits
from playwright_words import expect

ASKED = "/what?of=pepper-1&given.white_powder_upper=yes&given.old_leaves_first=yes"
KEPT = """async path => Boolean(await (await caches.open("kailyard-pages-1")).match(new URL(path, location)))"""


def test_what_was_asked_of_a_plant_is_read_without_signal_and_what_is_found_waits(serve, telephone, lan) -> None:
    server, phone = serve(), telephone()
    phone.come_in()
    for path in (ASKED, "/options/pepper-1", "/check/pepper-1"):
        phone.page.goto(path)
        phone.until(KEPT, path)
    held = {entry.id for entry in server.entries()}
    lan.pull_out()

    phone.page.goto(ASKED)
    expect(phone.page.locator(".as-of")).to_contain_text("No signal: this page is as of")
    expect(phone.page.get_by_text("powdery mildew of other plants").first).to_be_visible()
    expect(phone.page.get_by_text("Without signal nothing can be weighed anew")).to_be_visible()
    expect(phone.page.get_by_role("button", name="Answer", exact=True)).to_be_hidden()
    phone.page.get_by_role("button", name="Keep", exact=True).click()
    expect(told(phone.page)).to_contain_text("waits on this device")
    waits(phone.page, 1)

    phone.page.goto("/what?of=pepper-1&given.web=no")
    expect(phone.page.locator(".as-of")).to_contain_text("and answers what was asked then")
    phone.page.get_by_text("Write down what you see").click()
    phone.page.get_by_label("seen", exact=True).fill("white on the old leaves")
    phone.page.get_by_role("button", name="Keep the look").click()
    waits(phone.page, 2)

    phone.page.goto("/check/pepper-1?label=any")
    expect(phone.page.get_by_text("put nothing on now")).to_be_visible()
    phone.page.goto("/what?of=corn-1")
    expect(phone.page.get_by_role("heading", level=1)).to_have_text("No signal")

    lan.plug_in()
    phone.page.goto("/waiting")
    waits(phone.page, 0)
    new = [entry for entry in server.entries() if entry.id not in held]
    assert sorted((entry.kind, entry.target) for entry in new) == [("found", "pepper-1"), ("look", "pepper-1")]
    found = next(entry for entry in new if entry.kind == "found")
    assert found.payload["signs"] == "old-leaves-first=yes; white-powder-upper=yes"
