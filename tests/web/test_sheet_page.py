"""Each answer on the sheet writes exactly the entry meant; twice is once; undone it is as if never entered."""

from __future__ import annotations

import re
from collections.abc import Callable
from html import unescape
from pathlib import Path

import pytest
from browsing import HOSTILE, Browser
from markup_check import Checked

from kailyard.desk.desk import Desk
from kailyard.garden.model import Entry

FORM = re.compile(r'<form id="(answer-\d+)".*?</form>', re.DOTALL)
FIELD = re.compile(r'<input type="hidden" name="(\w+)" value="([^"]*)"')


def forms(page: str) -> dict[str, dict[str, str]]:
    """The hidden fields of every line's form, by line."""
    found = {}
    for form in FORM.finditer(page):
        fields = {name: unescape(value) for name, value in FIELD.findall(form[0])}
        found.setdefault(fields["line"], {**fields, "form": form[1]})
    return found


def entries(browser: Browser) -> dict[str, Entry]:
    desk = Desk(browser.folder)
    try:
        return {e.id: e for e in desk.store.entries()}
    finally:
        desk.close()


def new(browser: Browser, before: dict[str, Entry]) -> list[Entry]:
    return [e for id_, e in entries(browser).items() if id_ not in before]


def answer(browser: Browser, line: str, **more: str) -> tuple[list[Entry], str]:
    """Answer a line as a browser without scripts would; the new entries, and where the browser is sent."""
    before = entries(browser)
    fields = forms(browser.get("/").text)[line]
    sent = browser.client.post("/", data={**fields, **more}, follow_redirects=False)
    assert sent.status_code == 303, sent.text[-2000:]
    return new(browser, before), sent.headers["location"]


DONE = [
    ("pick/head-1", {"amount": "3", "unit": "heads"}, "pick", "head-1", {}, (3.0, "count"), "3 heads"),
    ("pick/garlic-1", {"amount": "1.25", "unit": "kg"}, "pick", "garlic-1", {}, (1.25, "kg"), ""),
    ("support/tomato-2", {}, "support", "tomato-2", {}, (None, ""), ""),
    ("support/pepper-1", {}, "support", "pepper-1", {}, (None, ""), ""),
    ("thin/cucumber-4", {}, "work", "cucumber-4", {"what": "thinned"}, (None, ""), ""),
    ("watch/cabbage-1", {"text": "all green", "sound": "yes"}, "look", "cabbage-1",
     {"found": "all green", "sound": True}, (None, ""), ""),
]  # fmt: skip


@pytest.mark.parametrize(("line", "said", "kind", "target", "payload", "amount", "text"), DONE)
def test_done_writes_the_entry_of_the_work(
    line: str, said: dict, kind: str, target: str, payload: dict, amount: tuple, text: str, here: Browser
) -> None:
    made, sent_to = answer(here, line, verdict="done", **said)
    (entry,) = made
    assert (entry.kind, entry.target, dict(entry.payload)) == (kind, target, payload)
    assert (entry.quantity, entry.unit) == amount
    assert entry.text == text
    assert entry.happened.isoformat() == "2026-06-12"
    assert entry.id in sent_to


def test_a_bed_watered_by_the_button_is_asked_how_many_litres(here: Browser) -> None:
    line = next(name for name in forms(here.get("/").text) if name.startswith("water/"))
    form = next(f for f in FORM.finditer(here.get("/").text) if f'value="{line}"' in f[0])
    assert form
    made, _ = answer(here, line, verdict="done", amount="40", unit="L")
    assert [(e.kind, e.target, e.quantity, e.unit) for e in made] == [("water", line.split("/")[1], 40.0, "L")]


@pytest.mark.parametrize(
    ("unit", "amount", "payload"), [("minutes", "20", {"minutes": 20.0}), ("cans", "6", {"cans": 6})]
)
def test_a_bed_watered_by_the_button_takes_minutes_or_cans(
    unit: str, amount: str, payload: dict, here: Browser
) -> None:
    line = next(name for name in forms(here.get("/").text) if name.startswith("water/"))
    assert f">{unit}</option>" in here.get("/").text
    (made,), _ = answer(here, line, verdict="done", amount=amount, unit=unit)
    assert (made.kind, dict(made.payload), made.quantity) == ("water", payload, None)
    assert f"watered {amount} {unit}" in here.get(f"/?kept={made.id}").text


def test_the_line_that_asks_for_a_handful_takes_how_it_holds(here: Browser) -> None:
    whole = here.get("/?whole=true").text
    line = next(name for name in forms(whole) if name.startswith("feel/"))
    assert 'name="feel" value="crumbly"' in whole
    assert "a ball that falls apart" in whole
    before, fields = entries(here), forms(whole)[line]
    here.client.post("/", data={**fields, "verdict": "done", "feel": "crumbly"}, follow_redirects=False)
    (made,) = new(here, before)
    assert (made.kind, made.target, dict(made.payload)) == ("moisture", line.split("/")[1], {"feel": "crumbly"})


def test_every_line_of_the_whole_sheet_takes_answers_after_the_short_one_was_read(here: Browser) -> None:
    short = forms(here.get("/").text)
    whole = forms(here.get("/?whole=true").text)
    assert len(whole) > len(short)


def test_a_handful_without_its_word_is_asked_for_and_nothing_is_kept(here: Browser) -> None:
    line = next(name for name in forms(here.get("/?whole=true").text) if name.startswith("feel/"))
    before, fields = entries(here), forms(here.get("/?whole=true").text)[line]
    said = here.client.post("/", data={**fields, "verdict": "done"}, follow_redirects=False)
    assert said.status_code == 422
    assert "how a squeezed handful feels" in said.text
    assert new(here, before) == []


def test_a_frost_line_done_covers_each_bed_once(here: Browser) -> None:
    made, _ = answer(here, "protect/frost", verdict="done")
    assert {e.kind for e in made} == {"protect"}
    targets = [e.target for e in made]
    assert len(set(targets)) == len(targets)
    assert {"bed-1", "bed-2", "bed-3"} <= set(targets)
    desk = Desk(here.folder)
    assert set(targets) <= set(desk.garden().beds)
    desk.close()


@pytest.mark.parametrize(("verdict", "until"), [("not yet", "2026-06-14"), ("leave it", "2026-06-19")])
def test_the_other_answers_are_decisions_that_end_of_themselves(verdict: str, until: str, here: Browser) -> None:
    line = "pick/garlic-1"
    (entry,), _ = answer(here, line, verdict=verdict)
    assert entry.kind == "decide"
    assert dict(entry.payload) == {"line": line, "verdict": verdict, "until": until}
    assert entry.target == "garlic-1"
    assert line not in forms(here.get("/").text)
    here.clock.move_on(days=3 if verdict == "not yet" else 7)
    assert line in forms(here.get("/").text)


def test_leave_it_until_a_day_of_ones_own(here: Browser) -> None:
    (entry,), _ = answer(here, "pick/garlic-1", verdict="leave it", until="2026-07-01")
    assert entry.payload["until"] == "2026-07-01"


def test_the_day_that_leave_it_proposes_is_not_sent_with_another_answer(here: Browser) -> None:
    (entry,), _ = answer(here, "support/pepper-1", verdict="not yet", until="2026-07-01")
    assert entry.payload["until"] == "2026-06-14"


def test_a_double_click_records_once_and_another_body_is_a_conflict(here: Browser) -> None:
    before = entries(here)
    fields = forms(here.get("/").text)["pick/head-1"] | {"verdict": "done", "amount": "3", "unit": "heads"}
    for _ in range(2):
        assert here.client.post("/", data=fields, follow_redirects=False).status_code == 303
    assert len(new(here, before)) == 1
    other = here.client.post("/", data=fields | {"amount": "4"}, follow_redirects=False)
    assert other.status_code == 409
    assert "another quantity" in Checked(other.text).text
    assert [e.quantity for e in new(here, before)] == [3.0]


def test_done_with_a_frost_says_for_which_night_and_the_next_evening_asks_again(here: Browser) -> None:
    page = here.get("/").text
    assert re.search(r'name="verdict" value="done"[^>]*>covered for tonight</button>', page)
    answer(here, "protect/frost", verdict="done")
    assert "protect/frost" not in forms(here.get("/").text)
    here.clock.move_on(days=1)
    assert "protect/frost" in forms(here.get("/").text)


def test_a_frost_line_sent_twice_is_kept_once(here: Browser) -> None:
    before = entries(here)
    fields = forms(here.get("/").text)["protect/frost"] | {"verdict": "done"}
    here.client.post("/", data=fields)
    once = len(new(here, before))
    here.client.post("/", data=fields)
    assert len(new(here, before)) == once > 1


def test_undo_takes_back_all_that_one_answer_wrote_and_twice_is_once(here: Browser) -> None:
    line_there = set(forms(here.get("/").text))
    made, sent_to = answer(here, "protect/frost", verdict="done")
    page = here.get(sent_to).text
    assert "protect/frost" not in forms(page)
    kept = re.search(r'name="wish" value="undo">\s*<input type="hidden" name="kept" value="([^"]+)"', page)
    assert kept
    before = entries(here)
    for _ in range(2):
        undone = here.send("/enter", at="/", wish="undo", kept=kept[1], back="sheet")
        assert undone.status_code == 303
        assert undone.headers["location"] == "/"
    withdrawn = new(here, before)
    assert sorted(e.supersedes for e in withdrawn) == sorted(e.id for e in made)
    assert {e.kind for e in withdrawn} == {"withdraw"}
    page = here.get("/").text
    assert "Taken back" in page
    assert set(forms(page)) == line_there


def test_a_refused_amount_keeps_what_was_typed_and_writes_nothing(here: Browser) -> None:
    before = entries(here)
    fields = forms(here.get("/").text)["pick/head-1"] | {"verdict": "done", "amount": "three", "unit": "heads"}
    refused = here.client.post("/", data=fields, follow_redirects=False)
    assert refused.status_code == 400
    assert 'value="three heads"' in refused.text
    assert Checked(refused.text).problems == []
    assert new(here, before) == []


def test_every_button_beside_a_line_belongs_to_a_form_of_the_page(here: Browser) -> None:
    page = here.get("/").text
    ids = set(FORM.findall(page))
    used = set(re.findall(r' form="([^"]+)"', page))
    assert used
    assert used <= ids
    assert "answers" not in here.get("/?on=2026-06-20&days=3").text, "another day's sheet is only read"


def test_another_day_and_span_are_typed(here: Browser) -> None:
    assert "Saturday 20 to 22 June" in here.get("/?on=2026-06-20&days=3").text
    assert here.get("/?days=99").status_code == 400
    assert here.get("/?on=yesterday-ish").status_code == 400


def test_what_changed_since_the_last_look_is_told_to_each_person(lan: Browser) -> None:
    lan.come_in()
    assert "since the last look" not in lan.get("/").text
    lan.clock.move_on(days=5)
    told = Checked(lan.get("/").text).text
    assert "since the last look, Fri 12 June" in told
    again = Checked(lan.get("/").text).text
    assert "since the last look, Fri 12 June" in again, "loaded again it still says so"
    lan.come_in("Perrin")
    assert "since the last look" not in lan.get("/").text, "Perrin has not looked before"


def test_hostile_names_stand_on_the_sheet_as_written(door: Callable[..., Browser]) -> None:
    browser = door("hostile")
    browser.clock.move_on(days=-40)
    page = browser.get("/").text
    assert "<script>alert" not in page
    assert Checked(page).problems == []
    assert HOSTILE in Checked(page).text


def test_a_look_that_cannot_be_kept_does_not_stop_the_sheet(here: Browser) -> None:
    Path(here.folder / "looks.json").write_text("{broken")
    assert here.get("/").status_code == 200
