from __future__ import annotations

import random
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta

import pytest
from daybooks import GARDEN, daybooks, said_as_withdrawal
from hypothesis import given
from hypothesis import strategies as st

from kailyard.errors import DataError
from kailyard.garden.model import Entry
from kailyard.garden.project import doubts, project, standing

MAY = datetime(2026, 5, 1, 7, tzinfo=UTC)


def entry(id: str, kind: str, target: str = "", *, hours: int = 0, **more: object) -> Entry:
    written = MAY + timedelta(hours=hours)
    return Entry(id=id, kind=kind, version=1, happened=written.date(), written=written, target=target, **more)


def planting(id: str, count: int, **more: object) -> Entry:
    return entry(id, "planting", "pea-1", payload={"crop": "pea", "bed": "b", "start": "sown", "count": count}, **more)


@given(daybooks(), st.randoms(use_true_random=False))
def test_the_same_entries_in_any_order_give_the_same_garden(entries: list[Entry], shuffler: random.Random) -> None:
    mixed = list(entries)
    shuffler.shuffle(mixed)
    garden, again = project(entries), project(mixed)
    assert again == garden
    assert list(again.plantings) == list(garden.plantings)
    assert list(again.beds) == list(garden.beds)


@given(daybooks())
def test_what_stands_is_in_order_and_named_by_nothing(entries: list[Entry]) -> None:
    stand = standing(entries)
    assert list(stand) == sorted(stand, key=lambda e: (e.happened, e.written, e.id))
    named = {e.supersedes for e in entries}
    assert {e.id for e in stand} == {e.id for e in entries if e.id not in named and e.kind != "withdraw"}


@given(daybooks(), st.integers(0, 5000))
def test_what_was_known_then_does_not_change_by_what_came_later(entries: list[Entry], minutes: int) -> None:
    then = datetime(2026, 1, 1, tzinfo=UTC) + timedelta(minutes=minutes)
    assert project(entries, as_known=then) == project([e for e in entries if e.written <= then])


@given(daybooks(), st.data())
def test_an_entry_withdrawn_is_as_if_never_entered(entries: list[Entry], data: st.DataObject) -> None:
    fresh = replace(data.draw(st.sampled_from(entries)), id="mistake", supersedes="")
    gone = replace(said_as_withdrawal(fresh), id="gone", supersedes="mistake")
    assert project([*entries, fresh, gone]) == project(entries)


def test_a_later_definition_replaces_and_a_removal_removes() -> None:
    first, second = planting("a", 10), planting("b", 20, hours=1)
    gone = replace(second, id="c", written=MAY + timedelta(hours=2), payload={**second.payload, "removed": True})
    assert project([GARDEN, first, second]).plantings["pea-1"].count == 20
    assert project([GARDEN, first, second, gone]).plantings == {}


def test_the_last_word_written_holds_even_where_it_speaks_of_an_earlier_day() -> None:
    first = planting("a", 10)
    second = replace(planting("b", 20, hours=1), happened=date(2026, 4, 1))
    assert project([GARDEN, first, second]).plantings["pea-1"].count == 20


def test_a_chain_of_corrections_leaves_only_its_end() -> None:
    a = entry("a", "pick", "pea-1", quantity=1.0, unit="kg")
    b = entry("b", "pick", "pea-1", quantity=2.0, unit="kg", supersedes="a", hours=1)
    c = entry("c", "pick", "pea-1", quantity=3.0, unit="kg", supersedes="b", hours=2)
    assert [e.id for e in project([GARDEN, a, b, c]).entries_of("pea-1")] == ["c"]
    assert [e.id for e in project([GARDEN, a, b, c], as_known=b.written).entries_of("pea-1")] == ["b"]
    gone = entry("d", "withdraw", "pea-1", supersedes="c", hours=3)
    assert project([GARDEN, a, b, c, gone]).entries_of("pea-1") == ()


def test_a_superseded_definition_falls_back_on_the_one_before() -> None:
    first, second = planting("a", 10), planting("b", 20, hours=1)
    mistake = entry("c", "withdraw", "pea-1", supersedes="b", hours=2)
    assert project([GARDEN, first, second, mistake]).plantings["pea-1"].count == 10


def test_settings_come_whole_from_the_last_garden_entry() -> None:
    moved = replace(GARDEN, id="g2", written=MAY, payload={**GARDEN.payload, "elevation_m": 12.0, "units": "us"})
    garden = project([GARDEN, moved])
    assert (garden.name, garden.site.elevation_m, garden.site.timezone) == ("Nether Wold", 12.0, "UTC")
    assert garden.units == garden.settings["units"] == "us"


def test_a_garden_that_nobody_has_named_is_refused() -> None:
    with pytest.raises(DataError, match="says the garden's name and place"):
        project([planting("a", 1)])
    with pytest.raises(DataError, match="known by 2025-12-31"):
        project([GARDEN], as_known=datetime(2025, 12, 31, tzinfo=UTC))
    with pytest.raises(DataError, match="no time zone"):
        project([GARDEN], as_known=datetime(2025, 12, 31))  # noqa: DTZ001 the fault itself


def test_an_entry_of_a_newer_program_is_named_not_guessed_at() -> None:
    with pytest.raises(DataError, match=r"Entry a .*version 7 of 'planting'.*newer Kailyard"):
        project([GARDEN, replace(planting("a", 1), version=7)])


def test_doubts_name_what_is_odd() -> None:
    bed = entry("bed", "bed", "b", payload={"name": "B", "length_m": 3.0, "width_m": 1.0})
    fine = [GARDEN, bed, planting("p", 5), entry("s", "sow", "pea-1")]
    assert doubts(fine) == ()
    odd = [
        *fine,
        replace(bed, id="both", target="pea-1"),
        entry("l", "sow", "pea-9"),
        entry("d", "note", text="x", supersedes="nowhere"),
        entry("x", "note", text="x", supersedes="y"),
        entry("y", "note", text="x", supersedes="x"),
        entry("late", "note", text="x", supersedes="later"),
        entry("later", "note", text="x", hours=5),
    ]
    said = "\n".join(doubts(odd))
    assert "'pea-1' is a bed and a planting" in said
    assert "Entry l (sow) speaks of 'pea-9'" in said
    assert "Entry d (note) supersedes nowhere" in said
    assert "Entry x (note) supersedes itself by a chain" in said
    assert "Entry late (note) supersedes later, which was written after it" in said
    assert len(doubts(odd)) == 6
