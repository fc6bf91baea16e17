"""Every value of the reference folder for the crops at hand is in the handbook, with the same mark."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from kailyard.handbook.load import load_handbook
from kailyard.handbook.types import Fact, FactStatus, Leg

WEAKEST_FIRST: tuple[FactStatus, ...] = ("memory", "common practice", "published")
SPLIT = {"cure_days", "cure_rh_pct"}
"""Printed as '14-21' there; one value a row here."""
REWORDED = {
    "heat_effect",
    "dd_note",
    "flower_sex_order",
    "harvest_weeks_by_year",
    "maturity_signs",
    "disease_basis",
    "volunteer_or_alternate_host",
}
"""Sentences there, told in our own words here: compared by presence and mark."""


def read(path: Path) -> list[dict[str, str]]:
    with path.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def test_every_marked_value_is_carried_with_its_status(shared: Path) -> None:
    book = load_handbook()
    rows = [r for r in read(shared / "reference/crops/facts-long.csv") if r["key"] in book.crops]
    assert len(rows) > 5500
    wrong: list[str] = []
    for row in rows:
        name, value = row["field"], row["value"]
        low, _, high = value.partition("-")
        wanted = {f"{name}_min": low, f"{name}_max": high or low} if name in SPLIT else {name: value}
        for quantity, text in wanted.items():
            fact = book.get(row["key"], quantity)
            if fact is None or fact.status != row["status"] or not same(fact, text):
                wrong.append(f"{row['key']} {quantity}: {value!r} {row['status']}, here {fact}")
    assert wrong == []


def same(fact: Fact, text: str) -> bool:
    if isinstance(fact.value, float):
        return fact.value == float(text)
    if fact.quantity in REWORDED or fact.quantity == "support":
        return bool(fact.value)
    return fact.value.replace("°C", "C") == text


def test_every_development_row_is_carried_with_its_status(shared: Path) -> None:
    book = load_handbook()
    rows = read(shared / "reference/crops/development.csv")
    legs = [leg for crop in book.crops for leg in book.legs.get(crop, ())]
    assert len(rows) > 160
    told = {(row["crop"], row["from_stage"], row["to_stage"]) for row in rows}
    ours = [leg for leg in legs if (leg.crop, leg.from_stage, leg.to_stage) not in told]
    assert len(rows) + len(ours) == len(legs)
    assert {fact.status for leg in ours for fact in leg.facts.values()} == {"memory"}
    for row in rows:
        found = [leg for leg in legs if is_row(leg, row)]
        assert len(found) == 1, row
        values = [fact for q, fact in found[0].facts.items() if q != "reference_mean_c"]
        assert min((f.status for f in values), key=WEAKEST_FIRST.index) == row["status"], row


def is_row(leg: Leg, row: dict[str, str]) -> bool:
    """Whether the leg holds what the row prints; no sum is used without its base, no fall without a ceiling."""
    baseless = row["response"] == "base-unknown"
    level = row["response"] == "trapezoid" and not row["ceiling_c"]
    return (
        (leg.crop, leg.from_stage, leg.to_stage) == (row["crop"], row["from_stage"], row["to_stage"])
        and leg.response == ("none" if baseless else "capped" if level else row["response"])
        and [leg.base_c, leg.opt_low_c, leg.opt_high_c, leg.ceiling_c]
        == [number(row[q]) for q in ("base_c", "opt_low_c", "opt_high_c", "ceiling_c")]
        and leg.degree_days == (None if baseless else span(row, "degree_days"))
        and leg.days == span(row, "days")
        and leg.reference_mean_c == number(row["reference_mean_temp_c"])
    )


def number(text: str) -> float | None:
    return float(text) if text else None


def span(row: dict[str, str], stem: str) -> tuple[float, float] | None:
    low, high = number(row[f"{stem}_low"]), number(row[f"{stem}_high"])
    return None if low is None or high is None else (low, high)


def test_every_source_named_there_keeps_its_citation(shared: Path) -> None:
    printed = {r["id"]: r["citation"] for r in read(shared / "reference/crops/sources.csv")}
    here = load_handbook().citations
    assert len(here.keys() & printed.keys()) > 70
    assert {i: c.text for i, c in here.items() if i in printed} == {i: printed[i] for i in here if i in printed}


@pytest.mark.parametrize(
    ("crop", "variant", "keys"),
    [
        ("Cabbage", "", ["cabbage"]),
        ("Lettuce", "", ["lettuce-leaf", "lettuce-head"]),
        ("Garlic", "", ["garlic"]),
        ("Onion", "dry", ["onion-long-day", "onion-intermediate-day"]),
        ("Sweet corn", "fresh", ["sweet-corn"]),
        ("Pea", "fresh", ["pea"]),
        ("Potato", "", ["potato"]),
        ("Cucumber", "fresh market", ["cucumber-slicing"]),
        ("Squash, zucchini", "", ["zucchini"]),
    ],
)
def test_crop_coefficients_are_those_of_fao56(shared: Path, crop: str, variant: str, keys: list[str]) -> None:
    # Allen et al. (1998), FAO-56, Tables 12, 17 and 22, as transcribed in the reference folder.
    rows = read(shared / "reference/water/crop-coefficients.csv")
    (row,) = [r for r in rows if (r["record_type"], r["crop"], r["variant"]) == ("coefficients", crop, variant)]
    names = {"height_m": "kc_height_m", "root_depth_min_m": "root_depth_m_min", "root_depth_max_m": "root_depth_m_max"}
    columns = ["kc_ini", "kc_mid", "kc_end", "kcb_ini", "kcb_mid", "kcb_end", "depletion_p", *names]
    book = load_handbook()
    for key in keys:
        assert {c: book.number(key, names.get(c, c)) for c in columns} == {c: float(row[c]) for c in columns}
        assert all(book.facts[key][names.get(c, c)].source == "FAO56" for c in columns)
