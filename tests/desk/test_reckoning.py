"""The reckoner: what may be typed, what comes back as numbers, and how it refuses."""

from __future__ import annotations

import inspect
import json
import re
import shlex
from pathlib import Path

import pytest

from kailyard import discover
from kailyard.desk.reckon import method, methods, reckon
from kailyard.errors import NotFound, UsageError
from kailyard.publish import render
from kailyard.publish.codec import from_json, to_json
from kailyard.science.reckon import reckoners

BRUSSELS = [  # Allen et al. 1998, FAO-56, Example 18: wind at 2 m, vapour pressure and radiation as printed there
    *("tmin_c=12.3", "tmax_c=21.5", "vapour_pressure_kpa=1.409", "radiation_mj_m2=22.07", "wind_2m_m_s=2.078"),
    *("latitude_deg=50.8", "day_of_year=187", "elevation_m=100"),
]

NOT_RECKONED = {
    "checks": "refuses input for the others",
    "reckon": "the register itself",
    "fast": "the same methods, for batches",
    "disease_days": "the same models on hours of whole days, which no line can hold",
    "disease_hours": "turns hours into the spells and days that the models ask for",
    "cold_and_heat.hot_days": "wants a record with its dates",
    "cold_and_heat.winter_lows": "wants a record with its dates",
    "frost.calendar_day": "answers with dates",
    "frost.freeze_seasons": "wants a record with its dates",
    "frost.freeze_free_days": "wants what freeze_seasons answers",
    "missing_weather.reference_et_of_days": "picks among the methods by what a record has",
    "missing_weather.vapour_pressure_of_days": "picks among the methods by what a record has",
}
"""Public functions of the science that answer no question typed in a line, each with the reason."""


def test_gives_value_unit_inputs_source_and_status_as_numbers_in_json() -> None:
    got = json.loads(to_json(reckon("eto", BRUSSELS)))
    assert got["schema"] == "kailyard.reckoning/1"
    assert got["value"] == pytest.approx(3.88, abs=0.005)  # FAO-56, Example 18
    assert got["unit"] == "mm"
    assert {"name": "tmin_c", "value": 12.3, "unit": "°C", "how": "given"} in got["inputs"]
    assert {"name": "soil_heat_mj_m2", "value": 0.0, "unit": "MJ/m²", "how": "default"} in got["inputs"]
    assert "FAO Irrigation and Drainage Paper 56" in got["source"]
    assert got["status"] == "published"
    assert got["results"] == [{"name": "et", "value": got["value"], "unit": "mm", "shape": []}]


def test_names_may_leave_their_units_out_and_numbers_bring_theirs() -> None:
    # The same day as above in other units; 1 inch is 25.4 mm, 1 mile 1609.344 m by definition (NIST SP 811).
    other = "tmin=54.14F tmax=70.7F vapour_pressure=14.09hPa radiation=22.07MJ wind=7.4808km/h latitude=50.8 "
    other += "day_of_year=187 elevation=100m"
    assert reckon("fao_reference_et", other.split()).value == pytest.approx(reckon("eto", BRUSSELS).value, abs=1e-9)
    rain = next(i for i in reckon("curve_number_runoff", ["rain=0.4in", "curve=80"]).inputs if i.name == "rain_mm")
    assert rain.value == pytest.approx(10.16)


def test_a_difference_of_temperatures_is_turned_as_one() -> None:
    (given, *_) = reckon("delta_t_class", ["delta_t=9F"]).inputs
    assert given.value == pytest.approx(5.0)


@pytest.mark.parametrize(
    ("short", "name"),
    [
        ("eto", "fao_reference_et_mm"),
        ("day_length", "day_length_h"),
        ("single-sine", "single_sine_degree_days"),
        ("hargreaves", "hargreaves_et_mm"),
    ],
)
def test_methods_answer_to_short_names(short: str, name: str) -> None:
    (found,) = method(short).methods
    assert found.name == name


def test_every_short_name_that_is_told_means_its_method() -> None:
    for each in methods().methods:
        for short in each.short:
            assert method(short).methods[0].name == each.name


def test_an_ambiguous_name_is_not_guessed() -> None:
    with pytest.raises(NotFound, match="single_sine_degree_days or single_triangle_degree_days"):
        reckon("single", ["tmin=1"])


def test_columns_of_a_file_are_runs(tmp_path: Path) -> None:
    file = tmp_path / "days.csv"
    file.write_text("day, low ,high\n1,8,75.2\n2,,80\n3,10,86\n", encoding="utf-8")
    words = [f"tmin_c=@{file}:low", f"tmax_c=@{file}:high:F", "lower_c=10"]
    got = reckon("simple_degree_days", words)
    assert got.value == pytest.approx((6.0, None, 10.0))  # half of 8 and 24 less 10; missing; half of 10 and 30 less 10
    assert got.results[0].shape == (3,)
    assert json.loads(to_json(got))["value"][1] is None
    bad = tmp_path / "bad.csv"
    bad.write_text("low\n8\n288\n", encoding="utf-8")
    with pytest.raises(UsageError, match=r"^bad\.csv:3: tmin_c: 288 is outside -60 to 60 °C\.$"):
        reckon("simple_degree_days", [f"tmin_c=@{bad}:low", "tmax_c=30", "lower_c=10"])


def test_grids_make_a_teaching_table() -> None:
    got = reckon("simple_degree_days", ["tmin_c=8..12/2", "tmax_c=9..29/20", "lower_c=10"])
    assert got.results[0].shape == (3, 2)
    # Half of both less 10, never below 0; no answer where the minimum lies above the maximum.
    assert got.value == pytest.approx((0.0, 8.5, None, 9.5, None, 10.5))
    text = render(got, "text")
    assert "across: tmax_c [°C]" in text
    assert "10.5" in text
    in_f = reckon("simple_degree_days", ["tmin_c=50F..59F/9", "tmax_c=30", "lower_c=0"])
    assert in_f.value == pytest.approx((20.0, 22.5))


@pytest.mark.parametrize(
    ("words", "says"),
    [
        ("tmin_c=8", "tmax_c (-60 to 60 °C)"),
        ("tmin_c=8 tmax_c=warm lower_c=10", "tmax_c takes -60 to 60 °C; 'warm' is none."),
        ("tmin_c=8 tmax_c=70 lower_c=10", "tmax_c: 70 is outside -60 to 60 °C."),
        ("tmin_c=8 tmax_c=10mm lower_c=10", "tmax_c takes -60 to 60 °C; '10mm' is none."),
        ("tmin_c=8 tmax_c=20 lower_c=10 upper_c=30 cutoff=odd", "cutoff takes one of horizontal"),
        ("tmin_c=8 tmin=9 tmax_c=20 lower_c=10", "tmin_c is given twice"),
        ("tmin_c=8 tmax_c=@nowhere.csv:high lower_c=10", "tmax_c takes -60 to 60 °C; 'nowhere.csv' cannot be read"),
        ("tmin_c=0..500/0.001 tmax_c=20 lower_c=10", "tmin_c: 500 is outside"),
        ("tmin_c=0..50/0.001 tmax_c=20 lower_c=10", "more than 200"),
        ("tmin_c=8 tmax_c=20 lower_c=", "lower_c takes -20 to 50 °C; '' is none."),
    ],
)
def test_refuses_in_one_line_that_names_input_and_range(words: str, says: str) -> None:
    with pytest.raises(UsageError) as caught:
        reckon("single_sine", words.split())
    assert says in str(caught.value)
    assert "\n" not in str(caught.value)
    assert caught.value.exit_code == 2


@pytest.mark.parametrize("name", [r.name for r in reckoners()])
def test_every_method_computes_its_example_as_typed_and_names_what_it_lacks(name: str) -> None:
    (told,) = method(name).methods
    words = shlex.split(told.example)[3:]
    got = reckon(name, words)
    assert from_json(to_json(got)) == got
    assert got.method == name
    assert render(got, "text")
    for each in told.inputs:
        if each.required:
            without = [word for word in words if not word.startswith(f"{each.name}=")]
            with pytest.raises(UsageError, match=rf"{each.name} \("):
                reckon(name, without)


def test_every_public_function_of_the_science_is_a_method_or_says_why_not() -> None:
    known = {(r.module, r.name) for r in reckoners()}
    missing = []
    for module in discover.modules("kailyard.science"):
        subject = module.__name__.rpartition(".")[2]
        for name, thing in inspect.getmembers(module, inspect.isfunction):
            if thing.__module__ != module.__name__ or name.startswith("_") or (subject, name) in known:
                continue
            if subject not in NOT_RECKONED and f"{subject}.{name}" not in NOT_RECKONED:
                missing.append(f"{subject}.{name}")
    assert missing == []


JUNK = (
    "",
    "nan",
    "1e309",
    "-inf",
    "9" * 400,
    "٣",
    "0x10",
    "1_0",
    "@",
    "@x:y",
    "0..1",
    "1..2..3",
    "1..2/0",
    "1,2,nan",
    "-",
)


@pytest.mark.parametrize("name", [r.name for r in reckoners()])
def test_whatever_is_typed_is_answered_or_refused_in_one_line(name: str) -> None:
    (told,) = method(name).methods
    words = shlex.split(told.example)[3:]
    refused = []
    for each in told.inputs:
        others = [word for word in words if not word.startswith(f"{each.name}=")]
        for junk in JUNK:
            try:
                got = reckon(name, [*others, f"{each.name}={junk}"])
            except UsageError as err:
                refused.append(str(err))
            else:
                assert from_json(to_json(got)) == got
    assert refused
    for said in refused:
        assert "\n" not in said
        assert any(each.name in said for each in told.inputs)


@pytest.mark.parametrize(
    ("name", "typed", "wanted", "within"),
    [
        # Extension slides on the 1/128 method: a quart an acre at 40 gal/acre is 0.8 fl oz, 6.25 mL/L.
        ("product_for_a_tank", "label=1qt/acre|spray=40gal/acre|tank=1gal", 0.8 * 29.5735, 0.005),
        # Lawn examples: 21 in, 3 mph, 80 %: 5000 sq ft take 13.528 min; 2 % of 5 L are 100 mL.
        ("mowing_minutes", "area=5000 sq ft|cut=21 inches|speed=3mph|efficiency=0.8", 13.528, 0.0005),
        ("product_for_a_mix", "dilution=2%|mix=5L", 100, 1e-9),
        # Drop spreader: half a pound over 50 sq ft is 10 lb over 1000, 48.8 g/m².
        ("spread_rate", "caught=0.5lb|plot=50 square feet", 48.8, 0.05),
        # By definition: 3 feet of row at 3 inches; thermal diffusivity in powers of ten.
        ("plants_in_a_row", "row=3 feet|spacing=3 inches", 12, 0),
        ("damped_wave", "day=200|depth=0|mean=11|amplitude=10|peak_day=200|diffusivity=5E-7", 21, 1e-9),
    ],
)
def test_units_of_the_trade_may_be_typed_in_words_too(name: str, typed: str, wanted: float, within: float) -> None:
    assert reckon(name, typed.split("|")).value == pytest.approx(wanted, abs=within)


@pytest.mark.parametrize("word", ["label=1e999", "label=1kg/ha", "label=three", "label=1 qt/acre/day", "label=-1"])
def test_a_bad_rate_is_refused_in_one_line_that_names_it_and_its_range(word: str) -> None:
    with pytest.raises(UsageError) as caught:
        reckon("product_for_a_tank", [word, "spray=40", "tank=5"])
    assert str(caught.value).startswith("label_ml_m2")
    assert "0 to 5000 mL/m²" in str(caught.value)
    assert "\n" not in str(caught.value)


def test_no_dose_is_ever_taken_that_was_not_typed() -> None:
    for each in methods().methods:
        for asked in each.inputs:
            if asked.name in ("label_ml_m2", "dilution_ml_l", "rate_g_m2", "nutrient_g_m2"):
                assert asked.required, (each.name, asked.name)
                assert asked.default is None


@pytest.mark.parametrize(
    ("typed", "values"),
    [
        ("speed=3km/h..5km/h/1", [3 / 3.6, 4 / 3.6, 5 / 3.6]),
        ("speed=1m/s..3m/s", [1, 2, 3]),
        ("speed=1..2/0.5", [1, 1.5, 2]),
    ],
)
def test_a_grid_takes_units_that_have_a_stroke_of_their_own(typed: str, values: list[float]) -> None:
    asked = reckon("mowing_minutes", ["area=400", "cut=0.5", "efficiency=0.7", typed])
    speed = next(each for each in asked.inputs if each.name == "speed_m_s")
    assert speed.value == pytest.approx(values)


@pytest.mark.parametrize("typed", ["speed=1..2/x", "speed=2..1/1", "speed=1..2/0"])
def test_a_grid_wrongly_written_is_shown_the_right_way(typed: str) -> None:
    with pytest.raises(UsageError, match=r"speed_m_s takes .*speed_m_s=20\.\.30/2") as caught:
        reckon("mowing_minutes", ["area=400", "cut=0.5", "efficiency=0.7", typed])
    assert "\n" not in str(caught.value)


def test_what_is_tried_holds_no_rate_of_a_label() -> None:
    for name, field in (("product_for_a_tank_ml", "label_ml_m2"), ("weight_to_spread_g", "rate_g_m2")):
        said = render(method(name), "text")
        assert f"{field}=LABEL" in said
        assert not re.search(rf"{field}=[0-9]", said)
