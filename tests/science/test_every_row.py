"""Counts the rows of the reference folder's check tables: each is met by a named test, or left out with a reason.

The rows themselves are met in the tests named here, which count what they read as well; this file keeps the account. A
row that is new, or a test that is gone, turns it red; what is left out is limited by number.
"""

import re
from collections import Counter
from pathlib import Path

import pytest

from tests.science.reading import csv_rows, tables

_HERE = Path(__file__).parent
_FAO, _WATER, _DEGREES = "test_fao56_examples", "test_soil_water_examples", "test_degree_days"
_MET = "test_every_row_is_met_as_printed_and_in_full_precision"

_FACT = "a fact for the handbook: words or a bound that no formula returns"
# By file: the column (or columns) that names a row, and rules in order: pattern of that name, test file, test; or None
# and the reason why it is left out.
_CSV: dict[str, tuple[str, list[tuple[str, str | None, str]]]] = {
    "water/eto-examples.csv": (
        "id",
        [
            (r"POLAR", "test_radiation", "test_matches_the_polar_rows"),
            (r"", _FAO, _MET),
        ],
    ),
    "water/soil-water.csv": (
        "id",
        [
            (
                r"T19-.*-(theta_FC|theta_WP|TEW|theta_FC-AW)$",
                _WATER,
                "test_evaporable_water_at_the_ends_of_each_texture_is_what_the_notes_say",
            ),
            (r"T2[01]-", _WATER, "test_wetted_and_covered_shares_of_the_tables_are_taken"),
            (r"T19-", None, "range of a texture for the handbook (REW): no formula gives it, it is an input"),
            (r"", _WATER, _MET),
        ],
    ),
    "water/degree-days.csv": (
        "id",
        [
            (r"U-.*-total$", None, "running total of Ojai 2016, whose days are not all in the folder"),
            (r"", _DEGREES, "test_matches_every_row"),
        ],
    ),
    "climate/ahs_heat_zones.csv": ("zone", [(r"", "test_cold_and_heat", "test_every_row_of_the_heat_zones")]),
    "climate/ahs_heat_zone_facts.csv": (
        "item",
        [
            (r"check", "test_cold_and_heat", "test_the_checks_of_the_zone_facts"),
            (r"formula", "test_page_values", "test_the_formula_of_the_half_zones"),
            (r"heat day", "test_official_years", "test_the_counts_of_days"),
            (r"averaging period", None, _FACT),
        ],
    ),
    "climate/usda_zones.csv": ("zone", [(r"", "test_cold_and_heat", "test_every_bound_of_the_hardiness_map")]),
    "climate/usda_zone_facts.csv": (
        "item",
        [
            (r"check", "test_cold_and_heat", "test_the_checks_of_the_zone_facts"),
            (r"boundary value|zones$", "test_cold_and_heat", "test_every_bound_of_the_hardiness_map"),
            (r"what is averaged", "test_cold_and_heat", "test_winters_and_hot_days_of_milwaukee"),
            (r"formula|full zone width|half zone width", "test_page_values", "test_the_formula_of_the_half_zones"),
            (r"2023|2012|1990|limits", None, _FACT),
        ],
    ),
    "climate/frost_classes.csv": (
        "term",
        [
            (
                r"(light|moderate|severe) freeze|killing freeze|hard freeze$",
                "test_cold_and_heat",
                "test_every_class_of_freeze",
            ),
            (r".* open blossom", None, _FACT),
            (r"killing frost|killing \(NWS", None, "no temperature in the source: 'no fixed temperature'"),
            (r"", "test_page_values", "test_every_freeze_bound_in_both_scales_and_what_the_warnings_mean"),
        ],
    ),
    "climate/frost_conditions.csv": (
        "feature",
        [
            (
                r"wind below|frost can form|radiation frost likely",
                "test_cold_and_heat",
                "test_the_garden_alert_needs_36_fahrenheit_and_little_wind",
            ),
            (r"", None, _FACT),
        ],
    ),
    "climate/chilling_check_values.csv": (
        "series",
        [(r"", "test_chill", "test_matches_every_series_of_the_check_table")],
    ),
    "climate/chilling_models.csv": (
        "item",
        [
            (r"weight per hour", "test_chill", "test_every_weight_of_the_utah_tables"),
            (r"hours at", "test_chill", "test_the_older_count_takes_frost_too"),
            (r"start of season", "test_chill", "test_the_season_starts_at_the_lowest_running_total"),
            # Constants and steps of the Dynamic model: 36 portions of that table come out to 0.0005 by them alone.
            (r"", "test_chill", "test_matches_every_series_of_the_check_table"),
        ],
    ),
    "climate/chilling_needs.csv": ("crop", [(r"", None, _FACT)]),
    "climate/daylength_check.csv": (
        "latitude_N",
        [(r"", "test_sun", "test_sunrise_to_sunset_matches_the_spencer_table")],
    ),
    "climate/daylength_first_dates.csv": (
        "latitude_N",
        [(r"", "test_season_signals", "test_each_length_is_first_reached_on_the_tabled_date")],
    ),
    "climate/onion_daylength.csv": (
        "class_or_cultivar+status",
        [
            (r"northern limit|Walla|bulbing also|each leaf", None, _FACT),
            (r".*common practice", "test_page_values", "test_the_trade_lists_of_onions_run_an_hour_lower"),
            (r"", "test_season_signals", "test_the_onion_classes_of_oregon"),
        ],
    ),
    "climate/bolting.csv": (
        "trigger",
        [
            (r"practical rule", "test_season_signals", "test_cold_counts_only_once_the_plant_has_its_size"),
            (r"", None, _FACT),
        ],
    ),
}

# Rows left out, by file: no more than these.
_LEFT_OUT = {
    "water/degree-days.csv": 4,
    "water/soil-water.csv": 9,
    "climate/ahs_heat_zone_facts.csv": 1,
    "climate/usda_zone_facts.csv": 6,
    "climate/frost_classes.csv": 4,
    "climate/frost_conditions.csv": 15,
    "climate/chilling_needs.csv": 11,
    "climate/onion_daylength.csv": 4,
    "climate/bolting.csv": 24,
}

_NO_FUNCTION = "no function of the package gives this quantity"
_DEFINITION = "what columns or codes mean: nothing to reckon"
# Tables of each page in order: a word of the heading, rows, and the test or the reason.
_PAGES: dict[str, list[tuple[str, int, str | None, str]]] = {
    "water/psychrometrics-leafwetness.md": [
        ("formula", 9, "test_air_moisture", "test_matches_the_psychrometric_table_row_by_row"),
        ("Tw Stull", 26, "test_air_moisture", "test_matches_the_psychrometric_table_row_by_row"),
        ("RH 80", 6, "test_wetness", "test_the_depressions_that_match_a_humidity_are_the_tabled_ones"),
        ("branch", 15, "test_wetness", "test_matches_every_row_of_the_tree"),
    ],
    "water/frost.md": [
        ("meaning of probability level p", 4, None, _DEFINITION),
        ("normal fit m, s (days)", 6, "test_frost", "test_georgetown_dates_follow_from_the_normal_model"),
        ("best fit p, m, s", 6, "test_frost", "test_milton_freewater_dates_follow_from_the_mixture"),
        ("steps from the median (days)", 4, None, "NOAA 1991-2020: no normal model returns them"),
        ("free days, average", 13, "test_frost", "test_idaho_freeze_free_days"),
        ("level", 2, "test_frost", "test_the_worked_series_with_two_freezeless_years"),
    ],
    "water/solar.md": [
        ("agree", 11, "test_sun_position", "test_matches_the_published_nrel_example"),
        ("pvlib sunrise", 3, "test_sun_position", "test_matches_the_nrel_table_of_sunrise_and_sunset"),
        ("20 Mar FAO / SPA h", 7, "test_sun_position", "test_day_lengths_match_the_full_position"),
        ("shadow points to", 11, "test_sun_position", "test_matches_every_tabled_position_and_its_shadow"),
        ("shadow of 1 m (m)", 4, "test_sun_position", "test_matches_every_tabled_position_and_its_shadow"),
        ("length m", 8, "test_sun_position", "test_shadow_lengths_match_the_table"),
    ],
    "water/temperature-models.md": [
        ("6", 1, "test_hourly_temperature", "test_matches_every_tabled_hour_of_linvill"),
        ("19", 2, "test_hourly_temperature", "test_matches_every_tabled_hour_of_linvill"),
        ("8", 1, "test_hourly_temperature", "test_matches_every_tabled_hour_of_linvill"),
        ("20.5", 1, "test_hourly_temperature", "test_matches_every_tabled_hour_of_linvill"),
        ("setting", 5, "test_page_values", "test_the_settings_of_parton_and_logan_are_those_of_the_page"),
        ("published test value", 8, "test_hourly_temperature", "test_matches_every_tabled_hour_of_parton_and_logan"),
        ("d daily, m", 4, "test_page_values", "test_depth_and_delay_of_the_damped_wave_match_the_table"),
        ("J 20", 6, "test_soil_temperature", "test_damped_wave_matches_the_worked_table"),
        ("air", 2, "test_soil_temperature", "test_matches_katterer_and_andren_worked_by_hand"),
        ("day", 2, "test_soil_temperature", "test_trailing_eleven_days_match_the_worked_table"),
    ],
}

# Single values in the pages' text that no test meets, each with its reason. (Those that are met: test_page_values.py
# and the subject's own file.)
_TEXT_LEFT_OUT = {
    "8.642 g/m3": _NO_FUNCTION,  # absolute humidity
    "mixing ratio 7.262 g/kg": _NO_FUNCTION,
    "2452930.312847": _NO_FUNCTION,  # Julian day
    "11.10629": _NO_FUNCTION,  # topocentric hour angle
    "error -1.0 to +0.65 degC": "against his own wet bulb; against FAO-56's it is -1.35 to +1.03 °C",
    "USC00304025": "NOAA 1991-2020: one level, and its data are not at hand",
    "plain normal misses by": "how ill another model fits",
}


def _defines(file: str, test: str) -> bool:
    path = _HERE / f"{file}.py"
    return path.is_file() and re.search(rf"^def {test}\(", path.read_text(encoding="utf-8"), re.M) is not None


def test_every_row_of_the_tables_is_met_or_left_out_with_its_reason(shared: Path) -> None:
    left_out, met = Counter(), Counter()
    for name, (column, rules) in _CSV.items():
        used = set()
        for row in csv_rows(shared / "reference" / name):
            key = " | ".join(row[c] for c in column.split("+"))
            number = next((i for i, (pattern, _, _) in enumerate(rules) if re.match(pattern, key)), None)
            assert number is not None, (name, row)
            used.add(number)
            _, file, says = rules[number]
            if file is None:
                left_out[name] += 1
            else:
                assert _defines(file, says), (file, says)
                met[name] += 1
        assert used == set(range(len(rules))), name  # a rule that no row falls under is a mistake
    print(*(f"{name}: {met[name]} met, {left_out[name]} left out" for name in _CSV), sep="\n")
    assert dict(left_out) == _LEFT_OUT
    assert met["water/eto-examples.csv"] == 839
    assert met["water/soil-water.csv"] == 380
    assert met["water/degree-days.csv"] == 341
    assert sum(met.values()) == 1702


def test_every_file_of_the_folders_is_accounted_for(shared: Path) -> None:
    there = {
        f"{p.parent.name}/{p.name}"
        for folder in ("water", "climate")
        for p in (shared / "reference" / folder).iterdir()
    }
    known = {*_CSV, *_PAGES, "water/README.md", "climate/README.md"}
    # Coefficients of crops are facts of the handbook, held by its own tests (tests/handbook).
    assert there == {*known, "water/crop-coefficients.csv"}


@pytest.mark.parametrize("page", _PAGES)
def test_every_table_of_a_page_is_met_or_left_out_with_its_reason(shared: Path, page: str) -> None:
    found = tables(shared / "reference" / page)
    assert len(found) == len(_PAGES[page]), [list(t[0])[:3] for t in found]
    for rows, (heading, count, file, says) in zip(found, _PAGES[page], strict=True):
        assert heading in rows[0], (heading, list(rows[0]))
        assert len(rows) == count, heading
        assert says if file is None else _defines(file, says), (heading, says)


def test_what_is_left_out_of_the_pages_text_still_stands_there(shared: Path) -> None:
    text = " ".join(" ".join((shared / "reference" / page).read_text(encoding="utf-8").split()) for page in _PAGES)
    for words, reason in _TEXT_LEFT_OUT.items():
        assert words in text, words
        assert reason
