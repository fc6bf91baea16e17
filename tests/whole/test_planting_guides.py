"""Windows of the Milwaukee and De Bilt records against printed planting guides, for crops that leave little to kind.

The guides and their sources stand row by row in the reference folder's `checks/planting_guides.csv`. They differ by up
to three weeks among themselves, so the span of all of them is asked of, and they print days meant to be safe in most
years: the opening in 8 seasons of 10 is compared.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from tools.validation.planting_guides import PLACES, Compared, compared, spans

ROBUST = {
    ("bean-bush", "sown"),
    ("tomato-determinate", "bought"),
    ("tomato-indeterminate", "bought"),
    ("sweet-corn", "sown"),
    ("pea", "sown"),
    ("potato", "planted"),
}
MOST_OFF_DAYS = 10
"""Guides are printed by weeks and thirds of months: no finer agreement can be asked."""
ON_THE_ICE_SAINTS = {("De Bilt", "sweet-corn"): 21}
"""The one Dutch guide puts every tender crop after the Ice Saints; corn stands sown while the soil has 10 °C."""


@pytest.fixture(scope="module")
def openings(shared: Path) -> dict[tuple[str, str, str], Compared]:
    """By place, crop and way, seen from 1 February."""
    return {(c.place, c.crop, c.start): c for c in compared(shared, (2,))}


@pytest.mark.parametrize("place", ["Milwaukee", "De Bilt"])
def test_robust_crops_open_within_ten_days_of_the_guides(
    openings: dict[tuple[str, str, str], Compared], place: str
) -> None:
    for crop, start in ROBUST:
        _, off_days, _ = openings[place, crop, start].off()
        assert off_days is not None, crop
        assert abs(off_days) <= ON_THE_ICE_SAINTS.get((place, crop), MOST_OFF_DAYS), crop


@pytest.mark.parametrize("place", ["Milwaukee", "De Bilt"])
def test_half_of_the_seasons_open_no_later_than_eight_in_ten_and_frost_tender_crops_after_hardy_ones(
    openings: dict[tuple[str, str, str], Compared], place: str
) -> None:
    # Order of sowing: common practice in every guide of the table, peas before potatoes before corn and beans.
    in_order = [
        openings[place, crop, way].opens_8
        for crop, way in (("pea", "sown"), ("potato", "planted"), ("bean-bush", "sown"))
    ]
    assert in_order == sorted(in_order)  # type: ignore[type-var]
    for crop, start in ROBUST:
        c = openings[place, crop, start]
        assert c.opens_5 is not None
        assert c.opens_8 is not None
        assert c.opens_5 <= c.opens_8


def test_last_beans_and_corn_that_pay_at_milwaukee_lie_within_two_weeks_of_the_last_that_guides_print(
    openings: dict[tuple[str, str, str], Compared],
) -> None:
    for crop in ("bean-bush", "sweet-corn"):
        _, _, off_days = openings["Milwaukee", crop, "sown"].off()
        assert off_days is not None, crop
        assert abs(off_days) <= 14, crop


HARDY = {("beet", "sown"), ("carrot", "sown"), ("cabbage", "bought"), ("broccoli", "bought"), ("cauliflower", "bought")}
HARDY |= {("turnip", "sown"), ("radish", "sown"), ("leek", "bought"), ("kohlrabi", "sown"), ("parsnip", "sown")}
TENDER = {("eggplant", "bought"), ("lima-bean", "sown"), ("okra", "sown"), ("pumpkin", "sown"), ("melon", "bought")}
TENDER |= {("basil", "bought"), ("zucchini", "sown"), ("cucumber-slicing", "sown"), ("winter-squash-maxima", "sown")}


def test_at_milwaukee_tender_crops_open_within_the_span_of_the_guides_and_hardy_ones_within_ten_days(
    openings: dict[tuple[str, str, str], Compared],
) -> None:
    # The guides' rows for these crops, one by one, stand in the reference folder with their sources.
    for crop, start in TENDER:
        assert openings["Milwaukee", crop, start].off()[1] == 0, crop
    for crop, start in HARDY:
        off_days = openings["Milwaukee", crop, start].off()[1]
        assert off_days is not None, crop
        assert -MOST_OFF_DAYS <= off_days <= 0, crop


def test_every_crop_of_the_handbook_that_a_guide_names_is_compared(
    openings: dict[tuple[str, str, str], Compared], shared: Path
) -> None:
    named = {crop for crop, _ in spans(shared, PLACES[0])} | {crop for crop, _ in spans(shared, PLACES[1])}
    assert len(named) > 38
    assert named <= {crop for _, crop, _ in openings}
