import re
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from kailyard.science.air_moisture import (
    day_deficit_kpa,
    delta_t_c,
    delta_t_class,
    dew_point_c,
    fitted_wet_bulb_c,
    relative_humidity_pct,
    vapour_pressure_deficit_kpa,
    wet_bulb_c,
)
from kailyard.science.humidity import (
    vapour_pressure_from_dew_point_kpa,
    vapour_pressure_from_humidity_kpa,
    vapour_pressure_from_wet_bulb_kpa,
)
from tests.science.reading import table_with

_PAGE = "reference/water/psychrometrics-leafwetness.md"


def _hours(shared: Path) -> list[dict[str, float]]:
    rows = table_with(shared / _PAGE, "Td FAO-56", "Tw Stull")
    assert len(rows) == 26
    return [{k: float(v) for k, v in row.items()} for row in rows]


def test_matches_the_psychrometric_table_row_by_row(shared: Path) -> None:
    # FAO-56 eq. 11, 15 and Stull (2011), worked out apart from this code; ASHRAE equations (PsychroLib 2.5.0).
    for at in _hours(shared):
        t, rh = at["T"], at["RH"]
        dew, wet = dew_point_c(vapour_pressure_from_humidity_kpa(t, rh)), wet_bulb_c(t, rh)
        assert dew == pytest.approx(at["Td FAO-56"], abs=0.00051)
        assert wet == pytest.approx(at["Tw FAO-56 eq"], abs=0.00051)
        assert fitted_wet_bulb_c(t, rh) == pytest.approx(at["Tw Stull"], abs=0.00051)
        assert vapour_pressure_deficit_kpa(t, rh) == pytest.approx(at["VPD kPa"], abs=0.000051)
        # Another set of equations: as near as the page says, and no nearer.
        assert abs(wet - at["Tw PsychroLib"]) < 0.185
        assert abs(delta_t_c(t, rh) - at["Delta T"]) < 0.19
        if at["Td PsychroLib"] > 0:
            assert abs(dew - at["Td PsychroLib"]) < 0.0151


def test_matches_saturation_and_humidity_of_the_page(shared: Path) -> None:
    # RH from dew point, FAO-56 / PsychroLib, six pairs of the page.
    text = (shared / _PAGE).read_text(encoding="utf-8")
    line = text[text.index("RH from dew point") :].split("Humidity at 20")[0]
    pairs = re.findall(r"\((\d+), (\d+)\) (\d+\.\d+) / (\d+\.\d+)", line)
    assert len(pairs) == 6
    for temp, dew, fao, ashrae in pairs:
        got = relative_humidity_pct(float(temp), vapour_pressure_from_dew_point_kpa(float(dew)))
        assert got == pytest.approx(float(fao), abs=0.0051)
        assert got == pytest.approx(float(ashrae), abs=0.04)


def test_pressure_lowers_the_wet_bulb_as_tabled(shared: Path) -> None:
    # 25 °C, 40 %: PsychroLib at 101.325, 95, 90, 85, 80 kPa; the FAO-56 equation lies 0.08 higher throughout.
    text = (shared / _PAGE).read_text(encoding="utf-8")
    assert "16.210 at 101.325 kPa, 16.005 at 95, 15.835 at 90, 15.658 at 85,\n15.472 at 80" in text
    printed = np.array([16.210, 16.005, 15.835, 15.658, 15.472])
    got = wet_bulb_c(25, 40, pressure_kpa=[101.325, 95, 90, 85, 80])
    np.testing.assert_allclose(got - printed, 0.08, atol=0.005)


def test_classes_of_delta_t_as_tabled(shared: Path) -> None:
    text = (shared / _PAGE).read_text(encoding="utf-8")
    line = text[text.index("Class checks from the table above") :].split("\n\n")[0].replace("\n", " ")
    checks = re.findall(r"(\d+)(?: degC)?/(\d+)(?: %)? = ([\d.]+) (ideal|below|above|marginal)", line)
    assert len(checks) == 7
    number = {"below": 0, "ideal": 1, "marginal": 2, "above": 3}
    for temp, humidity, printed, word in checks:
        got = delta_t_c(float(temp), float(humidity))
        assert got == pytest.approx(float(printed), abs=0.13)
        assert delta_t_class(got) == number[word]


def test_the_edges_belong_where_the_docstring_says() -> None:
    assert delta_t_class([1.99, 2, 8, 8.01, 10, 10.01]).tolist() == [0, 1, 1, 2, 2, 3]
    assert np.isnan(delta_t_class(np.nan))


@given(st.floats(-30, 45), st.floats(1, 100), st.floats(60, 105))
def test_the_wet_bulb_solves_the_psychrometer_equation(temp_c: float, humidity_pct: float, pressure_kpa: float) -> None:
    wet = wet_bulb_c(temp_c, humidity_pct, pressure_kpa=pressure_kpa)
    assert wet <= temp_c
    back = vapour_pressure_from_wet_bulb_kpa(temp_c, wet, pressure_kpa=pressure_kpa)
    assert back == pytest.approx(float(vapour_pressure_from_humidity_kpa(temp_c, humidity_pct)), abs=1e-9)
    if humidity_pct > 1.5:
        dew = dew_point_c(vapour_pressure_from_humidity_kpa(temp_c, humidity_pct))
        assert dew - 1e-9 <= wet


@given(st.floats(-30, 45), st.floats(5, 95), st.floats(0.1, 5))
def test_damper_air_has_a_higher_wet_bulb_and_less_deficit(temp_c: float, humidity_pct: float, step: float) -> None:
    dry, damp = wet_bulb_c(temp_c, [humidity_pct, humidity_pct + step])
    assert dry < damp
    more, less = vapour_pressure_deficit_kpa(temp_c, [humidity_pct, humidity_pct + step])
    assert more > less >= 0


@given(st.floats(-70, 55))
def test_dew_point_and_vapour_pressure_undo_each_other(dew_c: float) -> None:
    assert dew_point_c(vapour_pressure_from_dew_point_kpa(dew_c)) == pytest.approx(dew_c, abs=1e-9)


def test_a_day_whose_extremes_meet_is_a_moment() -> None:
    ea = vapour_pressure_from_humidity_kpa(20, 60)
    assert day_deficit_kpa(20, 20, vapour_pressure_kpa=ea) == pytest.approx(float(vapour_pressure_deficit_kpa(20, 60)))


def test_nan_passes_and_shapes_broadcast() -> None:
    got = wet_bulb_c(np.array([[20.0], [np.nan]]), [40, 60, np.nan])
    assert got.shape == (2, 3)
    assert np.isnan(got).tolist() == [[False, False, True], [True, True, True]]
