"""What must hold of the weighing, whatever the answers."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kailyard.handbook.signs import causes, how_often, signs
from kailyard.handbook.troubles import troubles
from kailyard.troubles.leanings import COMMON, Before, Counted, Setting, leanings
from kailyard.troubles.likelihood import DESIGN, MISSED, MISTAKEN, OTHER, RANGES, middle, rows, walked
from kailyard.troubles.weighing import Answer, hangs_on, holds, information, ratios, two_at_once, weigh


def yes(*seen: str) -> dict[str, Answer]:
    return dict.fromkeys(seen, "yes")


CROPS = ("tomato-determinate", "zucchini", "sweet-corn", "garlic", "weigela")
ANSWERS = st.dictionaries(
    st.sampled_from(sorted(signs())), st.sampled_from(["yes", "no", "can't tell"]), min_size=1, max_size=12
)


def test_the_words_overlap_nowhere_and_stand_in_order() -> None:
    ends = [RANGES[word] for word in ("never", "rarely", "sometimes", "often", "always")]
    assert all(low < high for low, high in ends)
    assert all(below[1] <= above[0] for below, above in pairwise(ends))


def test_the_design_walks_through_each_range_once() -> None:
    at = rows().index("n_deficiency")
    plain = (walked("plain_yellow_no_spots")[:, at] - sum(MISTAKEN) / 2) / (1 - sum(MISSED) / 2 - sum(MISTAKEN) / 2)
    assert how_often("n_deficiency", "plain_yellow_no_spots") == "always"
    assert len(np.unique(plain)) == DESIGN
    assert plain.mean() == pytest.approx(sum(RANGES["always"]) / 2, abs=0.01)


@given(answers=ANSWERS, crop=st.sampled_from(CROPS))
@settings(max_examples=25, deadline=None)
def test_chances_sum_to_one_and_lie_in_their_ranges(answers: dict[str, Answer], crop: str) -> None:
    weighed = weigh(answers, Setting(crop))
    assert weighed.middle.sum() == pytest.approx(1.0)
    assert (weighed.low <= weighed.middle).all()
    assert (weighed.middle <= weighed.high).all()
    assert (weighed.middle > 0).all(), "nothing is ever shut out"


@given(answers=ANSWERS, more=st.sampled_from(sorted(signs())), crop=st.sampled_from(CROPS))
@settings(max_examples=25, deadline=None)
def test_cannot_tell_changes_nothing(answers: dict[str, Answer], more: str, crop: str) -> None:
    answers.pop(more, None)
    plain = weigh(answers, Setting(crop, weather={"after_wet": True}))
    asked = weigh({**answers, more: "can't tell"}, Setting(crop, weather={"after_wet": True}))
    assert np.array_equal(plain.middle, asked.middle)
    assert np.array_equal(plain.walk, asked.walk)


@given(answers=ANSWERS, data=st.data())
@settings(max_examples=25, deadline=None)
def test_the_order_of_the_answers_never_matters(answers: dict[str, Answer], data: st.DataObject) -> None:
    other = dict(data.draw(st.permutations(list(answers.items()))))
    one, two = (weigh(a, Setting("tomato-determinate")) for a in (answers, other))
    assert np.array_equal(one.middle, two.middle)
    assert np.array_equal(one.walk, two.walk)
    assert one.order == two.order


TELLING = [(c, s) for c in causes() for s in signs() if how_often(c, s) == "always"]
IMPOSSIBLE = [(c, s) for c in causes() for s in signs() if how_often(c, s) == "never"]


@given(pair=st.sampled_from(TELLING), answers=ANSWERS, crop=st.sampled_from(CROPS))
@settings(max_examples=60, deadline=None)
def test_a_telling_sign_that_is_absent_never_raises_its_cause(
    pair: tuple[str, str], answers: dict[str, Answer], crop: str
) -> None:
    cause, sign = pair
    answers.pop(sign, None)
    before = weigh(answers, Setting(crop)).of(cause)[1]
    after = weigh({**answers, sign: "no"}, Setting(crop)).of(cause)[1]
    assert after <= before + 1e-12


@given(pair=st.sampled_from(IMPOSSIBLE), answers=ANSWERS, crop=st.sampled_from(CROPS))
@settings(max_examples=60, deadline=None)
def test_a_sign_that_a_cause_never_makes_never_raises_it(
    pair: tuple[str, str], answers: dict[str, Answer], crop: str
) -> None:
    cause, sign = pair
    answers.pop(sign, None)
    before = weigh(answers, Setting(crop)).of(cause)[1]
    after = weigh({**answers, sign: "yes"}, Setting(crop)).of(cause)[1]
    assert after <= before + 1e-12


def test_a_rare_cause_without_evidence_of_its_own_never_outranks_a_common_one() -> None:
    """Of two causes with the same words for every sign answered, on the same host, the commoner one leads."""
    order = list(COMMON)
    tried = 0
    for sign in signs():
        setting = Setting("tomato-determinate")
        for answer in ("yes", "no"):
            weighed = weigh({sign: answer}, setting)  # type: ignore[dict-item]
            for a in ("early_blight", "n_deficiency", "aphids", "drought"):
                for b in ("bleacher", "white_mold", "tswv", "bacterial_canker", "gr_residue"):
                    same = how_often(a, sign) == how_often(b, sign)
                    hosts = [sum(one.low + one.high for one in leanings(troubles()[c], setting)[1:]) for c in (a, b)]
                    if same and hosts[0] == hosts[1]:
                        tried += 1
                        assert order.index(troubles()[a].how_common) < order.index(troubles()[b].how_common)
                        assert weighed.of(a)[1] > weighed.of(b)[1]
    assert tried > 300


def test_hosts_are_never_a_wall() -> None:
    """Clear signs of a trouble of tomatoes name it on a crop that no list gives it."""
    answers = yes("concentric_rings", "old_leaves_first", "yellow_halo", "dark_stem_patches", "after_wet")
    assert weigh(answers, Setting("tomato-determinate")).order[0] == "early_blight"
    stranger = weigh({**answers, "fruit_sunken_spots": "yes"}, Setting("okra"))
    assert "early_blight" in stranger.order[:5]


def test_what_was_found_and_counted_here_leans() -> None:
    bare = weigh({}, Setting("zucchini"))
    found = weigh({}, Setting("zucchini", before=(Before("squash_vine_borer", settled=True),)))
    counted = weigh({}, Setting("zucchini", counts=(Counted("squash_bug", 6, 3),)))
    looked = weigh({}, Setting("zucchini", counts=(Counted("squash_bug", 0, 3),)))
    long_ago = weigh({}, Setting("zucchini", counts=(Counted("squash_bug", 6, 90),)))
    assert found.of("squash_vine_borer")[1] > 1.5 * bare.of("squash_vine_borer")[1]
    assert counted.of("squash_bug")[1] > 1.5 * bare.of("squash_bug")[1]
    assert looked.of("squash_bug")[1] < 0.8 * bare.of("squash_bug")[1]
    assert long_ago.of("squash_bug")[1] == pytest.approx(bare.of("squash_bug")[1])


def test_a_finer_name_of_the_tables_counts_for_its_cause() -> None:
    bare = weigh({}, Setting("cucumber-slicing"))
    counted = weigh({}, Setting("cucumber-slicing", counts=(Counted("striped-cucumber-beetle", 9, 2),)))
    assert counted.of("leaf_beetles")[1] > bare.of("leaf_beetles")[1]


def test_the_weather_of_the_record_is_not_weighed_twice() -> None:
    cold = Setting("tomato-determinate", weather={"after_cold": True})
    none = Setting("tomato-determinate")
    assert weigh({}, cold).of("cold_frost")[1] > weigh({}, none).of("cold_frost")[1]
    answered: dict[str, Answer] = {"after_cold": "yes"}
    assert weigh(answered, cold).of("cold_frost")[1] == weigh(answered, none).of("cold_frost")[1]


def test_the_age_of_the_plant_leans_and_shuts_nothing_out() -> None:
    young = weigh({}, Setting("tomato-determinate", stage="seedling"))
    old = weigh({}, Setting("tomato-determinate", stage="fruit"))
    assert young.of("damping_off")[1] > 4 * old.of("damping_off")[1] > 0
    assert old.of("blossom_end_rot")[1] > 4 * young.of("blossom_end_rot")[1] > 0


def test_information_is_what_the_answer_is_expected_to_tell() -> None:
    """By hand from the definition: entropy now less the mean entropy after the answer (Shannon 1948, sec. 6)."""
    weighed = weigh({"white_powder_upper": "yes"}, Setting("zucchini"))
    p = weighed.middle
    entropy = lambda q: float(-sum(x * np.log2(x) for x in q if x > 0))  # noqa: E731 # a formula on one line
    for at in (0, 17, 80, 134):
        yes = float(p @ middle()[:, at])
        after = [p * middle()[:, at] / yes, p * (1 - middle()[:, at]) / (1 - yes)]
        expected = entropy(p) - yes * entropy(after[0]) - (1 - yes) * entropy(after[1])
        assert information(weighed)[at] == pytest.approx(expected, abs=1e-9)
    assert (information(weighed) > -1e-9).all(), "no question is expected to confuse"


def test_two_at_once_is_said_when_two_explain_clearly_more() -> None:
    """Powdery mildew and squash vine borer leave signs that neither makes alone."""
    both = yes("white_powder_upper", "old_leaves_first", "frass", "stem_hollow", "wilt_day_recover")
    setting = Setting("zucchini")
    pair = two_at_once(both, setting, weigh(both, setting))
    assert pair is not None
    assert {pair.first, pair.second} == {"powdery_mildew_cucurbit", "squash_vine_borer"}
    one = yes("frass", "stem_hollow", "wilt_day_recover")
    assert two_at_once(one, setting, weigh(one, setting)) is None
    assert two_at_once({}, setting, weigh({}, setting)) is None


def test_a_ranking_that_hangs_on_one_sign_says_which() -> None:
    answers: dict[str, Answer] = {"white_powder_upper": "yes", "old_leaves_first": "yes"}
    weighed = weigh(answers, Setting("zucchini"))
    assert weighed.order[0] == "powdery_mildew_cucurbit"
    assert hangs_on(answers, Setting("zucchini"), weighed) == ("white_powder_upper",)
    assert 0.5 < holds(weighed) <= 1.0


def test_evidence_is_the_ratio_against_the_rivals() -> None:
    """Bayes: odds with the sign are odds without it, times the ratio."""
    answers: dict[str, Answer] = {"white_powder_upper": "yes", "web": "no"}
    weighed = weigh(answers, Setting("zucchini"))
    found = ratios(answers, weighed, "powdery_mildew_cucurbit")
    for sign in answers:
        without = weigh({s: a for s, a in answers.items() if s != sign}, Setting("zucchini"))
        odds = [w.of("powdery_mildew_cucurbit")[1] for w in (weighed, without)]
        assert found[sign] == pytest.approx((odds[0] / (1 - odds[0])) / (odds[1] / (1 - odds[1])))
    assert found["white_powder_upper"] > 5


def test_none_of_the_table_stays_possible_where_nothing_fits() -> None:
    odd = yes("tuber_green", "ears_stripped", "rust_pustules", "slime", "thin_spears", "bulb_split")
    assert weigh(odd, Setting("tomato-determinate")).order[0] == OTHER
