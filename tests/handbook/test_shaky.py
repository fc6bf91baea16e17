from __future__ import annotations

from typing import get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kailyard.handbook.load import load_handbook
from kailyard.handbook.shaky import UNTOLD_SPREAD, WORDS_SPREAD, shakiest
from kailyard.handbook.types import Fact, FactStatus


def fact(quantity: str, value: float | str, status: FactStatus, line: int) -> Fact:
    return Fact("pea", quantity, value, "", status, "", "", "", "crops/pea.csv", line)


def once(*facts: Fact) -> dict[Fact, int]:
    return dict.fromkeys(facts, 1)


def test_alike_in_all_else_memory_comes_before_common_practice_before_published_before_yours() -> None:
    facts = [
        fact(f"q{i}", 1.0, status, i) for i, status in enumerate(("yours", "published", "memory", "common practice"))
    ]
    assert [s.status for s in shakiest(once(*facts))] == ["memory", "common practice", "published", "yours"]


def test_wide_ranges_come_first_and_their_two_ends_count_once() -> None:
    narrow = [fact("a_min", 9.0, "memory", 2), fact("a_max", 11.0, "memory", 1)]
    wide = [fact("b_low", 5.0, "memory", 4), fact("b_high", 15.0, "memory", 3)]
    first, second = shakiest(once(*narrow, *wide))
    assert (first.fact, first.upper, first.width) == (wide[0], wide[1], 1.0)
    assert (second.fact, second.upper, second.width) == (narrow[0], narrow[1], 0.2)


def test_what_more_lines_lean_on_comes_first_even_on_firmer_ground() -> None:
    seldom, often = fact("a", 1.0, "memory", 1), fact("b", 1.0, "common practice", 2)
    assert [s.fact for s in shakiest({seldom: 3, often: 3})] == [seldom, often]
    assert [s.fact for s in shakiest({seldom: 3, often: 7})] == [often, seldom]


def test_the_worth_is_the_product_of_weakness_lines_and_spread() -> None:
    pair = {fact("a_min", 5.0, "common practice", 1): 4, fact("a_max", 15.0, "published", 2): 6}
    (found,) = shakiest(pair)
    assert (found.status, found.lines, found.width) == ("common practice", 6, 1.0)
    assert found.worth == pytest.approx(0.5 * 6 * 1.0)


def test_a_single_number_is_not_taken_for_sure_and_words_weigh_little() -> None:
    number, same, words = fact("a", 4.0, "memory", 1), fact("b_min", 4.0, "memory", 2), fact("c", "often", "memory", 3)
    found = shakiest(once(number, same, fact("b_max", 4.0, "memory", 4), words))
    assert [s.width for s in found] == [UNTOLD_SPREAD, UNTOLD_SPREAD, WORDS_SPREAD]
    assert found[-1].fact is words


def test_a_range_is_as_shaky_as_its_weaker_end() -> None:
    (pair,) = shakiest(once(fact("a_min", 1.0, "published", 2), fact("a_max", 2.0, "memory", 1)))
    assert pair.status == "memory"


def test_ends_of_one_leg_are_not_paired_with_another_legs() -> None:
    legs = load_handbook().legs["potato"]
    used = [f for leg in legs for f in leg.facts.values() if f.quantity.startswith("degree_days")]
    pairs = [s for s in shakiest(once(*used)) if s.upper]
    assert len(pairs) == len(used) / 2
    for pair in pairs:
        (leg,) = [x for x in legs if pair.fact in x.facts.values()]
        assert leg.degree_days == (pair.fact.number, pair.upper.number if pair.upper else None)


@given(st.permutations(range(12)))
def test_the_order_handed_in_does_not_matter(order: list[int]) -> None:
    statuses = get_args(FactStatus)
    facts = [fact(f"q{i // 2}_{'min' if i % 2 else 'max'}", float(i), statuses[i % 4], i) for i in range(12)]
    assert shakiest(once(*(facts[i] for i in order))) == shakiest(once(*facts))
