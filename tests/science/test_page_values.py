"""Values that the reference pages state in their text and in columns that no other test of this folder reads."""

import re
from pathlib import Path

import numpy as np
import pytest

from kailyard.science.air_moisture import dew_point_c, fitted_wet_bulb_c
from kailyard.science.cold_and_heat import KILLING_C, freeze_class, hardiness_zone, heat_zone
from kailyard.science.frost import freeze_mixture
from kailyard.science.hourly_temperature import SETTINGS, parton_logan_temp_c
from kailyard.science.humidity import saturation_vapour_pressure_kpa, vapour_pressure_from_humidity_kpa
from kailyard.science.radiation import fao_sun
from kailyard.science.season_signals import onion_class_bulbing
from kailyard.science.soil_temperature import damped_wave_soil_c
from kailyard.science.sun import day_length_h, fao_day_length_h
from kailyard.science.sun_position import sun_position, sun_times
from kailyard.science.wetness import wet_by_humidity, wet_by_tree
from tests.science.reading import csv_rows, table_with

_MOISTURE = "reference/water/psychrometrics-leafwetness.md"
_MODELS = "reference/water/temperature-models.md"


def _text(shared: Path, page: str) -> str:
    return " ".join((shared / page).read_text(encoding="utf-8").split())


def test_saturation_at_six_temperatures(shared: Path) -> None:
    # FAO-56 eq. 11 beside ASHRAE's equations (PsychroLib 2.5.0), kPa; below 0 °C the latter stands over ice.
    line = _text(shared, _MOISTURE).partition("Saturation pressure, PsychroLib against FAO-56, kPa: ")[2]
    pairs = re.findall(r"(-?\d+) degC (\d\.\d{4})(?: \(ice\))? / (\d\.\d{4})", line.partition("Pressure matters")[0])
    assert [int(p[0]) for p in pairs] == [0, 10, 20, 30, 40, -5]
    for temp, ashrae, fao in pairs:
        got = saturation_vapour_pressure_kpa(float(temp))
        assert got == pytest.approx(float(fao), abs=0.000051)
        if float(temp) >= 0:
            assert got == pytest.approx(float(ashrae), rel=0.0012)


def test_dew_points_over_water_lie_under_frost_points_as_told() -> None:
    # Page: 20 °C and 20 % differ by 0.40, 10 °C and 30 % by 0.74 °C (PsychroLib -3.209 and -6.010 over ice).
    dew = dew_point_c(vapour_pressure_from_humidity_kpa([20, 10], [20, 30]))
    np.testing.assert_allclose(np.array([-3.209, -6.010]) - dew, [0.40, 0.74], atol=0.0051)


def test_the_fitted_wet_bulb_gives_its_authors_example() -> None:
    # Stull (2011): 13.7 °C at 20 °C and 50 %.
    assert fitted_wet_bulb_c(20, 50) == pytest.approx(13.7, abs=0.05)


def test_the_two_rules_of_wetness_disagree_where_told() -> None:
    # 20 °C, 95 %, 3 m/s: wet by humidity, dry by the tree.
    assert wet_by_humidity(95) == 1
    assert wet_by_tree(20, 95, canopy_wind_m_s=3.0, depression_c=0.826) == 0


def test_the_fao_day_is_shorter_by_the_told_minutes() -> None:
    # 9 to 26 minutes from 30 to 60° on the four days of the table, in full to half a minute at either end.
    latitude, day = np.array([30, 40, 45, 50, 52, 55, 60])[:, np.newaxis], np.array([79, 172, 266, 355])
    short = 60 * (sun_times(latitude, 0, year=2026, day_of_year=day).day_length - fao_day_length_h(latitude, day))
    assert short.min() == pytest.approx(9, abs=0.51)
    assert short.max() == pytest.approx(26, abs=0.51)
    assert (day_length_h(latitude, day) > fao_day_length_h(latitude, day)).all()


def test_the_equation_of_time_and_the_declination_of_the_nrel_example(shared: Path) -> None:
    # Reda and Andreas (2004): noon by the clock is 12:00 less the equation of time (14.6415 min in the example, half an
    # hour later) and 4 min a degree from the zone's meridian; the declination is -9.316179°. FAO-56 eq. 24, a plain
    # sine, is 1.1° off on that day.
    rows = {r["quantity"]: r for r in table_with(shared / "reference/water/solar.md", "quantity", "published", "pvlib")}
    place = {"latitude_deg": 39.742476, "longitude_deg": -105.1786, "year": 2003, "day_of_year": 290}
    noon = 60 * float(sun_times(**place, utc_offset_h=-7).noon)
    told = float(rows["equation of time, minutes"]["pvlib"])
    assert 720 + 4 * (105.1786 - 105) - noon == pytest.approx(told, abs=0.015)
    highest = sun_position(**place, clock_h=noon / 60, utc_offset_h=-7)
    declination = float(rows["declination (topocentric)"]["published"])
    assert highest.elevation - (90 - 39.742476) == pytest.approx(declination, abs=0.02)
    assert np.rad2deg(fao_sun(39.742476, 290).declination) == pytest.approx(declination - 1.1, abs=0.02)


def test_the_noon_rule_of_thumb() -> None:
    # 90 - |latitude - declination| at the solstices: 73.44, 26.56 at 40°, 61.96, 15.08 at 51.4779°.
    for latitude, told in ((40.0, (73.44, 26.56)), (51.4779, (61.96, 15.08))):
        noon = sun_times(latitude, 0, year=2026, day_of_year=[172, 355]).noon
        got = sun_position(latitude, 0, year=2026, day_of_year=[172, 355], clock_h=noon).elevation
        np.testing.assert_allclose(got, told, atol=0.0055)


def test_the_settings_of_parton_and_logan_are_those_of_the_page(shared: Path) -> None:
    rows = table_with(shared / _MODELS, "setting", "a", "b", "g")
    names = ("screen", "denver 1.5 m", "denver 0.1 m", "denver surface", "denver soil 0.1 m")
    assert len(rows) == len(SETTINGS) == 5
    for name, row in zip(names, rows, strict=True):
        assert SETTINGS[name] == tuple(float(row[k]) for k in "abg"), name


def test_the_night_of_parton_and_logan_ends_above_the_minimum_as_told() -> None:
    # Tx 30, Tn 10, sun 6 to 18: 11.60 (Wann) and 11.53 (Denver) at the time of the minimum, 10 just after it.
    case = {"tmin_c": 10, "tmax_c": 30, "sunrise_h": 6, "sunset_h": 18}
    for setting, told in (("screen", 11.60), ("denver 1.5 m", 11.53)):
        lag = SETTINGS[setting][1]
        assert parton_logan_temp_c(6 + lag, **case, setting=setting) == pytest.approx(told, abs=0.0051)
        assert parton_logan_temp_c(6 + lag + 1e-6, **case, setting=setting) == pytest.approx(10, abs=0.001)


def test_depth_and_delay_of_the_damped_wave_match_the_table(shared: Path) -> None:
    # Heat conduction in a uniform half space, four diffusivities. At the damping depth e⁻¹ of the swing is left.
    rows = table_with(shared / _MODELS, "diffusivity k, m2/s", "d daily, m")
    assert len(rows) == 4
    for row in rows:
        k = float(row["diffusivity k, m2/s"])

        def wave(at: object, depth_m: float, period: float, k: float = k) -> np.ndarray:
            return damped_wave_soil_c(
                at, depth_m=depth_m, mean_c=0, amplitude_c=1, peak_day=0, diffusivity_m2_s=k, period_days=period
            )

        for column, period in (("d daily, m", 1.0), ("d yearly, m", 365.25)):
            digits = len(row[column].partition(".")[2])
            d = float(row[column])
            left = wave(np.linspace(0, period, 100_001), d, period).max()
            # To half the last printed digit of d: the share left is exp(-d/true d).
            assert -d / np.log(left) == pytest.approx(d, abs=0.51 * 10.0**-digits)
        days = np.linspace(0, 100, 100_001)
        told = [float(x) for x in row["lag of the yearly wave at 0.5 / 1.0 m, days"].split(" / ")]
        for depth_m, lag in zip((0.5, 1.0), told, strict=True):
            assert days[wave(days, depth_m, 365.25).argmax()] == pytest.approx(lag, abs=0.0061)


def test_the_mean_of_the_worked_freeze_series_by_both_divisors() -> None:
    # frost.md: s = 6.928203 with n - 1; 6.480741 with n, which is not the one used.
    sd = freeze_mixture([118, 125, 110, 131, 122, 115, 128, 119, np.nan, np.nan]).sd_days
    assert sd == pytest.approx(6.928203, abs=5e-7)
    assert sd * np.sqrt(7 / 8) == pytest.approx(6.480741, abs=5e-7)


def test_the_formula_of_the_half_zones(shared: Path) -> None:
    # floor((T + 60) / 5) in °F, held to 1a and 13b; full zones are 10 °F wide (5.6 °C), halves 5 (2.8 °C).
    facts = {r["item"]: r for r in csv_rows(shared / "reference/climate/usda_zone_facts.csv")}
    assert facts["formula"]["value"].startswith("half-zone index = floor((T_F + 60)/5)")
    fahrenheit = np.arange(-70, 80, 0.37)
    got = hardiness_zone((fahrenheit - 32) / 1.8)
    np.testing.assert_array_equal(got, np.clip(np.floor((fahrenheit + 60) / 5), 0, 25))
    assert float(facts["full zone width"]["value"]) == 2 * float(facts["half zone width"]["value"]) == 10
    heat = {r["item"]: r for r in csv_rows(shared / "reference/climate/ahs_heat_zone_facts.csv")}
    assert heat["formula"]["note"] == "below 1 is zone 1; exactly 7 is zone 2; 7.5 is zone 3"
    assert heat_zone([0.99, 7, 7.5]).tolist() == [1, 2, 3]


def test_every_freeze_bound_in_both_scales_and_what_the_warnings_mean(shared: Path) -> None:
    rows = csv_rows(shared / "reference/climate/frost_classes.csv")
    assert len(rows) == 16
    for row in rows:
        for side in ("low", "high"):
            if row[f"{side}_F"]:
                celsius = (float(row[f"{side}_F"]) - 32) / 1.8
                assert celsius == pytest.approx(float(row[f"{side}_C"]), abs=0.051), row["term"]
    by_name = {r["term"]: r for r in rows}

    def classes(term: str) -> list[float]:
        bounds = [float(by_name[term][k]) for k in ("low_F", "high_F") if by_name[term][k]]
        return freeze_class([(f - 32) / 1.8 for f in bounds]).tolist()

    assert classes("frost advisory") == [0, 0]  # shelter air above freezing
    assert classes("freeze warning") == classes("light freeze") == [1, 1]
    assert classes("hard freeze warning") == [2]
    assert freeze_class(KILLING_C) == 2
    assert classes("freeze (AMS)") == classes("freeze (NWS)") == [1]
    assert classes("growing-season end or start") == [1, 1]
    assert classes("jointed wheat harm") == [3]


def test_the_trade_lists_of_onions_run_an_hour_lower(shared: Path) -> None:
    # Common practice: short-day from 10 h, intermediate from 12, long-day from 14. Those of Oregon are the ones used.
    rows = [r for r in csv_rows(shared / "reference/climate/onion_daylength.csv") if r["status"] == "common practice"]
    trade = {r["class_or_cultivar"]: float(r["low_h"]) for r in rows if r["high_h"] and r["low_h"] != r["high_h"]}
    assert trade == {"short-day": 10, "intermediate": 12, "long-day": 14}
    assert onion_class_bulbing([trade[k] for k in ("short-day", "intermediate", "long-day")]).tolist() == [0, 1, 3]
    assert onion_class_bulbing([trade[k] + 1 for k in ("short-day", "intermediate")]).tolist() == [1, 2]
