"""Whether a product may be put on: each reason by itself, and the rules of the trade beside their source."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest
from spraying import FIT, NOW, TODAY, at, case, label, record, treated, weather

from kailyard import discover
from kailyard.garden.entries.label import Gap
from kailyard.garden.entries.rules import Rules
from kailyard.troubles.case import QUESTIONS, Coming, Cost
from kailyard.troubles.checking import CHECKS, check


def found(made, name):
    return [f for f in check(made).findings if f.check == name and not f.beside]


def test_with_nothing_against_it_it_may():
    verdict = check(case())
    assert verdict.against == ()
    assert verdict.answer == "may"


def test_every_check_has_its_say():
    said = {f.check for f in check(case()).findings if not f.beside}
    assert said == {m.NAME for m in discover.modules(CHECKS)}


@pytest.mark.parametrize(
    ("changes", "answer", "name"),
    [
        ({"crops": ("cucumber",)}, "never", "crop"),
        ({"crops": ()}, "unknown", "crop"),
        ({"troubles": ("aphids",)}, "never", "trouble"),
        ({"troubles": ()}, "unknown", "trouble"),
        ({"number": ""}, "unknown", "registration"),
        ({"registered_in": "Eastmark"}, "never", "registration"),
        ({"days_to_picking": None}, "unknown", "picking"),
        ({"entry_hours": None}, "unknown", "going in again"),
        ({"temp_max_c": None}, "unknown", "heat and cold"),
        ({"most_uses": None}, "unknown", "uses left"),
        ({"least_interval_days": None}, "unknown", "interval"),
        ({"group": ""}, "unknown", "change of group"),
        ({"organic": None}, "unknown", "organic rules"),
        ({"organic": False}, "never", "organic rules"),
        ({"none_stated": ()}, "unknown", "bees"),
        ({"active": "essence of moonlight"}, "unknown", "kitchen garden"),
        ({"active": "glyphosate"}, "never", "kitchen garden"),
        ({"active": "metaldehyde"}, "never", "kitchen garden"),
    ],
)
def test_what_the_label_says_or_leaves_blank_counts(changes, answer, name):
    made = case(record=record(**changes))
    assert answer in {f.answer for f in found(made, name)}
    assert check(made).answer != "may"


@pytest.mark.parametrize("name", ["rain_free_hours", "temp_min_c", "water_m", "wind_max_m_s", "bees"])
def test_a_blank_is_unknown_and_not_stated_is_not(name):
    silent = label().none_stated
    blank = record(none_stated=tuple(n for n in silent if n != name))
    assert check(case(record=blank)).answer == "unknown"


def test_nought_days_to_picking_are_a_figure_and_blank_is_none():
    assert [f.answer for f in found(case(record=record(days_to_picking=0)), "picking")] == ["may"]
    assert [f.answer for f in found(case(record=record(days_to_picking=None)), "picking")] == ["unknown"]


def test_days_to_picking_differ_by_crop_on_one_label():
    # cautions.md: permethrin on one label: tomato 0, lettuce 1, pepper 3, potato 7 days (Mississippi State).
    by_crop = {"tomatoes": 0, "lettuce": 1, "pepper": 3, "potato": 7}
    made = record(crops=tuple(by_crop), days_to_picking=None, days_by_crop=by_crop)
    says = [
        found(case(record=made, crop=c), "picking")[0].says for c in ("tomato-determinate", "pepper-sweet", "potato")
    ]
    assert "no days" in says[0]
    assert "for 3 days" in says[1]
    assert "for 7 days: again from 21 July" in says[2]


def test_the_cost_in_pickings_stands_beside():
    made = case(
        record=record(days_to_picking=3),
        cost=lambda first, last: Cost(f"{(last - first).days + 1} days go over.", True),
    )
    words = [f.says for f in check(made).findings if f.check == "picking"]
    assert "3 days go over." in words
    blind = case(record=record(days_to_picking=3))
    assert "What that costs in pickings cannot be told." in [f.says for f in check(blind).findings]


def test_the_days_highest_counts_not_the_hour():
    # spray-rules S14, S40: 20 °C in the evening and 36 °C tomorrow burns.
    hot = weather(temp_c=20.0)
    hot = replace(hot, tmax_c={**hot.tmax_c, TODAY + timedelta(days=1): 36.0})
    (first, *_) = [f for f in found(case(weather=hot), "heat and cold") if f.answer == "not now"]
    assert "36 °C on 15 July" in first.says
    assert first.until == at(TODAY + timedelta(days=2), 0)


def test_the_sterner_of_label_and_handbook_holds_for_heat():
    # The label says 32 °C, the handbook 29 °C (Missouri Botanical Garden): at 30 °C it burns.
    assert check(case(weather=weather(tmax_c=30.0))).answer == "not now"
    assert check(case(record=record(temp_max_c=25.0), weather=weather(tmax_c=27.0))).answer == "not now"


def test_a_limit_of_effect_is_no_limit_of_burn():
    # remedies README: ceilings on Bt are limits of effect only.
    made = record(
        active="Bacillus thuringiensis kurstaki",
        troubles=("hornworms",),
        crops=("tomato",),
        group="IRAC 11A",
        temp_max_c=None,
        temp_min_c=15.0,
        none_stated=("bees", "gaps", "rain_free_hours", "temp_max_c", "water_m", "wind_max_m_s"),
    )
    hot = case(
        record=made,
        crop="tomato-determinate",
        plants="tomatoes",
        trouble="hornworms",
        weather=weather(tmax_c=35.0, temp_c=24.0),
    )
    assert "not now" not in {f.answer for f in found(hot, "heat and cold")}


@pytest.mark.parametrize(
    ("wind_m_s", "answer"),
    [
        (0.0, "not now"),  # S37 dead calm
        (0.8, "not now"),  # S2 below 2 mph
        (1.2, "not now"),  # S36: at least 3 mph; S1 would take 2: the sterner holds
        (2.2, "may"),  # S3 best for fungicides: 3 to 5 mph
        (3.4, "may"),
        (3.9, "not now"),  # S36: at most 8 mph
        (5.0, "not now"),  # S4 above 10 mph
    ],
)
def test_wind_a_light_breeze_is_wanted_and_calm_is_a_fault(wind_m_s, answer):
    assert check(case(weather=weather(wind_m_s=wind_m_s))).answer == answer


@pytest.mark.parametrize(
    ("temp_c", "humidity_pct", "answer"),
    [
        (20, 50, "may"),  # spray-conditions.md, section 3: Delta T 6.3, best
        (22, 60, "may"),
        (25, 50, "may"),
        (28, 40, "may"),  # 9.2, marginal: may, with a word beside
        (15, 90, "not now"),  # 1.2, too moist
        (30, 30, "not now"),  # 11.6
        (35, 20, "not now"),  # 15.7
    ],
)
def test_drying_by_the_printed_rows_of_delta_t(temp_c, humidity_pct, answer):
    made = case(weather=weather(temp_c=temp_c, humidity_pct=humidity_pct, tmax_c=28.0))
    assert [f.answer for f in found(made, "thirst and drying") if "Delta T" in f.says] == [answer]


@pytest.mark.parametrize(
    ("hour", "spot", "answer"),
    [
        (4, True, "not now"),  # S7: night
        (6, True, "not now"),  # within two hours of sunrise
        (15, True, "may"),
        (18.5, None, "not now"),  # S7, within two hours of sunset: only if somebody looks
        (18.5, True, "may"),  # S41: both pass
        (21, True, "not now"),
    ],
)
def test_still_air_about_dusk_and_dawn(hour, spot, answer):
    seen = dict(case().spot)
    if spot is None:
        del seen["no-inversion"]
    when = at(TODAY, hour)
    known = weather()
    known = replace(known, hours={**known.hours, when: replace(next(iter(known.hours.values())), begins=when)})
    got = found(case(hour=when, spot=seen, weather=known, now=when), "still air")
    assert answer in {f.answer for f in got}


@pytest.mark.parametrize(("active", "need"), [("sulfur", 4), ("chlorothalonil", 24), ("mancozeb", 24)])
def test_rain_within_the_hours_that_it_needs_stops_it(active, need):
    # S18: most need 4 h; remedies.csv: chlorothalonil and mancozeb 4 to 24, the longer holds.
    made = case(record=record(active=active))
    dry = made.weather
    late = FIT + timedelta(hours=need)
    wet = replace(dry, hours={**dry.hours, late: replace(dry.hours[late], rain_mm=2.0)})
    assert "not now" in {f.answer for f in found(replace(made, weather=wet), "rain")}
    later = FIT + timedelta(hours=need + 2)
    wet = replace(dry, hours={**dry.hours, later: replace(dry.hours[later], rain_mm=2.0)})
    assert "not now" not in {f.answer for f in found(replace(made, weather=wet), "rain")}


def test_squash_flowers_are_open_from_first_light_and_dusk_comes_after_they_shut():
    # S38: from 1 h before to 7 h after sunrise (5:30 here): stop.
    morning = case(in_bloom=True, hour=at(TODAY, 8), now=at(TODAY, 0))
    (stop,) = [f for f in found(morning, "bees") if f.answer == "not now"]
    assert stop.until == at(TODAY, 12.5)
    assert "squash bees" in stop.says
    assert "not now" not in {f.answer for f in found(case(in_bloom=True, hour=at(TODAY, 17)), "bees")}


def test_open_flowers_stop_it_even_when_no_bee_is_seen():
    seen = {**case().spot, "no-open-flowers": False}
    assert check(case(spot=seen)).answer == "not now"
    assert check(case(spot=seen, in_bloom=True, hour=at(TODAY, 17), now=at(TODAY, 16))).answer == "not now"


def test_what_is_highly_toxic_to_bees_waits_till_the_bloom_is_over():
    # S27 class I never on bloom; S24: residue over 8 h, no spray on bloom at all.
    made = case(record=record(active="permethrin"), in_bloom=True)
    assert "not now" in {f.answer for f in found(made, "bees")}


def test_unknown_bloom_is_unknown_until_somebody_looks():
    unseen = {k: v for k, v in case().spot.items() if k != "no-open-flowers"}
    assert "unknown" in {f.answer for f in found(case(in_bloom=None, spot=unseen), "bees")}
    assert check(case(in_bloom=None)).answer == "may", "somebody has looked"
    assert "unknown" in {f.answer for f in found(case(in_bloom=None, record=record(active="permethrin")), "bees")}


@pytest.mark.parametrize("active", ["Bacillus thuringiensis kurstaki", "sulfur", "soap"])
def test_nothing_is_ever_put_on_milkweed(active):
    assert check(case(record=record(active=active), host_of_butterflies=True)).answer == "never"


@pytest.mark.parametrize("key", sorted(QUESTIONS))
def test_what_nobody_has_seen_is_unknown_and_no_is_not_now(key):
    seen = {k: v for k, v in case().spot.items() if k != key}
    assert check(case(spot=seen)).answer == "unknown"
    assert key in check(case(spot=seen)).asks
    assert check(case(spot={**seen, key: False})).answer == "not now"


def test_a_class_in_the_hours_of_the_label_puts_it_off():
    school = Coming(TODAY + timedelta(days=1), "a class")
    verdict = check(case(coming=(school,)))
    assert verdict.answer == "not now"
    assert verdict.until == at(TODAY + timedelta(days=2), 0)
    assert check(case(coming=(Coming(TODAY + timedelta(days=3), "a class"),))).answer == "may"
    assert check(case(coming=(Coming(TODAY, ""),))).answer == "may", "one's own visit is warned of"


def test_uses_and_days_between_are_counted():
    mine = record()
    twice = (treated(date(2026, 6, 1), mine, entry="a"), treated(date(2026, 7, 10), mine, entry="b"))
    (gap,) = [f for f in found(case(treatments=twice), "interval") if f.answer == "not now"]
    assert gap.until == at(date(2026, 7, 17), 0)
    four = tuple(treated(date(2026, m, 1), mine, entry=str(m)) for m in (3, 4, 5, 6))
    assert "never" in {f.answer for f in found(case(treatments=four), "uses left")}
    other_name = record(name="Another")
    assert "never" in {f.answer for f in found(case(treatments=four, record=other_name), "uses left")}, "same active"
    last_year = tuple(treated(date(2025, m, 1), mine, entry=str(m)) for m in (3, 4, 5, 6))
    assert {f.answer for f in found(case(treatments=last_year), "uses left")} == {"may"}


@pytest.mark.parametrize(
    ("first", "second"), [("mineral oil", "sulfur"), ("sulfur", "mineral oil"), ("neem oil", "lime sulfur")]
)
def test_oil_and_sulfur_lie_thirty_days_apart_in_either_order(first, second):
    # remedies README, 3: two schools, 14 and 30 days; the sterner holds, whatever a label says less.
    says_less = (Gap("oil", after_other=14, before_other=14), Gap("sulfur", after_other=14, before_other=14))
    before, now = (
        record(name="First", active=first, gaps=says_less),
        record(name="Second", active=second, gaps=says_less),
    )
    for days, stopped in ((20, True), (29, True), (30, False)):
        made = case(record=now, treatments=(treated(TODAY - timedelta(days=days), before),))
        assert ("not now" in {f.answer for f in found(made, "gaps")}) is stopped, days


def test_the_other_label_has_its_say_too():
    before = record(name="First", active="captan", gaps=(Gap("sulfur", before_other=21),))
    made = case(treatments=(treated(TODAY - timedelta(days=10), before),))
    (stop,) = [f for f in found(made, "gaps") if f.answer == "not now"]
    assert stop.until == at(TODAY + timedelta(days=11), 0)


def test_a_long_gap_of_a_label_holds_as_long_as_it_says():
    before = record(name="First", active="captan", gaps=(Gap("sulfur", before_other=90),))
    made = case(treatments=(treated(TODAY - timedelta(days=80), before),))
    assert "not now" in {f.answer for f in found(made, "gaps")}
    done = case(treatments=(treated(TODAY - timedelta(days=90), before),))
    assert {f.answer for f in found(done, "gaps")} == {"may"}


def test_groups_are_changed():
    # University of California: one spray of groups 1, 4, 9, 11, 17; two in a row of others; insecticides twice a year.
    def row(active, group, days):
        mine = record(name="X", active=active, group=group)
        return case(record=mine, treatments=tuple(treated(TODAY - timedelta(days=d), mine, entry=str(d)) for d in days))

    assert "not now" in {f.answer for f in found(row("an eleven", "FRAC 11", (20,)), "change of group")}
    assert {f.answer for f in found(row("sulfur", "FRAC M02", (20,)), "change of group")} == {"may"}
    assert "not now" in {f.answer for f in found(row("sulfur", "FRAC M02", (40, 20)), "change of group")}
    assert "not now" in {f.answer for f in found(row("spinosad", "IRAC 5", (60, 30)), "change of group")}
    carbamate, phosphate = (
        record(name="A", active="carbaryl", group="IRAC 1A"),
        record(name="B", active="malathion", group="IRAC 1B"),
    )
    both = (
        treated(TODAY - timedelta(days=60), carbamate, entry="a"),
        treated(TODAY - timedelta(days=30), carbamate, entry="b"),
    )
    assert "not now" in {f.answer for f in found(case(record=phosphate, treatments=both), "change of group")}


def test_a_treatment_without_a_label_record_makes_picking_unknown():
    made = case(treatments=(treated(TODAY - timedelta(days=5), None),))
    assert "unknown" in {f.answer for f in found(made, "treated before")}
    assert check(made).answer == "unknown"


def test_organic_rules_hold_only_where_declared():
    synthetic = record(active="chlorothalonil", organic=True)
    assert "never" in {f.answer for f in found(case(record=synthetic), "organic rules")}
    free = case(record=synthetic, rules=Rules(registered_in="Westmark"))
    assert {f.answer for f in found(free, "organic rules")} == {"may"}


def test_copper_waits_where_leaves_dry_slowly():
    # S42: copper must not lie on wet or slow-drying leaves.
    made = record(
        active="copper octanoate",
        temp_min_c=7.0,
        none_stated=("bees", "gaps", "rain_free_hours", "water_m", "wind_max_m_s"),
    )
    moist = weather(humidity_pct=84.0, temp_c=22.0)
    assert "not now" in {f.answer for f in found(case(record=made, weather=moist), "wet leaves")}
    assert "not now" not in {f.answer for f in found(case(weather=moist), "wet leaves")}


def test_treated_clippings_never_mulch_beds():
    assert any("mulch" in f.says for f in check(case(record=record(active="dicamba"))).beside)


def test_a_day_is_judged_by_its_best_hour():
    verdict = check(case(hour=None))
    assert verdict.answer == "may"
    assert verdict.hour is not None
    assert verdict.hour + timedelta(hours=1) > NOW
    assert check(case(hour=None, weather=replace(weather(), hours={}))).answer == "unknown"


def test_an_hour_that_is_over_is_never_allowed():
    assert check(case(now=at(TODAY, 18))).answer == "never"
