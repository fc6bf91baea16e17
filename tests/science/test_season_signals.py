import re
from datetime import date
from pathlib import Path

import numpy as np
import pytest

from kailyard.science.checks import InputError
from kailyard.science.season_signals import (
    ONION_CLASSES,
    cold_days,
    day_reached,
    first_day_of_length,
    onion_class_bulbing,
)
from kailyard.science.sun import day_length_h
from tests.science.reading import csv_rows


def test_each_length_is_first_reached_on_the_tabled_date(shared: Path) -> None:
    # Sunrise to sunset with the declination of Spencer (1971), 25 to 50 °N; a date within rounding may fall a day off.
    rows = csv_rows(shared / "reference/climate/daylength_first_dates.csv")
    for row in rows:
        for column, printed in row.items():
            if not (match := re.fullmatch(r"(\d+)(?:_(5))?_h", column)):
                continue
            hours = float(".".join(x for x in match.groups() if x))
            got = first_day_of_length(float(row["latitude_N"]), hours)
            if printed:
                month, day = map(int, printed.split("-"))
                assert abs(got - date(2026, month, day).timetuple().tm_yday) <= 1, (row["latitude_N"], hours)
            else:
                assert np.isnan(got) or got == 1, (row["latitude_N"], hours)
        assert day_length_h(float(row["latitude_N"]), np.arange(1, 366)).max() == pytest.approx(
            float(row["longest_h"]), abs=0.0051
        )


def test_the_southern_year_is_the_northern_one_half_a_year_on() -> None:
    south, north = first_day_of_length([-40, 40], 14)
    assert (south - north) % 365 == pytest.approx(182, abs=8)
    assert np.isnan(first_day_of_length(25, 16))
    assert np.isnan(first_day_of_length(np.nan, 12))


def test_the_onion_classes_of_oregon(shared: Path) -> None:
    # Myers (2006), Oregon State Univ. Extension: classes, and named groups with the class each is put into. Two
    # stand at the upper end of theirs: 13 h under short-day, 14 h under intermediate.
    rows = [r for r in csv_rows(shared / "reference/climate/onion_daylength.csv") if "Myers" in r["source"]]
    names = {"short-day": 1, "intermediate": 2, "long-day": 3}
    seen = 0
    for row in rows:
        if row["class_or_cultivar"] in names:
            assert onion_class_bulbing(float(row["low_h"])) == names[row["class_or_cultivar"]]
            seen += 1
        elif row["low_h"] and (kind := row["note"].partition(";")[0]) in names:
            assert onion_class_bulbing(float(row["low_h"]) - 0.01) == names[kind]
            seen += 1
    assert seen == 10
    assert ONION_CLASSES[int(onion_class_bulbing(10.9))] == "none"
    assert np.isnan(onion_class_bulbing(np.nan))


def test_cold_counts_only_once_the_plant_has_its_size() -> None:
    # The practical rule: days with a mean below 50 °F (10 °C) after the plant reaches its size.
    t = [9, 9, 12, 10, -1, np.nan, 5]
    assert cold_days(t).tolist() == [1, 2, 2, 3, 3, 3, 4]
    assert cold_days(t, from_day=3).tolist() == [0, 0, 0, 1, 1, 1, 2]
    assert cold_days([t, t], low_c=4, from_day=[0, 6])[:, -1].tolist() == [4, 1]
    assert day_reached(cold_days(t), 3) == 3
    assert np.isnan(day_reached(cold_days(t), 9))
    with pytest.raises(InputError, match="low_c: 8 is above high_c, 4"):
        cold_days(t, low_c=8, high_c=4)
    with pytest.raises(InputError, match="a run of days is needed"):
        cold_days(5)
    with pytest.raises(InputError, match="a run of days is needed"):
        day_reached(5, 1)
