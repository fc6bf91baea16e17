import csv
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from kailyard.science.checks import InputError
from kailyard.science.development import RESPONSES, effective_degrees, max_foldback_degrees, requirement_from_days

_CARDINAL = {"base_c": 7, "opt_low_c": 22, "opt_high_c": 28, "ceiling_c": 48}


def _degrees(tmean_c: object, response: str, **changes: object) -> np.ndarray:
    high = {"opt_high_c": None} if response == "beta" else {}
    return effective_degrees(tmean_c, response=response, **{**_CARDINAL, **high, **changes})


# Worked by hand from the definitions.
@pytest.mark.parametrize(
    ("response", "temps_c", "by_hand"),
    [
        ("linear", [0, 7, 17, 30, 50], [0, 0, 10, 23, 43]),
        ("capped", [0, 7, 17, 30, 50], [0, 0, 10, 15, 15]),
        # Falls from 15 at 28 °C to nothing at 48: three quarters of a degree lost a degree.
        ("trapezoid", [0, 17, 22, 25, 28, 32, 40, 48, 50], [0, 10, 15, 15, 15, 12, 6, 0, 0]),
    ],
)
def test_the_straight_responses_follow_their_definition(response: str, temps_c: list, by_hand: list) -> None:
    np.testing.assert_allclose(_degrees(temps_c, response), by_hand, atol=1e-12)


def test_beta_matches_yan_and_hunt_by_hand() -> None:
    # Yan and Hunt (1999): r/Rmax = ((Tmax - T)/(Tmax - Topt)) (T/Topt)^(Topt/(Tmax - Topt)), base 0 °C. With optimum 30
    # and ceiling 40 the exponent is 3: at 15 °C 2.5 x 1/8, at 20 °C 2 x 8/27, at 35 °C 1/2 x (7/6)^3.
    got = effective_degrees([0, 15, 20, 30, 35, 40], response="beta", base_c=0, opt_low_c=30, ceiling_c=40)
    np.testing.assert_allclose(got / 30, [0, 2.5 / 8, 16 / 27, 1, 0.5 * (7 / 6) ** 3, 0], atol=1e-12)


def test_beta_equals_the_beta_function_of_the_same_cardinal_temperatures() -> None:
    # Yin, Kropff, McLaren and Visperas (1995), Agric. For. Meteorol. 77:1-16 (from memory): (T - Tb)^a (Tc - T)^b with
    # the optimum at (a Tc + b Tb)/(a + b). Yan and Hunt's curve is the case b = 1, scaled by its own greatest value.
    base, ceiling, alpha = 4.0, 36.0, 1.6
    optimum = (alpha * ceiling + base) / (alpha + 1)
    t = np.linspace(base, ceiling, 301)
    curve = (t - base) ** alpha * (ceiling - t)
    greatest = (optimum - base) ** alpha * (ceiling - optimum)
    got = effective_degrees(t, response="beta", base_c=base, opt_low_c=optimum, ceiling_c=ceiling)
    np.testing.assert_allclose(got / (optimum - base), curve / greatest, atol=1e-9)


def test_foldback_matches_the_printed_cucumber_rule() -> None:
    # Perry and Wehner (1996): maximum less 15.5 °C; a maximum over 32 °C counts as 32 less the excess.
    got = max_foldback_degrees([10, 15.5, 20, 32, 34, 48.5, 55], base_c=15.5, turn_c=32)
    np.testing.assert_allclose(got, [0, 0, 4.5, 16.5, 14.5, 0, 0], atol=1e-12)


@pytest.mark.parametrize(
    ("crop", "days", "base_c", "opt_low_c", "opt_high_c", "ceiling_c", "tabled"),
    [
        ("tomato", 24.4, 7, 22, 28, 48, 366),
        ("tomato", 31.0, 7, 22, 28, 48, 465),
        ("pepper", 22, 5.5, 21, 28, 55, 341),
        ("pepper", 37, 5.5, 21, 28, 55, 574),
        ("snap bean", 21, 5, 24, 31, 44, 399),
    ],
)
def test_photothermal_days_at_the_optimum_become_the_tabled_sum(
    crop: str, days: float, base_c: float, opt_low_c: float, opt_high_c: float, ceiling_c: float, tabled: float
) -> None:
    # DSSAT species and cultivar files (TMGRO048, PRGRO048, GBGRO048; EM-FL): sum = days x (optimum - base), to 1 °C d.
    got = requirement_from_days(
        days,
        reference_mean_c=25,
        response="trapezoid",
        base_c=base_c,
        opt_low_c=opt_low_c,
        opt_high_c=opt_high_c,
        ceiling_c=ceiling_c,
    )
    assert got == pytest.approx(tabled, abs=0.5001)


def _development(shared: Path) -> list[dict[str, str]]:
    with (shared / "reference/crops/development.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def _response(row: dict[str, str]) -> dict[str, object]:
    names = ("base_c", "opt_low_c", "opt_high_c", "ceiling_c")
    return {"response": row["response"], **{n: float(row[n]) if row[n] else None for n in names}}


def _emergence_table(shared: Path) -> list[tuple[str, int, float, float, float]]:
    """crop, soil temperature, printed days, first and last day by base and sum."""
    with (shared / "reference/crops/establishment.csv").open(encoding="utf-8", newline="") as file:
        printed = {row["key"]: row for row in csv.DictReader(file)}
    table = []
    for row in _development(shared):
        if row["source"] != "HM54" or row["to_stage"] != "emerged" or row["status"] != "published":
            continue
        for soil_c in range(5, 40, 5):
            days = printed[row["crop"]][f"emerge_days_{soil_c}c"]
            if not days or days == "NG":
                continue
            a_day = float(effective_degrees(soil_c, **_response(row)))
            low, high = float(row["degree_days_low"]), float(row["degree_days_high"])
            first, last = (low / a_day, high / a_day) if a_day > 0 else (np.inf, np.inf)
            table.append((row["crop"], soil_c, float(days), first, last))
    return table


# All above the optimum of the crop, where a capped response goes on at its best pace and the seed does not.
_MISSES_ABOVE_THE_OPTIMUM = {
    ("tomato-indeterminate", 35),
    ("tomato-determinate", 35),
    ("onion-short-day", 35),
    ("onion-intermediate-day", 35),
    ("onion-long-day", 35),
    ("asparagus", 30),
    ("asparagus", 35),
    ("lettuce-leaf", 30),
    ("lettuce-head", 30),
    ("spinach", 30),
    ("carrot", 35),
    ("parsnip", 25),
    ("parsnip", 30),
}


def test_base_and_sum_give_the_printed_days_to_emergence(shared: Path) -> None:
    # Harrington and Minges (1954), as reprinted in Knott's Handbook (1997): whole days at steady soil temperature.
    # The sums are a range; the printed day must lie inside it, half a day of rounding allowed to either side.
    table = _emergence_table(shared)
    assert len(table) == 160
    misses = {(crop, c) for crop, c, days, first, last in table if not first - 0.5 <= days <= last + 0.5}
    assert misses == _MISSES_ABOVE_THE_OPTIMUM


@given(st.floats(-40, 59), st.floats(0.001, 1), st.sampled_from(RESPONSES))
def test_below_the_optimum_warmer_is_never_slower(tmean_c: float, step: float, response: str) -> None:
    cool, warm = _degrees([min(tmean_c, 21), min(tmean_c + step, 22)], response)
    assert cool <= warm + 1e-9


@given(st.floats(-60, 60), st.sampled_from(RESPONSES[1:]))
def test_no_day_counts_more_than_the_optimum_or_less_than_nothing(tmean_c: float, response: str) -> None:
    assert 0 <= _degrees(tmean_c, response) <= 15 + 1e-9


@pytest.mark.parametrize("response", RESPONSES)
def test_nan_passes_shapes_hold_and_the_input_stays(response: str) -> None:
    traces = np.array([[5.0, np.nan, 25.0], [np.nan, 60.0, -10.0]])
    before = traces.copy()
    got = _degrees(traces, response)
    np.testing.assert_array_equal(np.isnan(got), np.isnan(traces))
    np.testing.assert_array_equal(traces, before)
    assert _degrees(traces[:, None, :], response, base_c=np.array([[5.0], [7.0]])).shape == (2, 2, 3)


def test_a_response_asks_for_what_it_needs_and_ignores_the_rest() -> None:
    with pytest.raises(InputError, match=r"^opt_low_c: the response 'capped' needs it"):
        effective_degrees(20, response="capped", base_c=10)
    with pytest.raises(InputError, match=r"^ceiling_c: the response 'beta' needs it"):
        effective_degrees(20, response="beta", base_c=10, opt_low_c=25)
    with pytest.raises(InputError, match=r"^opt_high_c: the response 'beta' has one optimum"):
        effective_degrees(20, response="beta", base_c=10, opt_low_c=25, opt_high_c=28, ceiling_c=40)
    with pytest.raises(InputError, match="base_c is not below opt_low_c"):
        effective_degrees(20, response="trapezoid", base_c=30, opt_low_c=25)
    with pytest.raises(InputError, match=r"^response: 'none' is none of linear, capped, trapezoid, beta"):
        effective_degrees(20, response="none", base_c=10)
    assert effective_degrees(20, response="linear", base_c=10, opt_low_c=5) == 10
    assert effective_degrees(40, response="trapezoid", base_c=8, opt_low_c=28, opt_high_c=35) == 20


def test_days_counted_where_nothing_develops_are_refused() -> None:
    assert requirement_from_days(70, reference_mean_c=20, response="capped", base_c=10, opt_low_c=30) == 700
    with pytest.raises(InputError, match="nothing develops"):
        requirement_from_days(70, reference_mean_c=8, response="capped", base_c=10, opt_low_c=30)
