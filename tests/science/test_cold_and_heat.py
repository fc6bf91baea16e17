import csv
import gzip
import re
from datetime import date
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from kailyard.science.checks import InputError
from kailyard.science.cold_and_heat import (
    FREEZE_CLASSES,
    HARDINESS_ZONES,
    KILLING_C,
    freeze_class,
    hardiness_zone,
    heat_zone,
    hot_days,
    radiation_frost_possible,
    winter_lows,
)
from kailyard.science.frost import SOUTH
from tests.science.reading import csv_rows


def _c(fahrenheit: float) -> float:
    return (fahrenheit - 32) / 1.8


def test_every_bound_of_the_hardiness_map(shared: Path) -> None:
    # USDA Plant Hardiness Zone Map 2012 and 2023: 26 half zones; a bound belongs to the warmer one.
    rows = csv_rows(shared / "reference/climate/usda_zones.csv")
    assert [r["zone"] for r in rows] == list(HARDINESS_ZONES)
    for i, row in enumerate(rows):
        low, high = float(row["low_F"]), float(row["high_F"])
        assert hardiness_zone([_c(low), _c(high - 0.01)]).tolist() == [i, i]
        assert _c(low) == pytest.approx(float(row["low_C"]), abs=0.051)
        assert _c(high) == pytest.approx(float(row["high_C"]), abs=0.051)


def test_the_checks_of_the_zone_facts(shared: Path) -> None:
    facts = {r["item"]: r["value"] for r in csv_rows(shared / "reference/climate/usda_zone_facts.csv")}
    checks = re.findall(r"(-?[\d.]+)(?: degF)? is (\d+[ab])", facts["check"])
    assert len(checks) == 6
    for fahrenheit, zone in checks:
        assert HARDINESS_ZONES[int(hardiness_zone(_c(float(fahrenheit))))] == zone
    heat = {r["item"]: r["value"] for r in csv_rows(shared / "reference/climate/ahs_heat_zone_facts.csv")}
    pairs = re.findall(r"([\d.]+) is (\d+)", heat["check"])
    assert len(pairs) == 8
    for days, zone in pairs:
        assert heat_zone(float(days)) == float(zone)


def test_every_row_of_the_heat_zones(shared: Path) -> None:
    # AHS Plant Heat-Zone Map 1997: zone 1 is fewer than 1 day; each other zone ends with its upper bound.
    rows = csv_rows(shared / "reference/climate/ahs_heat_zones.csv")
    assert len(rows) == 12
    for row in rows:
        zone, over = float(row["zone"]), float(row["days_over"])
        assert heat_zone(over + 0.01) == zone
        if row["days_up_to"]:
            up_to = float(row["days_up_to"])
            assert heat_zone(up_to - 0.01 if zone == 1 else up_to) == zone
    assert heat_zone([0, 366]).tolist() == [1, 12]


def test_every_class_of_freeze(shared: Path) -> None:
    # NWS classes in whole degrees Fahrenheit; decimals fall between them and are rounded first.
    rows = {r["term"]: r for r in csv_rows(shared / "reference/climate/frost_classes.csv")}
    for number, name in enumerate(FREEZE_CLASSES[1:], 1):
        row = rows[name]
        for bound in ("low_F", "high_F"):
            if row[bound]:
                assert freeze_class(_c(float(row[bound]))) == number
    assert freeze_class([_c(33), _c(32.6), _c(32.4), _c(28.4), _c(24.6), _c(24.4)]).tolist() == [0, 0, 1, 2, 2, 3]
    assert round(_c(float(rows["killing freeze"]["high_F"])), 1) == KILLING_C
    assert round(_c(float(rows["hard freeze"]["high_F"])), 1) == KILLING_C


def test_the_garden_alert_needs_36_fahrenheit_and_little_wind(shared: Path) -> None:
    rows = csv_rows(shared / "reference/climate/frost_conditions.csv")
    wind = next(r for r in rows if r["type"] == "radiation" and r["feature"] == "wind below")
    top = next(r for r in rows if r["feature"] == "frost can form with shelter air up to")
    mph, warm = float(wind["value"]) * 0.44704, _c(float(top["value"]))
    assert radiation_frost_possible([warm, warm + 0.1, warm], [mph - 0.01, 0, mph]).tolist() == [1, 0, 0]
    assert np.isnan(radiation_frost_possible(np.nan, 0))


def test_winters_and_hot_days_of_milwaukee(shared: Path) -> None:
    # GHCN-Daily USW00014839. Milwaukee stands in zone 6a of the 2023 map (1991-2020; from memory), the airport's own
    # record included; the hot days are counted again here in plain Python.
    path = shared / "data/weather/ghcnd_USW00014839_milwaukee_1938_2026.csv.gz"
    with gzip.open(path, "rt", encoding="utf-8") as file:
        rows = list(csv.DictReader(file))
    first = date.fromisoformat(rows[0]["date"])
    low, high = (np.array([float(r[k] or "nan") for r in rows]) for k in ("tmin_c", "tmax_c"))
    lows = winter_lows(low, first_day=first)
    inside = (lows.starts >= 1990) & (lows.starts <= 2019)
    assert HARDINESS_ZONES[int(hardiness_zone(lows.value[inside].mean()))] in ("5b", "6a")
    by_hand: dict[int, float] = {}
    for row in rows:
        winter = int(row["date"][:4]) - (row["date"][5:] < "08-01")
        by_hand[winter] = min(by_hand.get(winter, 99.0), float(row["tmin_c"]))
    assert lows.value[inside].tolist() == [by_hand[y] for y in range(1990, 2020)]
    hot = hot_days(high, first_day=first)
    assert np.isnan(hot.value[0])  # the record begins in April
    for year in (1988, 2012, 2020):
        counted = sum(r["date"].startswith(str(year)) and float(r["tmax_c"] or -99) > 30 for r in rows)
        assert hot.value[hot.starts == year].tolist() == [counted]


def test_the_southern_winter_is_split_in_february() -> None:
    nights = np.full(800, 5.0)
    nights[[200, 565]] = -3.0, -6.0  # 20 July 2001 and 20 July 2002
    got = winter_lows(nights, first_day=date(2001, 1, 1), split=SOUTH)
    assert got.starts.tolist() == [2000, 2001, 2002, 2003]
    assert np.isnan(got.value).tolist() == [True, False, False, True]
    assert got.value[1:3].tolist() == [-3.0, -6.0]


@given(st.floats(-65, 25), st.floats(0, 10))
def test_a_milder_winter_never_has_a_colder_zone_or_a_harder_freeze(lowest_c: float, step: float) -> None:
    cold, mild = hardiness_zone([lowest_c, lowest_c + step])
    assert cold <= mild
    if lowest_c > -60:
        hard, light = freeze_class([lowest_c, lowest_c + step])
        assert hard >= light


def test_nan_passes_and_what_is_no_row_of_days_is_refused() -> None:
    assert np.isnan([hardiness_zone(np.nan), heat_zone(np.nan), freeze_class(np.nan)]).all()
    with pytest.raises(InputError, match="tmin_c: one row of days is needed"):
        winter_lows(3.0, first_day=date(2001, 1, 1))
    with pytest.raises(InputError, match="tmax_c: one row of days is needed"):
        hot_days([[3.0]], first_day=date(2001, 1, 1))
