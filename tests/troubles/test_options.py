"""What may be done: the order of it, what is taken out at once, what is not possible here, what is met next season."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta

import pytest
from spraying import record

from kailyard.garden.model import Entry
from kailyard.handbook.remedies import courses, remedies
from kailyard.handbook.troubles import all_troubles
from kailyard.troubles.cautions import ALWAYS, LABEL, cautions
from kailyard.troubles.next_season import next_steps, wanted_codes
from kailyard.troubles.options import APART, CUT, LEAVE, REMOVE, Asked, not_possible, options

TODAY = date(2026, 7, 14)
MILDEW = Asked("powdery-mildew-cucurbit", "zucchini", "zucchini", TODAY, sure="settled", in_bloom=True)
ORDER = ("removal", "prevention", "hand", "barrier", "biological", "product", "leave alone")
REMOVED = [t for t, c in courses().items() if c.remove]


def ids(choice):
    return [o.id for o in choice.options]


@pytest.mark.parametrize("trouble", [t.id for t in all_troubles()])
def test_every_trouble_has_an_answer_and_leaving_it_alone_with_its_cost_is_one(trouble):
    choice = options(replace(MILDEW, trouble=trouble))
    (leave,) = [o for o in choice.options if o.id == LEAVE]
    assert leave.reasons
    assert "cost" in leave.how or "what they do goes on" in leave.how or leave.how == "nothing to do"
    assert choice.next_look > TODAY
    kinds = [ORDER.index(o.kind) for o in choice.options]
    assert kinds == sorted(kinds), "prevention first"
    assert all(o.reasons and all(r.rests_on for r in o.reasons) for o in choice.options)
    never = {r.id for r in remedies().values() if not r.advised}
    assert not never & set(ids(choice))


@pytest.mark.parametrize("trouble", REMOVED)
def test_blights_viruses_and_wilts_are_taken_out_at_once(trouble):
    choice = options(replace(MILDEW, trouble=trouble))
    assert choice.together[0].id == REMOVE
    assert "out now" in choice.first


def test_late_blight_viruses_and_wilts_are_among_them():
    viruses, wilts = {"cmv", "tswv", "tobamovirus"}, {"fusarium_wilt", "verticillium_wilt", "bacterial_wilt_cucurbit"}
    assert {"late_blight"} | viruses | wilts <= set(REMOVED)


def test_what_is_not_possible_here_comes_off_and_the_next_shows():
    usual = options(MILDEW)
    first = usual.together[0].id
    other = options(replace(MILDEW, not_possible=frozenset({first})))
    assert first not in ids(other)
    assert [o.id for o in other.struck] == [first]
    assert other.together
    assert other.together[0].id != first
    blight = options(replace(MILDEW, trouble="late_blight", not_possible=frozenset({REMOVE})))
    assert blight.together[0].id == CUT


def test_everything_struck_out_still_answers():
    every = frozenset(ids(options(MILDEW)))
    choice = options(replace(MILDEW, not_possible=every))
    assert choice.together == ()
    assert "extension office" in choice.first


@pytest.mark.parametrize(("count", "leaves"), [("below", True), ("undecided", False), ("above", False)])
def test_the_count_against_the_threshold_decides(count, leaves):
    soap = record(active="insecticidal soap", troubles=("aphids",))
    found = options(replace(MILDEW, trouble="melon_aphid", count=count, records={"x": soap}))
    advised = {o.id for o in found.together}
    assert (advised == {LEAVE}) is leaves
    assert ("soap" in advised) is (count == "above"), "nothing is put on below the threshold, or before it is known"


def test_without_a_label_record_a_product_is_only_read_the_label():
    choice = options(MILDEW)
    put_on = [o for o in choice.options if o.needs_label]
    assert put_on
    assert all(not o.advised and "read it for" in o.how for o in put_on)
    mine = options(replace(MILDEW, records={"mealmute": record()}))
    (sulfur,) = [o for o in mine.options if o.id == "sulfur"]
    assert sulfur.labels == ("Mealmute",)
    assert sulfur.advised
    other = options(replace(MILDEW, records={"mealmute": record(crops=("grape",))}))
    (sulfur,) = [o for o in other.options if o.id == "sulfur"]
    assert sulfur.labels == ()


def test_taking_leaves_has_its_ceiling():
    (by_crop,) = [o for o in options(replace(MILDEW, leaf_share_max=0.2)).options if o.id == "sanitation"]
    assert "20 % of the leaves" in by_crop.how
    (without,) = [o for o in options(MILDEW).options if o.id == "sanitation"]
    assert "a third of the leaves" in without.how


def test_leaves_are_not_taken_twice_in_one_week():
    again = TODAY + timedelta(days=3)
    (leaves,) = [o for o in options(replace(MILDEW, leaves_from=again)).options if o.id == "sanitation"]
    assert "again from 17 July" in leaves.why_not
    assert not leaves.advised
    (free,) = [o for o in options(replace(MILDEW, leaves_from=TODAY)).options if o.id == "sanitation"]
    assert not free.why_not


def test_a_cover_is_not_put_over_open_flowers():
    (cover,) = [o for o in options(replace(MILDEW, trouble="squash_vine_borer")).options if o.id == "row_cover"]
    assert cover.why_not
    assert not cover.advised


def test_organic_rules_take_the_synthetic_off():
    choice = options(replace(MILDEW, organic=True))
    (shut_out,) = [o for o in choice.options if o.id == "myclobutanil"]
    assert "organic" in shut_out.why_not


def test_resistance_is_tolerance_by_the_codes_of_this_crop():
    # resistance-codes.csv: Px and Gc on cucumber, melon and squash lists (ISF), PM in catalogues of cucurbits and peas.
    (kind,) = [
        s
        for s in next_steps("powdery-mildew-cucurbit", "cucumber-slicing", "cucumbers", today=TODAY)
        if s.id == "resistant-kind"
    ]
    assert "Px, Gc or PM" in kind.says
    assert "tolerance, not immunity" in kind.says


def test_one_code_means_one_thing_in_one_crop():
    # Pb is clubroot in cabbage lists, Peronospora belbahrii in basil lists.
    (cabbage,) = [s for s in next_steps("clubroot", "cabbage", "cabbage", today=TODAY) if s.id == "resistant-kind"]
    assert any("clubroot" in r.says for r in cabbage.reasons)
    (basil,) = [s for s in next_steps("basil_downy", "basil", "basil", today=TODAY) if s.id == "resistant-kind"]
    assert all("clubroot" not in r.says.split("(")[0] for r in basil.reasons)


def test_keeping_away_is_advised_only_against_what_stays_in_the_bed():
    assert "rotation" in {s.id for s in next_steps("clubroot", "cabbage", "cabbage", today=TODAY)}
    for blown_in in ("powdery-mildew-cucurbit", "downy-mildew-cucurbit", "late-blight", "bacterial-wilt-cucurbit"):
        assert "rotation" not in {s.id for s in next_steps(blown_in, "cucumber-slicing", "cucumbers", today=TODAY)}, (
            blown_in
        )


def test_seed_is_chosen_by_this_years_and_last_years_troubles():
    def found(year, target="cucumber-1"):
        day = date(year, 7, 1)
        return Entry(f"f-{year}", "found", 1, day, datetime(year, 7, 1, 12, tzinfo=UTC), target=target,
                     payload={"trouble": "powdery-mildew-cucurbit"})  # fmt: skip

    crop_of = {"cucumber-1": "cucumber-slicing"}
    for year, wanted in ((2026, True), (2025, True), (2024, False)):
        codes = wanted_codes([found(year)], "cucumber-slicing", crop_of, date(2026, 12, 1))
        assert bool(codes) is wanted, year
    assert wanted_codes([found(2026)], "pea", crop_of, date(2026, 12, 1)) == {}


def test_the_words_that_belong_beside():
    beside = cautions("zucchini", "powdery_mildew_cucurbit", sprayed=True, children=None)
    assert set(LABEL) | set(ALWAYS) <= set(beside)
    assert any("not even cooked" in c for c in beside)
    assert any("lead" in c for c in beside), "children may garden where nobody said that none do"
    assert any("Green" in c for c in cautions("potato", "late_blight", sprayed=False, children=False))
    assert any("manure" in c for c in cautions("pea", "gr_residue", sprayed=False, children=False))
    assert not any("is safe to eat." in c and "Nothing here" not in c for c in beside)


def chosen(trouble, crop="zucchini", **more):
    return options(replace(MILDEW, trouble=trouble, crop=crop, **more))


@pytest.mark.parametrize("trouble", [t.id for t in all_troubles() if t.category in ("virus", "herbicide", "nutrient")])
def test_nothing_to_spray_is_set_against_a_virus_a_weedkiller_or_hunger(trouble):
    # A spray cures none of them (USDA and land-grant plant clinics alike; common practice). One material stands beside
    # a mosaic, and says that it only hinders the aphids.
    for o in chosen(trouble).options:
        assert not o.needs_label or "cures nothing" in o.how, o.id


@pytest.mark.parametrize("trouble", [t.id for t in all_troubles() if t.category == "herbicide"])
def test_a_weedkiller_is_written_down_and_waited_for_not_watered_or_fed_away(trouble):
    # herbicide-facts.csv: recovery_wait, two to three weeks; evidence before anything is pulled; eating: agencies
    # advise against it.
    choice = chosen(trouble)
    assert "Write it down" in choice.together[0].says
    assert {"record", "keep-it-here", "do-not-eat", "wait"} <= {o.id for o in choice.together}
    assert not any(o.says.startswith(("Water", "Feed", "Spray")) for o in choice.options)
    assert any("against eating" in said for said in cautions("tomato", trouble, sprayed=False, children=False))


@pytest.mark.parametrize("trouble", [t.id for t in all_troubles() if not t.harmless])
def test_what_leaving_it_alone_costs_is_said_of_every_trouble(trouble):
    (leave,) = [o for o in chosen(trouble).options if o.id == LEAVE]
    assert "not known" not in leave.how


def test_fungus_killers_stand_against_fungi_and_insect_killers_against_creatures():
    # The materials' own targets, remedies.csv of the reference.
    fungi = {"chlorothalonil", "mancozeb", "myclobutanil", "copper_fixed", "bordeaux", "khco3"}
    creatures = {"btk", "bta", "btt", "spinosad", "pyrethrins", "carbaryl", "malathion", "permethrin", "azadirachtin"}
    of_sickness = {"fungus", "oomycete", "bacterium", "oomycete/fungus"}
    for t in all_troubles():
        found = set(ids(chosen(t.id)))
        assert t.category in of_sickness or not found & fungi, t.id
        assert t.category in ("insect", "mite", "mollusc") or not found & creatures, t.id


def test_what_is_in_the_whole_plant_is_not_cut_out():
    # A virus and a wilt are in all of the plant: cutting rids it of neither (common practice).
    for inside in ("cmv", "tswv", "fusarium_wilt", "bacterial_wilt_cucurbit", "clubroot"):
        choice = chosen(inside, not_possible=frozenset({REMOVE}))
        assert CUT not in ids(choice)
        assert choice.together[0].id == APART


def test_no_tomato_catches_a_wilt_from_the_soil_by_the_day():
    assert "they do not recover" in chosen("fusarium_wilt", "tomato-determinate").first
    assert "every day they stand" in chosen("late_blight", "tomato-determinate").first


def test_what_is_regulated_is_reported_before_it_is_moved():
    assert "Report it first" in chosen("clubroot", "cabbage").first
    assert "Report it first" not in chosen("septoria_leaf_spot", "tomato-determinate").first


def test_prevention_leaves_room_for_what_is_taken_off_by_hand():
    advised = chosen("septoria_leaf_spot", "tomato-determinate").together
    assert [o.kind for o in advised] == ["prevention", "prevention", "hand"]


def test_a_cover_may_stay_over_what_needs_no_bees():
    (cover,) = [o for o in chosen("caterpillars_leaf", "cabbage", needs_bees=False).options if o.id == "row_cover"]
    assert not cover.why_not
    assert not cover.advised, "it keeps off what is not there yet"


def test_a_step_for_one_crop_is_said_of_that_crop_only():
    assert "haulm" in ids(chosen("late_blight", "potato"))
    assert "haulm" not in ids(chosen("late_blight", "tomato-determinate"))


def test_no_two_steps_of_a_trouble_go_by_one_name():
    for t in all_troubles():
        found = ids(chosen(t.id))
        assert len(found) == len(set(found)), t.id


def test_the_next_look_has_its_day_and_says_what_tells():
    # herbicide-facts.csv, recovery_wait: two to three weeks.
    for trouble, days, word in (
        ("septoria_leaf_spot", 7, "grown since"),
        ("late_blight", 3, "beside"),
        ("gr_drift", 14, "grown since"),
        ("deer", 7, "fresh"),
    ):
        choice = chosen(trouble, "tomato-determinate")
        assert (choice.next_look - TODAY).days == days, trouble
        assert word in choice.judged


def test_before_the_others_go_a_sample_is_sent_where_it_is_not_settled():
    assert "send a sample" in chosen("cmv", "tomato-determinate", sure="likely").first
    assert "send a sample" not in chosen("cmv", "tomato-determinate", sure="settled").first


def test_the_daybook_remembers_what_is_not_possible_and_what_is_after_all():
    said_of = {True: "possible", False: "not possible"}

    def step(name, possible, day, trouble="late-blight", target="tomato-1"):
        return Entry(f"s-{name}-{day}", "step", 1, date(2026, 7, day), datetime(2026, 7, day, 12, tzinfo=UTC),
                     target=target, payload={"trouble": trouble, "step": name, "here": said_of[possible]})  # fmt: skip

    said = [step("take-out", False, 1), step("row_cover", False, 2), step("row_cover", True, 3),
            step("cut-out", False, 4, trouble="white-mold"), step("cut-out", False, 4, target="tomato-2")]  # fmt: skip
    assert not_possible(said, ("tomato-1", "bed-1"), "late_blight") == {"take-out"}


def test_the_days_of_a_flight_stand_beside_the_sowing_that_waits_for_its_end():
    days = (date(2027, 6, 24), date(2027, 8, 1))
    (late,) = [
        s for s in next_steps("squash_vine_borer", "zucchini", "zucchini", today=TODAY, flown=days) if s.id == "timing"
    ]
    assert "24 June to 1 August 2027" in late.by


def test_a_support_is_for_what_wet_leaves_take_and_for_what_climbs():
    def names(trouble, crop, climbs):
        return {s.id: s.says for s in next_steps(trouble, crop, crop, today=TODAY, climbs=climbs)}

    assert "support" in names("downy-mildew-cucurbit", "cucumber-slicing", climbs=True)["trellis"]
    assert "support" not in names("downy-mildew-cucurbit", "cucumber-slicing", climbs=False)["trellis"]
    # Powdery mildew needs no free water (McGrath, Cornell): leaves that dry sooner do not hinder it.
    assert "trellis" not in names("powdery-mildew-cucurbit", "cucumber-slicing", climbs=True)


def test_own_seed_goes_through_hot_water_only_where_that_helps_and_with_its_limits():
    # remedies.csv: seed-borne bacteria of brassicas, tomato and pepper; not on cucurbits, peas or beans.
    (seed,) = [s for s in next_steps("black_rot", "cabbage", "cabbages", today=TODAY) if s.id == "hot-water-seed"]
    assert "50 C 20-25 min" in seed.reasons[0].says
    assert "not on cucurbit" in seed.reasons[0].says
    ids_of = {s.id for s in next_steps("angular_leaf_spot", "cucumber-slicing", "cucumbers", today=TODAY)}
    assert "hot-water-seed" not in ids_of
