"""Random valid weather through xclim: chill, degree-days, frost, zones, humidity, evapotranspiration.

In an environment of its own (`make peers` makes both): xclim does not go with the pandas that pyet pins.
"""

from collections.abc import Callable
from datetime import date

import numpy as np
import pytest

from kailyard.science.air_moisture import relative_humidity_pct, vapour_pressure_deficit_kpa
from kailyard.science.chill import dynamic_portions, utah_units
from kailyard.science.cold_and_heat import hardiness_zone, hot_days, winter_lows
from kailyard.science.degree_days import simple_degree_days, single_sine_degree_days, single_triangle_degree_days
from kailyard.science.evapotranspiration import hargreaves_et_mm, penman_monteith_terms_mm, wind_at_2m_m_s
from kailyard.science.frost import freeze_free_days, freeze_seasons
from kailyard.science.humidity import (
    mean_saturation_vapour_pressure_kpa,
    saturation_slope_kpa_c,
    saturation_vapour_pressure_kpa,
    vapour_pressure_from_dew_point_kpa,
)
from kailyard.science.radiation import extraterrestrial_radiation_mj_m2
from kailyard.science.sun import day_length_h

Largest = Callable[[str, object, object, float], None]
xclim = pytest.importorskip("xclim")
xr = pytest.importorskip("xarray")
indices = pytest.importorskip("xclim.indices")


def _daily(values: np.ndarray, units: str, first: str = "1981-01-01", name: str = "air_temperature") -> object:
    time = np.datetime64(first) + np.arange(len(values)).astype("timedelta64[D]")
    return xr.DataArray(values, dims="time", coords={"time": time}, attrs={"units": units, "standard_name": name})


def _years(seed: int, years: int = 40, first: str = "1981-01-01") -> tuple[np.ndarray, np.ndarray]:
    """Lows and highs of whole calendar years at a place with a winter, each day's own chance added; no whole tenths."""
    days = (date(int(first[:4]) + years, 1, 1) - date(int(first[:4]), 1, 1)).days
    rng = np.random.default_rng(seed)
    year = 2 * np.pi * np.arange(days) / 365.25
    low = 5 - 12 * np.cos(year - 0.35) + rng.normal(0, 4.5, days)
    return low, low + rng.uniform(0.5, 18, days)


def _hours(days: int, seed: int) -> object:
    rng = np.random.default_rng(seed)
    hours = np.arange(24 * days)
    t = 5 + 8 * np.sin(2 * np.pi * (hours - 9) / 24) + np.repeat(rng.normal(0, 5, days), 24)
    t = np.round(t, 1)  # the bounds of the Utah table are tenths
    time = np.datetime64("2001-01-01") + hours.astype("timedelta64[h]")
    return xr.DataArray(
        t, dims="time", coords={"time": time}, attrs={"units": "degC", "standard_name": "air_temperature"}
    )


def test_chill(largest: Largest) -> None:
    tas = _hours(365, 3)
    # Its class of -0.5 ends at 17.9 °C, the published one at 18.0: no hour may lie between.
    tas = tas.where((tas <= 17.9) | (tas > 18.0), 17.0)
    t = tas.to_numpy()
    theirs = float(indices.chill_units(tas, freq="YS").sum())
    largest("xclim: Utah units of a year of hours", utah_units(t).sum(), theirs, 1e-6)
    # It takes 273.15 for 0 °C and leaves out the first hour.
    portions = float(indices.chill_portions(tas, freq="YS").sum())
    ours = dynamic_portions(t[1:], kelvin="273.15").sum()
    largest("xclim: Dynamic portions of a year of hours", ours, portions, 1e-6)


def test_degree_days(largest: Largest) -> None:
    low, high = _years(4)
    mean = (low + high) / 2
    year = np.datetime64("1981-01-01") + np.arange(len(low))
    of_year = year.astype("M8[Y]").astype(int) - 11  # from 0
    tas = _daily(mean, "degC")

    def sums(days: np.ndarray) -> np.ndarray:
        return np.bincount(of_year, weights=days)

    for base in (0.0, 4.0, 10.0):
        theirs = indices.growing_degree_days(tas, thresh=f"{base} degC", freq="YS")
        ours = sums(simple_degree_days(low, high, lower_c=base))
        largest(f"xclim: growing degree-days above {base:g} °C of 40 years", ours, theirs, 1e-6)
    theirs = indices.heating_degree_days(tas, thresh="18 degC", freq="YS")
    largest(
        "xclim: heating degree-days under 18 °C of 40 years",
        sums(simple_degree_days(-high, -low, lower_c=-18.0)),
        theirs,
        1e-6,
    )
    # Its way from both extremes is one threshold by four straight pieces (Spinoni 2018), not a curve: how far the
    # day's sine and triangle lie from it in a year's sum. It equals them where the threshold is not crossed.
    pieces = indices.cooling_degree_days_approximation(
        _daily(high, "degC"), _daily(low, "degC"), tas, thresh="10 degC", freq="YS"
    ).to_numpy()
    for name, count, bound in (
        ("triangle", single_triangle_degree_days, 0.03),
        ("sine", single_sine_degree_days, 0.005),
    ):
        ours = sums(count(low, high, lower_c=10.0))
        largest(
            f"xclim: its four pieces above 10 °C against the single {name}, share of a year", pieces / ours, 1, bound
        )
    never = (low > 10) | (high < 10)
    whole = indices.cooling_degree_days_approximation(
        _daily(high[never], "degC"),
        _daily(low[never], "degC"),
        _daily(mean[never], "degC"),
        thresh="10 degC",
        freq="YS",
    ).sum()
    ours = single_sine_degree_days(low[never], high[never], lower_c=10.0).sum()
    largest("xclim: its four pieces, days that do not cross 10 °C, sum", ours, whole, 1e-6)


def test_frost_and_zones(largest: Largest) -> None:
    low, high = _years(6)
    tasmin = _daily(low, "degC")
    seasons = freeze_seasons(low, first_day=date(1981, 1, 1))
    # Its last spring frost is before 1 July in the calendar year; a cold season's last freeze is the same day where it
    # falls after New Year. Days of a common year, so that leap years count alike.
    theirs = indices.last_spring_frost(tasmin, thresh="0 degC", op="<=", freq="YS").to_numpy()
    leap = np.array([y % 4 == 0 for y in range(1981, 2021)])
    theirs = theirs - (leap & (theirs >= 60))
    springs = (seasons.starts >= 1980) & (seasons.starts <= 2019)
    ours = seasons.last[springs] + 213 - 365
    assert (ours > 0).all()
    largest("xclim: last spring frost of 40 years, day of the year", ours, theirs, 0)
    # Its season begins with five days (the window) without frost and ends with five days of it; with a window of one
    # day it is broken by the first frost, so both are compared on nights that freeze from November to April and no
    # other: then both are the days strictly between.
    month = (np.datetime64("1981-01-01") + np.arange(len(low))).astype("M8[M]").astype(int) % 12 + 1
    steady = np.where((month >= 11) | (month <= 4), -1.0, 5.0) + np.sin(np.arange(len(low))) * 0.5
    bare = freeze_seasons(steady, first_day=date(1981, 1, 1))
    _, free = freeze_free_days(bare)
    length = indices.frost_free_season_length(_daily(steady, "degC"), thresh="0 degC", op=">", freq="YS").to_numpy()
    largest("xclim: frost-free season, 1 May to 31 October, days", free, length[: len(free)], 0)
    # Hardiness zones: lowest of the calendar year against lowest of the winter; here years of one winter each, so the
    # record begins on 1 August and its years too.
    nights = low[212:]
    lows = winter_lows(nights, first_day=date(1981, 8, 1))
    whole = ~np.isnan(lows.value)
    rolling = np.convolve(lows.value[whole], np.full(30, 1 / 30), "valid")
    zones = indices.hardiness_zones(_daily(nights, "degC", first="1981-08-01"), window=30, freq="YS-AUG").to_numpy()
    largest("xclim: USDA half zones of 30 winters", hardiness_zone(rolling), zones[~np.isnan(zones)][: len(rolling)], 0)
    heat = hot_days(high, first_day=date(1981, 1, 1)).value
    theirs = indices.tx_days_above(_daily(high, "degC"), thresh="30 degC", freq="YS")
    largest("xclim: days over 30 °C of 40 years", heat, theirs, 0)


def test_hardiness_at_every_half_zone(largest: Largest) -> None:
    # Years of one cold each, between the first bound and the last (ours holds the ends at 1a and 13b, xclim has no zone
    # there). Both count half zones from 0.
    fahrenheit = np.arange(-59.65, 70, 0.9)
    ours = hardiness_zone((fahrenheit - 32) / 1.8)
    theirs = []
    for f in fahrenheit:
        nights = np.full(365, (f - 32) / 1.8)
        theirs.append(float(indices.hardiness_zones(_daily(nights, "degC"), window=1, freq="YS")[0]))
    largest("xclim: USDA half zones by lowest temperature", ours, theirs, 0)


def test_moisture(largest: Largest) -> None:
    rng = np.random.default_rng(8)
    T, rh = rng.uniform(0.5, 45, 4000), rng.uniform(5, 100, 4000)
    tas, hurs = _daily(T, "degC"), _daily(rh, "%", name="relative_humidity")
    # It has no FAO-56 eq. 11; Sonntag's equation of 1990 over water lies within two thousandths of it.
    theirs = indices.saturation_vapor_pressure(tas, method="sonntag90").to_numpy() / 1000
    ours = saturation_vapour_pressure_kpa(T)
    largest("xclim: saturation over water (Sonntag 1990), share", ours / theirs, 1.0, 0.002)
    deficit = indices.vapor_pressure_deficit(tas, hurs, method="sonntag90").to_numpy() / 1000
    largest("xclim: vapour pressure deficit (Sonntag 1990), kPa", vapour_pressure_deficit_kpa(T, rh), deficit, 0.02)
    dew = T - rng.uniform(0, 20, 4000)
    dew = np.where(dew > 0.5, dew, np.minimum(T, 0.5))
    theirs = indices.relative_humidity(tas, tdps=_daily(dew, "degC"), method="sonntag90").to_numpy()
    ours = relative_humidity_pct(T, vapour_pressure_from_dew_point_kpa(dew))
    largest("xclim: humidity from dew point (Sonntag 1990), %", ours, theirs, 0.1)


def test_evapotranspiration(largest: Largest) -> None:
    rng = np.random.default_rng(9)
    days = 365
    low = rng.uniform(-10, 18, days)
    high = low + rng.uniform(1, 18, days)
    mean, J = (low + high) / 2, np.arange(1, 366.0)
    first, north = "2001-01-01", xr.DataArray(45.0, attrs={"units": "degrees_north"})
    # FAO-56 eq. 6 itself, from what stands in it; xclim adds 273.15 to the mean temperature, the equation 273.
    Rn, u10 = rng.uniform(1, 18, days), rng.uniform(0.2, 9, days)
    u2 = wind_at_2m_m_s(u10, 10)
    es, slope = mean_saturation_vapour_pressure_kpa(low, high), saturation_slope_kpa_c(mean)
    ea = es * rng.uniform(0.3, 1, days)
    theirs = indices.fao_allen98(
        _daily(Rn, "MJ m-2 d-1", first), _daily(mean, "degC", first), _daily(u2, "m s-1", first),
        _daily(es, "kPa", first), _daily(ea, "kPa", first), _daily(slope, "kPa degC-1", first),
        f"{0.665e-3 * 101.3} kPa degC",  # the unit it asks for; the number is that of kPa a degree
    )  # fmt: skip
    terms = penman_monteith_terms_mm(
        mean, net_radiation_mj_m2=Rn, deficit_kpa=es - ea, wind_2m_m_s=u2, pressure_kpa=101.3
    )
    largest("xclim: FAO-56 eq. 6, mm a day", terms.radiation_term + terms.wind_term, theirs, 0.005)
    # Its own way from weather to it takes the slope from the mean of the two saturation pressures and not at the mean
    # temperature (eq. 13), another saturation (Sonntag 1990) and sea-level pressure: how far that goes.
    whole = indices.potential_evapotranspiration(
        tasmin=_daily(low, "degC", first), tasmax=_daily(high, "degC", first),
        hurs=_daily(100 * ea / es, "%", first, name="relative_humidity"),
        rsds=_daily(Rn, "MJ m-2 d-1", first), rsus=_daily(0 * Rn, "MJ m-2 d-1", first),
        rlds=_daily(0 * Rn, "MJ m-2 d-1", first), rlus=_daily(0 * Rn, "MJ m-2 d-1", first),
        sfcWind=_daily(u10, "m s-1", first), lat=north, method="FAO_PM98",
    ).to_numpy() * 86400  # fmt: skip
    largest("xclim: its FAO-56 from weather (another slope), mm a day", terms[0] + terms[1], whole, 0.4)
    et = indices.potential_evapotranspiration(
        tasmin=_daily(low, "degC", first),
        tasmax=_daily(high, "degC", first),
        tas=_daily(mean, "degC", first),
        lat=north,
        method="hargreaves85",
    )
    ours = hargreaves_et_mm(low, high, latitude_deg=45, day_of_year=J)
    largest("xclim: Hargreaves, mm a day", np.maximum(ours, 0), et.to_numpy() * 86400, 0.15)


def test_sun(largest: Largest) -> None:
    from xclim.indices.helpers import day_lengths, extraterrestrial_solar_radiation

    # It takes the declination of Spencer (1971) where FAO-56 has a plain sine, up to 1.5° off in October. Its
    # solar constant is set to that of FAO-56, 0.0820 MJ/m² a minute.
    J = np.arange(1, 366.0)
    time = _daily(J, "1", "2001-01-01").time
    for latitude in (0.0, 40.0, 60.0):
        where = xr.DataArray(latitude, attrs={"units": "degrees_north"})
        theirs = extraterrestrial_solar_radiation(time, where, solar_constant="1366.67 W m-2").to_numpy()
        theirs = theirs / 1e6
        ours = extraterrestrial_radiation_mj_m2(latitude, J)
        largest(f"xclim: radiation above the air at {latitude:g}°, MJ/m² a day", ours, theirs, 1.3)
        # Its day is that of the sun's centre on an airless horizon: shorter than sunrise to sunset.
        length = day_lengths(time, where).to_numpy()
        more = day_length_h(latitude, J) - length
        largest(f"xclim: sunrise to sunset less its airless day at {latitude:g}°, h", more, 0.0, 0.5)
        assert more.min() > 0
