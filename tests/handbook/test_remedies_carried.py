"""The remedies of the reference are all here with their marks; what is marked never to be used is advised nowhere."""

from __future__ import annotations

import csv
from collections import Counter
from pathlib import Path

import pytest

from kailyard.errors import NotFound
from kailyard.handbook import remedies as book


def rows(shared: Path, file: str) -> list[dict[str, str]]:
    with (shared / "reference" / file).open(encoding="utf-8", newline="") as text:
        return list(csv.DictReader(text))


def test_every_remedy_and_every_value_is_carried_with_its_mark(shared: Path) -> None:
    wanted = {
        (r["id"], r["field"]): (r["value"], r["status"], r["source"]) for r in rows(shared, "remedies/remedy-facts.csv")
    }
    carried = {
        (r.id, f.field): (f.value, f.status, f.source) for r in book.remedies().values() for f in r.facts.values()
    }
    assert carried == wanted
    assert len(book.remedies()) == len(rows(shared, "remedies/remedies.csv")) == 48
    marks = Counter(status for _, status, _ in carried.values())
    assert marks == {"published": 254, "common practice": 321, "memory": 125}  # the README's own count


def test_the_numbers_of_the_wide_table_are_carried(shared: Path) -> None:
    for row in rows(shared, "remedies/remedies.csv"):
        there = book.remedies()[row["id"]]
        for name in book._NUMBERS:
            assert there.number(name) == (float(row[name]) if row[name] else None), (row["id"], name)
            if row[name]:
                ground = there.ground(name)
                assert ground is not None, (row["id"], name)
                assert ground.status in ("published", "common practice", "memory")
        assert there.bee_class == row["bee_class"]


def test_every_rule_for_spraying_is_carried(shared: Path) -> None:
    for row in rows(shared, "remedies/spray-rules.csv"):
        rule = book.spray_rules()[row["id"]]
        assert (rule.verdict, rule.note, rule.status, rule.source, rule.unit) == (
            row["verdict"],
            row["note"],
            row["status"],
            row["source"],
            row["unit"],
        )
        assert (rule.low, rule.high) == tuple(float(row[end]) if row[end] else None for end in ("low", "high"))
    assert len(book.spray_rules()) == 42


def test_codes_and_bees_are_carried(shared: Path) -> None:
    assert len(book.codes()) == len(rows(shared, "troubles/resistance-codes.csv"))
    assert len(book.bees()) == len(rows(shared, "pollinators/bee_thresholds.csv"))


def test_what_is_never_to_be_used_is_advised_against_nothing() -> None:
    never = {r.id for r in book.remedies().values() if not r.advised}
    assert never >= {"metaldehyde", "pyridine", "h24d", "dicamba", "triclopyr", "glyphosate", "neonic"}
    for trouble in book.courses():
        assert not never & {a.remedy for a in book.remedies_for(trouble)}, trouble
    assert all(book.remedies()[id_].why_not for id_ in never)


def test_of_two_sources_the_stricter_holds_for_oil_and_sulfur() -> None:
    # remedies README, "Oil and sulfur gap: 14 against 30 days": 30 unless more is known.
    (gap,) = [g for g in book.gaps() if {g.one, g.other} == {"oil", "sulfur"}]
    assert gap.days == 30
    for each in book.remedies().values():
        if each.classes & {"oil", "sulfur"}:
            assert each.number("oil_sulfur_gap_max_days") == gap.days


def test_every_code_of_a_course_stands_in_the_list_of_codes() -> None:
    known = {c.code for c in book.codes()}
    for course in book.courses().values():
        assert set(course.codes) <= known, course.trouble


def test_every_course_and_remedy_is_of_a_known_trouble() -> None:
    from kailyard.handbook.troubles import troubles

    assert set(book.courses()) <= set(troubles())
    assert set(book._against()) <= set(troubles())


@pytest.mark.parametrize(
    ("words", "id_"),
    [
        ("Sulfur 90 %", "sulfur"),
        ("lime sulfur (calcium polysulfide)", "lime_sulfur"),
        ("2,4-D, dimethylamine salt", "h24d"),
        ("Bacillus thuringiensis, subsp. kurstaki", "btk"),
        ("Potassium salts of fatty acids", "soap"),
        ("Mineral oil", "hort_oil"),
    ],
)
def test_an_active_ingredient_is_known_by_what_labels_call_it(words: str, id_: str) -> None:
    found = book.of_active(words)
    assert found is not None
    assert found.id == id_


def test_an_unknown_active_ingredient_is_nobody() -> None:
    assert book.of_active("essence of moonlight") is None
    with pytest.raises(NotFound, match="Did you mean soap"):
        book.remedy("soup")
