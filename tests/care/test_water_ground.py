"""Soils, coefficients, outlets and readings against the printed tables and plain sums."""

from __future__ import annotations

import csv
from dataclasses import replace
from datetime import date
from pathlib import Path

import numpy as np
import pytest
from gardens import beans, entry, handbook, look_ahead, plot, tomatoes

from kailyard.care.asked import days_asked, stand_of
from kailyard.care.ground import soil_of, taker_of
from kailyard.care.outlets import day_to_water, goes_of, outlet_entries, outlet_of
from kailyard.care.readings import left_of
from kailyard.garden.entries.water_days import allowed
from kailyard.garden.model import Bed

DAY = date(2026, 6, 12)


def bed(soil: str = "", height_m: float = 0.0) -> Bed:
    return Bed("bed-1", "bed 1", 5.0, 2.0, soil=soil, height_m=height_m)


@pytest.mark.parametrize(
    ("words", "height_m", "soil"),
    [
        ("sandy loam", 0, "sandy loam"),
        ("Sand", 0, "sand"),
        ("loam, mucked in March", 0, "loam"),
        ("loam and leaf mould", 0.25, "leaf mould"),
        ("clay loam", 0, "silt clay loam"),
        ("heavy clay", 0, "clay"),
        ("", 0.4, "raised mix"),
        ("", 0, "loam"),
        ("good", 0, "loam"),
    ],
)
def test_the_bed_s_own_words_choose_the_soil(words: str, height_m: float, soil: str) -> None:
    found = soil_of(bed(words, height_m), handbook())
    assert found.name == soil
    assert bool(found.stands_in) == (words in ("", "good"))  # what stands in is said


def test_soils_are_those_of_fao56_table_19(shared: Path) -> None:
    with (shared / "reference/water/soil-water.csv").open(encoding="utf-8", newline="") as file:
        rows = [r for r in csv.DictReader(file) if r["record_type"] == "texture_range"]
    names = {"theta_FC": "soil_full", "theta_WP": "soil_dry", "REW (stage 1)": "soil_rew_mm"}
    names["TEW (stages 1+2, Ze = 0.10 m)"] = "soil_tew_mm"
    seen = 0
    for row in rows:
        quantity = names.get(row["quantity"])
        if quantity is None:
            continue  # the printed difference is not that of the ends
        subject = "soil-" + row["inputs"].removeprefix("texture=").lower().replace(" ", "-")
        for end, column in (("min", "low"), ("max", "high")):
            assert handbook().number(subject, f"{quantity}_{end}") == float(row[column]), row["id"]
            seen += 1
    assert seen == 9 * 4 * 2


@pytest.mark.parametrize(
    ("crop", "row", "variant"),
    [
        ("cabbage", "Cabbage", ""),
        ("carrot", "Carrot", ""),
        ("bean-bush", "Bean", "green (snap)"),
        ("zucchini", "Squash, zucchini", ""),
        ("potato", "Potato", ""),
        ("pea", "Pea", "fresh"),
        ("garlic", "Garlic", ""),
        ("sweet-corn", "Sweet corn", "fresh"),
        ("strawberry-june", "Strawberry", ""),
        ("watermelon", "Watermelon", ""),
    ],
)
def test_coefficients_are_those_of_fao56_tables_17_and_22(shared: Path, crop: str, row: str, variant: str) -> None:
    with (shared / "reference/water/crop-coefficients.csv").open(encoding="utf-8", newline="") as file:
        printed = next(
            r
            for r in csv.DictReader(file)
            if (r["crop"], r["variant"], r["record_type"]) == (row, variant, "coefficients")
        )
    taker = taker_of(crop, handbook())
    columns = ("kcb_ini", "kcb_mid", "kcb_end", "root_depth_min_m", "depletion_p")
    assert (taker.ini, taker.mid, taker.end, taker.root_m, taker.easy) == tuple(float(printed[c]) for c in columns)
    assert taker.dual
    assert taker.stands_in == ""


def test_every_crop_takes_water_and_a_group_that_stands_in_is_said() -> None:
    book = handbook()
    groups = {c: taker_of(c, book).stands_in for c in book.crops if c not in book.plants}
    assert groups["kale"] == "small vegetables"  # FAO-56 has no kale
    assert groups["rhubarb"] == "perennial vegetables"
    assert not taker_of("rhubarb", book).dual  # that group has no basal coefficient in Table 17
    assert groups["tomato-indeterminate"] == ""
    assert sum(bool(g) for g in groups.values()) == 19


def test_litres_minutes_and_cans_are_plain_sums() -> None:
    # A millimetre on a square metre is a litre.
    garden = plot(beans(), entries=(entry("outlet", "bed-1", DAY, what="drip", quantity=4.0, unit="L/min"),))
    outlet = outlet_of(outlet_entries(garden), "bed-1", handbook(), on=DAY)
    assert outlet.litres(9.0, 10.0) == pytest.approx(90 / 0.9)
    assert outlet.minutes(100.0, 10.0) == pytest.approx(25)
    assert outlet.given_mm(25, None, 10.0) == pytest.approx(9.0)
    can = plot(beans(), entries=(entry("outlet", "", DAY, what="can", quantity=10.0, unit="L"),))
    goes = goes_of(outlet_of(outlet_entries(can), "bed-1", handbook(), on=DAY), 9.0, 10.0, 10.0)
    assert goes.cans == 10
    tins = plot(beans(), entries=(entry("outlet", "", DAY, what="sprinkler", quantity=12.0, unit="mm/h"),))
    sprinkler = outlet_of(outlet_entries(tins), "bed-1", handbook(), on=DAY)
    assert sprinkler.given_mm(30, None, 10.0) == pytest.approx(6.0)  # half an hour of 12 mm an hour
    assert goes_of(sprinkler, 6.0, 10.0, 20.0).minutes == pytest.approx(30)


def test_what_the_ground_cannot_take_at_once_is_given_in_goes() -> None:
    tins = plot(beans(), entries=(entry("outlet", "", DAY, what="sprinkler", quantity=30.0, unit="mm/h"),))
    sprinkler = outlet_of(outlet_entries(tins), "bed-1", handbook(), on=DAY)
    assert goes_of(sprinkler, 20.0, 10.0, 30.0).goes == 1  # sand drinks it
    clay = goes_of(sprinkler, 20.0, 10.0, 1.0)
    assert clay.goes > 1
    assert clay.rest_minutes > 60


def test_clay_is_given_its_water_over_several_mornings() -> None:
    # FAO irrigation training manual 5: clay takes 1 to 5 mm an hour. No one stands a quarter of a day beside a bed.
    tins = plot(beans(), entries=(entry("outlet", "", DAY, what="sprinkler", quantity=30.0, unit="mm/h"),))
    sprinkler = outlet_of(outlet_entries(tins), "bed-1", handbook(), on=DAY)
    for outlet in (sprinkler, outlet_of((), "bed-1", handbook(), on=DAY)):
        clay, sand = goes_of(outlet, 20.0, 10.0, 1.0), goes_of(outlet, 20.0, 10.0, 30.0)
        assert clay.goes > sand.goes
        # Between two goes what stands on the ground has soaked in.
        stands_mm = 20.0 / outlet.wets / clay.goes
        assert clay.rest_minutes * 1.0 / 60 >= stands_mm - clay.minutes / clay.goes / 60 - 1e-9


def test_roots_in_a_pot_go_no_deeper_than_the_pot() -> None:
    deep, ground = (
        look_ahead(replace(g, beds={b: replace(g.beds[b], soil=soil, height_m=high) for b in g.beds}), DAY)
        for g in (plot(tomatoes()),)
        for soil, high in (("potting mix in tubs", 0.25), ("loam", 0.0))
    )
    tub, field = (stand_of(v, list(v.lives.values())) for v in (deep, ground))
    assert tub.of("deep_m")[0] == pytest.approx(0.25)
    assert field.of("deep_m")[0] == np.inf
    reached = []
    for view, stand in ((deep, tub), (ground, field)):
        available = days_asked(view, stand, view.ensemble.today_index, 100, past=False).available_mm[-1].max()
        reached.append(available / 1000 / (stand.soils[0].full - stand.soils[0].dry))
    assert reached[0] == pytest.approx(0.25)
    assert reached[1] > 0.5
    assert "30 cm" in soil_of(bed("pots"), handbook()).stands_in


def test_the_bed_s_own_outlet_goes_before_the_garden_s() -> None:
    entries = (
        entry("outlet", "bed-1", date(2026, 5, 1), what="drip", quantity=4.0, unit="L/min"),
        entry("outlet", "", date(2026, 6, 1), what="hose", quantity=14.0, unit="L/min"),
    )
    garden = plot(beans(), entries=entries)
    assert outlet_of(outlet_entries(garden), "bed-1", handbook(), on=DAY).what == "drip"
    assert outlet_of(outlet_entries(garden), "bed-2", handbook(), on=DAY).what == "hose"
    assert outlet_of(outlet_entries(garden), "bed-2", handbook(), on=date(2026, 4, 1)).entry is None


def test_on_allowed_days() -> None:
    friday = DAY
    monday_thursday = allowed("Monday and Thursday")
    assert monday_thursday == (0, 3)
    assert day_to_water(friday, date(2026, 6, 16), friday, monday_thursday) == date(2026, 6, 15)
    # The next allowed day comes when the plants are short already: then the one before.
    assert day_to_water(date(2026, 6, 20), date(2026, 6, 21), friday, monday_thursday) == date(2026, 6, 18)
    assert allowed("any") == tuple(range(7))
    with pytest.raises(ValueError, match="no day of the week"):
        allowed("Monday, Yesterday")


def test_a_handful_and_a_probe_tell_what_is_left() -> None:
    # USDA-NRCS, soil moisture by feel: classes of a quarter of the available water (recalled).
    soil = soil_of(bed("loam"), handbook())
    left, spread = left_of(entry("moisture", "bed-1", DAY, feel="crumbly"), soil, handbook())
    assert left == pytest.approx(0.375)
    assert spread > 0.25 / 12**0.5  # no surer than its class is wide
    dry, _ = left_of(entry("moisture", "bed-1", DAY, quantity=12.0, unit="%"), soil, handbook())
    assert dry == pytest.approx(0.0)  # the middle wilting point of loam in Table 19
    full, _ = left_of(entry("moisture", "bed-1", DAY, quantity=25.0, unit="%"), soil, handbook())
    assert full == pytest.approx(1.0)  # its middle field capacity
