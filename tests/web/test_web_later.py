"""Forms that waited on a device: each kept once, on the day it was typed, whatever is sent and however often."""

from __future__ import annotations

import dataclasses
import gzip
import re
from datetime import UTC, datetime, timedelta
from html import unescape

import pytest
from browsing import Browser

from kailyard.desk import desk
from kailyard.desk.desk import Desk
from kailyard.garden.model import Entry
from kailyard.web import later, register
from kailyard.web.statics import statics


def now() -> str:
    return datetime.now(UTC).isoformat()


def sent(browser: Browser, *forms: dict[str, object]) -> list[dict[str, str]]:
    token = browser.get("/api/session").json()["token"]
    answer = browser.client.post("/entries/typed", json=list(forms), headers={"X-Kailyard-Token": token})
    assert answer.status_code == 200, answer.text
    return answer.json()["answers"]


def rain(id_: str, amount: str, typed: str | None = None, **more: str) -> dict[str, object]:
    fields = {"id": id_, "kind": "rain", "amount": amount, **more}
    return {"id": id_, "to": "/enter", "typed": typed or now(), "fields": list(fields.items())}


def entries(browser: Browser) -> tuple[Entry, ...]:
    opened = Desk(browser.folder)
    try:
        return tuple(opened.store.entries())
    finally:
        opened.close()


def fields_of(form: str) -> list[tuple[str, str]]:
    """The hidden fields of a form, but the token and the day that the page set."""
    found = re.findall(r'<input type="hidden" name="([^"]+)" value="([^"]*)"', form)
    return [(name, unescape(value)) for name, value in found if name not in ("token", "happened")]


def test_a_form_sent_twice_is_one_entry_and_says_where_its_page_leads(here: Browser) -> None:
    before = len(entries(here))
    first, again = sent(here, rain("a1", "7")), sent(here, rain("a1", "7"))
    assert first == again == [{"id": "a1", "answer": "recorded", "reason": "", "to": "/enter?kept=a1", "message": ""}]
    assert len(entries(here)) == before + 1


def test_another_body_is_a_conflict_and_what_is_wrong_is_refused_one_by_one(here: Browser) -> None:
    before = len(entries(here))
    sent(here, rain("a1", "7"))
    answers = sent(here, rain("a1", "9"), rain("a2", "a bucket"), rain("a3", "3"))
    assert [a["answer"] for a in answers] == ["conflict", "refused", "recorded"]
    assert "another quantity" in answers[0]["reason"]
    assert "'a bucket' is no amount" in answers[1]["reason"]
    assert len(entries(here)) == before + 2


@pytest.mark.parametrize(
    ("form", "says"),
    [
        ({"to": "/people"}, "No page takes that form later"),
        ({"to": "/nowhere"}, "No page takes that form later"),
        ({"to": "/enter/../people"}, "No page takes that form later"),
        ({"id": "other"}, "does not carry its own identifier"),
        ({"fields": []}, "does not carry its own identifier"),
        ({"typed": "2020-01-01T10:00:00Z"}, "over a year ago"),
        ({"typed": (datetime.now(UTC) + timedelta(days=3)).isoformat()}, "still to come"),
    ],
)
def test_what_no_page_takes_is_refused_and_nothing_is_kept(here: Browser, form: dict[str, object], says: str) -> None:
    before = len(entries(here))
    (answer,) = sent(here, {**rain("a1", "7"), **form})
    assert answer["answer"] == "refused"
    assert says in answer["reason"]
    assert len(entries(here)) == before


@pytest.mark.parametrize("body", [b"", b"[", b"{}", b"[1]", b'[{"id": "a"}]', b"\xff\xfe"])
def test_what_is_no_list_of_forms_is_one_clear_error(here: Browser, body: bytes) -> None:
    token = here.get("/api/session").json()["token"]
    headers = {"X-Kailyard-Token": token, "content-type": "application/json"}
    answer = here.client.post("/entries/typed", content=body, headers=headers)
    assert answer.status_code == 422
    assert "no list of entries" in answer.json()["error"]


def test_without_the_token_of_this_device_nothing_is_taken(here: Browser) -> None:
    before = len(entries(here))
    here.get("/")
    assert here.client.post("/entries/typed", json=[rain("a1", "7")]).status_code == 403
    assert len(entries(here)) == before


@pytest.mark.parametrize(
    ("ago", "day"), [({"days": 2}, "2026-06-10"), ({"hours": 13}, "2026-06-11"), ({"hours": -9}, "2026-06-12")]
)
def test_it_happened_on_the_day_it_was_typed_where_the_garden_is(
    here: Browser, monkeypatch: pytest.MonkeyPatch, ago: dict[str, int], day: str
) -> None:
    # It is 14:00 UTC on 12 June and the demo lies two hours west of that, so 13 hours ago was still the day before. A
    # device's clock may be wrong by less than a day: nothing happens tomorrow.
    monkeypatch.setattr(desk, "_clock", here.clock)
    typed = here.clock.now - timedelta(**ago)
    (answer,) = sent(here, rain("a1", "7", typed=typed.isoformat()))
    assert answer["answer"] == "recorded"
    (kept,) = [e for e in entries(here) if e.id == "a1"]
    assert kept.happened.isoformat() == day
    assert kept.written == here.clock.now, "the garden came to know it when it came in"


def test_every_answer_to_a_line_of_the_sheet_may_be_sent_again(here: Browser) -> None:
    page = here.get("/").text
    forms = re.findall(r'<form id="([^"]+)" class="entry held"[^>]*>(.*?)</form>', page, re.DOTALL)
    assert len(forms) > 5
    items = []
    for _, inside in forms:
        fields = fields_of(inside)
        for n, verdict in enumerate(("done", "not yet")):
            id_ = f"{dict(fields)['id']}-{n}"
            mine = [(name, id_ if name == "id" else value) for name, value in fields]
            items.append(
                {"id": id_, "to": "/", "typed": now(), "fields": [*mine, ("verdict", verdict), ("text", "seen so")]}
            )
    for item in items:
        first = sent(here, item)
        if first[0]["answer"] == "recorded":
            count = len(entries(here))
            assert sent(here, item)[0]["answer"] == "recorded", item
            assert len(entries(here)) == count, item


def test_every_quick_form_of_the_likeliest_plantings_may_be_sent_again(here: Browser) -> None:
    page = here.get("/enter").text
    forms = [fields_of(inside) for inside in re.findall(r'action="/enter">(.*?)</form>', page, re.DOTALL)]
    forms = [fields for fields in forms if "id" in dict(fields)]
    assert len(forms) > 10
    kept = 0
    for fields in forms[:40]:
        item = {"id": dict(fields)["id"], "to": "/enter", "typed": now(), "fields": [*fields, ("found", "so")]}
        if sent(here, item)[0]["answer"] == "recorded":
            count = len(entries(here))
            assert sent(here, item)[0]["answer"] == "recorded", item
            assert len(entries(here)) == count, item
            kept += 1
    assert kept > 10


def test_a_page_whose_forms_may_wait_gives_them_an_identifier() -> None:
    waits = later.waiting_pages()
    assert {page.name for page in waits} >= {"sheet", "enter"}
    for page in waits:
        assert page.post
        assert later.FIELD in {f.name for f in dataclasses.fields(page.form)}


def test_only_pages_of_the_garden_itself_may_be_kept_and_none_that_says_something_once(lan: Browser) -> None:
    keeps = {page.name for page in register.pages() if page.keeps}
    read = {"sheet", "enter", "planting", "scouting", "waiting"}
    assert keeps == read | {"what", "injury", "options", "check"}
    assert "kailyard-keep" not in lan.get("/login").headers
    lan.come_in()
    marks = {lan.get(path).headers["kailyard-keep"] for path in ("/", "/enter", "/waiting")}
    assert len(marks) == 1
    for path in ("/people", "/daybook", "/handbook", "/trust"):
        assert "kailyard-keep" not in lan.get(path).headers, path


def test_the_scripts_are_small() -> None:
    # The bound is this project's own: under 40 KB compressed.
    scripts = [static.content for name, static in statics().items() if name.endswith(".js")]
    assert scripts
    assert sum(len(gzip.compress(content)) for content in scripts) < 40_000
