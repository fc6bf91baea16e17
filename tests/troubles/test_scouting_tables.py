"""Tables of insects, thresholds and diseases are those of the reference folder, with every mark."""

import csv
from pathlib import Path

import pytest

from kailyard.errors import DataError
from kailyard.handbook.diseases import diseases, number, risk_models, speaks_of
from kailyard.handbook.insects import events_of, insects, thresholds
from kailyard.handbook.troubles import crop_words, trouble
from kailyard.science.disease_days import DISEASE_DAYS
from kailyard.troubles.soil_days import SOIL_DAYS


def _rows(shared: Path, name: str) -> list[dict[str, str]]:
    with (shared / "reference/troubles" / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def test_insects_keep_their_words_and_marks(shared: Path) -> None:
    rows = _rows(shared, "insects.csv")
    assert {r["insect_id"] for r in rows} == set(insects())
    for row in rows:
        got = insects()[row["insect_id"]]
        assert (got.where_to_look, got.how_to_look) == (row["where_to_look"], row["scouting_method"])
        assert (got.status, got.scouting_status, got.life_status) == (
            row["status"],
            row["scouting_status"],
            row["life_status"],
        )
        assert trouble(got.id).name
        if "twice a week" in got.how_to_look:
            assert got.every_days is not None
            assert got.every_days <= 4


def test_thresholds_keep_their_figures_and_marks(shared: Path) -> None:
    rows = _rows(shared, "insects-thresholds.csv")
    assert len(rows) == len(thresholds())
    for row, got in zip(rows, thresholds(), strict=True):
        assert (got.insect, got.crops, got.stage, got.value, got.status) == (
            *(row["insect_id"], row["crop"], row["stage"], row["value"], row["status"]),
        )
        if got.low is not None:
            assert f"{got.low:g}" == row["value"].split("-")[0].rstrip("0").rstrip(".") or got.low == float(
                row["value"].split("-")[0]
            )
    # What was corrected: 1 nymph in 4 clusters, and not 1 in each.
    assert [t.low for t in thresholds() if t.insect == "tarnished_plant_bug"] == [0.25]


def test_diseases_keep_their_figures_and_marks(shared: Path) -> None:
    rows = _rows(shared, "diseases.csv")
    assert {r["disease_id"] for r in rows} == set(diseases())
    for row in rows:
        got = diseases()[row["disease_id"]]
        assert got.temp_best_low_c == (float(row["temp_best_low_c"]) if row["temp_best_low_c"] else None)
        assert (got.temp_status, got.away_status, got.code_status) == (
            *(row["temp_status"], row["away_status"], row["code_status"]),
        )


def test_every_rule_of_weather_has_its_reckoning_and_powdery_mildew_of_cucurbits_none() -> None:
    assert set(DISEASE_DAYS) - set(risk_models()) == {"cucurbit_powdery_mildew_facts"}
    assert set(risk_models()) == (set(DISEASE_DAYS) | set(SOIL_DAYS)) - {"cucurbit_powdery_mildew_facts"}
    assert "strawberry_anthracnose" not in risk_models()  # its coefficients contradict the abstract
    assert speaks_of(risk_models()["late_blight_hutton"], crop_words("tomato-determinate"))
    assert not speaks_of(risk_models()["late_blight_hutton"], crop_words("kale"))


def test_a_sum_from_january_never_dates_the_cutting_of_cutworms() -> None:
    # Story et al. 1984: larvae in the field were far ahead of such sums.
    cutting = [e for e in events_of("cutworms") if "cutting" in e.event and e.counts == "calendar"]
    assert cutting == []


def test_a_cell_that_is_no_number_is_named() -> None:
    with pytest.raises(DataError, match="'about 7' is no number"):
        number("insects.csv", "about 7")
