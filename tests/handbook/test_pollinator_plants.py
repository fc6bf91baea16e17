"""Every row of the reference's milkweeds and nectar plants is in the handbook, with the same mark and its caution."""

from __future__ import annotations

import csv
from pathlib import Path

from kailyard.handbook.load import load_handbook
from kailyard.handbook.types import Fact

MEMORY = {
    "spacing": ("bed_cm_min", "bed_cm_max"),
    "years_to_bloom": ("years_to_bloom_min", "years_to_bloom_max"),
    "transplanting": ("move_note",),
    "stratify": ("stratify_days_min", "stratify_days_max"),
    "sow_depth": ("depth_cm_min", "depth_cm_max"),
    "seeds_per_g": ("seeds_per_g_min", "seeds_per_g_max"),
    "zones": ("zones",),
    "sap": ("sap",),
    "bloom_end": ("bloom_month_last",),
}


def rows(shared: Path, name: str) -> list[dict[str, str]]:
    with (shared / "reference/pollinators" / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def by_species() -> dict[str, dict[str, Fact]]:
    book = load_handbook()
    return {str(book.facts[key]["botanical_name"].value): dict(book.facts[key]) for key in book.plants}


def cm(metres: str) -> float:
    return round(float(metres) * 100, 6)


def test_thirteen_milkweeds_stand_with_every_value_and_mark(shared: Path) -> None:
    found, printed = by_species(), rows(shared, "milkweeds.csv")
    assert len(printed) == 13
    for row in printed:
        here = found[row["species"]]
        assert (here["height_cm_min"].value, here["height_cm_max"].value) == (
            cm(row["height_low_m"]),
            cm(row["height_high_m"]),
        )
        assert (here["bloom_month_first"].number, here["bloom_month_last"].number) == (
            float(row["bloom_start"]),
            float(row["bloom_end"]),
        )
        assert (here["stratify_days_min"].number, here["stratify_days_max"].number) == (
            float(row["stratify_days_low"]),
            float(row["stratify_days_high"]),
        )
        if row["seeds_per_g_low"]:
            assert here["seeds_per_g_min"].number == float(row["seeds_per_g_low"])
            assert here["seeds_per_g_max"].number == float(row["seeds_per_g_high"])
        wanted = "rhizomes" if "rhizome" in row["spread"] else "tap root" if "taproot" in row["spread"] else "clump"
        assert here["spreads_by"].value == wanted
        assert here["sap"].value == ("clear" if "clear" in row["sap"] else "milky")
        assert here["height_cm_max"].status == row["status"]
        recalled = {f.strip() for f in row["memory_fields"].split(";")} - {"", "all"}
        for field in recalled:
            assert {here[q].status for q in MEMORY[field] if q in here} <= {"memory"}, (row["species"], field)


def test_fifty_two_nectar_plants_stand_with_their_months_and_marks(shared: Path) -> None:
    found, printed = by_species(), rows(shared, "nectar_plants.csv")
    assert len(printed) == 52
    for row in printed:
        here = found[row["species"]]
        assert here["bloom_month_first"].number == float(row["bloom_start"])
        assert here["bloom_month_last"].number == float(row["bloom_end"])
        assert here["bloom_month_first"].status == row["status"]
        assert (here["height_cm_min"].value, here["height_cm_max"].value) == (
            cm(row["height_low_m"]),
            cm(row["height_high_m"]),
        )
        assert (here["life_cycle_as_grown"].value == "annual") == (row["life"] == "annual")


def test_species_in_bloom_by_month_are_as_many_as_the_reference_counts(shared: Path) -> None:
    # README of the reference, nectar plants: April 8, May 14, June 18, July 30, August 37, September 30, October 11.
    nectar = {row["species"] for row in rows(shared, "nectar_plants.csv")}
    here = [f for species, f in by_species().items() if species in nectar]
    count = {
        month: sum(f["bloom_month_first"].number <= month <= f["bloom_month_last"].number for f in here)
        for month in range(4, 11)
    }
    assert count == {4: 8, 5: 14, 6: 18, 7: 30, 8: 37, 9: 30, 10: 11}


def test_what_can_hurt_carries_its_caution() -> None:
    found = by_species()
    for species, facts in found.items():
        if species.startswith("Asclepias"):
            said = str(facts["caution"].value)
            assert "poison" in said
            assert "stock" in said
            assert ("eyes" in said) is (facts["sap"].value == "milky"), species
    for species in ("Packera aurea", "Baptisia australis", "Helenium autumnale", "Lobelia siphilitica"):
        assert "oison" in str(found[species]["caution"].value)
    book = load_handbook()
    for crop in ("rhubarb", "potato", "parsnip", "lima-bean"):
        assert book.get(crop, "caution") is not None
