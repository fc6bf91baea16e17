"""Random places, moments and air through pvlib and PsychroLib."""

from collections.abc import Callable

import numpy as np
import pytest

from kailyard.science.air_moisture import dew_point_c, relative_humidity_pct, wet_bulb_c
from kailyard.science.humidity import vapour_pressure_from_dew_point_kpa, vapour_pressure_from_humidity_kpa
from kailyard.science.sun_position import sun_position, sun_times

Largest = Callable[[str, object, object, float], None]


def test_pvlib_positions(largest: Largest) -> None:
    spa, pd = pytest.importorskip("pvlib.spa"), pytest.importorskip("pandas")
    rng = np.random.default_rng(1)
    year, J, hour = rng.integers(1990, 2040, 60), rng.integers(1, 366, 60), rng.uniform(0, 24, 60)
    days = pd.to_datetime(year * 1000 + J, format="%Y%j")
    seconds = (days - pd.Timestamp("1970-01-01")).total_seconds().to_numpy() + hour * 3600
    off: dict[str, list[np.ndarray]] = {"elevation": [], "apparent": [], "azimuth": []}
    for latitude in np.arange(-65, 66, 5.0):
        for longitude in (-150.0, -75.0, 0.0, 100.0):
            got = sun_position(latitude, longitude, year=year, day_of_year=J, clock_h=hour)
            known = spa.solar_position_numpy(seconds, latitude, longitude, 0, 1013.25, 12, 69.0, 0.5667, 1, esd=False)
            up = known[3] > 0
            off["elevation"].append(got.elevation - known[3])
            off["apparent"].append((got.apparent_elevation - known[2])[up])
            turn = (got.azimuth - known[4] + 180) % 360 - 180
            off["azimuth"].append(turn * np.cos(np.deg2rad(known[3])))  # as an angle in the sky
    for name, gaps in off.items():
        largest(f"pvlib (NREL algorithm): {name} of the sun, °", np.concatenate(gaps), 0.0, 0.004)


def test_pvlib_sunrise_and_sunset(largest: Largest) -> None:
    spa = pytest.importorskip("pvlib.spa")
    J = np.arange(1, 366)
    midnight = (np.datetime64("2025-12-31") - np.datetime64("1970-01-01")).astype(float) * 86400 + J * 86400.0
    for latitudes, bound in ((np.arange(-50, 51, 10.0), 2.0), (np.array([-60.0, 60.0]), 3.0), (np.array([65.0]), 15.0)):
        gaps = []
        for latitude in latitudes:
            transit, rise, fall = spa.transit_sunrise_sunset(midnight, latitude, 0.0, 69.0, 1)
            got = sun_times(latitude, 0, year=2026, day_of_year=J)
            for ours, theirs in ((got.sunrise, rise), (got.sunset, fall), (got.noon, transit)):
                gaps.append((ours * 3600 - (theirs - midnight) + 43200) % 86400 - 43200)
        most = int(np.abs(latitudes).max())
        largest(f"pvlib: sunrise, sunset and noon of 2026, to {most}°, seconds", np.concatenate(gaps), 0.0, bound)


def test_psychrolib(largest: Largest) -> None:
    psychrolib = pytest.importorskip("psychrolib")
    psychrolib.SetUnitSystem(psychrolib.SI)
    rng = np.random.default_rng(2)
    T, rh, P = rng.uniform(0, 40, 800), rng.uniform(10, 99, 800), rng.uniform(80, 104, 800)
    ea = vapour_pressure_from_humidity_kpa(T, rh)
    wet = [psychrolib.GetTWetBulbFromRelHum(t, h / 100, p * 1000) for t, h, p in zip(T, rh, P, strict=True)]
    above = np.asarray(wet) > 0  # below it PsychroLib's wet bulb is one of ice
    largest("PsychroLib: wet bulb above 0 °C, °C", wet_bulb_c(T, rh, pressure_kpa=P)[above], np.array(wet)[above], 0.3)
    dew = np.array([psychrolib.GetTDewPointFromRelHum(t, h / 100) for t, h in zip(T, rh, strict=True)])
    above = dew > 0  # below it PsychroLib gives the frost point
    largest("PsychroLib: dew point above 0 °C, °C", dew_point_c(ea)[above], dew[above], 0.03)
    damp = [100 * psychrolib.GetRelHumFromTDewPoint(t, d) for t, d in zip(T[above], dew[above], strict=True)]
    ours = relative_humidity_pct(T[above], vapour_pressure_from_dew_point_kpa(dew[above]))
    largest("PsychroLib: humidity from dew point, %", ours, damp, 0.1)
