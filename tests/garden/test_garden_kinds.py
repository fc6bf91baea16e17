from __future__ import annotations

from dataclasses import fields, is_dataclass, replace
from datetime import UTC, date, datetime, timedelta, timezone
from types import SimpleNamespace

import pytest
from daybooks import GARDEN, KINDS
from hypothesis import given
from hypothesis import strategies as st

from kailyard import discover
from kailyard.errors import DataError, NotFound
from kailyard.garden import kinds
from kailyard.garden.fields import Quantity
from kailyard.garden.model import Bed, Cultivar, Entry, Planting


def entry(kind: str, target: str = "", **more: object) -> Entry:
    return Entry(
        **{
            "id": "a1",
            "kind": kind,
            "version": 1,
            "happened": date(2026, 5, 3),
            "written": datetime(2026, 5, 3, 8, tzinfo=UTC),
            "target": target,
            **more,
        }
    )


@pytest.mark.parametrize("module", discover.modules(kinds.REGISTER), ids=lambda m: m.__name__.rpartition(".")[2])
def test_every_kind_is_complete(module) -> None:
    known = kinds.kind(module.NAME)
    assert module.__name__.rpartition(".")[2] == module.NAME.replace("-", "_")
    assert known.help
    assert "\n" not in known.help
    assert set(known.target) <= {"planting", "bed", "garden"}
    assert known.target
    assert is_dataclass(known.payload)
    assert known.payload.__dataclass_params__.frozen
    assert known.quantity is None or isinstance(known.quantity, Quantity)
    assert known.version == 1 or callable(module.upgrade)


@pytest.mark.parametrize(("name", "thing"), [("bed", Bed), ("planting", Planting), ("cultivar", Cultivar)])
def test_a_defining_kind_has_the_fields_and_defaults_of_its_thing(name: str, thing: type) -> None:
    own = {f.name: f.default for f in fields(kinds.kind(name).payload)}
    assert own.pop("removed") is False
    assert own == {f.name: f.default for f in fields(thing) if f.name != "id" or name == "cultivar"}


@given(st.one_of(*KINDS.values()))
def test_invented_entries_of_every_kind_pass(made: Entry) -> None:
    kinds.check_entry(made)


@pytest.mark.parametrize(
    ("faulty", "says"),
    [
        (entry("sow"), "must name the planting"),
        (entry("rain", "pea-6", quantity=3.0, unit="mm"), "names no target"),
        (entry("rain"), "a quantity in mm is needed"),
        (entry("rain", quantity=0.4, unit="in"), "the unit 'in' is not mm"),
        (entry("rain", quantity=-1.0, unit="mm"), "-1 lies outside 0 to 2000 mm"),
        (entry("rain", quantity=float("nan"), unit="mm"), "not a finite number"),
        (entry("note", text="x", quantity=1.0, unit="kg"), "has no quantity"),
        (entry("note"), "needs its text"),
        (entry("withdraw"), "must name the entry it withdraws"),
        (entry("stage", "pea-6"), "missing field stage"),
        (entry("stage", "pea-6", payload={"stage": "emerged", "state": "maybe"}), "state: Invalid enum value 'maybe'"),
        (entry("stage", "pea-6", payload={"stage": "Emerged!"}), "is no stage"),
        (entry("hurt", "pea-6", payload={"cause": "hail", "share": 1.5}), "share: Expected float <= 1.0"),
        (entry("hurt", "pea-6", payload={"cause": "hail", "share": "0.5"}), "share: Expected float, got str"),
        (entry("sow", "pea-6", payload={"under_glass": True}), "has no field 'under_glass'; it has under_cover"),
        (entry("look", "pea-6", payload={"next_look": "2026-02-30"}), "next_look"),
        (entry("look", "pea-6", payload={"next_look": date(2026, 2, 3)}), "only JSON values are kept"),
        (entry("moon-phase", payload={"a": {1: 2}}), "a key that is no plain text"),
        (entry("moon-phase", payload={"a": 2**60}), "whole number beyond"),
        (entry("moon-phase", payload={"a": [[[[[[[[[1]]]]]]]]]}), "nested deeper"),
        (entry("moon-phase", payload={"a": float("inf")}), "not a finite number"),
        (entry("moon-phase", payload={str(n): "x" * 9999 for n in range(9)}), "longer than"),
        (entry("air-temperature"), "tmin_c or tmax_c is needed"),
        (entry("air-temperature", payload={"tmin_c": 9.0, "tmax_c": 3.0}), "tmin_c 9 lies above tmax_c 3"),
        (entry("forecast", payload={"day": "2026-05-02", "tmin_c": 1.0, "tmax_c": 3.0}), "before the day of issue"),
        (entry("rain", version=2, quantity=1.0, unit="mm"), "version 2 of 'rain' is not known here"),
        (entry("rain", version=0, quantity=1.0, unit="mm"), "below 1"),
        (entry("note", text="x", happened=date(1066, 1, 1)), "lies outside"),
        (entry("note", text="x", written=datetime(2026, 5, 3)), "must be in UTC"),  # noqa: DTZ001 the fault itself
        (entry("note", text="x", written=datetime(2026, 5, 3, tzinfo=timezone(timedelta(hours=2)))), "must be in UTC"),
        (entry("note", text="x", written=datetime(2026, 5, 3, 1, 1, 1, 5, tzinfo=UTC)), "to the second"),
        (entry("note", text="x", id="-x"), "is no entry identifier"),
        (entry("note", text="x", supersedes="a1"), "cannot supersede itself"),
        (entry("Note", text="x"), "is no kind of entry"),
        (entry("bed", "bed-1", payload={"name": "", "length_m": 3.0, "width_m": 1.0}), "name is empty"),
        (entry("bed", "bed-1", payload={"name": "B", "length_m": 3.0, "width_m": 1.0, "shape": "round"}), "diameter"),
        (replace(GARDEN, payload={**GARDEN.payload, "latitude": 91.0}), "latitude: Expected float <= 66.0"),
        (replace(GARDEN, payload={**GARDEN.payload, "timezone": "../etc"}), "is no name like"),
    ],
)
def test_a_faulty_entry_is_refused_in_one_line_that_names_it(faulty: Entry, says: str) -> None:
    with pytest.raises(DataError) as caught:
        kinds.check_entry(faulty)
    (line,) = caught.value.problems
    assert says in line
    assert "\n" not in line
    assert line.startswith("Entry ")


@pytest.mark.parametrize(
    "name", ['The "Long" Bed', "O'Hara; DROP TABLE bed", "🥕🧑‍🌾", "גינה", "حديقة ١", "Ærøskøbing", "%s {0} $x"]
)
def test_names_with_quotes_emoji_and_any_script_are_kept(name: str) -> None:
    kinds.check_entry(entry("bed", "bed-1", payload={"name": name, "length_m": 3.0, "width_m": 1.0}))


@pytest.mark.parametrize(
    ("name", "says"),
    [
        ("a\x00b", "unseen character U+0000 at position 2"),
        ("a\nb", "U+000A"),
        ("a\x1b[31mb", "U+001B"),
        ("abc\u202edef", "U+202E"),
        ("\ufeffBed", "U+FEFF"),
        ("\ud800", "U+D800"),
        ("a" * 81, "has 81 characters; at most 80"),
        (" Bed", "begins or ends with a blank"),
        ("Bed\u00a0", "begins or ends with a blank"),
        ("Cafe\u0301", "NFC"),
    ],
)
def test_names_that_hide_something_are_refused_by_position_or_length(name: str, says: str) -> None:
    with pytest.raises(DataError, match="name") as caught:
        kinds.check_entry(entry("bed", "bed-1", payload={"name": name, "length_m": 3.0, "width_m": 1.0}))
    assert says in str(caught.value)
    assert str(caught.value).isprintable()


@pytest.mark.parametrize("target", ["Pea-6", "pea 6", "pea--6", "-pea", "pé", "../x", "a" * 41, "pea-6\n", "'; --"])
def test_identifiers_of_beds_and_plantings_are_short_and_plain(target: str) -> None:
    with pytest.raises(DataError, match="no identifier for a bed or planting"):
        kinds.check_entry(entry("sow", target))


def test_every_fault_of_an_entry_is_told_at_once() -> None:
    with pytest.raises(DataError) as caught:
        kinds.check_entry(entry("note", "Bad Id", who="a\tb", happened=date(1500, 1, 1)))
    assert len(caught.value.problems) == 3


def test_a_payload_made_from_dates_and_tuples_is_plain_json() -> None:
    assert kinds.make_payload("protect", until=date(2026, 6, 1)) == {"until": "2026-06-01"}
    made = kinds.make_payload("cultivar", crop="pea", name="Owl", resistance=("F", "PM"))
    assert made == {"crop": "pea", "name": "Owl", "resistance": ["F", "PM"]}
    with pytest.raises(DataError, match="no field 'untill'"):
        kinds.make_payload("protect", untill=date(2026, 6, 1))
    with pytest.raises(DataError, match="no file can hold"):
        kinds.make_payload("protect", what="\udcff")


def test_a_payload_is_read_with_its_defaults() -> None:
    got = kinds.read_payload(entry("look", "pea-6", payload={"next_look": "2026-06-01"}))
    assert (got.found, got.sound, got.next_look) == ("", None, date(2026, 6, 1))


def test_an_older_version_is_brought_up_by_its_kind() -> None:
    def upgrade(version: int, payload: dict[str, object]) -> dict[str, object]:
        assert version == 1
        return {"under_cover": payload["indoors"]}

    newer = replace(kinds.kind("sow"), version=2, module=SimpleNamespace(upgrade=upgrade))
    got = kinds.upgraded(newer, entry("sow", "pea-6", payload={"indoors": True}))
    assert (got.version, got.payload) == (2, {"under_cover": True})


def test_an_unknown_name_is_answered_with_those_spelt_alike() -> None:
    with pytest.raises(NotFound, match="Did you mean stage"):
        kinds.kind("stages")
    with pytest.raises(NotFound, match=r"no planting 'pea-7'. Did you mean pea-6\?"):
        kinds.check_target(entry("sow", "pea-7"), beds=["bed-1"], plantings=["pea-6"])
    kinds.check_target(entry("look", "bed-1"), beds=["bed-1"], plantings=["pea-6"])
    kinds.check_target(entry("planting", "pea-9"), beds=[], plantings=[])
