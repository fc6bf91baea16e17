from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from kailyard.science.air_moisture import dew_point_c
from kailyard.science.checks import InputError
from kailyard.science.humidity import vapour_pressure_from_humidity_kpa
from kailyard.science.wetness import (
    wet_by_dew_point_depression,
    wet_by_humidity,
    wet_by_tree,
    wet_hours_with_rain,
    wet_share_by_humidity,
)
from tests.science.reading import table_with

_PAGE = "reference/water/psychrometrics-leafwetness.md"


def _depression(temp_c: float, humidity_pct: float) -> float:
    return temp_c - float(dew_point_c(vapour_pressure_from_humidity_kpa(temp_c, humidity_pct)))


def test_matches_every_row_of_the_tree(shared: Path) -> None:
    # Gleason et al. (1994), Kim et al. (2002), worked out apart from this code.
    rows = table_with(shared / _PAGE, "branch", "left side", "wet")
    assert len(rows) == 15
    for row in rows:
        T, RH, W = (float(row[k]) for k in ("T", "RH", "W"))
        depression = _depression(T, RH)
        assert depression == pytest.approx(float(row["DPD"]), abs=0.00051)
        got = wet_by_tree(T, RH, canopy_wind_m_s=W, depression_c=depression)
        assert got == float(row["wet"]), row


def test_the_windy_half_of_the_tree_is_dry_short_of_a_gale() -> None:
    # The trap of the page: with the coefficients as copied it passes 37 only beyond some 21 m/s.
    T, RH, W = np.meshgrid(np.arange(0, 36.0, 1), np.arange(87.8, 100, 0.5), np.arange(2.5, 20, 0.5))
    assert wet_by_tree(T, RH, canopy_wind_m_s=W, depression_c=np.minimum((100 - RH) / 5, 3.69)).max() == 0
    assert wet_by_tree(-5, 97, canopy_wind_m_s=0.5, depression_c=0.4) == 1  # no root of a negative number


def test_the_depressions_that_match_a_humidity_are_the_tabled_ones(shared: Path) -> None:
    rows = table_with(shared / _PAGE, "RH 80", "95")
    assert len(rows) == 6
    for row in rows:
        for column, printed in row.items():
            if column != "T":
                got = _depression(float(row["T"]), float(column.removeprefix("RH ")))
                assert got == pytest.approx(float(printed), abs=0.0051)


def test_the_constant_threshold_includes_its_bound() -> None:
    # Sentelhas et al. (2008): wet when RH >= 90 %; 87 % is another published threshold.
    assert wet_by_humidity([89.9, 90, 100]).tolist() == [0, 1, 1]
    assert wet_by_humidity(88, limit_pct=87) == 1
    assert np.isnan(wet_by_humidity(np.nan))


def test_the_ramp_and_the_rain_by_their_printed_rule() -> None:
    # 0 below 80 %, 1 from 95 %; wet + (1 - wet/24) x min(12, rain/5).
    np.testing.assert_allclose(wet_share_by_humidity([79, 80, 87.5, 95, 100]), [0, 0, 0.5, 1, 1])
    np.testing.assert_allclose(wet_hours_with_rain([0, 6, 24, 0], [10, 10, 50, 100]), [2, 7.5, 24, 12])


def test_between_the_limits_nothing_changes() -> None:
    got = wet_by_dew_point_depression([2.0, 1.8, 2.0, 2.19, 2.2, 2.0, np.nan, 2.0, 1.0])
    np.testing.assert_array_equal(got, [0, 1, 1, 1, 0, 0, np.nan, 0, 1])
    np.testing.assert_array_equal(wet_by_dew_point_depression([[2.0], [5.0]], start=1), [[1], [0]])
    with pytest.raises(InputError, match="wet_below_c is above dry_above_c"):
        wet_by_dew_point_depression([2.0], wet_below_c=3)
    with pytest.raises(InputError, match="a run of hours is needed"):
        wet_by_dew_point_depression(2.0)


@given(st.floats(0, 100), st.floats(0, 20), st.floats(0, 24), st.floats(0, 200))
def test_damper_and_rainier_is_never_drier(rh: float, step: float, wet: float, rain: float) -> None:
    pair = [rh, min(rh + step, 100)]
    assert np.diff(wet_by_humidity(pair)) >= 0
    assert np.diff(wet_share_by_humidity(pair)) >= 0
    hours = wet_hours_with_rain(wet, [rain, rain + step])
    assert wet <= hours[0] <= hours[1] <= 24
