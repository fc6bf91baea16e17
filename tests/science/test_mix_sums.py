"""Volumes of soil and compost against what is printed; cubic yards and feet by definition (NIST SP 811)."""

from __future__ import annotations

import csv
from pathlib import Path

import numpy as np
import pytest

from kailyard.science.checks import InputError
from kailyard.science.mix_sums import (
    bags_to_buy,
    bed_volume_l,
    depth_of_a_load_cm,
    load_weight_kg,
    volumes_of_parts_l,
)

SQFT_M2, CUBIC_YARD_L, POUND_KG = 0.3048**2, 0.9144**3 * 1000, 0.45359237


def test_compost_volume_as_printed(shared: Path) -> None:
    # Cornell Composting: area x depth x 0.0031 (exact: 1/324); 1000 sq ft at 1 in is 3.09 cubic yards, and one covers
    # 324 sq ft. Its example W11 carries the rounded factor (434), which by definition is 432.1.
    with (shared / "reference/remedies/feeding-examples.csv").open(encoding="utf-8", newline="") as lines:
        (row,) = [row for row in csv.DictReader(lines) if row["id"] == "W11"]
    got = float(bed_volume_l(350 * 200 * SQFT_M2, 2 * 2.54)) / CUBIC_YARD_L
    assert got * 0.0031 * 324 == pytest.approx(float(row["expected"]), abs=float(row["tolerance"]))
    assert got == pytest.approx(432.1, abs=0.05)
    assert float(bed_volume_l(1000 * SQFT_M2, 2.54)) / CUBIC_YARD_L == pytest.approx(3.09, abs=0.005)
    assert float(depth_of_a_load_cm(CUBIC_YARD_L, 324 * SQFT_M2)) == pytest.approx(2.54, abs=1e-9)


def test_compost_weighs_what_is_printed() -> None:
    # Deschutes Recycling: 1000 to 1200 lb a cubic yard, 593 to 712 kg/m³.
    assert float(load_weight_kg(CUBIC_YARD_L, 593)) / POUND_KG == pytest.approx(1000, abs=1)
    assert float(load_weight_kg(CUBIC_YARD_L, 712)) / POUND_KG == pytest.approx(1200, abs=1)


def test_parts_add_up_to_the_mix_and_more_where_it_settles() -> None:
    # By hand: 60 L of 2 + 1 + 1 are 30, 15, 15; a mix that loses a fifth wants 75 L of parts.
    assert volumes_of_parts_l(60, [2, 1, 1]).tolist() == pytest.approx([30, 15, 15])
    assert volumes_of_parts_l(60, [2, 1, 1], settles_pct=20).sum() == pytest.approx(75)
    assert float(bed_volume_l(1, 10, settles_pct=20)) == pytest.approx(125)
    with pytest.raises(InputError, match="parts: give every part a number"):
        volumes_of_parts_l(60, [0, 0])
    with pytest.raises(InputError, match="parts: give every part a number"):
        volumes_of_parts_l(60, [1, np.nan])


def test_bags_are_whole() -> None:
    # By hand: 100 L of 40 L bags are 3, 120 L are 3, 120.5 L are 4.
    assert bags_to_buy([100, 120, 120.5, np.nan], 40).tolist()[:3] == [3, 3, 4]
    assert np.isnan(bags_to_buy(np.nan, 40))
