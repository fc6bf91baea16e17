"""The practitioner's sums against the table of worked examples, row by row; feet and pounds turned by definition."""

from __future__ import annotations

import csv
from collections.abc import Callable
from datetime import date
from pathlib import Path

import numpy as np
import pytest

from kailyard.science.checks import InputError
from kailyard.science.garden_sums import (
    plants_in_a_row,
    plants_in_squares,
    plants_in_triangles,
    plants_in_whole_rows,
    row_area_m2,
    row_length_m,
    row_yield_kg,
)
from kailyard.science.seed_sums import (
    chance_of_a_plant,
    day_counted_back,
    packets_to_order,
    seeds_at_stations,
    seeds_to_sow,
    sowings_in_a_span,
)

INCH_CM, FOOT_M, POUND_KG = 2.54, 0.3048, 0.45359237  # NIST Special Publication 811, exact
SQFT_M2 = FOOT_M**2


def _day(month: int, day: int) -> int:
    return date(2026, month, day).timetuple().tm_yday


ROWS: dict[str, Callable[[], object]] = {
    "S1": lambda: plants_in_squares(24 * SQFT_M2, 6 * INCH_CM),
    "S2a": lambda: plants_in_squares(48 * SQFT_M2, 8 * INCH_CM),
    "S2b": lambda: plants_in_squares(48 * SQFT_M2, 9 * INCH_CM),
    "S2c": lambda: plants_in_squares(48 * SQFT_M2, 10 * INCH_CM),
    "S3a": lambda: plants_in_triangles(100 * SQFT_M2, 12 * INCH_CM, 1.13),
    "S3b": lambda: plants_in_triangles(100 * SQFT_M2, 12 * INCH_CM),
    "S3c": lambda: seeds_to_sow(113, germination_pct=80, insurance=1.2).seeds,
    "S4a": lambda: plants_in_whole_rows(
        length_m=10 * FOOT_M, width_m=4 * FOOT_M, in_row_cm=12 * INCH_CM, between_rows_cm=12 * INCH_CM
    ),
    "S4b": lambda: np.floor(plants_in_triangles(40 * SQFT_M2, 12 * INCH_CM)),
    "S5a": lambda: plants_in_a_row(20 * FOOT_M, 3 * INCH_CM),
    "S5b": lambda: plants_in_a_row(20 * FOOT_M, 3 * INCH_CM, row_ends="planted"),
    "S6": lambda: seeds_to_sow(3, germination_pct=75).seeds,
    "S7a": lambda: seeds_to_sow(250, insurance=1.25).whole_seeds,
    "S7b": lambda: seeds_to_sow(250, lost_pct=25).whole_seeds,
    "S8": lambda: seeds_to_sow(100, germination_pct=85).whole_seeds,
    "S9a": lambda: row_length_m(128, 5 * INCH_CM) / FOOT_M,
    "S9b": lambda: row_yield_kg(53.3 * FOOT_M, 50 * POUND_KG / (100 * FOOT_M)) / POUND_KG,
    "S10": lambda: sowings_in_a_span(_day(5, 10), _day(7, 15), every_days=14),
    "S11": lambda: packets_to_order(118, 50),
    "S12": lambda: seeds_at_stations(10, 10, seeds_each=3),
    "S13": lambda: chance_of_a_plant(3, 80),
    "S14": lambda: plants_in_squares(1, 25),
    "S15": lambda: plants_in_triangles(1, 25),
}
DATES: dict[str, tuple[int, float]] = {"S7c": (_day(6, 10), 45), "S7d": (_day(4, 26), 17.5)}


def test_meets_every_row_of_the_table(shared: Path) -> None:
    # The table names a source on each row; where it prints what is wrong (S7a, S7c, S8, S9b) `expected` is right.
    with (shared / "data/checks/seed_arithmetic.csv").open(encoding="utf-8", newline="") as lines:
        table = {row["id"]: row for row in csv.DictReader(lines)}
    assert set(table) == set(ROWS) | set(DATES)
    for key, reckoned in ROWS.items():
        expected, tolerance = float(table[key]["expected"]), float(table[key]["tolerance"])
        assert reckoned() == pytest.approx(expected, abs=max(tolerance, 1e-9)), (key, table[key]["title"])
    for key, (day, days) in DATES.items():
        month, of_month = map(int, table[key]["expected"].split("-"))
        found = float(day_counted_back(day, days))
        assert found == pytest.approx(_day(month, of_month), abs=float(table[key]["tolerance"])), key


@pytest.mark.parametrize(("inches", "plants"), [(8, 108), (9, 80), (10, 63)])
def test_whole_rows_of_a_published_bed(inches: float, plants: int) -> None:
    # M. Ruggiero, New York Botanical Garden, spacing example: a bed of 6 x 8 ft.
    spacing = inches * INCH_CM
    got = plants_in_whole_rows(length_m=8 * FOOT_M, width_m=6 * FOOT_M, in_row_cm=spacing, between_rows_cm=spacing)
    assert got == plants


def test_rows_take_their_length_times_their_distance() -> None:
    assert row_area_m2(16, 45) == pytest.approx(7.2)  # by hand: 16 m x 0.45 m
    assert row_area_m2(row_length_m(40, 30), 30) == pytest.approx(40 * 0.09)  # 40 squares of 30 cm


def test_adding_the_missing_percents_falls_short_of_the_plants_wanted() -> None:
    # The trap of row S8: 100 x 1.15 seeds at 85 % give 97.75 plants.
    assert pytest.approx(97.75) == 115 * 0.85
    assert float(seeds_to_sow(100, germination_pct=85).whole_seeds) * 0.85 >= 100


def test_missing_stays_missing_and_a_span_runs_forwards() -> None:
    assert np.isnan(plants_in_squares(np.nan, 10))
    assert np.isnan(seeds_to_sow([np.nan, 3]).whole_seeds).tolist() == [True, False]
    with pytest.raises(InputError, match="first_day is above last_day"):
        sowings_in_a_span(200, 100, every_days=7)
