"""Entries sent to the door: each answered on its own, kept once, never lost, whatever is sent with them."""

from __future__ import annotations

import gzip
import json
from concurrent.futures import ThreadPoolExecutor
from datetime import UTC, datetime

import jsonschema
from browsing import HOSTILE, Browser, another
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from kailyard.desk.desk import Desk
from kailyard.desk.receive import MOST_ENTRIES
from kailyard.web.openapi import description

RAIN = {"id": "tel-1", "kind": "rain", "happened": "2026-06-11", "quantity": 4, "unit": "mm"}


def kept(browser: Browser) -> dict[str, object]:
    return {e.id: e for e in Desk(browser.folder).store.entries()}


def test_each_entry_is_answered_on_its_own(here: Browser) -> None:
    before = kept(here)
    answers = here.entries(
        RAIN,
        {"id": "tel-2", "kind": "pick", "happened": "2026-06-12", "target": "no-such-1", "quantity": 1, "unit": "kg"},
        {"id": "tel-3", "kind": "rain", "happened": "2026-06-11", "quantity": -4, "unit": "mm"},
        {"id": "tel-4", "kind": "note", "happened": "2026-06-13", "text": "tomorrow"},
        {"id": "a b", "kind": "note", "happened": "2026-06-12", "text": "no identifier"},
        {"id": "tel-5", "kind": "note", "happened": "2026-06-12", "text": HOSTILE},
        {"id": "tel-6", "kind": "stage", "happened": "2026-06-12", "target": "pea-1", "payload": {"nonsense": 1}},
        {**RAIN, "quantity": 5},
        RAIN,
    )
    assert [a["answer"] for a in answers] == [
        "recorded",
        "refused",
        "refused",
        "refused",
        "refused",
        "recorded",
        "refused",
        "conflict",
        "known already",
    ]
    for answer, says in zip(
        answers[1:5], ["There is no planting", "lies outside", "after today", "no entry identifier"], strict=True
    ):
        assert says in answer["reason"]
    assert answers[7]["reason"].endswith("another quantity.")
    assert answers[7]["kept"]["quantity"] == 4
    assert set(kept(here)) - set(before) == {"tel-1", "tel-5"}
    assert kept(here)["tel-1"].quantity == 4
    assert kept(here)["tel-5"].text == HOSTILE


def test_an_entry_sent_again_later_by_another_device_is_known_already(lan: Browser) -> None:
    lan.come_in()
    assert lan.entries(RAIN)[0]["answer"] == "recorded"
    other = another(lan)
    other.come_in("Perrin")
    lan.clock.move_on(days=2)
    assert other.entries(RAIN)[0]["answer"] == "known already"
    entry = kept(lan)["tel-1"]
    assert (entry.who, entry.written) == ("Idony", datetime(2026, 6, 12, 14, 0, tzinfo=UTC))


def test_a_payload_is_compared_as_it_is_kept(here: Browser) -> None:
    planting = next(iter(Desk(here.folder).garden().plantings))
    stage = {"id": "tel-7", "kind": "stage", "happened": "2026-06-12", "target": planting}
    assert here.entries({**stage, "payload": {"stage": "emerged", "share": 1}})[0]["answer"] == "recorded"
    assert here.entries({**stage, "payload": {"share": 1.0, "stage": "emerged"}})[0]["answer"] == "known already"
    assert here.entries({**stage, "payload": {"stage": "emerged", "share": 0.5}})[0]["answer"] == "conflict"


def test_a_correction_names_what_it_puts_right(here: Browser) -> None:
    here.entries(RAIN)
    right = {**RAIN, "id": "tel-8", "quantity": 40, "supersedes": "tel-1"}
    assert here.entries(right)[0]["answer"] == "recorded"
    stand = {e.id for e in Desk(here.folder).garden().entries}
    assert "tel-8" in stand
    assert "tel-1" not in stand


def test_the_same_entry_from_many_threads_at_once_is_one(here: Browser) -> None:
    token = here.get("/api/session").json()["token"]
    headers = {"X-Kailyard-Token": token, "Content-Type": "application/json"}
    cookies = "; ".join(f"{k}={v}" for k, v in here.client.cookies.items())

    def send(n: int) -> str:
        answer = here.client.post(
            "/entries", content=json.dumps([{**RAIN, "id": f"many-{n % 5}"}]), headers={**headers, "Cookie": cookies}
        )
        return answer.json()["answers"][0]["answer"]

    with ThreadPoolExecutor(6) as pool:
        answers = list(pool.map(send, range(30)))
    assert answers.count("recorded") == 5
    assert answers.count("known already") == 25


def test_nothing_else_than_json_of_entries_is_taken(here: Browser) -> None:
    token = {"X-Kailyard-Token": here.get("/api/session").json()["token"]}
    as_json = {**token, "Content-Type": "application/json"}
    for content, headers, status in [
        (b"[]", token, 400),
        (b"[]", {**token, "Content-Type": "text/plain"}, 400),
        (b"", as_json, 422),
        (b"{}", as_json, 422),
        (b"[1]", as_json, 422),
        (b'[{"id": 1}]', as_json, 422),
        (b"[" * 5000, as_json, 422),
        (b"\xff\xfe", as_json, 422),
        (b'[{"id":"\\ud800","kind":"note","happened":"2026-06-12","text":"x"}]', as_json, None),
        (b'[{"id":"a","kind":"\\u0000","happened":"2026-06-12"}]', as_json, 200),
        (b'[{"id":"a","kind":"rain","happened":"2026-06-12","quantity":1e999,"unit":"mm"}]', as_json, None),
        (json.dumps([RAIN] * (MOST_ENTRIES + 1)).encode(), as_json, 400),
        (b"[" + b" " * 2_100_000 + b"]", as_json, 413),
    ]:
        answer = here.client.post("/entries", content=content, headers=headers)
        if status is None:
            assert answer.status_code in (200, 422), content[:60]
            if answer.status_code == 200:
                assert answer.json()["answers"][0]["answer"] == "refused"
        else:
            assert answer.status_code == status, (content[:60], answer.text)
        if answer.status_code != 200:
            assert answer.json()["error"]


def test_a_body_longer_than_it_says_is_cut_off(here: Browser) -> None:
    token = here.get("/api/session").json()["token"]
    sent: list[int] = []

    def chunks():
        for n in range(1000):
            sent.append(n)
            yield b" " * 100_000

    headers = {"X-Kailyard-Token": token, "Content-Type": "application/json"}
    assert here.client.post("/entries", content=chunks(), headers=headers).status_code == 413


def test_a_form_has_its_limits(here: Browser) -> None:
    token = here.token("/people")
    long = here.client.post("/people", data={"token": token, "wish": "add", "name": "x" * 30_000})
    assert long.status_code == 413
    squeezed = gzip.compress(b"x" * 1000)
    answer = here.client.post("/people", content=squeezed, headers={"Content-Encoding": "gzip"})
    assert answer.status_code in (400, 403), "nothing sent is unpacked"
    many = here.client.post("/", data={"token": token, **{f"f{n}": "x" for n in range(3000)}})
    assert many.status_code == 400


json_values = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats(allow_nan=False, allow_infinity=False) | st.text(max_size=20),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=8), inner, max_size=3),
    max_leaves=6,
)


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    entry=st.fixed_dictionaries(
        {},
        optional={
            "id": st.text(max_size=70) | st.from_regex(r"[A-Za-z0-9]{1,12}", fullmatch=True),
            "kind": st.sampled_from(["note", "rain", "pick", "stage", "look", "bed", "planting"]) | st.text(max_size=9),
            "happened": st.dates().map(str) | st.text(max_size=12),
            "target": st.sampled_from(["", "pea-1", "bed-1"]) | st.text(max_size=9),
            "quantity": st.none() | st.floats(allow_nan=False, allow_infinity=False) | st.integers(),
            "unit": st.sampled_from(["", "mm", "kg"]) | st.text(max_size=5),
            "text": st.text(max_size=40),
            "payload": st.dictionaries(st.sampled_from(["stage", "found", "name", "x"]), json_values, max_size=3),
            "supersedes": st.text(max_size=9),
        },
    )
)
def test_whatever_is_sent_is_answered_as_the_interface_says(here: Browser, entry: dict[str, object]) -> None:
    spec = description()
    token = here.get("/api/session").json()["token"]
    answer = here.client.post("/entries", json=[entry], headers={"X-Kailyard-Token": token})
    said = spec["paths"]["/entries"]["post"]["responses"][str(answer.status_code)]
    schema = {**said["content"]["application/json"]["schema"], "components": spec["components"]}
    jsonschema.validate(answer.json(), schema)


def test_the_description_is_sound_and_names_every_path_of_the_interface(here: Browser) -> None:
    spec = here.get("/api/openapi.json").json()
    assert spec["openapi"].startswith("3.1")
    paths = {r.path for r in here.client.app.routes if r.path.startswith(("/entries", "/api/"))}
    assert set(spec["paths"]) == paths - {"/api/openapi.json"}
    for name in spec["components"]["schemas"]:
        jsonschema.Draft202012Validator.check_schema(spec["components"]["schemas"][name])
    session = here.get("/api/session").json()
    schema = spec["paths"]["/api/session"]["get"]["responses"]["200"]["content"]["application/json"]["schema"]
    jsonschema.validate(session, schema)
