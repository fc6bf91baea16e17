"""Entries are called by as much of their end as tells them apart."""

from __future__ import annotations

from datetime import UTC, date, datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kailyard.desk.handles import FEWEST, Handles
from kailyard.errors import NotFound, UsageError
from kailyard.garden.model import Entry


def entry(id_: str) -> Entry:
    return Entry(id_, "note", 1, date(2026, 6, 12), datetime(2026, 6, 12, tzinfo=UTC), text="x")


MADE = st.from_regex(r"20260612-[0-9]{6}-00000[0-9a-c]{7}([0-9a-c]{10})?", fullmatch=True)


@given(st.lists(MADE, min_size=1, max_size=40, unique=True))
def test_every_handle_finds_its_own_entry(ids: list[str]) -> None:
    handles = Handles(map(entry, ids))
    for id_ in ids:
        handle = handles.of_id(id_)
        assert len(handle) >= FEWEST
        assert handles.find(handle).id == id_
        assert handles.find(id_).id == id_


def test_an_identifier_from_elsewhere_stands_whole() -> None:
    handles = Handles([entry("2026-06-11-stage-garlic-1")])
    assert handles.of_id("2026-06-11-stage-garlic-1") == "2026-06-11-stage-garlic-1"
    assert handles.of_id("not-there") == "not-there"


def test_a_handle_that_fits_two_or_none_is_refused() -> None:
    handles = Handles([entry("20260612-120000-000000abcdef"), entry("20260612-120000-000001abcdef")])
    with pytest.raises(UsageError, match="2 entries begin or end with 'abcdef'"):
        handles.find("abcdef")
    with pytest.raises(NotFound, match="no entry 'cdef'"):
        handles.find("cdef")
