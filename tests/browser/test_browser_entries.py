"""With signal, be it weak: every form is one entry, whatever the gardener and the machines do meanwhile."""

from __future__ import annotations

import time

from hands import enter_rain, told, waits
from playwright_words import expect
from served import PASSPHRASE

from kailyard.desk.desk import Desk


def test_the_same_identifier_with_another_body_is_a_conflict_that_a_person_decides(serve, window) -> None:
    server, phone = serve(), window()
    phone.come_in()
    before, held = server.rows(), {entry.id for entry in server.entries()}
    phone.page.goto("/enter")
    server.die.touch()
    enter_rain(phone.page, "7")
    expect(told(phone.page)).to_contain_text("The entry waits on this device.")
    server.ended()
    assert server.rows() == before + 1, "it was kept, only the answer was lost"

    told(phone.page).get_by_role("link").click()
    phone.page.get_by_role("link", name="put right").click()
    expect(phone.page.get_by_label("rain gauge")).to_have_value("7")
    enter_rain(phone.page, "9")
    waits(phone.page, 1)
    server.start()
    phone.page.goto("/waiting")
    item = phone.page.locator("#waiting li")
    expect(item).to_contain_text("Conflict: An entry is known under this identifier with another quantity.")
    waits(phone.page, 1)
    phone.page.reload()
    expect(item).to_contain_text("Conflict")
    assert server.rows() == before + 1, "the first one stands"

    item.get_by_role("button", name="enter it as another").click()
    waits(phone.page, 0)
    assert server.rows() == before + 2
    assert sorted(e.quantity for e in server.entries() if e.id not in held) == [7.0, 9.0]


def test_what_is_typed_on_while_an_entry_is_on_its_way_is_another_entry(serve, window) -> None:
    server, phone = serve(patient=False), window()
    phone.come_in()
    before, held = server.rows(), {entry.id for entry in server.entries()}
    phone.page.goto("/enter")
    server.freeze(True)
    for amount in ("1", "2", "2", "3"):
        enter_rain(phone.page, amount)
    waits(phone.page, 3)
    server.freeze(False)
    phone.page.goto("/waiting")
    waits(phone.page, 0)
    assert sorted(e.quantity for e in server.entries() if e.id not in held) == [1.0, 2.0, 3.0]
    assert server.rows() == before + 3


def test_a_weak_signal_is_waited_for_three_seconds(serve, window) -> None:
    server, phone = serve(patient=False), window()
    phone.come_in()
    server.freeze(True)
    began = time.monotonic()
    phone.page.goto("/enter")
    assert time.monotonic() - began >= 3, "a machine that answers slowly gets its time"
    expect(phone.page.locator(".as-of")).to_be_visible()
    enter_rain(phone.page, "5")
    waits(phone.page, 1)
    server.freeze(False)
    phone.page.reload()
    waits(phone.page, 0)


def test_only_what_may_be_kept_is_kept_and_for_one_session(serve, window) -> None:
    serve()
    phone = window()
    phone.come_in()
    for path in ("/people", "/handbook", "/daybook", "/climate", "/trust", "/garden"):
        phone.page.goto(path)
    kept = (
        "() => caches.open('kailyard-pages-1').then(c => c.keys()).then(all => all.map(r => new URL(r.url).pathname))"
    )
    paths = set(phone.page.evaluate(kept))
    assert {"/", "/enter", "/waiting"} <= paths
    may = ("/enter", "/waiting", "/planting", "/scouting", "/what", "/options", "/check", "/injury")
    assert all(path == "/" or path.startswith(may) for path in paths), paths


def test_a_new_worker_takes_over_by_itself(serve, window) -> None:
    server, phone = serve(), window()
    phone.come_in()
    phone.page.evaluate("caches.open('kailyard-pages-0')")
    phone.page.evaluate(
        "void (window.taken = new Promise(well => navigator.serviceWorker.addEventListener('controllerchange', well)))"
    )
    server.stop()
    server.another_worker = True
    server.start()
    phone.page.evaluate("navigator.serviceWorker.ready.then(worker => worker.update())")
    phone.page.evaluate("window.taken.then(() => 1)")
    phone.until("caches.has('kailyard-pages-0').then(has => !has)")
    phone.page.goto("/enter")
    enter_rain(phone.page, "3")
    phone.page.wait_for_url("**/enter?kept=*")


def test_without_script_everything_works_but_the_waiting(serve, window) -> None:
    server, phone = serve(), window(java_script_enabled=False)
    before = server.rows()
    phone.page.goto("/login")
    phone.page.get_by_label("Name").fill("Idony")
    phone.page.get_by_label("Passphrase").fill(PASSPHRASE)
    phone.page.get_by_role("button", name="Come in").click()
    phone.page.goto("/enter")
    enter_rain(phone.page, "6")
    phone.page.wait_for_url("**/enter?kept=*")
    assert server.rows() == before + 1
    phone.page.goto("/waiting")
    expect(phone.page.get_by_text("Nothing waits: without script")).to_be_visible()
    desk = Desk(server.folder)
    assert desk.store.entries()[-1].quantity == 6.0
    desk.close()
