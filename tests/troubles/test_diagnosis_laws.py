"""What must hold of a whole diagnosis, whatever was answered."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kailyard.documents.diagnosis import Diagnosis
from kailyard.handbook.signs import report_first, samples, settles, signs
from kailyard.handbook.troubles import troubles
from kailyard.publish import render
from kailyard.troubles.diagnosis import ENOUGH_ASKED, LEAST_SHOWN, SHOWN, Heading, Question, diagnose, word
from kailyard.troubles.leanings import Before, Counted, Setting
from kailyard.troubles.likelihood import OTHER
from kailyard.troubles.weighing import Answer, weigh

HEAD = Heading("Nether Wold", date(2026, 7, 10), "metric", "plant-1", "plants", "bed 3")
CROPS = ("tomato-determinate", "zucchini", "sweet-corn", "garlic", "lettuce-leaf", "carrot", "weigela")
SIGNS = sorted(signs())
SAID = st.dictionaries(st.sampled_from(SIGNS), st.sampled_from(["yes", "no"]), min_size=1, max_size=8)
SETTINGS = st.builds(
    Setting,
    crop=st.sampled_from(CROPS),
    stage=st.sampled_from(["", "seedling", "growing", "flower", "fruit"]),
    weather=st.dictionaries(st.sampled_from(["after_wet", "hot_dry", "after_cold"]), st.booleans(), max_size=2),
    mean_c=st.none() | st.floats(-5, 38),
)


def of(answers: dict[str, Answer], setting: Setting, **more: object) -> Diagnosis:
    return diagnose(Question(answers, setting, **more), HEAD)  # type: ignore[arg-type]


@given(answers=SAID, setting=SETTINGS, unclear=st.lists(st.sampled_from(SIGNS), max_size=5, unique=True))
@settings(max_examples=25, deadline=None)
def test_cannot_tell_shifts_nothing_on_the_page(
    answers: dict[str, Answer], setting: Setting, unclear: list[str]
) -> None:
    """Causes, their order, words and ranges, evidence, firmness, two at once: all as if it had not been asked."""
    plain = of(answers, setting)
    asked = of({**dict.fromkeys(unclear, "can't tell"), **answers}, setting)
    assert asked.causes == plain.causes
    assert (asked.firm, asked.two, asked.sample) == (plain.firm, plain.two, plain.sample)
    assert not {n.sign.replace("-", "_") for n in asked.next} & set(unclear), "but it is not asked again"


@given(answers=SAID, setting=SETTINGS, data=st.data())
@settings(max_examples=25, deadline=None)
def test_the_order_of_answers_changes_nothing_on_the_page(
    answers: dict[str, Answer], setting: Setting, data: st.DataObject
) -> None:
    other = dict(data.draw(st.permutations(list(answers.items()))))
    assert of(other, setting) == of(answers, setting)


@given(answers=SAID, setting=SETTINGS)
@settings(max_examples=40, deadline=None)
def test_each_piece_of_evidence_stands_on_the_side_it_speaks_for(answers: dict[str, Answer], setting: Setting) -> None:
    """Left out, what speaks for a cause leaves it less likely, and what speaks against it likelier."""
    found = of(answers, replace(setting, weather={}))
    whole = weigh(answers, replace(setting, weather={}))
    for cause in found.causes:
        if cause.id == OTHER:
            continue
        chance = whole.of(cause.id.replace("-", "_"))[1]
        for side, sign in ((1, cause.speaks_for), (-1, cause.speaks_against)):
            for one in sign:
                left = {s: a for s, a in answers.items() if s != one.sign.replace("-", "_")}
                without = weigh(left, replace(setting, weather={})).of(cause.id.replace("-", "_"))[1]
                assert side * (chance - without) > -1e-12, (cause.id, one.sign)
                assert one.says.startswith("Seen" if answers[one.sign.replace("-", "_")] == "yes" else "Not there")


@given(answers=SAID, setting=SETTINGS)
@settings(max_examples=40, deadline=None)
def test_causes_stand_in_order_with_words_inside_their_ranges_and_no_figure(
    answers: dict[str, Answer], setting: Setting
) -> None:
    found = of(answers, setting)
    whole = weigh(answers, setting)
    at = [whole.of(c.id.replace("-", "_")) for c in found.causes]
    assert LEAST_SHOWN <= len(at) <= SHOWN
    assert [middle for _, middle, _ in at] == sorted((middle for _, middle, _ in at), reverse=True)
    ids, first = [c.id.replace("-", "_") for c in found.causes], whole.order[0]
    # An unlikely cause that no answer speaks for has no line, be it the first of them.
    unspoken = first not in ids and word(whole.of(first)[1]) == "unlikely"
    assert ids[0] == first or found.two or unspoken
    scale = ["unlikely", "possible", "likely", "very likely"]
    for cause, (low, middle, high) in zip(found.causes, at, strict=True):
        assert cause.says == word(middle)
        assert scale.index(word(low)) <= scale.index(cause.says) <= scale.index(word(high))
        assert cause.span == (word(low) if word(low) == word(high) else f"{word(low)} to {word(high)}")
    text = render(found, "text")
    assert "%" not in text
    assert "per cent" not in text


@given(answers=SAID, crop=st.sampled_from(CROPS), first=st.sampled_from(sorted(samples())))
@settings(max_examples=25, deadline=None)
def test_weather_and_past_lean_and_shut_nothing_out(answers: dict[str, Answer], crop: str, first: str) -> None:
    """Whatever the record says, no chance becomes 0 and none 1."""
    past = tuple(Before(id_, settled=True) for id_, one in troubles().items() if one.category == first)[:3]
    count = tuple(Counted(b.trouble, 0.0, 1) for b in past)
    weighed = weigh(answers, Setting(crop, "seedling", {"after_wet": False}, mean_c=-10.0, before=past, counts=count))
    assert (weighed.middle > 0).all()
    assert (weighed.middle < 1).all()
    assert np.isfinite(weighed.walk).all()


@pytest.mark.parametrize("cause", sorted(report_first()))
def test_who_is_to_hear_of_it_first_is_said_as_soon_as_it_is_possible(cause: str) -> None:
    """Every regulated cause that the page calls possible or likelier carries its line, above what to do."""
    host = troubles()[cause].hosts[0]
    for sign in SIGNS:
        found = of({sign: "yes"}, Setting(host))
        for one in found.causes:
            if one.id.replace("-", "_") == cause:
                assert one.report == report_first()[cause].says


def test_a_sample_is_asked_for_by_a_day_counted_from_the_first_sight() -> None:
    """'By when samples are still worth taking': days by kind of cause, the shortest for what dries up first."""
    for days_ago in (0, 3, 12, 40):
        seen = HEAD.on - timedelta(days=days_ago)
        found = of({"water_soaked_greasy": "yes", "fuzz_underside": "yes"}, Setting("potato"), first_seen=seen)
        if found.sample is None:
            assert found.stop.startswith("Enough")
            continue
        kind = troubles()[found.causes[0].id.replace("-", "_")].category
        assert found.sample.by == seen + timedelta(days=samples()[kind].days)
        assert found.sample.says.startswith("It may be too late") == (found.sample.by < HEAD.on)
    assert samples()["oomycete"].days < samples()["nematode"].days


def test_after_a_dozen_answers_that_fit_nothing_it_says_stop() -> None:
    odd: dict[str, Answer] = dict.fromkeys(
        ("tuber_green", "thin_spears", "web", "slime", "rust_pustules", "bulb_split", "mulch_foam"), "yes"
    )
    no: dict[str, Answer] = dict.fromkeys(
        ("one_host_group", "many_families", "after_wet", "hot_dry", "stunted", "plant_thrives"), "no"
    )
    found = of({**odd, **no}, Setting("tomato-determinate"))
    assert len(found.answered) >= ENOUGH_ASKED
    assert "send a sample" in found.stop
    assert found.causes[0].id == OTHER


def test_two_at_once_are_both_shown_with_their_evidence() -> None:
    """Powdery mildew and squash vine borer: signs of each, that neither makes alone."""
    both: dict[str, Answer] = dict.fromkeys(
        ("white_powder_upper", "old_leaves_first", "frass", "stem_hollow", "wilt_day_recover"), "yes"
    )
    found = of(both, Setting("zucchini"))
    assert "cucurbit powdery mildew" in found.two
    assert "squash vine borer" in found.two
    shown = {c.id: c for c in found.causes}
    assert "white-powder-upper" in {s.sign for s in shown["powdery-mildew-cucurbit"].speaks_for}
    assert "stem-hollow" in {s.sign for s in shown["squash-vine-borer"].speaks_for}


def test_an_unlikely_cause_for_which_nothing_speaks_gets_no_line() -> None:
    found = of({"mosaic_mottle": "yes", "strap_narrow": "yes"}, Setting("tomato-determinate"))
    assert all(c.speaks_for for c in found.causes if c.id != OTHER)
    assert "cutworms" not in {c.id for c in found.causes}


def test_warmth_of_the_last_days_leans() -> None:
    """Late blight at 13-24 °C, southern bacterial wilt at 29-35 °C (the reference's diseases)."""
    wilt: dict[str, Answer] = {"wilt_sudden_stays": "yes"}
    cool, hot = (weigh(wilt, Setting("tomato-determinate", mean_c=c)) for c in (14.0, 31.0))
    assert hot.of("bacterial_wilt_solanaceous")[1] > 1.5 * cool.of("bacterial_wilt_solanaceous")[1]
    none = weigh(wilt, Setting("tomato-determinate"))
    blight: dict[str, Answer] = {"water_soaked_greasy": "yes"}
    cool, hot = (weigh(blight, Setting("tomato-determinate", mean_c=c)) for c in (16.0, 33.0))
    assert cool.of("late_blight")[1] > 1.5 * hot.of("late_blight")[1]
    assert none.middle.sum() == pytest.approx(1.0)


def test_how_to_find_out_is_told_of_a_cause_that_is_likely_enough() -> None:
    """No bumps of edema are spoken of where a rot of fruit is asked about."""
    for crop, seen in (
        ("tomato-determinate", "fruit_end_black"),
        ("bean-bush", "leaf_edges_tips"),
        ("zucchini", "frass"),
    ):
        found = of({seen: "yes"}, Setting(crop))
        whole = weigh({seen: "yes"}, Setting(crop))
        told = {settles()[id_].what for id_ in whole.order[:SHOWN] if id_ in settles()}
        assert {n.how for n in found.next} <= {"", *told}


def test_what_the_order_hangs_on_is_told_with_its_answer() -> None:
    found = of({"new_growth_first": "yes", "strap_narrow": "yes", "mosaic_mottle": "no"}, Setting("tomato-determinate"))
    assert "hangs on" in found.firm
    assert "light and dark green patchwork (not there)" in found.firm
    assert "run parallel (not there)" not in found.firm
