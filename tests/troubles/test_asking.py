"""What is asked next: it tells most, and can be seen on this crop, at its age, by now."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kailyard.handbook.signs import causes, readings, signs
from kailyard.handbook.troubles import NOT_THE_MOST, fit
from kailyard.troubles.asking import APART, LATER_DAYS, WORTH_ASKING, can_be_seen, worth_asking
from kailyard.troubles.leanings import Setting, weights
from kailyard.troubles.likelihood import MISSED, MISTAKEN, columns, ends, middle
from kailyard.troubles.weighing import Answer, information, weigh

CROPS = ("tomato-determinate", "zucchini", "sweet-corn", "garlic", "lettuce-leaf", "carrot", "potato", "basil")
ANSWERS = st.dictionaries(
    st.sampled_from(sorted(signs())), st.sampled_from(["yes", "no", "can't tell"]), min_size=1, max_size=6
)


def asked(crop: str, *yes: str, days: int | None = None, **known: object) -> tuple[str, ...]:
    setting = Setting(crop, **known)  # type: ignore[arg-type]
    answers: dict[str, Answer] = dict.fromkeys(yes, "yes")
    return worth_asking(answers, weigh(answers, setting), setting, days)


@given(answers=ANSWERS, crop=st.sampled_from(CROPS))
@settings(max_examples=40, deadline=None)
def test_every_question_tells_something_and_belongs_to_the_crop(answers: dict[str, Answer], crop: str) -> None:
    setting = Setting(crop)
    weighed = weigh(answers, setting)
    bits = information(weighed, APART if weighed.told else None)
    found = worth_asking(answers, weighed, setting, None)
    told = [bits[columns()[s]] for s in found]
    assert told == sorted(told, reverse=True)
    assert all(b >= WORTH_ASKING for b in told)
    assert not set(found) & set(answers), "nothing is asked twice, 'can't tell' included"
    for sign in found:
        assert any(
            fit(cause, crop) >= NOT_THE_MOST and {"always", "often", "sometimes"} & set(readings(cause, sign))
            for cause in causes()
        ), sign


@pytest.mark.parametrize(
    ("crop", "silly"),
    [
        ("tomato-determinate", "thin_spears tuber_green bulb_split silvery_galls soft_maggoty_berry scabby_tuber_skin"),
        ("lettuce-leaf", "fruit_end_black fruit_sunken_spots fruit_only holes_in_fruit flowers_drop thin_spears"),
        ("garlic", "fruit_misshapen no_small_fruit_behind_flower ears_stripped lumps_rub_off stem_pimples_roots"),
        ("carrot", "fruit_zip_scar fruit_aborts birds_eye_fruit white_flies_rise tiny_early_head"),
        ("sweet-corn", "fruit_zip_scar root_forked bulb_split amber_gum silver_along_veins_symmetric"),
    ],
)
def test_what_the_crop_has_not_is_not_asked(crop: str, silly: str) -> None:
    assert not [s for s in silly.split() if can_be_seen(s, Setting(crop), None)]


def test_fruit_is_not_asked_of_a_plant_too_young_for_it() -> None:
    assert can_be_seen("fruit_end_black", Setting("tomato-determinate"), None)
    assert can_be_seen("fruit_end_black", Setting("tomato-determinate", stage="fruit"), None)
    assert not can_be_seen("fruit_end_black", Setting("tomato-determinate", stage="seedling"), None)
    assert can_be_seen("stem_cut_soil", Setting("tomato-determinate", stage="seedling"), None)


def test_what_only_time_shows_is_asked_when_time_has_passed() -> None:
    for sign in ("new_leaves_normal", "spreads_for_weeks"):
        assert not can_be_seen(sign, Setting("bean-bush"), LATER_DAYS - 1)
        assert can_be_seen(sign, Setting("bean-bush"), LATER_DAYS)
        assert can_be_seen(sign, Setting("bean-bush"), None), "without a first day it may be long ago"


def test_weather_that_the_record_knows_is_not_asked_for() -> None:
    assert can_be_seen("after_cold", Setting("bean-bush"), None)
    assert not can_be_seen("after_cold", Setting("bean-bush", weather={"after_cold": False}), None)


def test_whoever_has_seen_beetles_is_not_asked_whether_insects_are_there() -> None:
    assert "insects_seen" in asked("potato", "ragged_holes")
    assert "insects_seen" not in asked("potato", "ragged_holes", "beetles_seen")


def test_a_wilting_tomato_is_cut_and_looked_at_low_down_first() -> None:
    """Wilts are told apart at the stem base and inside the stem (University of Kentucky PPFS-VG-15; Maryland)."""
    assert {"stem_base_rot", "vascular_brown"} & set(
        asked("tomato-determinate", "wilt_sudden_stays", stage="fruit")[:3]
    )
    then = asked("tomato-determinate", "wilt_sudden_stays", "vascular_brown", stage="fruit")
    assert "ooze_threads" in then[:3], "the streaming test tells the bacterium from the fungi"


def test_angular_spots_on_cucumber_ask_for_fuzz_below() -> None:
    """The key of Gugino (Penn State) parts the two by a day in a damp bag."""
    assert "fuzz_underside" in asked("cucumber-slicing", "angular_spots", "after_wet")[:2]


def test_holes_in_leaves_ask_who_eats() -> None:
    first = asked("cabbage", "ragged_holes")[:6]
    assert {"slime", "caterpillars_seen", "frass", "pecked_torn", "insects_seen"} & set(first)


def test_the_first_question_is_one_that_can_be_answered_at_once() -> None:
    assert not {"new_leaves_normal", "spreads_for_weeks", "spots_fall_out"} & set(asked("bean-bush"))
    assert "new_leaves_normal" in asked("bean-bush", "leaf_edges_tips")


def interviewed(crop: str, how: str, *, cases: int, questions: int) -> float:
    """Share of made cases whose cause stands first after one sign told and so many questions asked."""
    rng = np.random.default_rng(20260611)
    low, high = ends()
    names, setting = list(columns()), Setting(crop)
    prior = weights(setting)[0][:-1]
    right = 0
    for _ in range(cases):
        truth = rng.choice(prior.size, p=prior / prior.sum())
        there = rng.random(len(names)) < rng.uniform(low[truth], high[truth])
        slips = np.where(there, rng.uniform(*MISSED, len(names)), rng.uniform(*MISTAKEN, len(names)))
        said = there ^ (rng.random(len(names)) < slips)
        order = rng.permutation([n for n in range(len(names)) if can_be_seen(names[n], setting, None)])
        answers: dict[str, Answer] = {names[n]: "yes" for n in order if said[n]}
        answers = dict(list(answers.items())[:1])
        for _ in range(questions):
            open_ = worth_asking(answers, weigh(answers, setting), setting, None)
            unasked = [names[n] for n in order if names[n] not in answers]
            sign = (open_ or unasked)[0] if how == "tells most" else unasked[0]
            answers[sign] = "yes" if said[columns()[sign]] else "no"
        right += weigh(answers, setting).order[0] == causes()[truth]
    return right / cases


def test_the_sign_that_tells_most_finds_the_cause_sooner_than_any_sign() -> None:
    """On cases made from the table's own ranges, with slips: a law of the choice, not a claim about gardens."""
    told, any_ = (interviewed("bean-bush", how, cases=80, questions=8) for how in ("tells most", "any"))
    assert told > 1.5 * any_ > 0


def test_the_likeliest_are_told_apart_and_the_rest_counts_as_one() -> None:
    """By hand: six causes, and the mixture of all others by their shares (Shannon 1948, sec. 6, grouping)."""
    weighed = weigh({"wilt_sudden_stays": "yes"}, Setting("tomato-determinate"))
    p, yes = weighed.middle, middle()
    top = sorted(range(p.size), key=lambda n: -p[n])[:APART]
    rest = [n for n in range(p.size) if n not in top]
    entropy = lambda q: float(-sum(x * np.log2(x) for x in q if x > 0))  # noqa: E731 # a formula on one line

    def grouped(q: np.ndarray) -> list[float]:
        return [*q[top], float(q[rest].sum())]

    for at in (0, 44, 55, 101):
        says = float(p @ yes[:, at])
        after = [p * yes[:, at] / says, p * (1 - yes[:, at]) / (1 - says)]
        by_hand = entropy(grouped(p)) - says * entropy(grouped(after[0])) - (1 - says) * entropy(grouped(after[1]))
        assert information(weighed, APART)[at] == pytest.approx(by_hand, abs=1e-9)
    assert (information(weighed, APART) <= information(weighed) + 1e-9).all(), "grouping never tells more"
