"""Every document of the register, walked: schema named and versioned, round trip, rendered in every form."""

from __future__ import annotations

import json
import re
from dataclasses import replace
from typing import Any
from xml.etree import ElementTree

import jsonschema
import pytest
from building import of
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from sample import WORK, climate, sheet

from kailyard import discover
from kailyard.errors import DataError
from kailyard.publish import render
from kailyard.publish.codec import document_types, from_json, json_schema, to_json
from kailyard.publish.plain import shown_width

NAMES = discover.names("kailyard.documents")
KINDS = [discover.module("kailyard.documents", name).DOCUMENT for name in NAMES]
slow_to_build = settings(max_examples=25, deadline=None, suppress_health_check=list(HealthCheck))
every_kind = pytest.mark.parametrize("kind", KINDS, ids=NAMES)


@every_kind
def test_schema_is_named_after_its_file_with_a_version(kind: Any) -> None:
    assert re.fullmatch(r"kailyard\.[a-z][a-z-]*/[1-9]\d*", kind.schema)
    assert kind.schema.partition(".")[2].partition("/")[0].replace("-", "_") == kind.__module__.rpartition(".")[2]


def test_no_two_documents_share_a_schema() -> None:
    assert len(document_types()) == len(NAMES)


@pytest.mark.parametrize("form", ["text", "html"])
def test_every_document_has_a_renderer_and_no_renderer_is_left_over(form: str) -> None:
    assert discover.names(f"kailyard.publish.{form}") == NAMES


@every_kind
@slow_to_build
@given(data=st.data())
def test_round_trips_and_keeps_to_its_json_schema(kind: Any, data: st.DataObject) -> None:
    document = data.draw(of(kind))
    written = to_json(document)
    assert from_json(written) == document
    assert to_json(from_json(written)) == written
    assert written.startswith(f'{{"schema":"{kind.schema}"'.encode())
    schema = json_schema(kind)
    jsonschema.Draft202012Validator.check_schema(schema)
    jsonschema.Draft202012Validator(schema).validate(json.loads(written))


@every_kind
def test_json_schema_refuses_another_schema_name(kind: Any) -> None:
    validator = jsonschema.Draft202012Validator(json_schema(kind))
    assert not validator.is_valid({"schema": "kailyard.other/1"})


@every_kind
@slow_to_build
@given(data=st.data(), width=st.integers(40, 120), ascii_only=st.booleans())
def test_text_keeps_to_its_width_and_sends_nothing_to_steer_a_terminal(
    kind: Any, data: st.DataObject, width: int, ascii_only: bool
) -> None:
    text = render(data.draw(of(kind)), "text", width=width, ascii_only=ascii_only)
    assert text.endswith("\n")
    assert not re.search(r"[\x00-\x09\x0b-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069]", text)
    if ascii_only:
        assert text.isascii()
    else:
        assert max(map(shown_width, text.splitlines())) <= width


@every_kind
@slow_to_build
@given(data=st.data())
def test_html_is_well_formed_and_holds_no_script(kind: Any, data: st.DataObject) -> None:
    html = render(data.draw(of(kind)), "html")
    root = ElementTree.fromstring(html)
    assert {element.tag for element in root.iter()}.isdisjoint({"script", "iframe", "object", "embed", "link", "img"})
    assert not [name for element in root.iter() for name in element.attrib if name.startswith("on")]


def test_equal_documents_give_equal_bytes_whether_minutes_are_whole_or_not() -> None:
    whole, broken = replace(WORK[0], minutes=20), replace(WORK[0], minutes=20.0)
    assert to_json(sheet(work=(whole,))) == to_json(sheet(work=(broken,)))


def test_a_number_that_is_none_is_refused() -> None:
    with pytest.raises(DataError, match=r"kailyard\.climate/1"):
        to_json(replace(climate(), rain_so_far_mm=float("nan")))


@pytest.mark.parametrize(
    "data",
    [
        b"",
        b"\xff\xfe",
        b"[]",
        b"{}",
        b'{"schema":3}',
        b'{"schema":"kailyard.sheet/999"}',
        b'{"schema":"kailyard.sheet/1"}',
    ],
)
def test_what_is_no_document_is_refused_in_words(data: bytes) -> None:
    with pytest.raises(DataError):
        from_json(data)
