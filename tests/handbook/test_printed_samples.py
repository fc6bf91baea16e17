"""Samples read by hand off the printed sources as the reference folder quotes them; no file is needed."""

from __future__ import annotations

import pytest

from kailyard.handbook.legs import usable
from kailyard.handbook.load import load_handbook


@pytest.mark.parametrize(
    ("crop", "quantity", "value", "status", "source"),
    [
        # Harrington and Minges (1954), days to emergence from 1/2 inch: tomato 43 at 50 °F, pea 36 at 41 °F.
        ("tomato-indeterminate", "emerge_days_10c", 43, "published", "HM54"),
        ("pea", "emerge_days_5c", 36, "published", "HM54"),
        ("pepper-sweet", "emerge_days_10c", "NG", "published", "HM54"),
        # Federal minimum: 7 CFR 201.31, pepper 55 %.
        ("pepper-hot", "germ_federal_min_pct", 55, "published", "FSA"),
        # Base of pepper put right from 18.3 to 10 °C (fitted field model).
        ("pepper-sweet", "gdd_base_c", 10, "published", "DSSAT-SPE"),
        # Base of cucumber for daily means, recalled; 15.5 °C belongs to daily maxima.
        ("cucumber-slicing", "gdd_base_c", 12.8, "memory", "AG236"),
        ("cucumber-slicing", "dd_base_c", 15.5, "published", "PW96"),
        # FAO-56 Table 12: sweet corn Kc mid 1.15; Table 22: asparagus roots 1.2-1.8 m.
        ("sweet-corn", "kc_mid", 1.15, "published", "FAO56"),
        ("asparagus", "root_depth_m_max", 1.8, "published", "FAO56"),
        # Wisconsin and Nebraska: from crowns nothing in year 1, 6-10 weeks from year 4.
        ("asparagus", "cut_weeks_year_1_max", 0, "published", "UW20; UNL"),
        ("asparagus", "cut_weeks_year_4_max", 10, "published", "UW20; UNL"),
        # Mansour (2009): butternut two to three months.
        ("winter-squash-moschata", "store_weeks_max", 13, "published", "MANS09"),
    ],
)
def test_value_is_as_printed(crop: str, quantity: str, value: float | str, status: str, source: str) -> None:
    fact = load_handbook().facts[crop][quantity]
    assert (fact.value, fact.status, fact.source) == (value, status, source)


def test_sweet_corn_sums_are_the_printed_fahrenheit_ones() -> None:
    # Oregon State University: 1539 °F·d (50/86 °F); Peet (NC State): 1890 °F·d above 50 °F. Divided by 1.8.
    first = [leg for leg in load_handbook().legs["sweet-corn"] if leg.to_stage == "first-harvest"][1]
    assert (first.from_stage, first.order, first.base_c) == ("sown", 1, 10)
    assert first.degree_days == (pytest.approx(1539 / 1.8, abs=0.5), pytest.approx(1890 / 1.8, abs=0.5))


def test_snap_bean_sums_are_the_printed_fahrenheit_ones() -> None:
    # Oregon Vegetable Digest XVIII(3), July 1969: 800-1160 °F·d above 50 °F in 64-84 days.
    (first,) = [
        leg
        for leg in load_handbook().legs["bean-bush"]
        if (leg.from_stage, leg.to_stage, leg.order) == ("sown", "first-harvest", 1)
    ]
    assert first.degree_days == (pytest.approx(800 / 1.8, abs=0.5), pytest.approx(1160 / 1.8, abs=0.5))
    assert first.days == (64, 84)


def test_no_alarm_for_hardy_kinds_where_leaves_may_only_mark() -> None:
    # The doubt about frost_damage_c -0.6: hardened plants lose nothing above about -4 °C.
    book = load_handbook()
    for crop in ("onion-long-day", "onion-intermediate-day", "cabbage"):
        assert book.number(crop, "frost_damage_c") == -0.6
        assert book.number(crop, "protect_below_c") == -4
    assert "garlic" in book.crops
    assert book.get("garlic", "protect_below_c") is None


def test_where_both_stand_the_leg_that_says_how_long_is_first() -> None:
    book = load_handbook()
    for legs in book.legs.values():
        for leg in legs:
            rivals = [x for x in legs if (x.from_stage, x.to_stage) == (leg.from_stage, leg.to_stage)]
            if any(usable(x) for x in rivals):
                assert usable(rivals[0])


def test_rival_legs_say_why_they_stand_where_they_do() -> None:
    for legs in load_handbook().legs.values():
        for leg in legs:
            assert leg.note
            if leg.order > 1:
                assert leg.note.split(":")[0].split(" ")[0] in {"Second", "Third", "Last", "For"}


def test_emergence_is_driven_by_the_soil_and_nothing_else_is() -> None:
    for legs in load_handbook().legs.values():
        for leg in legs:
            assert leg.soil == (leg.to_stage == "emerged")
