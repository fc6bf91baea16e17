"""Cases after fact sheets and textbooks: a half that tables and sums were mended by, and a half kept aside.

Each names its source, or says that it is a textbook's description as recalled. Which half a case lies in is settled by
a hash of its name, before anything was weighed. The kept half was looked at once, when all was mended; the floors below
are under what was found, so that a later change that spoils it is seen, and nothing is to be mended by its cases.
"""

from __future__ import annotations

import numpy as np
import pytest

from kailyard.handbook.signs import causes, signs
from kailyard.handbook.troubles import fit, troubles
from kailyard.troubles.leanings import Setting
from kailyard.troubles.weighing import Answer, two_at_once, weigh
from tools.validation.lookalikes import hits
from tools.validation.published_cases import cases, half, lead_reliability, letters, lines, ranks, score, spoilt_ranks

EDGES = (0.0, 0.4, 0.7, 0.9, 1.01)


def test_there_are_cases_of_every_kind_and_each_says_where_it_is_from() -> None:
    every = cases()
    assert len(every) == len({case.id for case in every}) > 190
    assert {case.cause for case in every} <= set(causes())
    kinds = {troubles()[case.cause].category for case in every}
    assert {"fungus", "oomycete", "bacterium", "virus", "nematode", "insect", "mite", "mollusc", "nutrient", "abiotic",
            "herbicide", "animal", "none"} <= kinds  # fmt: skip
    assert len({case.crop.split("-")[0] for case in every}) > 30
    for case in every:
        assert case.seen
        assert set(case.seen) | set(case.absent) <= set(signs())
        assert not set(case.seen) & set(case.absent)
        assert case.source
        assert (case.status == "memory") or (case.status == "published" and case.locator), case.id
    assert sum(case.status == "published" for case in every) > 80


def test_neither_half_is_the_easy_one() -> None:
    both = half(kept=False), half(kept=True)
    assert min(len(those) for those in both) > 80
    answers = [np.mean([len(case.answers) for case in those]) for those in both]
    assert answers[0] == pytest.approx(answers[1], abs=0.5)


@pytest.mark.parametrize(
    ("kept", "first", "in_three", "brier"),
    [(False, 0.95, 0.98, 0.11), (True, 0.92, 0.97, 0.16)],
    ids=["mended by", "kept"],
)
def test_the_true_cause_leads(kept: bool, first: float, in_three: float, brier: float) -> None:
    those = half(kept=kept)
    found = ranks(those)
    assert len(found) == len(those)
    assert hits(found, 1) >= first
    assert hits(found, 3) >= in_three
    assert np.mean([score(case) for case in those]) <= brier


@pytest.mark.parametrize("kept", [False, True], ids=["mended by", "kept"])
@pytest.mark.parametrize(("how", "first", "in_three"), [("flipped", 0.6, 0.82), ("missing", 0.77, 0.9)])
def test_one_answer_in_five_wrong_or_missing(kept: bool, how: str, first: float, in_three: float) -> None:
    found = spoilt_ranks(half(kept=kept), how)
    assert hits(found, 1) >= first
    assert hits(found, 3) >= in_three


@pytest.mark.parametrize("kept", [False, True], ids=["mended by", "kept"])
def test_what_is_called_likelier_is_more_often_right_and_never_much_oftener_wrong_than_said(kept: bool) -> None:
    """Descriptions are plainer than plants: the stated chance may lie below the share that is right, hardly above."""
    found = lead_reliability(half(kept=kept), EDGES)
    for stated, right, count in found:
        error = np.sqrt(stated * (1 - stated) / count)
        assert right >= stated - 2 * error
    assert found[-1][1] >= 0.95
    assert found[0][1] < found[-1][1]


def test_no_single_case_is_taken_for_two_and_most_pairs_are_told() -> None:
    """Two cases of one crop put together: a plant with both. Neither half was used to set the pairs' figures."""
    every = [case for case in cases() if case.crop.startswith(("tomato", "bean", "potato", "cucumber"))]
    for case in every:
        setting = Setting(case.crop)
        assert two_at_once(case.answers, setting, weigh(case.answers, setting)) is None, case.id
    told = tried = 0
    for n, one in enumerate(every):
        for other in every[n + 1 :: 7]:
            if one.cause == other.cause or one.crop.split("-")[0] != other.crop.split("-")[0]:
                continue
            no: dict[str, Answer] = dict.fromkeys((*one.absent, *other.absent), "no")
            answers: dict[str, Answer] = {**no, **dict.fromkeys((*one.seen, *other.seen), "yes")}
            pair = two_at_once(answers, Setting(one.crop), weigh(answers, Setting(one.crop)))
            tried += 1
            told += pair is not None and {pair.first, pair.second} == {one.cause, other.cause}
    assert tried > 100
    assert told / tried > 0.4


def test_no_case_has_a_crop_that_its_cause_cannot_meet() -> None:
    """A check of the cases themselves: on each, the true cause is at least among the kin of its hosts."""
    odd = [case.id for case in cases() if fit(case.cause, case.crop) < 0.2]
    assert not odd


def test_what_gardeners_wrote_is_answered_as_experts_answered() -> None:
    """Letters say little: one to four signs. Written down after all was mended; then three cells were put right."""
    those = letters()
    assert len(those) > 30
    assert all(case.source and set(case.seen) | set(case.absent) <= set(signs()) for case in those)
    found = ranks(those)
    assert hits(found, 1) >= 0.8
    assert hits(found, 3) >= 0.9


def test_the_table_of_validation_can_be_printed(tmp_path: object) -> None:
    printed = list(lines(tmp_path))  # type: ignore[arg-type]
    assert any("half kept" in line for line in printed)
    assert any("first cause said at" in line for line in printed)
