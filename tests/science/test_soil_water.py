"""Laws of the soil water functions; the printed examples are met in test_soil_water_examples.py."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from hypothesis.extra import numpy as hnp

from kailyard.science.checks import InputError
from kailyard.science.crop_coefficients import adjusted_kc_end, adjusted_kc_mid, kc_on_day
from kailyard.science.ground_cover import mixed_bed_kc
from kailyard.science.soil_water import (
    curve_number_runoff_mm,
    easy_fraction,
    monthly_effective_rain_mm,
    readily_available_water_mm,
    total_available_water_mm,
    water_stress,
)
from kailyard.science.soil_water_balance import RootZone, root_zone_balance, surface_balance

_DAYS = 60
_ET0 = hnp.arrays(np.float64, (2, _DAYS), elements=st.floats(0, 9))
_RAIN = hnp.arrays(np.float64, (2, _DAYS), elements=st.sampled_from([0.0, 0.0, 0.0, 1.5, 8.0, 40.0, 120.0]))
_DRAINAGE = st.sampled_from(["after use", "before use"])


def _roots(et0: np.ndarray, rain: np.ndarray, drainage: str = "after use", **other: object) -> RootZone:
    given_here = {"kc": 1.1, "total_available_mm": 90.0, "easy_fraction": 0.5, "start_mm": 20.0, **other}
    return root_zone_balance(et0, rain_mm=rain, drainage=drainage, **given_here)


@settings(max_examples=40)
@given(_ET0, _RAIN, _DRAINAGE, st.floats(0.1, 1))
def test_the_root_zone_closes_and_stays_within_its_bounds(
    et0: np.ndarray, rain: np.ndarray, drainage: str, runoff: float
) -> None:
    water = np.where(np.arange(_DAYS) % 7 == 3, 15.0, 0.0)
    TAW = np.linspace(40, 150, _DAYS)
    got = _roots(et0, rain, drainage, irrigation_mm=water, runoff_mm=runoff * rain, total_available_mm=TAW)
    before = np.concatenate([np.full((2, 1), 20.0), got.depletion_mm[:, :-1]], axis=1)
    came = rain * (1 - runoff) + water
    # What comes in less what goes out is the change, day by day and over the season.
    np.testing.assert_allclose(came - got.et_mm - got.percolation_mm, before - got.depletion_mm, atol=1e-9)
    total = came.sum(axis=1) - got.et_mm.sum(axis=1) - got.percolation_mm.sum(axis=1)
    np.testing.assert_allclose(total, 20 - got.depletion_mm[:, -1], atol=1e-9)
    assert (got.depletion_mm >= -1e-9).all()
    assert (got.depletion_mm <= TAW + 1e-9).all()
    assert (got.percolation_mm >= 0).all()
    assert ((got.stress >= 0) & (got.stress <= 1)).all()
    assert (got.et_mm <= 1.1 * et0 + 1e-9).all()


@settings(max_examples=40)
@given(_ET0, _RAIN, st.floats(0.05, 1), st.floats(0.2, 1))
def test_the_surface_closes_and_stays_within_its_bounds(
    et0: np.ndarray, rain: np.ndarray, few: float, wetted: float
) -> None:
    water = np.where(np.arange(_DAYS) % 9 == 2, 12.0, 0.0)
    got = surface_balance(
        et0,
        rain_mm=rain,
        irrigation_mm=water,
        kcb=0.4,
        kc_max=1.2,
        exposed_share=few,
        wetted_share=wetted,
        evaporable_mm=18,
        readily_evaporable_mm=8,
        start_mm=10,
    )
    before = np.concatenate([np.full((2, 1), 10.0), got.depletion_mm[:, :-1]], axis=1)
    came = rain + water / wetted
    change = before - got.depletion_mm
    np.testing.assert_allclose(came - got.evaporation_mm / few - got.percolation_mm, change, atol=1e-9)
    assert ((got.depletion_mm >= -1e-9) & (got.depletion_mm <= 18 + 1e-9)).all()
    assert (got.evaporation_mm <= 1.2 * few * et0 + 1e-9).all()
    assert ((got.reduction >= 0) & (got.reduction <= 1)).all()
    np.testing.assert_allclose(got.coefficient * et0, got.evaporation_mm, atol=1e-9)


@settings(max_examples=30)
@given(_ET0, _RAIN, st.floats(0.5, 20))
def test_more_rain_never_leaves_less_water(et0: np.ndarray, rain: np.ndarray, step: float) -> None:
    dry, damp = _roots(et0, rain), _roots(et0, rain + step)
    assert (damp.depletion_mm <= dry.depletion_mm + 1e-9).all()
    assert damp.percolation_mm.sum() >= dry.percolation_mm.sum() - 1e-9


@given(st.floats(0, 120), st.floats(0, 30), st.floats(0.1, 0.9))
def test_drier_ground_never_gives_more(depletion: float, step: float, p: float) -> None:
    wet, dry = water_stress(
        [depletion, depletion + step], total_available_mm=100, readily_available_mm=readily_available_water_mm(100, p)
    )
    assert 1 >= wet >= dry >= 0


def test_a_thirsty_day_leaves_less_of_the_easy_water() -> None:
    assert np.diff(easy_fraction(0.5, [1, 3, 5, 7, 9])).max() < 0
    assert easy_fraction(0.5, 5) == 0.5


@given(st.floats(0, 500), st.floats(0, 50), st.floats(1, 99), st.floats(0, 1))
def test_runoff_grows_with_rain_and_with_the_curve_and_never_passes_the_rain(
    rain: float, step: float, curve: float, more: float
) -> None:
    less, much = curve_number_runoff_mm([rain, rain + step], curve)
    assert 0 <= less <= much
    assert much <= rain + step
    assert curve_number_runoff_mm(rain, curve) <= curve_number_runoff_mm(rain, curve + more) + 1e-9
    assert curve_number_runoff_mm(rain, 100) == pytest.approx(rain)


@given(st.floats(0, 400), st.floats(0, 300), st.floats(20, 200))
def test_rain_that_helps_is_never_more_than_fell_or_was_wanted(rain: float, use: float, storage: float) -> None:
    got = monthly_effective_rain_mm(rain, crop_et_mm=use, storage_mm=storage)
    assert 0 <= got <= min(rain, use) + 1e-9


def test_the_end_coefficient_is_left_alone_below_045() -> None:
    # FAO-56, eq. 65: only from 0.45 upward.
    place = {"wind_2m_m_s": 3, "humidity_min_pct": 30, "height_m": 0.4}
    low, high = adjusted_kc_end([0.44, 0.45], **place)
    assert low == 0.44
    assert high == adjusted_kc_mid(0.45, **place) > 0.45


def test_climates_beyond_the_range_of_the_equation_are_held_to_it() -> None:
    # FAO-56, p. 121: wind 1 to 6 m/s, humidity 20 to 80 %.
    windy = adjusted_kc_mid(1.0, wind_2m_m_s=[6, 9], humidity_min_pct=[20, 5], height_m=1)
    assert windy[0] == windy[1]


def test_the_season_holds_its_last_value_and_a_bed_needs_a_crop() -> None:
    stages = {"initial_d": 25, "development_d": 25, "middle_d": 30, "late_d": 20}
    assert kc_on_day([0, 500], **stages, kc_ini=0.3, kc_mid=1.1, kc_end=0.7).tolist() == pytest.approx([0.3, 0.7])
    with pytest.raises(InputError, match="area: no crop of this bed"):
        mixed_bed_kc([1.0], area=[0.0], height_m=[1.0])


def test_a_missing_day_makes_every_later_day_unknown() -> None:
    et0 = np.full((2, 10), 4.0)
    et0[0, 4] = np.nan
    for part in _roots(et0, np.zeros(10)):
        assert not np.isnan(part[1]).any()
    depletion = _roots(et0, np.zeros(10)).depletion_mm[0]
    assert np.isnan(depletion).tolist() == [False] * 4 + [True] * 6


def test_dew_takes_nothing_and_many_beds_go_at_once() -> None:
    got = _roots(np.array([-0.2, 3.0]), np.zeros(2), start_mm=[0.0, 30.0, 90.0])
    assert got.et_mm.shape == (3, 2)
    np.testing.assert_allclose(got.et_mm[:, 0], 0)
    assert got.et_mm[2, 1] == 0  # nothing left to take


def test_what_cannot_be_is_refused() -> None:
    with pytest.raises(InputError, match="wilting_point is above field_capacity"):
        total_available_water_mm(0.1, 0.2, root_depth_m=1)
    with pytest.raises(InputError, match="runoff_mm is above rain_mm"):
        _roots(np.full(3, 4.0), np.zeros(3), runoff_mm=1.0)
    with pytest.raises(InputError, match="et0_mm: a run of days is needed"):
        _roots(np.asarray(4.0), np.asarray(0.0))
    with pytest.raises(InputError, match="start_mm is above evaporable_mm"):
        surface_balance(
            [4.0],
            rain_mm=0,
            kcb=0.3,
            kc_max=1.2,
            exposed_share=1,
            evaporable_mm=18,
            readily_evaporable_mm=8,
            start_mm=19,
        )
