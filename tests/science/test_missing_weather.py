import csv
import gzip
from datetime import date
from pathlib import Path

import numpy as np
import pytest

from kailyard.science.checks import InputError
from kailyard.science.evapotranspiration import wind_at_2m_m_s
from kailyard.science.humidity import (
    vapour_pressure_from_dew_point_kpa,
    vapour_pressure_from_extremes_kpa,
    vapour_pressure_from_humidity_kpa,
    vapour_pressure_from_mean_humidity_kpa,
)
from kailyard.science.missing_weather import WAYS, reference_et_of_days, vapour_pressure_of_days

_LYON = {"latitude_deg": 45.7167, "day_of_year": 196, "elevation_m": 200}


def test_lyon_without_humidity_radiation_and_wind() -> None:
    # FAO-56, Example 20: 4.56 mm; with 1 and 3 m/s of wind 4.2 and 4.8.
    got = reference_et_of_days(14.8, 26.6, **_LYON)
    assert got.et_mm == pytest.approx(4.56, abs=0.005)
    assert got.humidity_estimated
    assert got.radiation_estimated
    assert got.wind_estimated
    windy = reference_et_of_days(14.8, 26.6, **_LYON, wind_2m_m_s=[1, 3, np.nan])
    np.testing.assert_allclose(windy.et_mm, [4.2, 4.8, 4.56], atol=0.05)
    assert windy.wind_estimated.tolist() == [False, False, True]


def test_brussels_with_sunshine() -> None:
    # FAO-56, Example 18: 3.88 mm from highest and lowest humidity, sunshine and wind at 10 m.
    vapour = vapour_pressure_of_days(12.3, 21.5, humidity_max_pct=84, humidity_min_pct=63)
    assert WAYS[int(vapour.way)] == "highest and lowest humidity"
    got = reference_et_of_days(
        12.3,
        21.5,
        latitude_deg=50.8,
        day_of_year=187,
        elevation_m=100,
        vapour_pressure_kpa=vapour.vapour_pressure_kpa,
        sunshine_h=9.25,
        wind_2m_m_s=wind_at_2m_m_s(10 / 3.6, 10),
    )
    assert got.et_mm == pytest.approx(3.88, abs=0.005)
    assert not any((got.humidity_estimated, got.radiation_estimated, got.wind_estimated))


def test_the_best_humidity_of_each_day_is_taken() -> None:
    # FAO-56, p. 36-39: dew point, both extremes, the highest alone, the mean.
    low, high, n = 12.0, 24.0, np.nan
    got = vapour_pressure_of_days(
        low,
        high,
        dew_point_c=[10, n, n, n, n],
        humidity_max_pct=[90, 90, 90, n, n],
        humidity_min_pct=[45, 45, n, 45, n],
        humidity_mean_pct=[70, 70, 70, 70, n],
    )
    assert got.way.tolist() == [0, 1, 2, 3, 4]
    np.testing.assert_allclose(
        got.vapour_pressure_kpa,
        [
            vapour_pressure_from_dew_point_kpa(10),
            vapour_pressure_from_extremes_kpa(low, high, humidity_max_pct=90, humidity_min_pct=45),
            vapour_pressure_from_humidity_kpa(low, 90),
            vapour_pressure_from_mean_humidity_kpa(low, high, humidity_mean_pct=70),
            n,
        ],
    )
    assert vapour_pressure_of_days([1, 2], 5).way.tolist() == [4, 4]


def test_estimated_sun_is_never_brighter_than_a_clear_sky_and_dry_country_takes_more() -> None:
    wide = reference_et_of_days(0, 38, **_LYON)
    clear = (0.75 + 2e-5 * 200) * 40.554773
    capped = reference_et_of_days(0, 38, **_LYON, radiation_mj_m2=clear)
    assert wide.et_mm == pytest.approx(float(capped.et_mm), abs=1e-5)
    assert (
        reference_et_of_days(14.8, 26.6, **_LYON, dryness_c=3).et_mm > reference_et_of_days(14.8, 26.6, **_LYON).et_mm
    )
    assert reference_et_of_days(14.8, 26.6, **_LYON, coastal=True).et_mm > 4.6


def test_forty_years_at_de_bilt_estimates_against_the_full_weather(shared: Path) -> None:
    # KNMI 260, 1980-2019: what is lost where radiation, humidity or wind must be estimated. Errors printed in
    # docs/validation.md; the station's own Makkink evaporation, another formula, must rise and fall with it.
    with gzip.open(shared / "data/weather/knmi_260_de_bilt_1980_2019.csv.gz", "rt", encoding="utf-8") as file:
        rows = list(csv.DictReader(file))
    at = {
        k: np.array([float(r[k] or "nan") for r in rows])
        for k in ("tmin_c", "tmax_c", "sun_h", "rad_mj_m2", "wind10_ms", "rh_max", "rh_min", "makkink_mm")
    }
    J = np.array([date.fromisoformat(r["date"]).timetuple().tm_yday for r in rows], dtype=float)
    place = {"latitude_deg": 52.1, "day_of_year": J, "elevation_m": 1.9}
    low, high = at["tmin_c"], at["tmax_c"]
    ea = vapour_pressure_of_days(low, high, humidity_max_pct=at["rh_max"], humidity_min_pct=at["rh_min"])
    full = {
        "vapour_pressure_kpa": ea.vapour_pressure_kpa,
        "radiation_mj_m2": at["rad_mj_m2"],
        "wind_2m_m_s": wind_at_2m_m_s(at["wind10_ms"], 10),
    }
    whole = reference_et_of_days(low, high, **place, **full)
    assert not np.isnan(whole.et_mm).any()
    assert np.corrcoef(whole.et_mm, at["makkink_mm"])[0, 1] > 0.94

    def rmse(**without: None) -> float:
        other = reference_et_of_days(low, high, **place, **{**full, **without})
        return float(np.sqrt(np.mean((other.et_mm - whole.et_mm) ** 2)))

    # The table of docs/validation.md, which these numbers keep up to date; the station's weather is the outside.
    errors = {
        "wind": rmse(wind_2m_m_s=None),
        "humidity": rmse(vapour_pressure_kpa=None),
        "radiation": rmse(radiation_mj_m2=None),
        "all": rmse(wind_2m_m_s=None, vapour_pressure_kpa=None, radiation_mj_m2=None),
    }
    assert errors == pytest.approx({"wind": 0.211, "humidity": 0.265, "radiation": 0.296, "all": 0.507}, abs=0.001)


def test_the_rules_of_range_hold_here_too() -> None:
    with pytest.raises(InputError, match="dryness_c: 9 is outside 0 to 5"):
        reference_et_of_days(5, 15, **_LYON, dryness_c=9)
    with pytest.raises(InputError, match="tmin_c is above tmax_c"):
        vapour_pressure_of_days(15, 5)
    unknown = reference_et_of_days([np.nan, 5], 15, **_LYON)
    assert np.isnan(unknown.et_mm).tolist() == [True, False]
    assert unknown.wind_estimated.tolist() == [False, True]
