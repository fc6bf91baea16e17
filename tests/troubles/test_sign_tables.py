"""The tables of signs, held to the reference they were carried over from."""

from __future__ import annotations

import csv
from collections import Counter
from pathlib import Path

import pytest

from kailyard.errors import NotFound
from kailyard.handbook.signs import (
    Sign,
    causes,
    causes_more,
    disorders,
    frequencies,
    herbicide_facts,
    how_often,
    readings,
    readings_more,
    report_first,
    samples,
    sensitivities,
    settles,
    sign,
    signs,
    signs_more,
)
from kailyard.handbook.troubles import troubles
from kailyard.troubles.leanings import Setting
from kailyard.troubles.likelihood import RANGES, columns, ends, rows
from kailyard.troubles.weighing import Answer, weigh


def _rows(shared: Path, name: str) -> list[dict[str, str]]:
    with (shared / "reference" / "troubles" / name).open(encoding="utf-8") as lines:
        return list(csv.DictReader(lines))


def _of_the_reference() -> list[tuple[str, Sign]]:
    return [(id_, one) for id_, one in signs().items() if id_ not in signs_more()]


def test_there_are_117_causes_and_135_signs_as_the_reference_counts_them(shared: Path) -> None:
    readme = (shared / "reference" / "troubles" / "README.md").read_text(encoding="utf-8")
    assert "117 causes by 135 signs" in readme
    assert (len(set(causes()) - causes_more()), len(set(signs()) - signs_more())) == (117, 135)


def test_every_cell_of_the_table_is_the_references(shared: Path) -> None:
    differing = 0
    for row in _rows(shared, "symptoms.csv"):
        for id_, one in _of_the_reference():
            assert how_often(row["cause_id"], id_) == row[id_], (row["cause_id"], id_)
            differing += row[id_] != one.default
    readme = (shared / "reference" / "troubles" / "README.md").read_text(encoding="utf-8")
    assert f"Only {differing} of 15795 cells" in readme
    assert sum(f.how_often != signs()[f.sign].default for f in frequencies().values()) == differing


def test_causes_of_our_own_stand_apart_and_each_says_where_it_is_from(shared: Path) -> None:
    named = {row["cause_id"] for row in _rows(shared, "symptoms.csv")}
    assert causes_more() == set(causes()) - named
    for cause in causes_more():
        one = troubles()[cause]
        assert one.source, cause
        assert one.hosts, cause
        shown = [s for s in signs() if how_often(cause, s) in ("always", "often")]
        assert len(shown) >= 4, cause


def test_signs_of_our_own_are_each_shown_by_some_cause_and_parted_from_others() -> None:
    for id_ in signs_more():
        shown = {c: how_often(c, id_) for c in causes()}
        words = Counter(shown.values())
        assert words["always"] + words["often"] > 0, id_
        assert words["never"] > 100 or (words["often"] > 5 and words["rarely"] > 5), (
            "a sign that all make tells nothing"
        )


def test_younger_plants_that_escaped_speak_for_what_happened_once() -> None:
    """Drift comes on a day; residue, roots and hunger stay in the soil for whatever is sown next."""
    told: dict[str, Answer] = dict.fromkeys(("new_growth_first", "strap_narrow", "many_families"), "yes")
    before = weigh(told, Setting("tomato-determinate"))
    after = weigh({**told, "later_plants_sound": "yes"}, Setting("tomato-determinate"))
    assert after.of("gr_drift")[1] > before.of("gr_drift")[1]
    assert after.of("gr_residue")[1] < before.of("gr_residue")[1] / 2


def test_a_second_guide_widens_a_cell_and_changes_no_word_of_the_reference(shared: Path) -> None:
    more = {(c, s) for c, s in readings_more() if c not in causes_more() and s not in signs_more()}
    assert more
    for row in _rows(shared, "symptoms.csv"):
        for id_, _ in _of_the_reference():
            words = readings(row["cause_id"], id_)
            assert row[id_] in words
            assert len(words) == 1 + ((row["cause_id"], id_) in more), (row["cause_id"], id_)
    for key in more:
        assert readings_more()[key].evidence == "published", "only a guide that was read widens a cell"
        low, high = (end[rows().index(key[0]), columns()[key[1]]] for end in ends())
        assert low == min(RANGES[word][0] for word in readings(*key))
        assert high == max(RANGES[word][1] for word in readings(*key))


def test_what_rests_on_a_guide_says_so_and_nothing_else_does(shared: Path) -> None:
    named = {(r["cause_id"], r["sign_id"]) for r in _rows(shared, "symptoms-evidence.csv")}
    assert {key for key, f in frequencies().items() if f.evidence == "published"} == named
    assert all(f.source for key, f in frequencies().items() if key in named)
    assert {f.status for f in frequencies().values()} == {"memory"}, "the words are our reading"


def test_questions_and_names_are_the_references(shared: Path) -> None:
    assert [(s.id, s.group, s.question, s.default) for _, s in _of_the_reference()] == [
        (r["sign_id"], r["group"], r["question"], r["default_when_not_set"])
        for r in _rows(shared, "symptoms-signs.csv")
    ]
    for row in _rows(shared, "symptoms.csv"):
        one = troubles()[row["cause_id"]]
        assert (one.name, one.category, one.telling_sign) == (row["cause"], row["category"], row["telling_sign"])
        assert one.status == row["status"]


def test_disorders_keep_both_of_their_marks(shared: Path) -> None:
    rows = _rows(shared, "disorders.csv")
    assert len(rows) == len(disorders())
    for row in rows:
        one = disorders()[row["cause_id"]]
        assert (one.do_now, one.eat, one.settles_it) == (row["do_now"], row["eat"], row["settles_it"])
        assert (one.status, one.eat_status) == (row["facts_status"], row["eat_status"])


def test_herbicide_rows_are_all_there(shared: Path) -> None:
    assert {(r["topic"], r["fact"], r["status"]) for r in _rows(shared, "herbicide-facts.csv")} == {
        (f.topic, f.fact, f.status) for f in herbicide_facts().values()
    }
    rows = _rows(shared, "herbicide-sensitivity.csv")
    assert [(r["herbicide"], r["crop"], r["sensitivity"], r["status"]) for r in rows] == [
        (s.herbicide, s.crop, s.sensitivity, s.status) for s in sensitivities()
    ]


def test_nine_causes_are_normal_or_harmless() -> None:
    assert sum(troubles()[c].harmless for c in causes()) == 9


HOW = {"rub", "cut", "bag", "lens", "tap", "dig", "look", "watch", "night", "bioassay", "lab"}


def test_every_cause_has_a_small_test_that_would_settle_it() -> None:
    for cause in causes():
        more = disorders().get(cause)
        assert cause in settles() or (more is not None and more.settles_it not in ("", "none")), cause
    for cause, test in settles().items():
        assert test.how in HOW
        assert test.sign in signs(), cause
        assert len(test.what) > 10
        assert test.status in ("published", "common practice", "memory")


def test_each_small_test_answers_a_sign_and_each_report_a_cause() -> None:
    assert {s.sign for s in settles().values()} <= set(signs())
    assert set(settles()) | set(report_first()) <= set(causes())
    assert {s.status for s in report_first().values()} == {"memory"}
    assert set(samples()) <= {troubles()[c].category for c in causes()}


def test_a_mistyped_sign_is_answered_with_what_is_near() -> None:
    assert sign("edge-gradient") is sign("edge_gradient")
    with pytest.raises(NotFound, match="white-powder-upper"):
        sign("white-powder-uper")
