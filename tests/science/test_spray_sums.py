"""Spraying and spreading against the table of calibration, row by row; US units turned by definition (NIST SP 811)."""

from __future__ import annotations

import csv
import re
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from kailyard.science.checks import InputError
from kailyard.science.spray_sums import (
    ACRE_128_M2,
    area_of_a_tank_m2,
    product_for_a_mix_ml,
    product_for_a_tank_ml,
    spray_course_m,
    spray_for_a_bed_l,
    spray_rate_of_a_test,
    spray_rate_on_the_move,
)
from kailyard.science.spread_sums import product_for_a_nutrient_g, spread_rate_g_m2, weight_to_spread_g
from kailyard.units import turned

FOOT_M, POUND_G = 0.3048, 453.59237
GALLON_ML, ACRE_M2 = 3785.411784, 43560 * FOOT_M**2
SQFT_M2, OUNCE_ML, MPH = FOOT_M**2, GALLON_ML / 128, 0.44704
GAL_ACRE = GALLON_ML / ACRE_M2  # mL/m²
LB_1000 = POUND_G / (1000 * SQFT_M2)  # g/m²


def _mix(label: float, spray: float, litres: float) -> tuple[float, float]:
    product, each = product_for_a_tank_ml(label_ml_m2=label, spray_ml_m2=spray, tank_l=litres)
    return float(product), float(each)


WORKED: dict[str, Callable[[], object]] = {
    "C3": lambda: spray_rate_of_a_test(40 * GALLON_ML / 1000, ACRE_M2).rate_a_hectare,
    "C4": lambda: _mix(32 * OUNCE_ML / ACRE_M2, 40 * GAL_ACRE, 1)[1] * GALLON_ML / 1000 / OUNCE_ML,
    "C5": lambda: area_of_a_tank_m2(GALLON_ML / 1000, 40 * GAL_ACRE) / SQFT_M2,
    "C6": lambda: spray_rate_of_a_test(1.5 * GALLON_ML / 1000, 1000 * SQFT_M2).rate / GAL_ACRE,
    "C7": lambda: _mix(3 * GALLON_ML / 8 / ACRE_M2, 65 * GAL_ACRE, 1)[1] * GALLON_ML / 1000 / OUNCE_ML,
    "C8": lambda: spray_course_m(20 / 12 * FOOT_M) / FOOT_M,
    # 102 ft of a 40 inch row are a 128th of an acre: what is caught there in ounces are gallons an acre.
    "C9": lambda: spray_rate_of_a_test(14 * OUNCE_ML / 1000, 102 * 40 / 12 * SQFT_M2).rate / GAL_ACRE,
    "C10": lambda: (
        spray_rate_on_the_move(3.75 * GALLON_ML / 1000, speed_m_s=5 * MPH, swath_m=222 / 12 * FOOT_M).rate / GAL_ACRE
    ),
    "C11": lambda: spray_rate_of_a_test(4.2, 100).rate_a_hectare,
    "C12": lambda: _mix(0.25, 42, 5)[0],
    "C14": lambda: product_for_a_mix_ml(2 * OUNCE_ML / (GALLON_ML / 1000), 1),
    "C15": lambda: product_for_a_mix_ml(20, 5),
    "C16": lambda: spread_rate_g_m2(0.5 * POUND_G, 50 * SQFT_M2) / LB_1000,
    "C17": lambda: weight_to_spread_g(200 * SQFT_M2, 10 * LB_1000)[0] / POUND_G,
    "C18": lambda: weight_to_spread_g(1, 0.9 * LB_1000, passes=2)[2] / LB_1000,
    "C19": lambda: weight_to_spread_g(4 * 1.2, LB_1000)[0],
    "C20": lambda: spray_rate_on_the_move(0.6, speed_m_s=50 / 60, swath_m=1).rate_a_hectare,
    "C21": lambda: spray_for_a_bed_l(32 * SQFT_M2, GALLON_ML / (200 * SQFT_M2)) / (GALLON_ML / 1000),
}
FORMULAS: dict[str, list[tuple[float, object, float]]] = {
    # Each number that the row prints, what is reckoned, and half of its last digit.
    "F1": [(340.3, ACRE_128_M2 / SQFT_M2, 0.05), (128, GALLON_ML / OUNCE_ML, 1e-9)],
    "F2": [
        (340.3, spray_course_m(FOOT_M) / FOOT_M, 0.05),
        (340.3 * 12 / 40, spray_course_m(40 / 12 * FOOT_M) / FOOT_M, 0.05),
    ],
    "F3": [
        (100, spray_rate_of_a_test(1, 100).rate_a_hectare, 0.5),
        (316, spray_rate_of_a_test(1, ACRE_128_M2).rate_a_hectare, 0.5),
    ],
    "F4": [(10, spray_rate_of_a_test(0.1, 10).rate, 1e-9)],
    "F5": [(5940, spray_rate_on_the_move(GALLON_ML / 1000, speed_m_s=MPH, swath_m=FOOT_M).rate * 12 / GAL_ACRE, 0.5)],
    "F6": [(2 * (10 / 4), _mix(2, 4, 0.01)[0], 1e-9)],
    "F8": [
        (7.81, product_for_a_mix_ml(turned(1, "fl oz/gal", "mL/L"), 1), 0.005),
        (3.96, product_for_a_mix_ml(15 / turned(1, "gal", "L"), 1), 0.005),  # the row's spoon holds 15 mL
        (7.49, turned(1, "oz", "g") / turned(1, "gal", "L"), 0.005),
    ],
    "F9": [
        (4.88, turned(1, "lb/1000 sq ft", "g/m²"), 0.005),
        (0.112, turned(1, "lb/acre", "g/m²"), 0.0005),
        (0.318, turned(1, "fl oz/1000 sq ft", "mL/m²"), 0.0005),
        (9.35, turned(1, "gal/acre", "L/ha"), 0.005),
        (9.35, spray_rate_of_a_test(GALLON_ML / 1000, ACRE_M2).rate_a_hectare, 0.005),
    ],
    "F10": [(5, weight_to_spread_g(1, 10, passes=2)[2], 1e-9)],
    "F11": [(3 * 7, weight_to_spread_g(3, 7)[0], 1e-9)],
}


def test_meets_every_row_of_the_calibration_table(shared: Path) -> None:
    with (shared / "reference/remedies/calibration.csv").open(encoding="utf-8", newline="") as lines:
        table = {row["id"]: row for row in csv.DictReader(lines)}
    assert not [key for key, row in table.items() if "do not use" in str(row).lower()]
    assert set(table) == set(WORKED) | set(FORMULAS)
    for key, reckoned in WORKED.items():
        row = table[key]
        assert row["kind"] == "worked example"
        got = float(np.asarray(reckoned()))
        assert got == pytest.approx(float(row["expected"]), abs=float(row["tolerance"])), (key, row["title"])
    for key, numbers in FORMULAS.items():
        printed = {float(n) for n in re.findall(r"\d+(?:\.\d+)?", table[key]["method"])}
        for wanted, got, within in numbers:
            assert float(np.asarray(got)) == pytest.approx(wanted, abs=within), key
        if key in ("F1", "F3", "F5", "F8", "F9"):
            assert {wanted for wanted, _, _ in numbers} - {340.3} <= printed, key


def test_meets_the_feeding_examples_of_one_nutrient(shared: Path) -> None:
    # W1, W5, W15 and W19: a need over the content of the grade. L14 of the lawn table is the same sum.
    with (shared / "reference/remedies/feeding-examples.csv").open(encoding="utf-8", newline="") as lines:
        table = {row["id"]: row for row in csv.DictReader(lines)}
    got = {
        "W1": product_for_a_nutrient_g(1, LB_1000, 10)[1] / LB_1000,
        "W5": product_for_a_nutrient_g(1, 2, 20)[0],
        "W15": product_for_a_nutrient_g(1, 0.15, 27)[0],
        "W19": product_for_a_nutrient_g(4 * 1.2, 24.4, 10)[0],
    }
    for key, value in got.items():
        assert float(value) == pytest.approx(float(table[key]["expected"]), abs=float(table[key]["tolerance"])), key


def test_more_product_than_spray_is_refused() -> None:
    with pytest.raises(InputError, match="more product than spray"):
        product_for_a_tank_ml(label_ml_m2=50, spray_ml_m2=40, tank_l=1)


@given(st.floats(0.5, 50), st.floats(1, 1000), st.floats(0.1, 20))
def test_what_the_tank_holds_lies_on_its_ground_at_the_labels_rate(
    litres: float, spray: float, label_part: float
) -> None:
    # Closed: product in the tank over the ground that the tank covers is the rate that was typed.
    label = spray * label_part / 100
    product, _ = _mix(label, spray, litres)
    assert product / float(area_of_a_tank_m2(litres, spray)) == pytest.approx(label, rel=1e-9)
    assert float(spray_for_a_bed_l(area_of_a_tank_m2(litres, spray), spray)) == pytest.approx(litres, rel=1e-9)


def test_the_pages_of_products_say_that_the_label_is_the_law() -> None:
    for function in (product_for_a_tank_ml, product_for_a_mix_ml, weight_to_spread_g):
        assert "label is the law" in (function.__doc__ or "").partition("\n")[0]
