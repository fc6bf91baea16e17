"""Troubles by name, and how well a crop fits them."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from kailyard.errors import NotFound
from kailyard.handbook.load import load_handbook
from kailyard.handbook.signs import causes, causes_more
from kailyard.handbook.troubles import (
    LISTED,
    NARROW,
    NOT_THE_MOST,
    STRANGER,
    all_troubles,
    crop_words,
    fit,
    host_weight,
    hosts_more,
    trouble,
    troubles,
)


def _ids(path: Path, column: str) -> set[str]:
    with path.open(encoding="utf-8") as lines:
        return {row[column] for row in csv.DictReader(lines)}


@pytest.mark.parametrize(
    ("file", "column"),
    [("symptoms.csv", "cause_id"), ("diseases.csv", "disease_id"), ("insects.csv", "insect_id")],
)
def test_every_trouble_of_the_reference_has_its_name_here(shared: Path, file: str, column: str) -> None:
    assert _ids(shared / "reference" / "troubles" / file, column) <= set(troubles())


def test_nothing_is_here_that_the_reference_does_not_name_but_causes_of_our_own(shared: Path) -> None:
    folder = shared / "reference" / "troubles"
    named = _ids(folder / "symptoms.csv", "cause_id")
    named |= _ids(folder / "diseases.csv", "disease_id") | _ids(folder / "insects.csv", "insect_id")
    assert set(troubles()) - causes_more() == named - causes_more()


def test_a_trouble_is_found_with_either_sign_in_its_name() -> None:
    assert trouble("powdery-mildew-cucurbit") is trouble("powdery_mildew_cucurbit")
    assert trouble("late_blight").slug == "late-blight"


def test_a_slip_of_the_pen_is_answered_with_what_is_near() -> None:
    with pytest.raises(NotFound, match="late-blight"):
        trouble("late-bligth")


def test_every_crop_of_the_handbook_has_its_words_and_its_family() -> None:
    handbook = load_handbook()
    for crop in set(handbook.crops) - set(handbook.plants):
        assert crop_words(crop).family == handbook.text(crop, "family"), crop


def test_hosts_are_weighed_and_never_a_wall() -> None:
    handbook = load_handbook()
    for crop in (*handbook.crops, "weigela"):
        for one in all_troubles():
            assert STRANGER <= host_weight(one, crop) <= 1.0


@pytest.mark.parametrize(
    ("name", "host", "other"),
    [
        ("early_blight", "tomato-determinate", "zucchini"),
        ("powdery_mildew_cucurbit", "zucchini", "bean-bush"),
        ("clubroot", "broccoli", "carrot"),
        ("rust", "garlic", "tomato-determinate"),
        ("butterfly_larvae", "common-milkweed", "tomato-determinate"),
        ("gr_drift", "tomato-determinate", "sweet-corn"),
        ("spotted_cucumber_beetle", "melon", "kale"),
        ("hollow_heart", "potato", "sweet-potato"),
    ],
)
def test_a_host_weighs_more_than_a_stranger(name: str, host: str, other: str) -> None:
    assert host_weight(trouble(name), host) > 3 * host_weight(trouble(name), other)


def test_kin_of_a_host_lie_between() -> None:
    blight = trouble("early_blight")
    assert host_weight(blight, "tomato") > host_weight(blight, "pepper-sweet") > host_weight(blight, "kale")


def test_a_cause_fits_the_hosts_of_its_finer_names_too() -> None:
    """Spotted cucumber beetles feed on corn, imported cabbageworm on kale (the reference's insects)."""
    assert host_weight(trouble("leaf_beetles"), "sweet-corn") < LISTED
    assert fit("leaf_beetles", "sweet-corn") == LISTED
    assert fit("fruit_borers", "potato") == LISTED


def test_any_plant_counts_less_where_some_are_named() -> None:
    assert fit("sunscald", "tomato-determinate") == LISTED
    assert fit("sunscald", "garlic") == NOT_THE_MOST
    assert fit("cutworms", "garlic") == LISTED, "nothing is named but seedlings and transplants of all kinds"


def test_where_all_hosts_are_of_one_family_another_counts_least() -> None:
    assert fit("septoria_leaf_spot", "chard") == NARROW
    assert fit("rust", "tomato-determinate") == NARROW, "a rust for each family"
    assert fit("downy_mildew_basil_lettuce", "cucumber-slicing") == NARROW
    assert fit("japanese_beetle", "tomato-determinate") == STRANGER
    assert NARROW < STRANGER


def test_every_crop_may_have_every_cause() -> None:
    for crop in (*load_handbook().crops, "weigela"):
        for cause in causes():
            assert NARROW <= fit(cause, crop) <= LISTED


def test_no_fitting_crop_is_lost_to_the_finer_reading() -> None:
    """What the list of hosts itself says is a floor, but for 'all plants' where some are named."""
    for crop in load_handbook().crops:
        for cause in causes():
            plain = host_weight(trouble(cause), crop)
            assert fit(cause, crop) >= min(plain, NOT_THE_MOST) or plain == STRANGER


def test_hosts_of_our_own_widen_and_say_where_they_are_from() -> None:
    seen = set()
    for row in hosts_more():
        assert row.cause in causes()
        assert row.status in ("published", "common practice", "memory")
        assert (row.status == "memory") == row.source.startswith("recalled"), row
        assert (row.cause, row.hosts) not in seen
        seen.add((row.cause, row.hosts))
    assert fit("white_mold", "okra") == NOT_THE_MOST, "practically all vegetable crops (University of Connecticut IPM)"
    assert fit("verticillium_wilt", "melon") == LISTED
    assert host_weight(trouble("verticillium_wilt"), "melon") == STRANGER, "what other parts list as hosts stays"


@pytest.mark.parametrize(
    ("name", "word", "family"),
    [
        ("tomatoes", "tomato", "Solanaceae"),
        ("summer squash", "squash", "Cucurbitaceae"),
        ("pepper seedlings", "pepper", "Solanaceae"),
        ("green beans", "bean", "Fabaceae"),
        ("cherries", "cherry", "Rosaceae"),
        ("Brussels sprouts", "cabbage", "Brassicaceae"),
        ("weigela", "weigela", ""),
    ],
)
def test_a_crop_is_known_by_the_name_people_give_it(name: str, word: str, family: str) -> None:
    known = crop_words(name)
    assert word in known.words
    assert known.family == family
