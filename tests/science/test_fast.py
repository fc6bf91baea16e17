"""The extra `fast` is held to the plain path, which is held to printed figures: no number of its own is expected."""

from __future__ import annotations

import subprocess
import sys

import numpy as np
import pytest
from numpy.typing import NDArray

from kailyard.science import degree_days, evapotranspiration, fast, soil_water_balance
from kailyard.science.checks import InputError
from kailyard.science.fast import fao_reference_et_mm, root_zone_depletion_mm, single_sine_degree_days

LARGEST = 1e-6
"""Largest deviation from the plain path. [°C·d, mm]"""
N = 200_000


def _days(seed: int, size: int | tuple[int, ...] = N) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Every pair of extremes that is allowed at all, level days among them."""
    both = np.random.default_rng(seed).uniform(-60, 60, (2, *np.atleast_1d(size)))
    low, high = both.min(axis=0), both.max(axis=0)
    low.flat[::97] = high.flat[::97]
    return low, high


@pytest.mark.parametrize(("lower", "upper"), [(10, 30), (0, 25.5), (-20, 60), (7.2, 7.3)])
def test_single_sine_keeps_to_the_plain_path(lower: float, upper: float) -> None:
    low, high = _days(1)
    got = single_sine_degree_days(low, high, lower_c=lower, upper_c=upper, always=True)
    plain = degree_days.single_sine_degree_days(low, high, lower_c=lower, upper_c=upper)
    assert np.abs(got - plain).max() < LARGEST


def _weather(seed: int, shape: tuple[int, ...]) -> dict[str, NDArray[np.float64]]:
    draw = np.random.default_rng(seed)
    low, high = _days(seed, shape)
    return {
        "tmin_c": low,
        "tmax_c": high,
        "vapour_pressure_kpa": draw.uniform(0, 20, shape),
        "radiation_mj_m2": draw.uniform(0, 60, shape),
        "wind_2m_m_s": draw.uniform(0, 60, shape),
    }


@pytest.mark.parametrize("cores", [1, 2])
def test_reference_et_keeps_to_the_plain_path_over_all_that_is_allowed(cores: int) -> None:
    draw = np.random.default_rng(3)
    place = {
        "latitude_deg": draw.uniform(-90, 90, 20),
        "day_of_year": np.arange(1.0, 367.0)[:, None],
        "elevation_m": draw.uniform(-450, 6000, 20),
    }
    weather = _weather(3, (30, 366, 20))
    got = fao_reference_et_mm(**weather, **place, always=True, cores=cores)
    plain = evapotranspiration.fao_reference_et_mm(**weather, **place)
    assert np.abs(got - plain).max() < LARGEST


def test_reference_et_takes_what_varies_in_any_way() -> None:
    weather = _weather(4, (50, 366))
    for place in (
        {"latitude_deg": 45.0, "day_of_year": 187.0, "elevation_m": 100.0},
        {"latitude_deg": np.linspace(-60, 60, 50)[:, None], "day_of_year": np.arange(1.0, 367.0), "elevation_m": 0.0},
        {"latitude_deg": 45.0, "day_of_year": 187.0, "elevation_m": 100.0, "soil_heat_mj_m2": np.ones((50, 1))},
    ):
        for cores in (1, 3):
            got = fao_reference_et_mm(**weather, **place, always=True, cores=cores)
            plain = evapotranspiration.fao_reference_et_mm(**weather, **place)
            assert got.shape == plain.shape
            assert np.abs(got - plain).max() < LARGEST


@pytest.mark.parametrize("years", [1, 4])
@pytest.mark.parametrize("cores", [1, 2, 3])
def test_reference_et_of_many_places_is_shared_out_along_any_axis(years: int, cores: int) -> None:
    # 70 places are a row of their own in the kernel; with fewer years than threads the days are shared out.
    weather = _weather(12, (years, 90, 70))
    place = {
        "latitude_deg": np.linspace(-70, 70, 70),
        "day_of_year": np.arange(100.0, 190.0)[:, None],
        "elevation_m": np.linspace(-400, 5000, 70),
    }
    for heat in ({}, {"soil_heat_mj_m2": np.linspace(-2, 2, 90)[:, None]}, {"soil_heat_mj_m2": np.nan}):
        got = fao_reference_et_mm(**weather, **place, **heat, always=True, cores=cores)
        plain = evapotranspiration.fao_reference_et_mm(**weather, **place, **heat)
        np.testing.assert_allclose(got, plain, rtol=0, atol=LARGEST)


def test_reference_et_keeps_to_the_plain_path_where_the_sun_hardly_rises_or_never_sets() -> None:
    # Both poles, the polar circles and between, every day; with radiation from none at all to more than a clear sky
    # lets through, so that the share of a clear sky is a division of nearly nothing by nearly nothing too.
    latitude = np.array([-90, -89.9, -75, -67, -66.5, -66, 66, 66.5, 67, 75, 89.9, 90])
    place = {"latitude_deg": latitude, "day_of_year": np.arange(1.0, 367.0)[:, None], "elevation_m": 50.0}
    weather = _weather(11, (20, 366, 12))
    weather["radiation_mj_m2"] = np.where(np.arange(20) < 2, 0, 10.0 ** np.arange(-18, 2))[:, None, None] + np.zeros(
        (20, 366, 12)
    )
    got = fao_reference_et_mm(**weather, **place, always=True)
    plain = evapotranspiration.fao_reference_et_mm(**weather, **place)
    assert np.abs(got - plain).max() < LARGEST


def test_single_sine_keeps_to_the_plain_path_where_a_threshold_touches_an_extreme() -> None:
    near = np.array([0.0, 1e-12, 1e-9, 1e-6, 1e-3])
    low = np.concatenate([10 - near, 10 + near, 30 - near, 30 + near])[:, None]
    high = low + np.array([0.0, 1e-10, 1e-9, 1e-8, 1e-4, 20, 20 + 1e-9, 20 - 1e-9])
    low = np.broadcast_to(low, high.shape).copy()
    got = single_sine_degree_days(low, high, lower_c=10, upper_c=30, always=True)
    plain = degree_days.single_sine_degree_days(low, high, lower_c=10, upper_c=30)
    assert np.abs(got - plain).max() < LARGEST


@pytest.mark.parametrize("cores", [1, 2])
def test_root_zone_keeps_to_the_plain_path(cores: int) -> None:
    draw = np.random.default_rng(5)
    shape = (4, 365, 60)
    et0 = draw.uniform(-5, 12, shape)
    rain = np.where(draw.random(shape) < 0.3, draw.gamma(1, 9, shape), 0.0)
    bed = {
        "kc": draw.uniform(0, 1.3, 60),
        "total_available_mm": np.r_[0.0, draw.uniform(10, 300, 59)],
        "easy_fraction": draw.uniform(0.05, 0.9, 60),
        "start_mm": draw.uniform(0, 200, 60),
    }
    got = root_zone_depletion_mm(et0, rain, **bed, always=True, cores=cores)
    plain = soil_water_balance.root_zone_balance(
        np.swapaxes(et0, 1, 2),
        rain_mm=np.swapaxes(rain, 1, 2),
        kc=bed["kc"][:, None],
        total_available_mm=bed["total_available_mm"][:, None],
        easy_fraction=bed["easy_fraction"][:, None],
        start_mm=bed["start_mm"],
    )
    assert np.abs(got - np.swapaxes(plain.depletion_mm, 1, 2)).max() < LARGEST


def test_missing_values_stay_missing_and_spoil_no_other() -> None:
    low, high = _days(6, (1000,))
    low[::3] = np.nan
    high[1::7] = np.nan
    got = single_sine_degree_days(low, high, lower_c=10, upper_c=30, always=True)
    assert np.array_equal(np.isnan(got), np.isnan(low + high))
    weather = _weather(7, (10, 366))
    for name in weather:
        spoilt = weather[name].copy()
        spoilt[3, 5] = np.nan
        got = fao_reference_et_mm(
            **{**weather, name: spoilt}, latitude_deg=45.0, day_of_year=187.0, elevation_m=10.0, always=True
        )
        assert np.isnan(got[3, 5])
        assert np.isnan(got).sum() == 1
    et0, rain = np.full((20, 8), 4.0), np.zeros((20, 8))
    rain[5, 2] = np.nan
    bucket = root_zone_depletion_mm(et0, rain, kc=1.0, total_available_mm=80.0, easy_fraction=0.5, always=True)
    assert np.array_equal(np.isnan(bucket[:, 2]), np.arange(20) >= 5)  # it stays unknown, as in the plain path
    assert np.isnan(bucket).sum() == 15


def test_refuses_what_the_plain_path_refuses_in_its_words() -> None:
    low, high = _days(8, (1000,))
    low[41] = 288.4
    with pytest.raises(InputError, match=r"tmin_c: 1 of 1000 values outside -60 to 60 °C; first is 288\.4 at index 41"):
        single_sine_degree_days(low, high, lower_c=10, upper_c=30, always=True)
    weather = _weather(9, (10, 366))
    weather["wind_2m_m_s"][2, 2] = -1
    with pytest.raises(InputError, match="wind_2m_m_s: 1 of 3660 values outside 0 to 60 m/s"):
        fao_reference_et_mm(**weather, latitude_deg=45.0, day_of_year=1.0, elevation_m=0.0, always=True)
    with pytest.raises(InputError, match="rain_mm: 1 of 12 values outside 0 to 2000 mm"):
        root_zone_depletion_mm(
            np.ones((4, 3)), -np.eye(4, 3, k=-3), kc=1, total_available_mm=80, easy_fraction=0.5, always=True
        )
    with pytest.raises(InputError, match="lower_c is not below upper_c"):
        single_sine_degree_days(*_days(1, (10,)), lower_c=30, upper_c=10, always=True)


def test_writes_into_the_array_it_is_given_and_into_no_other() -> None:
    low, high = _days(10, (1000,))
    low.setflags(write=False)
    high.setflags(write=False)
    out = np.empty(1000)
    assert single_sine_degree_days(low, high, lower_c=10, upper_c=30, always=True, out=out) is out
    with pytest.raises(ValueError, match="out: a contiguous float64 array of shape"):
        single_sine_degree_days(low, high, lower_c=10, upper_c=30, always=True, out=np.empty(999))


def test_short_runs_take_the_plain_path_and_no_compiler_is_loaded() -> None:
    program = """
import sys
from kailyard.science import degree_days, fast
assert fast.single_sine_degree_days(8.0, 24.0, lower_c=10, upper_c=30) == degree_days.single_sine_degree_days(
    8.0, 24.0, lower_c=10, upper_c=30)
print(sorted({name.partition(".")[0] for name in sys.modules} & {"numba", "llvmlite"}))
sys.modules["numba"] = None
try:
    fast.single_sine_degree_days(8.0, 24.0, lower_c=10, upper_c=30, always=True)
except ImportError as err:
    print(err)
"""
    run = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True)
    assert run.stdout.splitlines() == ["[]", "The kernels need numba. Install it with: pip install 'kailyard[fast]'"]
    assert fast.WORTH_CALLING < fast.WORTH_LOADING
