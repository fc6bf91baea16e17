"""Laws, and whole years of an American weather station; the printed examples are met in test_fao56_examples.py."""

import csv
import gzip
from datetime import date
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from kailyard.science.checks import InputError
from kailyard.science.evapotranspiration import (
    asce_reference_et_mm,
    fao_reference_et_mm,
    hargreaves_et_mm,
    wind_at_2m_m_s,
)
from kailyard.science.hourly_evapotranspiration import (
    asce_hourly_reference_et_mm,
    clear_share_through_night,
    fao_hourly_reference_et_mm,
)
from kailyard.science.humidity import saturation_vapour_pressure_kpa, vapour_pressure_from_dew_point_kpa
from kailyard.science.radiation import hourly_extraterrestrial_radiation_mj_m2
from kailyard.science.sun_position import sun_position

_JULY = {
    "vapour_pressure_kpa": 1.4,
    "radiation_mj_m2": 22.0,
    "wind_2m_m_s": 2.0,
    "latitude_deg": 50.8,
    "day_of_year": 187,
    "elevation_m": 100,
}
_HOUR = {"vapour_pressure_kpa": 1.4, "radiation_mj_m2": 2.0, "wind_2m_m_s": 2.0, "clear_share": 0.7, "elevation_m": 100}
_FALLON = {"latitude_deg": 39.4575, "elevation_m": 1208.5}


def _c(fahrenheit: np.ndarray) -> np.ndarray:
    return (fahrenheit - 32) / 1.8


def _columns(path: Path) -> dict[str, np.ndarray]:
    opener = gzip.open if path.suffix == ".gz" else open
    with opener(path, "rt", encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    return {
        k: np.array([r[k] if k == "date" else float(r[k] or "nan") for r in rows], dtype=None if k == "date" else float)
        for k in rows[0]
    }


def _day_numbers(days: np.ndarray) -> np.ndarray:
    return np.array([date.fromisoformat(str(d)).timetuple().tm_yday for d in days], dtype=float)


def test_a_year_at_fallon_by_the_day(shared: Path) -> None:
    # AgriMet FALN, Nevada, 2015: University of Idaho reference-ET calculator 4.1, has the fuller clear sky, prints
    # 0.01 mm. Its year sums: 1311 mm (short), 1754 mm (tall); the agency's own 1322 and 1758 mm.
    at = _columns(shared / "data/weather/agrimet_FALN_daily_2015.csv")
    given_here = {
        "vapour_pressure_kpa": vapour_pressure_from_dew_point_kpa(_c(at["tdew_f"])),
        "radiation_mj_m2": at["rad_langley"] * 0.041868,
        "wind_2m_m_s": wind_at_2m_m_s(at["wind3m_mph"] * 0.44704, 3),
        "day_of_year": _day_numbers(at["date"]),
        **_FALLON,
    }
    low, high = _c(at["tmin_f"]), _c(at["tmax_f"])
    for reference, column, agency, year_mm in (
        ("short", "refet_eto_mm", "agrimet_etos_in", 1311),
        ("tall", "refet_etr_mm", "agrimet_etrs_in", 1754),
    ):
        humid = asce_reference_et_mm(low, high, **given_here, reference=reference, clear_sky="humid")
        plain = asce_reference_et_mm(low, high, **given_here, reference=reference)
        known = ~np.isnan(humid) & ~np.isnan(at[column])
        assert known.sum() == 364  # the wind of one day is missing
        gap = (humid - at[column])[known]
        assert np.abs(gap).max() < 0.05
        assert np.sqrt(np.mean(gap**2)) < 0.0075
        assert humid[known].sum() == pytest.approx(year_mm, abs=4)
        rough = (plain - at[column])[known]
        assert np.abs(rough).max() < 0.16
        assert np.sqrt(np.mean(rough**2)) < 0.06
        assert (at[agency] * 25.4)[known].sum() == pytest.approx(humid[known].sum(), rel=0.012)


def test_a_year_at_fallon_by_the_hour(shared: Path) -> None:
    # The same station and calculator by the hour, run with clock UTC-8 all year although the clock has summer time, so
    # the last is left as it is. Year sums of the calculator: 1380 (short) and 1744 mm (tall).
    at = _columns(shared / "data/weather/agrimet_FALN_hourly_2015.csv.gz")
    ea = vapour_pressure_from_dew_point_kpa(_c(at["tdew_f"]))
    Rs = at["rad_langley_h"] * 0.041868
    day = _day_numbers(at["date"])
    clock = np.maximum(at["hour"] - 0.5, 0)
    place = (_FALLON["latitude_deg"], -118.77388)
    Ra = hourly_extraterrestrial_radiation_mj_m2(*place, day, clock_h=clock, utc_offset_h=-8)
    sun = sun_position(*place, year=2015, day_of_year=day, clock_h=clock, utc_offset_h=-8)
    Rso = (0.75 + 2e-5 * _FALLON["elevation_m"]) * Ra
    share = clear_share_through_night(Rs, Rso, sun_elevation_deg=sun.elevation)
    hours = {
        "vapour_pressure_kpa": ea,
        "radiation_mj_m2": Rs,
        "wind_2m_m_s": wind_at_2m_m_s(at["wind3m_mph"] * 0.44704, 3),
        "clear_share": share,
        "elevation_m": _FALLON["elevation_m"],
    }
    for reference, column, year_mm in (("short", "refet_eto_mm", 1380), ("tall", "refet_etr_mm", 1744)):
        got = asce_hourly_reference_et_mm(_c(at["t_f"]), **hours, reference=reference)
        known = ~np.isnan(got) & ~np.isnan(at[column])
        assert known.sum() == 8758
        gap = (got - at[column])[known]
        assert np.sqrt(np.mean(gap**2)) < 0.0125
        assert got[known].sum() == pytest.approx(year_mm, rel=0.007)


@given(st.floats(-5, 25), st.floats(1, 15), st.floats(0.1, 5))
def test_drier_windier_and_sunnier_days_take_more(tmin_c: float, swing: float, step: float) -> None:
    tmax_c = tmin_c + swing
    dry_air = float(saturation_vapour_pressure_kpa(tmin_c)) * 0.8

    def et(**change: float) -> float:
        return float(fao_reference_et_mm(tmin_c, tmax_c, **{**_JULY, "vapour_pressure_kpa": dry_air, **change}))

    assert et(vapour_pressure_kpa=dry_air * 0.7) > et()
    assert et(radiation_mj_m2=min(22 + step, 30)) > et()
    # Wind dries where the air is dry enough for it; over a damp, sunny sward it may cool more than it dries.
    tall, short = (
        float(asce_reference_et_mm(tmin_c, tmax_c, **{**_JULY, "vapour_pressure_kpa": dry_air}, reference=r))
        for r in ("tall", "short")
    )
    assert tall > short - 0.2
    assert short == pytest.approx(et(), abs=0.01)  # the same equation but for the fourth digit of one constant


@given(st.floats(-15, 25), st.floats(0.5, 15), st.floats(0.1, 3))
def test_a_wider_swing_takes_more_by_hargreaves(tmin_c: float, swing: float, step: float) -> None:
    place = {"latitude_deg": 45, "day_of_year": 180}
    less, more = hargreaves_et_mm(tmin_c, [tmin_c + swing, tmin_c + swing + step], **place)
    assert 0 < less < more


def test_the_clear_share_waits_for_a_high_sun_and_holds_through_the_night() -> None:
    got = clear_share_through_night(
        [0.0, 0.1, 1.2, 2.9, 0.2, 0.0, np.nan],
        [0.0, 0.3, 1.6, 3.0, 0.5, 0.0, 0.0],
        sun_elevation_deg=[-10, 8, 30, 50, 9, -5, -20],
        before_first=0.6,
    )
    np.testing.assert_allclose(got, [0.6, 0.6, 0.75, 2.9 / 3, 2.9 / 3, 2.9 / 3, 2.9 / 3])
    with pytest.raises(InputError, match="a run of hours is needed"):
        clear_share_through_night(1.0, 1.5, sun_elevation_deg=30)


def test_the_american_hour_differs_from_the_fao_hour_as_documented() -> None:
    # FAO-56, Example 19, 14-15 h: 0.63 mm with 0.34 at every hour, 0.656 mm in the ASCE form with 0.24 by day.
    hour = {
        "vapour_pressure_kpa": 3.445,
        "radiation_mj_m2": 2.45,
        "wind_2m_m_s": 3.3,
        "clear_share": 0.922,
        "elevation_m": 8,
    }
    assert fao_hourly_reference_et_mm(38, **hour) == pytest.approx(0.63, abs=0.005)
    assert asce_hourly_reference_et_mm(38, **hour) == pytest.approx(0.656, abs=0.0005)


def test_polar_night_and_missing_days_make_no_fault() -> None:
    got = fao_reference_et_mm(-20, -10, **{**_JULY, "latitude_deg": 80, "day_of_year": 355, "radiation_mj_m2": 0.0})
    assert np.isfinite(got)
    gap = fao_reference_et_mm([5, np.nan], 20, **{**_JULY, "wind_2m_m_s": np.array([[2.0], [np.nan]])})
    assert np.isnan(gap).tolist() == [[False, True], [True, True]]
    assert np.isnan(fao_hourly_reference_et_mm([5, np.nan], **_HOUR)).tolist() == [False, True]


def test_long_runs_are_worked_in_stretches_with_the_same_answer_and_inputs_stay() -> None:
    rng = np.random.default_rng(3)
    low = rng.uniform(-5, 15, (3, 365, 40))
    high = low + rng.uniform(0, 15, low.shape)
    kept = low.copy(), high.copy()
    place = {"latitude_deg": np.linspace(30, 60, 40), "elevation_m": np.linspace(0, 900, 40)}
    days = np.arange(1, 366.0)[:, np.newaxis]
    weather = {"vapour_pressure_kpa": 1.0, "radiation_mj_m2": 15.0, "wind_2m_m_s": 2.0}
    whole = fao_reference_et_mm(low, high, **weather, **place, day_of_year=days)
    for i in range(3):
        part = fao_reference_et_mm(low[i], high[i], **weather, **place, day_of_year=days)
        np.testing.assert_array_equal(whole[i], part)
    np.testing.assert_array_equal(low, kept[0])
    np.testing.assert_array_equal(high, kept[1])
