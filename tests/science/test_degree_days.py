import csv
import gzip
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from kailyard.science.checks import InputError
from kailyard.science.degree_days import (
    double_sine_degree_days,
    double_triangle_degree_days,
    fao_degree_days,
    held_degree_days,
    simple_degree_days,
    single_sine_degree_days,
    single_triangle_degree_days,
)

_TEMPS = st.floats(-30, 24)
_ALL = (
    simple_degree_days,
    held_degree_days,
    fao_degree_days,
    single_sine_degree_days,
    single_triangle_degree_days,
)
_CURVES = (single_sine_degree_days, single_triangle_degree_days)


def _celsius(text: str, unit: str) -> float:
    return (float(text) - 32) / 1.8 if unit == "F" else float(text)


def _got(row: dict[str, str]) -> float:
    unit = row["unit"]
    low, high, lower = (_celsius(row[k], unit) for k in ("tmin", "tmax", "lower"))
    upper = _celsius(row["upper"], unit) if row["upper"] else None
    method, scale = row["method"], 1.8 if unit == "F" else 1.0
    if method == "simple average" or "method 1" in method:
        return scale * float(simple_degree_days(low, high, lower_c=lower, upper_c=upper))
    if "method 2" in method:
        return scale * float(held_degree_days(low, high, lower_c=lower, upper_c=upper))
    cutoff = {"none": "horizontal", "intermediate_floor0": "floored"}.get(row["cutoff"], row["cutoff"])
    if method in ("single sine", "single triangle"):
        count = {"single sine": single_sine_degree_days, "single triangle": single_triangle_degree_days}[method]
        return scale * float(count(low, high, lower_c=lower, upper_c=upper, cutoff=cutoff))
    count = {"double sine": double_sine_degree_days, "double triangle": double_triangle_degree_days}[method]
    following = _celsius(row["tmin_next"], unit)
    return scale * float(count(low, high, following, lower_c=lower, upper_c=upper, cutoff=cutoff))


def test_matches_every_row(shared: Path) -> None:
    # McMaster and Wilhelm (1997), methods 1 and 2 (the two readings of the 86/50 rule); extension worked examples (Ohio
    # State, Iowa State, Wisconsin, whose column omits a closing -50 in print); sine and triangle integrals by numerical
    # integration; University of California degree-day record, Ojai 2016, printed to 0.01. Left out: the four running
    # totals of that record, whose year of extremes is not at hand.
    with (shared / "reference/water/degree-days.csv").open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    totals = [r["id"] for r in rows if not r["tmin"]]
    assert len(totals) == 4
    assert all(i.endswith("-total") for i in totals)
    misses = [
        (row["id"], got, row["expected"])
        for row in rows
        if row["tmin"] and abs((got := _got(row)) - float(row["expected"])) > float(row["tolerance"])
    ]
    assert misses == []
    assert len(rows) == 345


def test_matches_75_season_totals_of_the_fao_crop_model(shared: Path) -> None:
    # AquaCrop 6.1 (FAO 2018), printed season totals in whole °C d; start and end day both included.
    weather: dict[str, dict[str, np.ndarray]] = {}
    for site in ("brussels", "tunis"):
        with gzip.open(shared / f"data/weather/aquacrop_{site}_daily.csv.gz", "rt", encoding="utf-8") as file:
            rows = list(csv.DictReader(file))
        weather[site] = {k: np.array([float(r[k]) for r in rows]) for k in ("tmin_c", "tmax_c")}
        weather[site]["date"] = np.array([r["date"] for r in rows])
    with (shared / "data/checks/fao_aquacrop61_season_gdd.csv").open(encoding="utf-8", newline="") as file:
        seasons = list(csv.DictReader(file))
    assert len(seasons) == 75
    for season in seasons:
        at = weather[season["site"]]
        days = (at["date"] >= season["start"]) & (at["date"] <= season["end"])
        got = fao_degree_days(
            at["tmin_c"][days],
            at["tmax_c"][days],
            lower_c=float(season["tbase_c"]),
            upper_c=float(season["tupper_c"]),
        ).sum()
        assert got == pytest.approx(float(season["gdd_c"]), abs=0.5001), season


def test_the_mean_is_held_in_the_simple_way_and_each_extreme_in_the_held_way() -> None:
    # McMaster and Wilhelm (1997): 4 and 35 °C between 10 and 30 give 9.5 by method 1 and 10 by method 2.
    assert simple_degree_days(4, 35, lower_c=10, upper_c=30) == 9.5
    assert held_degree_days(4, 35, lower_c=10, upper_c=30) == 10.0


@given(_TEMPS, st.floats(0, 30), st.floats(0, 5), st.floats(0, 15), st.floats(1, 25))
def test_a_warmer_day_never_counts_less_below_a_level_cutoff(
    tmin_c: float, span: float, step: float, lower_c: float, width: float
) -> None:
    for count in _ALL:
        days = count(
            [tmin_c, tmin_c + step], [tmin_c + span, tmin_c + span + step], lower_c=lower_c, upper_c=lower_c + width
        )
        assert days[1] >= days[0] - 1e-9
        assert 0 - 1e-9 <= days[0] <= width + 1e-9


@given(_TEMPS, st.floats(0, 30), st.floats(0, 15), st.floats(1, 25))
def test_the_cutoffs_rank_as_their_definitions_do(tmin_c: float, span: float, lower_c: float, width: float) -> None:
    for curve in _CURVES:
        level, fall, floored, none = (
            float(curve(tmin_c, tmin_c + span, lower_c=lower_c, upper_c=lower_c + width, cutoff=cutoff))
            for cutoff in ("horizontal", "intermediate", "floored", "vertical")
        )
        assert level >= floored - 1e-9
        assert floored >= max(fall, none) - 1e-9
        assert none >= -1e-9


@given(_TEMPS, st.floats(0, 30), st.floats(0, 15), st.floats(1, 25))
def test_a_double_curve_with_the_same_minimum_is_the_single_one(
    tmin_c: float, span: float, lower_c: float, width: float
) -> None:
    low, high, limits = tmin_c, tmin_c + span, {"lower_c": lower_c, "upper_c": lower_c + width}
    for cutoff in ("horizontal", "intermediate", "floored", "vertical"):
        assert double_sine_degree_days(low, high, low, **limits, cutoff=cutoff) == pytest.approx(
            float(single_sine_degree_days(low, high, **limits, cutoff=cutoff)), abs=1e-12
        )
        assert double_triangle_degree_days(low, high, low, **limits, cutoff=cutoff) == pytest.approx(
            float(single_triangle_degree_days(low, high, **limits, cutoff=cutoff)), abs=1e-12
        )


def test_a_next_minimum_above_the_maximum_is_refused() -> None:
    with pytest.raises(InputError, match="tmin_next_c is above tmax_c"):
        double_sine_degree_days(5, 20, 21, lower_c=10)


def test_long_runs_are_worked_in_stretches_with_the_same_answer() -> None:
    # More values than one stretch holds, two axes spread only where they vary.
    rng = np.random.default_rng(7)
    low = rng.uniform(-10, 20, (400, 90))
    high = low + rng.uniform(0, 20, (400, 90))
    lower = np.linspace(0, 12, 90)
    whole = double_sine_degree_days(low, high, low, lower_c=lower, upper_c=30.0, cutoff="vertical")
    rows = [
        double_sine_degree_days(a, b, a, lower_c=lower, upper_c=30.0, cutoff="vertical")
        for a, b in zip(low, high, strict=True)
    ]
    np.testing.assert_array_equal(whole, rows)


@given(_TEMPS, st.floats(0, 30), st.floats(-10, 30))
def test_the_sine_agrees_with_adding_up_a_finely_cut_day(tmin_c: float, span: float, lower_c: float) -> None:
    # The definition itself: mean over the day of what lies above the threshold.
    angle = (np.arange(20000) + 0.5) / 20000 * 2 * np.pi
    temp = tmin_c + span / 2 + span / 2 * np.sin(angle)
    expected = np.maximum(temp - lower_c, 0).mean()
    assert single_sine_degree_days(tmin_c, tmin_c + span, lower_c=lower_c) == pytest.approx(expected, abs=1e-5)


@pytest.mark.parametrize("count", _ALL)
def test_nan_passes_shapes_broadcast_and_inputs_stay(count) -> None:  # type: ignore[no-untyped-def]
    low, high = np.array([[1.0], [np.nan]]), np.array([20.0, np.nan, 30.0])
    before = low.copy(), high.copy()
    got = count(low, high, lower_c=5, upper_c=25)
    assert got.shape == (2, 3)
    assert np.isnan(got).tolist() == [[False, True, False], [True, True, True]]
    np.testing.assert_array_equal(low, before[0])
    np.testing.assert_array_equal(high, before[1])


@pytest.mark.parametrize("count", _ALL)
def test_a_minimum_above_the_maximum_and_crossed_limits_are_refused(count) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(InputError, match="tmin_c is above tmax_c"):
        count([5, 12], [10, 10], lower_c=5, upper_c=25)
    with pytest.raises(InputError, match="lower_c is not below upper_c"):
        count(5, 10, lower_c=25, upper_c=25)


def test_a_cutoff_without_an_upper_threshold_is_refused() -> None:
    with pytest.raises(InputError, match=r"^cutoff: 'vertical' needs upper_c"):
        single_sine_degree_days(5, 20, lower_c=10, cutoff="vertical")
    with pytest.raises(InputError, match=r"^cutoff: 'steep' is none of horizontal, intermediate, floored, vertical"):
        single_sine_degree_days(5, 20, lower_c=10, upper_c=30, cutoff="steep")
