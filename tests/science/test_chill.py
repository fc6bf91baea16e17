import re
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra import numpy as hnp

from kailyard.science.checks import InputError
from kailyard.science.chill import chilling_hours, cold_hours, dynamic_portions, utah_start, utah_units
from tests.science.reading import csv_rows

_HOURS = hnp.arrays(np.float64, 200, elements=st.floats(-10, 25))


def _series(text: str, hours: int) -> np.ndarray:
    """Hourly temperatures of a row of the check table, from its words."""
    if steady := re.match(r"constant (-?\d+) degC", text):
        return np.full(hours, float(steady.group(1)))
    if mixed := re.match(r"30 days of (\d+) h at (\d+) then (\d+) h at (\d+) degC", text):
        first, cold, then, warm = map(float, mixed.groups())
        return np.tile(np.r_[np.full(int(first), cold), np.full(int(then), warm)], 30)
    mean, swing = map(float, re.search(r"T\(h\) = (\d+) \+ (\d+) sin", text).groups())
    return mean + swing * np.sin(2 * np.pi * (np.arange(hours) - 9) / 24)


def test_matches_every_series_of_the_check_table(shared: Path) -> None:
    # Chilling hours, Utah (°C table) and Dynamic model with both constants for 0 °C, worked out apart from this code.
    rows = csv_rows(shared / "reference/climate/chilling_check_values.csv")
    assert len(rows) == 18
    for row in rows:
        t = _series(row["series"], int(row["hours"]))
        if "sin" in row["series"]:
            t = np.round(t, 9)  # 9.1 - ulp at a bound is 9.1
        assert chilling_hours(t).sum() == float(row["chilling_hours_0_7_2"]), row["series"]
        assert utah_units(t).sum() == pytest.approx(float(row["utah_units"]), abs=0.001), row["series"]
        for kelvin in ("273", "273.15"):
            printed = float(row[f"dynamic_portions_{kelvin.replace('.', '_')}"])
            assert dynamic_portions(t, kelvin=kelvin).sum() == pytest.approx(printed, abs=0.00051), row["series"]


def test_every_weight_of_the_utah_tables(shared: Path) -> None:
    # Richardson, Seeley and Walker (1974) as restated in °C, and their bounds in whole °F.
    rows = [r for r in csv_rows(shared / "reference/climate/chilling_models.csv") if r["item"] == "weight per hour"]
    assert len(rows) == 14
    for row in rows:
        scale = "°F" if "T_F" in row["condition"] else "°C"
        bounds = [float(x) for x in re.findall(r"-?\d+\.?\d*", row["condition"])]
        above = "> " in row["condition"] and "<" not in row["condition"]
        inside = [bounds[0] + 0.01, bounds[0] + 3] if above else [bounds[-1], (bounds[0] + bounds[-1]) / 2 + 0.05]
        if not above and len(bounds) == 1:
            inside = [bounds[0], bounds[0] - 5]
        celsius = [(x - 32) / 1.8 if scale == "°F" else x for x in inside]
        assert utah_units(celsius, scale=scale).tolist() == [float(row["value"])] * 2, row["condition"]


def test_the_older_count_takes_frost_too() -> None:
    # Weinberger (1950): at or below 7.2 °C.
    assert cold_hours([-5, 0, 7.2, 7.3]).tolist() == [1, 1, 1, 0]
    assert chilling_hours([-5, 0, 7.2, 7.3]).tolist() == [0, 1, 1, 0]


def test_the_season_starts_at_the_lowest_running_total() -> None:
    assert utah_start([-1, -1, 0.5, -1, 1, 1]) == 4  # totals -1, -2, -1.5, -2.5, -1.5, -0.5
    assert utah_start([0.5, 1, 1]) == 0
    np.testing.assert_array_equal(utah_start([[-1, 1.0], [1, 1.0]]), [1, 0])


@given(_HOURS)
def test_portions_are_kept_for_good_and_no_hour_counts_more_than_one(t: np.ndarray) -> None:
    for kelvin in ("273", "273.15"):
        portions = dynamic_portions(t, kelvin=kelvin)
        assert (portions >= 0).all()
    assert np.abs(utah_units(t)).max() <= 1
    assert (chilling_hours(t) <= cold_hours(t)).all()


@given(_HOURS, st.integers(0, 199))
def test_what_comes_later_changes_nothing_before(t: np.ndarray, cut: int) -> None:
    np.testing.assert_array_equal(dynamic_portions(t)[: cut + 1], dynamic_portions(t[: cut + 1]))


def test_a_missing_hour_is_missing_and_leaves_the_rest() -> None:
    t = np.full(300, 6.0)
    gap = np.insert(t, 100, np.nan)
    got = dynamic_portions(np.stack([gap, np.full(301, 6.0)]))
    assert np.isnan(got[0, 100])
    np.testing.assert_array_equal(np.delete(got[0], 100), dynamic_portions(t))
    for count in (chilling_hours, cold_hours, utah_units):
        assert np.isnan(count([np.nan, 5])).tolist() == [True, False]


@pytest.mark.parametrize("count", [chilling_hours, cold_hours, utah_units, dynamic_portions])
def test_one_number_is_no_run_of_hours(count) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(InputError, match="a run of hours is needed"):
        count(5.0)
