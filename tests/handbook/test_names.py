"""The species decides what crosses, the botanical name what a crop is; the trade's names lead there."""

from __future__ import annotations

import csv
from dataclasses import replace
from pathlib import Path
from types import MappingProxyType

import pytest

from kailyard.handbook.load import load_handbook
from kailyard.handbook.names import crosses_with, name_problems, sold_as, species


def test_every_crop_says_what_it_is_botanically_and_how_it_grows() -> None:
    assert name_problems(load_handbook()) == ()


@pytest.mark.parametrize(
    ("crop", "quantity", "says"),
    [
        ("melon", "botanical_name", "crops/melon.csv: no 'botanical_name'"),
        ("onion-long-day", "day_length_class", "crops/onion-long-day.csv: no 'day_length_class'"),
        ("tomato-determinate", "habit", "a tomato's habit is one of: determinate, indeterminate"),
    ],
)
def test_a_name_that_says_too_little_is_found(crop: str, quantity: str, says: str) -> None:
    book = load_handbook()
    less = {subject: dict(those) for subject, those in book.facts.items()}
    del less[crop][quantity]
    problems = name_problems(replace(book, facts=MappingProxyType(less)))
    assert any(says in problem for problem in problems), problems


def test_squash_of_one_species_cross_whatever_the_trade_calls_them() -> None:
    # Common knowledge of seed growers: zucchini, acorn and pumpkins are all Cucurbita pepo; hubbard is C. maxima,
    # butternut C. moschata, and these keep apart.
    book = load_handbook()
    pepo = {"zucchini", "squash-yellow-straightneck", "winter-squash-acorn", "pumpkin"}
    for crop in pepo:
        assert set(crosses_with(crop, book).with_crops) == pepo - {crop}
    for crop in ("winter-squash-maxima", "winter-squash-moschata"):
        assert crosses_with(crop, book).with_crops == ()


def test_a_cucumber_that_is_a_melon_leads_to_the_melon_and_does_not_cross_with_cucumbers() -> None:
    book = load_handbook()
    assert sold_as("Armenian cucumber", book) == ("melon",)
    assert sold_as("snake-cucumbers", book) == ("melon",)
    assert species("melon", book) == "Cucumis melo"
    assert "melon" not in crosses_with("cucumber-slicing", book).with_crops


def test_crossing_is_mutual_and_goes_by_species_or_by_what_is_said_beyond_it() -> None:
    book = load_handbook()
    for crop in book.crops:
        for other in crosses_with(crop, book).with_crops:
            assert crop in crosses_with(other, book).with_crops
    # Two sources of the reference: showy and prairie milkweed cross with common milkweed.
    assert crosses_with("common-milkweed", book).with_crops == ("prairie-milkweed", "showy-milkweed")


def test_onions_carry_the_day_length_of_their_class() -> None:
    # Myers, Oregon State University (2006): short-day 11-13 h, intermediate 13-14 h, long-day 14 h and more.
    book = load_handbook()
    for day in ("short", "intermediate", "long"):
        assert book.text(f"onion-{day}-day", "day_length_class") == f"{day}-day"
    hours = [
        book.number(f"onion-{day}-day", "bulb_start_day_length_h") or 0.0 for day in ("short", "intermediate", "long")
    ]
    assert hours == sorted(hours)
    assert 11 <= hours[0] <= 13 <= hours[1] <= 14 <= hours[2]


def test_botanical_names_are_those_of_the_reference(shared: Path) -> None:
    book = load_handbook()
    with (shared / "reference/crops/crops.csv").open(encoding="utf-8", newline="") as file:
        for row in csv.DictReader(file):
            assert book.text(row["key"], "botanical_name") == row["botanical_name"]
