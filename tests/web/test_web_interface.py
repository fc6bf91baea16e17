"""The interface does what its own description says, tried by schemathesis with what fits the description and what does
not. Over the network, with a session, so that the guard at the door is tried too."""

from __future__ import annotations

from typing import Any

import pytest
import schemathesis
from browsing import PASSPHRASE, Browser
from hypothesis import HealthCheck, given, settings
from schemathesis import GenerationMode
from schemathesis.checks import not_a_server_error
from schemathesis.specs.openapi.checks import (
    content_type_conformance,
    missing_required_header,
    negative_data_rejection,
    positive_data_acceptance,
    response_headers_conformance,
    response_schema_conformance,
    status_code_conformance,
)

from kailyard.web.openapi import description

# Who is in is no part of a case here: every route's refusal of strangers has a test of its own.
SCHEMA = schemathesis.openapi.from_dict({key: part for key, part in description().items() if key != "security"})
OPERATIONS = {found.ok().label: found.ok() for found in SCHEMA.get_all_operations()}
TRIES = [
    (label, mode)
    for label in sorted(OPERATIONS)
    for mode in GenerationMode
    if label.startswith("POST") or mode is GenerationMode.POSITIVE  # nothing is sent with a GET
]
TOKEN = "X-Kailyard-Token"
CHECKS = [
    not_a_server_error,
    status_code_conformance,
    content_type_conformance,
    response_headers_conformance,
    response_schema_conformance,
    missing_required_header,
    positive_data_acceptance,
    negative_data_rejection,
]
TRIED = settings(
    max_examples=80, deadline=None, suppress_health_check=list(HealthCheck), derandomize=True, database=None
)


def send(browser: Browser, case: schemathesis.Case, token: str) -> Any:
    """What the door answers to one case; a header that the case leaves out stays out."""
    if TOKEN in case.headers:
        case.headers[TOKEN] = token
    said = case.as_transport_kwargs(base_url=str(browser.client.base_url).rstrip("/"))
    said.pop("cookies", None)
    if isinstance(said.get("data"), bytes | str):
        said["content"] = said.pop("data")
    return browser.client.request(**said)


def test_the_description_has_the_operations_that_are_there() -> None:
    assert sorted(OPERATIONS) == ["GET /api/session", "POST /entries", "POST /entries/typed"]


@pytest.mark.parametrize(("label", "mode"), TRIES, ids=[f"{label}, {mode.name.lower()}" for label, mode in TRIES])
def test_the_interface_answers_as_it_is_described(lan: Browser, label: str, mode: GenerationMode) -> None:
    operation = OPERATIONS[label]
    lan.come_in(passphrase=PASSPHRASE)
    token = lan.get("/api/session").json()["token"]
    answered: list[int] = []

    @TRIED
    @given(case=operation.as_strategy(generation_mode=mode))
    def tried(case: schemathesis.Case) -> None:
        answer = send(lan, case, token)
        answered.append(answer.status_code)
        case.validate_response(answer, checks=CHECKS)

    tried()
    # 403: the header was left out. 422 and 400: it was there, and what was sent does not fit.
    assert set(answered) <= ({200} if mode is GenerationMode.POSITIVE else {400, 403, 422})
    assert mode is GenerationMode.POSITIVE or answered.count(422) >= 10
