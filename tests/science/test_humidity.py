import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from kailyard.science.checks import InputError
from kailyard.science.humidity import (
    atmospheric_pressure_kpa,
    psychrometric_constant_kpa_c,
    saturation_slope_kpa_c,
    saturation_vapour_pressure_kpa,
    vapour_pressure_from_dew_point_kpa,
    vapour_pressure_from_extremes_kpa,
    vapour_pressure_from_humidity_kpa,
    vapour_pressure_from_mean_humidity_kpa,
    vapour_pressure_from_wet_bulb_kpa,
)

# The printed numbers of FAO-56, Examples 2 to 6 and Annex 2, Tables 2.1 to 2.4, are met in test_fao56_examples.py.


@given(st.floats(-60, 59), st.floats(0.01, 1))
def test_warmer_air_always_holds_more(temp_c: float, step_c: float) -> None:
    cool, warm = saturation_vapour_pressure_kpa([temp_c, temp_c + step_c])
    assert 0 < cool < warm


@given(st.floats(-55, 55))
def test_the_slope_is_that_of_the_curve(temp_c: float) -> None:
    # Eq. 13 against a central difference of eq. 11. The printed 4098 stands for 17.27 x 237.3 = 4098.17.
    low, high = saturation_vapour_pressure_kpa([temp_c - 1e-3, temp_c + 1e-3])
    assert saturation_slope_kpa_c(temp_c) == pytest.approx((high - low) / 2e-3, rel=5e-5)


@given(st.floats(-450, 5900), st.floats(1, 100))
def test_pressure_falls_with_height(elevation_m: float, step_m: float) -> None:
    low, high = atmospheric_pressure_kpa([elevation_m, elevation_m + step_m])
    assert low > high
    assert psychrometric_constant_kpa_c(high) < psychrometric_constant_kpa_c(low)


@given(st.floats(-40, 40), st.floats(0, 20), st.floats(0, 100), st.floats(0, 100))
def test_no_way_gives_more_vapour_than_saturated_air_holds(
    tmin_c: float, swing: float, one_pct: float, other_pct: float
) -> None:
    tmax_c, dry, damp = tmin_c + swing, min(one_pct, other_pct), max(one_pct, other_pct)
    most = saturation_vapour_pressure_kpa(tmax_c) * (1 + 1e-12)
    assert vapour_pressure_from_extremes_kpa(tmin_c, tmax_c, humidity_max_pct=damp, humidity_min_pct=dry) <= most
    assert vapour_pressure_from_mean_humidity_kpa(tmin_c, tmax_c, humidity_mean_pct=damp) <= most
    assert vapour_pressure_from_humidity_kpa(tmin_c, damp) <= most


def test_the_ways_agree_where_the_air_is_saturated_and_still() -> None:
    e = saturation_vapour_pressure_kpa(12.0)
    assert vapour_pressure_from_dew_point_kpa(12) == e
    assert vapour_pressure_from_humidity_kpa(12, 100) == e
    assert vapour_pressure_from_extremes_kpa(12, 12, humidity_max_pct=100, humidity_min_pct=100) == e
    assert vapour_pressure_from_mean_humidity_kpa(12, 12, humidity_mean_pct=100) == e
    assert vapour_pressure_from_wet_bulb_kpa(12, 12) == e


def test_the_airing_of_the_wet_bulb_changes_its_constant() -> None:
    # FAO-56, p. 38: 0.000662, 0.000800, 0.001200, each times pressure and depression.
    e = saturation_vapour_pressure_kpa(15.0)
    got = [
        float(e - vapour_pressure_from_wet_bulb_kpa(20, 15, pressure_kpa=100, ventilation=airing))
        for airing in ("aspirated", "natural draught", "indoors")
    ]
    assert got == pytest.approx([0.331, 0.4, 0.6])


def test_impossible_readings_are_refused() -> None:
    with pytest.raises(InputError, match="wet_bulb_c is above dry_bulb_c"):
        vapour_pressure_from_wet_bulb_kpa(20, 21)
    with pytest.raises(InputError, match="less than no vapour"):
        vapour_pressure_from_wet_bulb_kpa(30, 2)
    with pytest.raises(InputError, match="humidity_min_pct is above humidity_max_pct"):
        vapour_pressure_from_extremes_kpa(5, 20, humidity_max_pct=50, humidity_min_pct=60)


def test_nan_passes_and_shapes_broadcast() -> None:
    got = vapour_pressure_from_extremes_kpa(
        np.array([[5.0], [np.nan]]), [15.0, 20.0, 25.0], humidity_max_pct=90, humidity_min_pct=[40, 50, np.nan]
    )
    assert got.shape == (2, 3)
    assert np.isnan(got).tolist() == [[False, False, True], [True, True, True]]
