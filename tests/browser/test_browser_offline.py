"""Without signal, in a real browser at a local network's address over TLS: nothing is lost, nothing comes twice."""

from __future__ import annotations

import re
import time
from collections import Counter

from hands import enter_rain, told, waits
from playwright_words import expect
from served import LONG_S

from kailyard.desk.people import People, Visitor


def test_twenty_entries_without_signal_are_twenty_rows_whatever_happens(serve, telephone, lan) -> None:
    server, phone = serve(), telephone()
    phone.come_in()
    before, held = server.rows(), {entry.id for entry in server.entries()}
    phone.page.goto("/enter")
    lan.pull_out()
    for n in range(10):
        enter_rain(phone.page, str(n + 1))
        waits(phone.page, n + 1)

    phone.close()
    phone.open()
    phone.page.goto("/enter")
    expect(phone.page.locator(".as-of")).to_contain_text("this page is as of")
    waits(phone.page, 10)
    for n in range(10, 20):
        enter_rain(phone.page, str(n + 1))
        waits(phone.page, n + 1)
    assert phone.waiting() == 20

    server.die.touch()
    lan.plug_in()
    assert server.ended() == -9, "killed after it had kept them, before it had answered"
    assert server.rows() == before + 20
    assert phone.waiting() == 20, "without an answer they wait on"
    phone.close()
    phone.open()
    phone.page.goto("/waiting")
    waits(phone.page, 20)

    server.start()
    phone.page.get_by_role("button", name="Send now").click()
    waits(phone.page, 0)
    expect(phone.page.get_by_text("Nothing waits.")).to_be_visible()
    assert phone.waiting() == 0
    assert server.rows() == before + 20
    new = [entry for entry in server.entries() if entry.id not in held]
    assert Counter((entry.kind, entry.quantity) for entry in new) == {("rain", float(n)): 1 for n in range(1, 21)}
    assert {(entry.who, entry.happened.isoformat()) for entry in new} == {("Idony", "2026-06-12")}


def test_what_is_refused_stays_with_its_reason_until_it_is_put_right_or_dropped(serve, telephone, lan) -> None:
    server, phone = serve(), telephone()
    phone.come_in()
    before = server.rows()
    phone.page.goto("/enter")
    lan.pull_out()
    enter_rain(phone.page, "a bucket")
    waits(phone.page, 1)
    enter_rain(phone.page, "nothing")
    waits(phone.page, 2)
    lan.plug_in()
    phone.page.goto("/waiting")
    items = phone.page.locator("#waiting li")
    expect(items.filter(has_text="Refused:")).to_have_count(2)
    assert server.rows() == before

    items.filter(has_text="a bucket").get_by_role("link", name="put right").click()
    expect(told(phone.page)).to_contain_text("'a bucket' is no amount")
    assert phone.page.get_by_label("rain gauge").input_value() == "a bucket"
    enter_rain(phone.page, "12")
    phone.page.wait_for_url("**/enter?kept=*")
    waits(phone.page, 1)
    assert server.rows() == before + 1

    phone.page.goto("/waiting")
    items.get_by_role("button", name="drop").click()
    waits(phone.page, 1)
    items.get_by_role("button", name="really drop it").click()
    waits(phone.page, 0)
    assert server.rows() == before + 1


def test_two_tabs_send_what_they_share_once(serve, telephone, lan) -> None:
    server, phone = serve(), telephone()
    phone.come_in()
    before = server.rows()
    phone.page.goto("/enter")
    second = phone.browser.new_page()
    second.goto("/enter")
    lan.pull_out()
    for n in range(3):
        enter_rain(phone.page, str(n + 1))
        waits(second, 2 * n + 1)
        enter_rain(second, str(n + 31))
        waits(phone.page, 2 * n + 2)
    lan.plug_in()
    second.reload()
    phone.page.reload()
    waits(phone.page, 0)
    waits(second, 0)
    assert server.rows() == before + 6


def test_a_double_click_is_one_entry_and_going_back_sends_nothing_again(serve, telephone, lan) -> None:
    server, phone = serve(), telephone()
    phone.come_in()
    before = server.rows()
    phone.page.goto("/enter")
    phone.page.get_by_role("button", name="watered").first.dblclick()
    phone.page.wait_for_url("**/enter?kept=*")
    assert server.rows() == before + 1
    phone.page.go_back()
    phone.page.go_forward()
    phone.page.reload()
    waits(phone.page, 0)
    assert server.rows() == before + 1

    phone.page.goto("/enter")
    lan.pull_out()
    phone.page.get_by_role("button", name="watered").first.dblclick()
    waits(phone.page, 1)
    phone.page.reload()
    waits(phone.page, 1)
    lan.plug_in()
    phone.page.reload()
    waits(phone.page, 0)
    assert server.rows() == before + 2


def test_a_session_that_ended_meanwhile_keeps_the_entry_for_the_one_who_typed_it(serve, telephone, lan) -> None:
    server, phone = serve(), telephone()
    phone.come_in()
    before = server.rows()
    phone.page.goto("/enter")
    lan.pull_out()
    enter_rain(phone.page, "4")
    waits(phone.page, 1)
    People(server.folder).end_others(Visitor(True, "Idony"))
    lan.plug_in()
    phone.page.evaluate("kailyard.page.sendAll()")
    expect(told(phone.page)).to_contain_text("Your session has ended")
    assert server.rows() == before

    phone.come_in("Perrin")
    waits(phone.page, 0)
    phone.page.goto("/waiting")
    expect(phone.page.get_by_text("1 of somebody else's waits on this device")).to_be_visible()
    assert "4" not in phone.page.locator("#waiting").inner_text()
    assert server.rows() == before
    phone.go_out()
    phone.come_in()
    expect(told(phone.page)).to_contain_text("The entry that waited is in the daybook.")
    assert server.rows() == before + 1
    assert server.entries()[-1].who == "Idony"


def test_pages_are_read_without_signal_and_say_as_of_when(serve, telephone, lan) -> None:
    serve()
    phone = telephone()
    phone.come_in()
    planting = phone.page.locator('main a[href^="/planting/"]').first
    if planting.count():
        phone.page.goto(planting.get_attribute("href"))
    else:
        phone.page.goto("/enter")
        phone.page.locator('main a[href^="/planting/"]').first.click()
    name = phone.page.locator("h1").inner_text()
    path = phone.page.url
    phone.until("path => caches.match(path).then(Boolean)", path)
    lan.pull_out()
    phone.page.goto(path)
    assert phone.page.locator("h1").inner_text() == name
    expect(phone.page.locator(".as-of")).to_contain_text(re.compile(r"as of \d\d:\d\d\."))
    phone.page.goto("/people")
    expect(phone.page.locator("h1")).to_have_text("No signal")
    phone.page.get_by_role("link", name="sheet", exact=True).click()
    expect(phone.page.locator(".as-of")).to_be_visible()
    lan.plug_in()
    phone.anew()


def test_nothing_of_the_garden_is_left_to_read_once_gone_out(serve, telephone, lan) -> None:
    serve()
    phone = telephone()
    phone.come_in()
    phone.go_out()
    phone.until("caches.has('kailyard-pages-1').then(has => !has)")
    lan.pull_out()
    for path in ("/", "/enter", "/waiting"):
        answer = phone.page.evaluate("path => fetch(path).then(a => a.status, () => 0)", path)
        assert answer == 0, path


def test_the_sheet_is_answered_without_signal(serve, telephone, lan) -> None:
    server, phone = serve(), telephone()
    phone.come_in()
    before = server.rows()
    lan.pull_out()
    phone.page.goto("/")
    later = phone.page.locator(".answers button", has_text="not yet").first
    label = later.get_attribute("aria-label")
    later.click()
    waits(phone.page, 1)
    expect(phone.page.locator(".waits").first).to_have_text("not yet, waiting")
    expect(phone.page.get_by_role("button", name=label, exact=True)).to_have_count(0)
    phone.page.reload()
    expect(phone.page.locator(".waits").first).to_have_text("not yet, waiting")
    phone.page.goto("/waiting")
    expect(phone.page.locator("#waiting li b")).to_contain_text(label)
    lan.plug_in()
    phone.page.reload()
    waits(phone.page, 0)
    assert server.rows() == before + 1
    assert server.entries()[-1].payload["verdict"] == "not yet"


def test_what_waits_goes_by_itself_while_no_page_is_open(serve, telephone, lan) -> None:
    """Background Sync. When it comes is the browser's choice (minutes after a first failure), so it is told to."""
    server, phone = serve(), telephone()
    phone.come_in()
    before = server.rows()
    phone.page.goto("/enter")
    lan.pull_out()
    enter_rain(phone.page, "8")
    expect(told(phone.page)).to_contain_text("The entry waits on this device.")
    phone.until("navigator.serviceWorker.ready.then(w => w.sync.getTags()).then(tags => tags.includes('typed'))")
    other = phone.browser.new_page()
    phone.page.close()
    lan.plug_in()
    session, workers = phone.browser.new_cdp_session(other), []
    session.on("ServiceWorker.workerRegistrationUpdated", lambda told: workers.extend(told["registrations"]))
    session.send("ServiceWorker.enable")
    ends = time.monotonic() + LONG_S
    while server.rows() == before:
        assert time.monotonic() < ends, "the worker did not send it"
        for worker in workers[-1:]:
            told_to = {"origin": phone.address.rstrip("/"), "registrationId": worker["registrationId"], "tag": "typed"}
            session.send("ServiceWorker.dispatchSyncEvent", {**told_to, "lastChance": False})
        other.wait_for_timeout(500)
    assert server.rows() == before + 1
    assert server.entries()[-1].quantity == 8
