from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from kailyard.science.checks import InputError
from kailyard.science.hourly_temperature import hours_of_days_c, linvill_temp_c, parton_logan_temp_c
from kailyard.science.sun import day_length_h
from tests.science.reading import tables

_A = {"tmin_c": 5, "tmax_c": 20, "tmin_next_c": 6, "sunrise_h": 6, "sunset_h": 18, "sunrise_next_h": 30}
_B = {"tmin_c": 10, "tmax_c": 30, "tmin_next_c": 12, "sunrise_h": 4.5, "sunset_h": 19.5, "sunrise_next_h": 28.52}


def test_matches_every_tabled_hour_of_linvill(shared: Path) -> None:
    # Linvill (1990) in the form of an open library, worked out apart from this code; both forms of the night.
    found = [t for t in tables(shared / "reference/water/temperature-models.md") if set(t[0]) & {"hour"}]
    wide = [t for t in found if "20" in t[0] or "8" in t[0] or "20.5" in t[0]]
    seen = 0
    for rows, case in zip(wide[:4], (_A, _A, _B, _B), strict=True):
        for row in rows:
            night = "an hour after sunset" if row["hour"].endswith("ln(t)") else "from sunset"
            for hour, printed in row.items():
                if hour != "hour":
                    got = linvill_temp_c(float(hour), **case, night=night)
                    assert got == pytest.approx(float(printed), abs=0.000051), (row["hour"], hour)
                    seen += 1
    assert seen == 31


def test_the_mean_of_the_curve_is_the_tabled_one_and_not_that_of_the_extremes() -> None:
    # temperature-models.md, by numerical integration from sunrise to sunrise: 12.4063 and 21.0082.
    for case, printed in ((_A, 12.4063), (_B, 21.0082)):
        span = case["sunrise_next_h"] - case["sunrise_h"]
        h = case["sunrise_h"] + span * (np.arange(200_000) + 0.5) / 200_000
        assert linvill_temp_c(h, **case).mean() == pytest.approx(printed, abs=0.00006)


def test_matches_every_tabled_hour_of_parton_and_logan(shared: Path) -> None:
    # Tx 30, Tn 10, sun 6 to 18. Published test values of an open library (three hours), and both sets worked out apart.
    rows = next(t for t in tables(shared / "reference/water/temperature-models.md") if "published test value" in t[0])
    assert len(rows) == 8
    for row in rows:
        hour = float(row["Tx 30, Tn 10, sr 6, ss 18; hour"])
        case = {"tmin_c": 10, "tmax_c": 30, "sunrise_h": 6, "sunset_h": 18}
        screen = parton_logan_temp_c(hour, **case)
        if row["published test value"] != "-":
            assert screen == pytest.approx(float(row["published test value"]), abs=0.0000051)
        assert screen == pytest.approx(float(row["own, Wann set"]), abs=0.000051)
        denver = parton_logan_temp_c(hour, **case, setting="denver 1.5 m")
        assert denver == pytest.approx(float(row["own, Denver 1.5 m set"]), abs=0.000051)


@given(st.floats(-20, 20), st.floats(0, 20), st.floats(-5, 5), st.floats(20, 55), st.integers(1, 365))
def test_linvill_meets_minimum_maximum_and_next_minimum(
    tmin_c: float, swing: float, change: float, latitude: float, day: int
) -> None:
    length = float(day_length_h(latitude, day))
    rise = 12 - length / 2
    case = {
        "tmin_c": tmin_c,
        "tmax_c": tmin_c + swing,
        "tmin_next_c": min(tmin_c + change, tmin_c + swing),
        "sunrise_h": rise,
        "sunset_h": rise + length,
        "sunrise_next_h": rise + 24,
    }
    ends = linvill_temp_c([rise, rise + length / 2 + 2, rise + 24], **case)
    np.testing.assert_allclose(ends, [case["tmin_c"], case["tmax_c"], case["tmin_next_c"]], atol=1e-9)
    course = linvill_temp_c(np.linspace(rise, rise + 24, 97), **case)
    assert course.max() <= case["tmax_c"] + 1e-9
    assert np.isnan(linvill_temp_c([rise - 0.1, rise + 24.1], **case)).all()


def test_a_run_of_days_is_stitched_at_sunrise_and_never_jumps() -> None:
    low, high = np.array([5.0, 7, 2, 9]), np.array([18.0, 20, 14, 22])
    got = hours_of_days_c(low, high, latitude_deg=45, day_of_year=[120, 121, 122, 123])
    assert got.shape == (96,)
    by_day = got.reshape(4, 24)
    # Each day's hours lie within its extremes and those of the night after; dawn and 14 h come near to them.
    np.testing.assert_allclose(by_day.max(axis=1), high, atol=0.2)
    np.testing.assert_allclose(by_day[1:, 4:7].min(axis=1), low[1:], atol=0.4)
    assert np.abs(np.diff(got)).max() < 4
    # One hour by hand: day two at 22 h, between that day's sunset and the third day's minimum.
    length = float(day_length_h(45, 121))
    rise, again = 12 - length / 2, 36 - float(day_length_h(45, 122)) / 2
    by_hand = linvill_temp_c(
        22, tmin_c=7, tmax_c=20, tmin_next_c=2, sunrise_h=rise, sunset_h=rise + length, sunrise_next_h=again
    )
    assert by_day[1, 22] == pytest.approx(float(by_hand), abs=1e-9)


def test_gaps_stay_gaps_and_many_sites_go_at_once() -> None:
    low = np.array([[5.0, np.nan, 2, 9], [1, 2, 3, 4]])
    got = hours_of_days_c(low, low + 10, latitude_deg=45, day_of_year=[120, 121, 122, 123])
    assert got.shape == (2, 96)
    assert np.isnan(got[0]).any()
    assert not np.isnan(got[1]).any()
    assert not np.isnan(got[0, 56:]).any()
    assert np.isnan(parton_logan_temp_c(np.nan, tmin_c=1, tmax_c=2, sunrise_h=6, sunset_h=18))


def test_what_the_curves_cannot_do_is_refused() -> None:
    with pytest.raises(InputError, match="the sun hardly rises or sets"):
        hours_of_days_c([1, 2], [5, 6], latitude_deg=75, day_of_year=[172, 173])
    with pytest.raises(InputError, match="sunrise_h is not below sunset_h"):
        parton_logan_temp_c(12, tmin_c=1, tmax_c=2, sunrise_h=18, sunset_h=6)
    with pytest.raises(InputError, match="a run of days is needed"):
        hours_of_days_c(1, 5, latitude_deg=45, day_of_year=120)
