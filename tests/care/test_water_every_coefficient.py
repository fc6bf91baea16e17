"""Counts the rows of FAO-56's coefficients: each is what the handbook holds, or is left out with a reason."""

from __future__ import annotations

import csv
import re
from collections import Counter
from itertools import product
from pathlib import Path

from gardens import handbook

from kailyard.care.ground import taker_of

QUANTITIES = {
    "kc_ini": "kc_ini", "kc_mid": "kc_mid", "kc_end": "kc_end", "kcb_ini": "kcb_ini", "kcb_mid": "kcb_mid",
    "kcb_end": "kcb_end", "depletion_p": "depletion_p", "height_m": "kc_height_m", "root_depth_min_m":
    "root_depth_m_min", "root_depth_max_m": "root_depth_m_max",
}  # fmt: skip

HELD = {
    ("Broccoli", ""): ("broccoli",),
    ("Brussels sprouts", ""): ("brussels-sprouts",),
    ("Cabbage", ""): ("cabbage",),
    ("Carrot", ""): ("carrot",),
    ("Cauliflower", ""): ("cauliflower",),
    ("Celery", ""): ("celery",),
    ("Garlic", ""): ("garlic",),
    ("Lettuce", ""): ("lettuce-head", "lettuce-leaf"),
    ("Onion", "dry"): ("onion-intermediate-day", "onion-long-day", "onion-short-day"),
    ("Onion", "green"): ("bunching-onion",),
    ("Spinach", ""): ("spinach",),
    ("Radish", ""): ("radish",),
    ("Eggplant", ""): ("eggplant",),
    ("Sweet pepper (bell)", ""): ("pepper-hot", "pepper-sweet"),
    ("Tomato", ""): ("tomato-determinate", "tomato-indeterminate"),
    ("Cantaloupe", ""): ("melon",),
    ("Cucumber", "fresh market"): ("cucumber-slicing",),
    ("Cucumber", "machine harvest"): ("cucumber-pickling",),
    ("Pumpkin and winter squash", ""): (
        "pumpkin", "winter-squash-acorn", "winter-squash-maxima", "winter-squash-moschata",
    ),
    ("Squash, zucchini", ""): ("squash-yellow-straightneck", "zucchini"),
    ("Watermelon", ""): ("watermelon",),
    ("Beet, table", ""): ("beet",),
    ("Parsnip", ""): ("parsnip",),
    ("Potato", ""): ("potato",),
    ("Sweet potato", ""): ("sweet-potato",),
    ("Turnip and rutabaga", ""): ("turnip",),
    ("Bean", "green (snap)"): ("bean-bush", "bean-pole"),
    ("Bean", "lima, large vines"): ("lima-bean",),
    ("Green gram and cowpea", "fresh; dry"): ("cowpea",),
    ("Pea", "fresh"): ("pea",),
    ("Artichoke", ""): ("artichoke",),
    ("Asparagus", ""): ("asparagus",),
    ("Strawberry", ""): ("strawberry-day-neutral", "strawberry-june"),
    ("Sunflower", ""): ("sunflower",),
    ("Sweet corn", "fresh"): ("sweet-corn",),
    ("Berries (bushes)", ""): ("blackberry",),
}  # fmt: skip
GROUPS = {
    "a Small vegetables": "group-small-vegetables",
    "b Solanaceae": "group-solanum-family",
    "c Cucurbitaceae": "group-cucumber-family",
    "d Roots and tubers": "group-roots-and-tubers",
    "e Leguminosae": "group-legumes",
    "f Perennial vegetables": "group-perennial-vegetables",
}
_OTHER_USE = "grown for another use than in a kitchen garden"
_NO_CROP = "the handbook has no such crop"
_LAWN = "grass and hay: no bed of the garden"
LEFT_OUT = {
    "Onion": _OTHER_USE,
    "Bean": _OTHER_USE,
    "Pea": _OTHER_USE,
    "Sweet melon": "the handbook's melon is the cantaloupe",
    "Chickpea": _NO_CROP, "Faba (broad) bean": _NO_CROP, "Peanut (groundnut)": _NO_CROP, "Lentil": _NO_CROP,
    "Soybean": _NO_CROP, "Mint": _NO_CROP, "Maize, field (grain)": _OTHER_USE,
    "Turf grass": _LAWN, "Clover (berseem), hay": _LAWN, "Grazing pasture": _LAWN,
    "Grape": _NO_CROP, "Hops": _NO_CROP, "Kiwi": _NO_CROP, "Apple, cherry, pear": _NO_CROP,
    "Apricot, peach, stone fruit": _NO_CROP, "Open water": "no crop",
}  # fmt: skip
LENGTHS_OF = {
    "Broccoli": ("broccoli",), "Cabbage": ("cabbage",), "Cauliflower": ("cauliflower",),
    "Crucifers (cabbage, cauliflower, broccoli, Brussels sprouts)": (
        "broccoli", "brussels-sprouts", "cabbage", "cauliflower",
    ),
    "Carrot": ("carrot",), "Celery": ("celery",), "Lettuce": ("lettuce-head", "lettuce-leaf"),
    "Onion (dry)": ("onion-intermediate-day", "onion-long-day", "onion-short-day"),
    "Onion (green)": ("bunching-onion",), "Radish": ("radish",), "Eggplant": ("eggplant",),
    "Sweet pepper (bell)": ("pepper-hot", "pepper-sweet"), "Tomato": ("tomato-determinate", "tomato-indeterminate"),
    "Cucumber": ("cucumber-pickling", "cucumber-slicing"),
    "Pumpkin and winter squash": ("pumpkin", "winter-squash-acorn", "winter-squash-maxima", "winter-squash-moschata"),
    "Squash, zucchini": ("squash-yellow-straightneck", "zucchini"), "Watermelon": ("watermelon",),
    "Beet, table": ("beet",), "Potato": ("potato",), "Sweet potato": ("sweet-potato",),
    "Bean (green)": ("bean-bush", "bean-pole"), "Pea": ("pea",), "Artichoke": ("artichoke",),
    "Asparagus": ("asparagus",), "Sunflower": ("sunflower",), "Sweet corn": ("sweet-corn",),
}  # fmt: skip
MISPRINTED_TOTALS = {("Sweet corn", "Idaho, USA"), ("Green gram and cowpea", "Mediterranean")}
"""The four stages come to 100 where 110 is printed."""


def rows(shared: Path, kind: str) -> list[dict[str, str]]:
    with (shared / "reference/water/crop-coefficients.csv").open(encoding="utf-8", newline="") as file:
        return [row for row in csv.DictReader(file) if row["record_type"] == kind]


def within(value: float | None, printed: str) -> bool:
    """Whether a value is what is printed, or lies in its range, or is the first of two uses."""
    if value is None:
        return False
    ends = [float(part) for part in printed.split(";")[0].split("-")]
    return ends[0] <= value <= ends[-1]


def test_every_row_of_coefficients_is_held_or_left_out(shared: Path) -> None:
    book, met, left = handbook(), Counter(), 0
    for row in rows(shared, "coefficients"):
        name = (row["crop"], row["variant"])
        if row["crop"].startswith("(group)"):
            group = GROUPS[row["fao_group"]]
            for column in ("kc_ini", "kc_mid", "kc_end", "kcb_ini", "kcb_mid", "kcb_end"):
                held = book.number(group, f"group_{column}")
                if held is not None:
                    assert within(held, row[column]), (group, column)
            dual = book.number(group, "group_kcb_mid") is not None
            assert dual == bool(row["kcb_mid"]), group
            met["group"] += 1
        elif name in HELD:
            for crop in HELD[name]:
                for column, quantity in QUANTITIES.items():
                    if row[column]:
                        assert within(book.number(crop, quantity), row[column]), (crop, column, row[column])
            met["crop"] += 1
        else:
            assert row["crop"] in LEFT_OUT, name
            left += 1
    assert met == {"group": 6, "crop": 36}
    assert left == 30


def test_every_crop_of_the_handbook_is_of_a_row_or_of_a_group() -> None:
    held = {crop for crops in HELD.values() for crop in crops} - {"lima-bean"}
    own = {crop for crop in handbook().crops if not taker_of(crop, handbook()).stands_in}
    assert held == own


def test_every_row_of_stage_lengths_is_held_or_another_place_s(shared: Path) -> None:
    # The season's own stages are reckoned with; of these lengths only the proportions are used: one row a crop does.
    book, stages = handbook(), ("ini", "dev", "mid", "late")
    ours = {c: tuple(book.number(c, f"kc_{s}_days") for s in stages) for cs in LENGTHS_OF.values() for c in cs}
    found: dict[str, bool] = dict.fromkeys(ours, False)
    held = other = none = 0
    for row in rows(shared, "stage_lengths"):
        printed = [row[f"l_{s}_d"] for s in stages]
        plain = "/" not in "".join((*printed, row["l_total_d"]))
        if plain and row["l_total_d"] and (row["crop"], row["region"]) not in MISPRINTED_TOTALS:
            assert sum(map(float, printed)) == float(row["l_total_d"]), row
        may = set(product(*([float(n) for n in re.split("[-/]", one) if n] for one in printed)))
        crops = LENGTHS_OF.get(row["crop"], ())
        mine = [crop for crop in crops if ours[crop] in may]
        found |= dict.fromkeys(mine, True)
        held, other, none = held + bool(mine), other + bool(crops and not mine), none + (not crops)
    assert all(found.values()), [crop for crop, seen in found.items() if not seen]
    # Held; of a crop of the handbook in another place; of a crop that has no lengths there.
    assert (held, other, none) == (24, 40, 29)


RULES = {
    "climate adjustment of Kc mid and Kc end": ("tests/science", "adjusted"),
    "depletion fraction": ("tests/science", "easy_fraction"),
    "root depth": ("tests/care", "test_roots_in_a_pot_go_no_deeper_than_the_pot"),
    "Kc ini": ("tests/science", "kc_ini"),
    "organic mulch": ("tests/care", "test_a_mulch_saves_evaporation_only"),
    "plastic mulch": ("tests/care", "test_a_film_saves_more_than_straw_and_slows_the_plants_a_little"),
    "herbs other than mint, rhubarb, okra, chard, leek, kale": (
        "tests/care",
        "test_every_crop_takes_water_and_a_group_that_stands_in_is_said",
    ),
}


def test_every_rule_is_met_by_a_test_that_is_there(shared: Path) -> None:
    root = Path(__file__).parents[2]
    assert {row["crop"] for row in rows(shared, "rule")} == RULES.keys()
    for folder, words in RULES.values():
        assert any(words in path.read_text(encoding="utf-8") for path in (root / folder).glob("test_*.py")), words
