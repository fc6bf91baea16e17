from __future__ import annotations

import csv
import time
from importlib import resources
from pathlib import Path
from types import MappingProxyType

import pytest

from kailyard import discover
from kailyard.errors import NotFound
from kailyard.handbook.load import _package, check_handbook, fingerprint, load_handbook
from kailyard.handbook.quantities import quantities
from kailyard.handbook.rows import FACT_COLUMNS, LEG_COLUMNS, LegRow
from kailyard.handbook.types import Fact

SOME_CROPS = (
    "bean-bush",
    "carrot",
    "cucumber-slicing",
    "garlic",
    "lettuce-head",
    "onion-long-day",
    "pea",
    "pepper-sweet",
)
SOME_CROPS += ("potato", "sweet-corn", "tomato-determinate", "zucchini", "cabbage", "beet", "kale", "melon", "spinach")
SOME_CROPS += ("radish", "sunflower", "basil")
WORKING = ("common_name", "family", "verb", "produce", "plain_name", "pick_sign", "pick_late_loss", "protect_below_c")


@pytest.mark.parametrize("name", discover.names("kailyard.handbook.tables"))
def test_every_table_keeps_the_contract(name: str) -> None:
    table = discover.module("kailyard.handbook.tables", name)
    assert name == table.NAME
    assert table.ROW in (Fact, LegRow)
    assert (LEG_COLUMNS if table.ROW is LegRow else FACT_COLUMNS) == table.COLUMNS
    folder, _, pattern = table.FILES.partition("/")
    assert pattern == "*.csv"
    known = quantities()[table.DECLARED]
    assert all(quantity in known for run in table.ORDERED for quantity in run)
    place = resources.files("kailyard.handbook").joinpath("data", folder)
    files = [p for p in place.iterdir() if p.name.endswith(".csv")]
    assert files
    for path in files:
        problems: list[str] = []
        rows = table.parse(path.read_text(encoding="utf-8"), file=path.name, problems=problems)
        assert problems == []
        assert all(isinstance(row, table.ROW) for row in rows)
        assert rows


def test_nothing_is_wrong_with_the_shipped_handbook() -> None:
    assert check_handbook() == ()


def test_every_declared_quantity_is_used_and_every_source_is_cited() -> None:
    book = load_handbook()
    facts = [f for those in book.facts.values() for f in those.values()]
    facts += [f for legs in book.legs.values() for leg in legs for f in leg.facts.values()]
    assert {f.quantity for f in facts} == {q for those in quantities().values() for q in those}
    assert {s for f in facts for s in f.source.split("; ") if s} == set(book.citations)


def test_every_crop_of_the_reference_is_there(shared: Path) -> None:
    with (shared / "reference/crops/crops.csv").open(encoding="utf-8", newline="") as file:
        keys = [row["key"] for row in csv.DictReader(file)]
    assert len(keys) == 65
    book = load_handbook()
    assert sorted(keys) == [crop for crop in book.crops if crop not in book.plants]


def test_every_crop_is_complete_for_a_sheet() -> None:
    book = load_handbook()
    crops = [crop for crop in book.crops if crop not in book.plants]
    lacking = [(c, q) for c in crops for q in WORKING if book.get(c, q) is None]
    assert lacking == [("garlic", "protect_below_c")]
    for crop in crops:
        assert book.number(crop, "pick_keeps_days_min") is not None
        if book.get(crop, "support_by_stage"):
            for quantity in (
                "support_by_days",
                "support_useless_days",
                "support_late_how",
                "minutes_support_per_plant",
            ):
                assert book.get(crop, quantity) is not None, (crop, quantity)


def test_the_handbook_is_immutable() -> None:
    book = load_handbook()
    assert isinstance(book.facts["pea"], MappingProxyType)
    with pytest.raises(TypeError):
        book.facts["pea"] = {}  # type: ignore[index]
    with pytest.raises(TypeError):
        book.facts["pea"]["kill_c"] = None  # type: ignore[index]
    assert load_handbook() is book


def test_an_unknown_crop_names_those_near() -> None:
    with pytest.raises(NotFound, match="tomato-determinate, tomato-indeterminate"):
        load_handbook().crop("tomatoe")


def test_a_garden_of_twenty_crops_has_its_facts_in_under_forty_milliseconds() -> None:
    best_s = min(seconds_to_load(20) for _ in range(5))
    _package.cache_clear()
    assert best_s < 0.040


def seconds_to_load(crops: int) -> float:
    _package.cache_clear()
    began = time.process_time()
    book = load_handbook()
    for crop in SOME_CROPS[:crops]:
        assert book.facts[crop]
        assert book.legs[crop]
    return time.process_time() - began  # of this process: other work on the machine is not the handbook's


def test_only_what_is_asked_for_is_read(monkeypatch: pytest.MonkeyPatch) -> None:
    opened: list[str] = []
    crops = discover.module("kailyard.handbook.tables", "crops")
    parse = crops.parse
    monkeypatch.setattr(crops, "parse", lambda text, **kw: (opened.append(kw["file"]), parse(text, **kw))[1])
    _package.cache_clear()
    book = load_handbook()
    assert "pea" in book.crops
    assert "pea" in book.facts
    assert opened == []
    assert book.get("pea", "verb") is not None
    assert book.get("pea", "kill_c") is not None
    assert opened == ["crops/pea.csv"]
    _package.cache_clear()


def test_any_change_of_a_fact_changes_the_fingerprint() -> None:
    assert fingerprint() == fingerprint()
    assert fingerprint("subject,quantity,value,unit\npea,kill_c,-5,C\n") != fingerprint()
