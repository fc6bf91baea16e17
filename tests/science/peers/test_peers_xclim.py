"""Chill, degree-days and vapour pressure through xclim, where it is installed (0.8 GB; not with pyet's pandas)."""

from collections.abc import Callable

import numpy as np
import pytest

from kailyard.science.chill import dynamic_portions, utah_units
from kailyard.science.degree_days import simple_degree_days
from kailyard.science.evapotranspiration import hargreaves_et_mm

Largest = Callable[[str, object, object, float], None]
xclim = pytest.importorskip("xclim")


def _hours(days: int, seed: int) -> object:
    import xarray as xr

    rng = np.random.default_rng(seed)
    hours = np.arange(24 * days)
    t = 5 + 8 * np.sin(2 * np.pi * (hours - 9) / 24) + np.repeat(rng.normal(0, 5, days), 24)
    t = np.round(t, 1)  # the bounds of the Utah table are tenths
    time = np.datetime64("2001-01-01") + hours.astype("timedelta64[h]")
    return xr.DataArray(
        t, dims="time", coords={"time": time}, attrs={"units": "degC", "standard_name": "air_temperature"}
    )


def test_chill(largest: Largest) -> None:
    from xclim.indices import chill_portions, chill_units

    tas = _hours(365, 3)
    # Its class of -0.5 ends at 17.9 °C, the published one at 18.0: no hour may lie between.
    tas = tas.where((tas <= 17.9) | (tas > 18.0), 17.0)
    t = tas.to_numpy()
    theirs = float(chill_units(tas, freq="YS").sum())
    largest("xclim: Utah units of a year of hours", utah_units(t).sum(), theirs, 1e-6)
    # It takes 273.15 for 0 °C and leaves out the first hour.
    portions = float(chill_portions(tas, freq="YS").sum())
    ours = dynamic_portions(t[1:], kelvin="273.15").sum()
    largest("xclim: Dynamic portions of a year of hours", ours, portions, 1e-6)


def test_degree_days_and_hargreaves(largest: Largest) -> None:
    import xarray as xr
    from xclim.indices import growing_degree_days, potential_evapotranspiration

    rng = np.random.default_rng(4)
    time = np.datetime64("2001-01-01") + np.arange(365).astype("timedelta64[D]")
    low = rng.uniform(-10, 18, 365)
    high = low + rng.uniform(1, 18, 365)

    def array(values: np.ndarray) -> object:
        return xr.DataArray(values, dims="time", coords={"time": time}, attrs={"units": "degC"})

    theirs = growing_degree_days(array((low + high) / 2), thresh="10 degC", freq="YS").sum()
    largest("xclim: degree-days above 10 °C of a year", simple_degree_days(low, high, lower_c=10).sum(), theirs, 1e-6)
    et = potential_evapotranspiration(
        tasmin=array(low),
        tasmax=array(high),
        tas=array((low + high) / 2),
        lat=xr.DataArray(45.0, attrs={"units": "degrees_north"}),
        method="hargreaves85",
    )
    ours = hargreaves_et_mm(low, high, latitude_deg=45, day_of_year=np.arange(1, 366.0))
    largest("xclim: Hargreaves, mm a day", np.maximum(ours, 0), et.to_numpy() * 86400, 0.15)
