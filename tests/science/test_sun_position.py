import re
from datetime import date
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from kailyard.science.checks import InputError
from kailyard.science.shadow import incidence_deg, shadow_direction_deg, shadow_length_m, shadow_reach_m
from kailyard.science.sun import day_length_h
from kailyard.science.sun_position import sun_position, sun_times
from tests.science.reading import table_with, tables

_PAGE = "reference/water/solar.md"
_NREL = {"latitude_deg": 39.742476, "longitude_deg": -105.1786, "year": 2003, "utc_offset_h": -7}
_MONTHS = {
    m: i for i, m in enumerate(["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"], 1)
}


def _hours(clock: str) -> float:
    parts = [float(x) for x in clock.split(":")]
    return sum(x / 60**i for i, x in enumerate(parts))


def _day(text: str, year: int) -> int:
    day, month = text.split()[:2]
    return date(year, _MONTHS[month], int(day)).timetuple().tm_yday


def test_matches_the_published_nrel_example(shared: Path) -> None:
    # Reda and Andreas (2004), NREL/TP-560-34302: 17 October 2003, 12:30:30. The published zenith has refraction in it.
    rows = {r["quantity"]: r for r in table_with(shared / _PAGE, "quantity", "published", "pvlib")}
    at = sun_position(**_NREL, day_of_year=290, clock_h=12 + 30.5 / 60, pressure_kpa=82.0, temp_c=11)
    zenith = float(rows["topocentric zenith (refracted)"]["published"])
    assert 90 - at.apparent_elevation == pytest.approx(zenith, abs=0.001)
    assert 90 - at.elevation == pytest.approx(float(rows["zenith without refraction"]["pvlib"]), abs=0.001)
    assert at.azimuth == pytest.approx(float(rows["azimuth"]["published"]), abs=0.003)
    # The surface is turned 10° east of south.
    tilted = incidence_deg(at.apparent_elevation, at.azimuth, slope_deg=30, facing_deg=170)
    assert tilted == pytest.approx(float(rows["incidence angle on the surface"]["published"]), abs=0.001)
    # Sunset is given for the day by Greenwich: at UTC-7 that is the evening before.
    times = sun_times(**_NREL, day_of_year=[290, 289])
    assert times.sunrise[0] == pytest.approx(_hours(rows["sunrise, local"]["published"]), abs=1.0 / 3600)
    assert times.sunset[1] == pytest.approx(_hours(rows["sunset, local"]["published"]), abs=1.0 / 3600)
    assert times.noon[0] == pytest.approx(_hours("11:46:04.96"), abs=1.0 / 3600)


def test_matches_the_nrel_table_of_sunrise_and_sunset(shared: Path) -> None:
    rows = table_with(shared / _PAGE, "sunrise", "pvlib sunrise")
    assert len(rows) == 3
    for row in rows:
        year = int(row["date"].split()[2])
        got = sun_times(float(row["latitude"]), 0, year=year, day_of_year=_day(row["date"], year))
        assert got.sunrise == pytest.approx(_hours(row["sunrise"]), abs=1.0 / 3600)
        assert got.sunset == pytest.approx(_hours(row["sunset"]), abs=1.0 / 3600)


def test_matches_the_clock_times_of_the_page(shared: Path) -> None:
    # NREL algorithm (pvlib 0.16.1), longitude 0, UTC, 2026; printed to the second.
    text = (shared / _PAGE).read_text(encoding="utf-8")
    block = text[text.index("Clock times at longitude 0") :].split("\n\n")[0]
    seen = 0
    for part in re.split(r"latitude ", block)[1:]:
        latitude = float(part.split(",")[0])
        for day, rise, fall in re.findall(r"(\d+ \w{3}) ([\d:]{8}) - ([\d:]{8})", part):
            got = sun_times(latitude, 0, year=2026, day_of_year=_day(day, 2026))
            assert got.sunrise == pytest.approx(_hours(rise), abs=1.6 / 3600)
            assert got.sunset == pytest.approx(_hours(fall), abs=1.6 / 3600)
            seen += 1
    assert seen == 6


def test_day_lengths_match_the_full_position(shared: Path) -> None:
    rows = table_with(shared / _PAGE, "latitude", "20 Mar FAO / SPA h")
    assert len(rows) == 7
    for row in rows:
        for column, cell in row.items():
            if not column.endswith("FAO / SPA h"):
                continue
            got = sun_times(float(row["latitude"]), 0, year=2026, day_of_year=_day(column, 2026))
            assert got.day_length == pytest.approx(float(cell.split(" / ")[1]), abs=0.0011), (row["latitude"], column)


def test_matches_every_tabled_position_and_its_shadow(shared: Path) -> None:
    seen = 0
    for rows in tables(shared / _PAGE):
        if "date, time" not in rows[0]:
            continue
        garden = (40.0, -75.0, -5) if "shadow points to" in rows[0] else (51.4779, 0.0, 0)
        for row in rows:
            clock = float(row["date, time"][-5:-3]) + float(row["date, time"][-2:]) / 60
            day = _day(row["date, time"], 2026)
            at = sun_position(*garden[:2], year=2026, day_of_year=day, clock_h=clock, utc_offset_h=garden[2])
            assert at.elevation == pytest.approx(float(row["elevation"]), abs=0.0035)
            assert at.apparent_elevation == pytest.approx(float(row["apparent"]), abs=0.0035)
            assert at.azimuth == pytest.approx(float(row["azimuth"]), abs=0.012)  # high in the sky azimuth runs fast
            shadow = shadow_length_m(1, at.elevation)
            assert shadow == pytest.approx(float(row["shadow of 1 m (m)"]), rel=0.003)
            if "shadow points to" in row:
                assert shadow_direction_deg(at.azimuth) == pytest.approx(float(row["shadow points to"]), abs=0.015)
            seen += 1
    assert seen == 15


def test_matches_the_southern_positions_of_the_page() -> None:
    # The same page, in its text: latitude -33.87, longitude 151.21, clock UTC+10.
    at = sun_position(-33.87, 151.21, year=2026, day_of_year=[15, 15, 172], clock_h=[12, 8, 12], utc_offset_h=10)
    np.testing.assert_allclose(at.elevation, [77.2376, 35.1433, 32.6855], atol=0.0035)
    np.testing.assert_allclose(at.azimuth, [4.6550, 93.4125, 359.1514], atol=0.012)
    assert shadow_length_m(1, at.elevation[2]) == pytest.approx(1.5585, abs=0.0003)
    assert shadow_direction_deg(at.azimuth[2]) == pytest.approx(179.15, abs=0.01)


def test_shadow_lengths_match_the_table(shared: Path) -> None:
    rows = table_with(shared / _PAGE, "height m", "length m")
    assert len(rows) == 8
    for row in rows:
        got = shadow_length_m(float(row["height m"]), float(row["elevation"]))
        assert got == pytest.approx(float(row["length m"]), abs=0.000051)


def test_the_lie_of_the_land_stretches_and_cuts_shadows() -> None:
    # height / (tan(elevation) + rise), by hand: tan 45° = 1.
    got = shadow_length_m(2, 45, rise=[0, 1, -0.5, -1, -1.5])
    assert got.tolist() == pytest.approx([2, 1, 4, np.inf, np.inf])
    assert np.isnan(shadow_length_m(2, [0, -3])).all()


def test_reach_is_the_length_turned_away_from_the_sun() -> None:
    north, east = shadow_reach_m(10, [180, 90, 225])
    np.testing.assert_allclose(north, [10, 0, 10 / np.sqrt(2)], atol=1e-12)
    np.testing.assert_allclose(east, [0, -10, 10 / np.sqrt(2)], atol=1e-12)


def test_a_level_surface_is_met_at_the_zenith_angle_and_a_wall_from_behind() -> None:
    assert incidence_deg(30, 123, slope_deg=0, facing_deg=0) == pytest.approx(60)
    assert incidence_deg(30, 180, slope_deg=60, facing_deg=180) == pytest.approx(0, abs=1e-6)
    assert incidence_deg(30, 180, slope_deg=90, facing_deg=0) == pytest.approx(150)


@given(st.floats(-60, 60), st.floats(-180, 180), st.integers(1950, 2099), st.integers(1, 365))
def test_the_sun_stands_at_the_rim_at_rise_and_set_and_is_highest_at_noon(
    latitude: float, longitude: float, year: int, day: int
) -> None:
    place = {"latitude_deg": latitude, "longitude_deg": longitude, "year": year, "day_of_year": day}
    ahead = round(longitude / 15)
    times = sun_times(**place, utc_offset_h=ahead)
    assert 3 < times.sunrise < times.noon < times.sunset < 22.5 or abs(latitude) > 55
    clock = np.clip([times.sunrise, times.sunset, times.noon, times.noon - 0.1, times.noon + 0.1], 0, 24)
    at = sun_position(**place, clock_h=clock, utc_offset_h=ahead)
    np.testing.assert_allclose(at.elevation[:2], -0.8333 - 8.794 / 3600, atol=0.001)
    assert at.elevation[2] >= at.elevation[3:].max() - 0.003
    assert times.day_length == pytest.approx(float(times.sunset - times.sunrise))
    assert times.day_length == pytest.approx(float(day_length_h(latitude, day)), abs=0.2)


def test_the_plain_day_length_errs_no_more_than_its_docstring_says() -> None:
    year, longitude = np.arange(1990, 2040, 3)[:, np.newaxis, np.newaxis], np.array([-170.0, 0, 170])[:, np.newaxis]
    days = np.arange(1, 366)
    for latitude, minutes in ((40, 5.3), (50, 7.4), (60, 10.7)):
        times = sun_times(latitude, longitude, year=year, day_of_year=days)
        assert 60 * np.abs(times.day_length - day_length_h(latitude, days)).max() < minutes


def test_polar_day_and_night_have_no_sunrise() -> None:
    got = sun_times([80, -80, 80], 0, year=2026, day_of_year=[172, 172, 355])
    assert got.day_length.tolist() == [24, 0, 24 - 24]
    assert np.isnan(got.sunrise).all()
    assert np.isnan(got.sunset).all()
    assert not np.isnan(got.noon).any()


def test_nan_passes_and_shapes_broadcast() -> None:
    at = sun_position(np.array([[40.0], [np.nan]]), 0, year=2026, day_of_year=172, clock_h=[6, 12, np.nan])
    for part in at:
        assert part.shape == (2, 3)
        assert np.isnan(part).tolist() == [[False, False, True], [True, True, True]]
    times = sun_times([40, np.nan, 80], 0, year=2026, day_of_year=172)
    assert np.isnan(times.day_length).tolist() == [False, True, False]


def test_refuses_years_its_calendar_does_not_hold_for() -> None:
    with pytest.raises(InputError, match="year: 2100 is outside 1950 to 2099"):
        sun_times(40, 0, year=2100, day_of_year=1)
