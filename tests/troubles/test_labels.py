"""Labels as typed, what they fit, and what was put on by them."""

from __future__ import annotations

from datetime import UTC, date, datetime

import pytest
from spraying import label, record

from kailyard.errors import DataError
from kailyard.garden.kinds import check_entry, make_payload
from kailyard.garden.model import Entry
from kailyard.troubles.amounts import amount, walked_ml_m2
from kailyard.troubles.label import against, names_crop, on_crop, picking_days, records, rules_of, treatments


def entry(kind, day, target="", *, id_="", **payload):
    made = make_payload(kind, **payload)
    written = datetime(day.year, day.month, day.day, 12, tzinfo=UTC)
    return Entry(id_ or f"{kind}-{day}-{target or 'x'}", kind, 1, day, written, target=target, payload=made)


@pytest.mark.parametrize(
    ("word", "crop", "fits"),
    [
        ("zucchini", "zucchini", True),
        ("Tomatoes", "tomato-determinate", True),
        ("cucumbers", "cucumber-slicing", True),
        ("beans", "bean-pole", True),
        ("cucumber", "zucchini", False),
        ("pea", "pear", False),
        ("potato", "sweet-potato", False),
    ],
)
def test_crops_are_known_by_what_labels_call_them(word, crop, fits):
    assert names_crop(word, crop) is fits


def test_nothing_typed_is_unknown_not_no():
    assert on_crop(label(crops=()), "zucchini") is None
    assert against(label(troubles=()), "powdery_mildew_cucurbit") is None
    assert picking_days(label(days_to_picking=None), "zucchini") is None
    assert picking_days(label(days_to_picking=0), "zucchini") == 0


@pytest.mark.parametrize(
    ("word", "trouble", "fits"),
    [
        ("powdery mildew", "powdery-mildew-cucurbit", True),
        ("cucurbit powdery mildew", "powdery_mildew_cucurbit", True),
        ("downy mildew", "powdery_mildew_cucurbit", False),
        ("mildew", "powdery_mildew_cucurbit", False),
        ("aphids", "melon_aphid", True),
        ("melon aphid", "aphids", False),
    ],
)
def test_troubles_are_known_by_what_labels_call_them(word, trouble, fits):
    assert against(label(troubles=(word,)), trouble) is fits


def test_a_later_record_of_the_same_name_holds_and_one_put_aside_is_out():
    first = entry("label", date(2026, 4, 1), name="Mealmute", active="sulfur")
    second = entry("label", date(2026, 5, 1), name="mealmute", active="sulfur", days_to_picking=1)
    assert records([first, second])["mealmute"].label.days_to_picking == 1
    gone = entry("label", date(2026, 6, 1), name="Mealmute", removed=True)
    assert records([first, second, gone]) == {}
    assert set(records([first, second, gone], removed=True)) == {"mealmute"}


def test_work_that_tells_of_spraying_is_a_treatment_of_which_nothing_is_known():
    entries = [
        entry("work", date(2026, 6, 1), "zucchini-1", what="sprayed with something"),
        entry("work", date(2026, 6, 2), "zucchini-1", what="weeded"),
        entry("work", date(2026, 6, 3), "zucchini-1", what="water spray against aphids"),
        entry("treat", date(2026, 6, 4), "bed-4", label="Mealmute", hour="19:30"),
        entry("treat", date(2026, 6, 5), "bed-5", label="Mealmute"),
    ]
    known = {"mealmute": record()}
    found = treatments(entries, ("zucchini-1", "bed-4"), known)
    assert [(t.day.day, t.record is None) for t in found] == [(1, True), (4, False)]
    assert treatments(entries, ("zucchini-1", "bed-4"), {})[1].record is None


def test_nothing_said_of_the_rules_is_all_unknown():
    assert rules_of([]).organic is None
    said = entry("rules", date(2026, 4, 1), organic=True, registered_in="Westmark")
    assert rules_of([said]).organic is True


@pytest.mark.parametrize(
    ("payload", "says"),
    [
        ({"rate": 3.0}, "a rate needs its unit"),
        ({"rate_unit": "mL/L"}, "a rate needs its unit"),
        ({"none_stated": ["days_to_picking"]}, "cannot be left unstated"),
        ({"none_stated": ["gaps"], "gaps": [{"other": "oil", "after_other": 30}]}, "both given and said not to stand"),
        ({"gaps": [{"other": "oil"}]}, "no days in either direction"),
        ({"days_to_picking": -1}, ">= 0"),
        ({"temp_max_c": 10.0, "temp_min_c": 20.0}, "above temp_max_c"),
    ],
)
def test_a_label_that_contradicts_itself_is_refused(payload, says):
    with pytest.raises(DataError, match=says):
        make_payload("label", name="X", **payload)


def test_an_hour_that_is_none_is_refused():
    with pytest.raises(DataError, match="no time of day"):
        make_payload("treat", label="X", hour="half past seven")
    check_entry(entry("treat", date(2026, 6, 4), "bed-4", label="X", hour="19:30"))


def test_amounts_come_from_the_typed_rate_and_the_gardeners_own_walk():
    # calibration.csv C11: 4.2 L on 100 m² is 42 mL/m²; C15: 2 % (20 mL/L) in 5 L is 100 mL.
    assert walked_ml_m2(4.2, 100.0) == pytest.approx(42.0)
    five_litres = 5000.0 / 42.0
    made = amount(label(rate=20.0, rate_unit="mL/L"), five_litres, 42.0)
    assert made.mix_l == pytest.approx(5.0)
    assert made.product == pytest.approx(100.0, abs=0.5)
    # C12: 2.5 L/ha (0.25 mL/m²) at 420 L/ha (42 mL/m²), 5 L: 29.76 mL.
    made = amount(label(rate=0.25, rate_unit="mL/m²"), five_litres, 42.0)
    assert made.product == pytest.approx(29.76, abs=0.5)


def test_no_amount_without_a_typed_rate_or_a_walk():
    assert amount(label(rate=None, rate_unit=""), 5.0, 42.0).product is None
    assert amount(label(rate=20.0, rate_unit="mL/L"), 5.0, None).product is None
    wet = amount(label(rate=None, rate_unit="spray to wet"), 5.0, 204.0)
    assert wet.product is None
    assert wet.mix_l == pytest.approx(1.02)
