"""What an applicator in a hurry overlooks: for each trap the check must be sterner than memory.

Rules are those of the handbook's spray rules (S...), each with its published source there, and of its cautions; where a
trap rests on the wording of labels as such it is common practice.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from spraying import FIT, NOW, TODAY, at, case, label, record, treated, weather

from kailyard.garden.entries.label import Gap
from kailyard.garden.entries.rules import Rules
from kailyard.garden.model import Entry
from kailyard.handbook.troubles import troubles
from kailyard.troubles.case import Case, Hour, Weather
from kailyard.troubles.checking import check
from kailyard.troubles.checks.rotation import groups, unread
from kailyard.troubles.label import against, names_crop, records, treatments
from kailyard.troubles.spray_hours import next_fit, spray_hours

OIL = {"name": "Sleek", "active": "mineral oil", "group": "IRAC UNM", "temp_min_c": 5.0,
       "none_stated": ("bees", "gaps", "rain_free_hours", "water_m", "wind_max_m_s")}  # fmt: skip


def found(made: Case, name: str) -> set[str]:
    return {f.answer for f in check(made).findings if f.check == name and not f.beside}


def said(made: Case, name: str) -> str:
    return " ".join(f.says for f in check(made).findings if f.check == name)


# The words of a label


@pytest.mark.parametrize(
    ("on_label", "crop"),
    [
        ("cabbage", "broccoli"), ("cabbage", "kohlrabi"), ("beet", "chard"), ("onion", "bunching-onion"),
        ("kale", "collard"), ("pumpkin", "winter-squash-acorn"), ("bean", "cowpea"), ("corn", "sweet-corn"),
        ("flowers", "nasturtium"), ("zucchini", "squash-yellow-straightneck"), ("vegetables", "zucchini"),
        ("raspberry", "blackberry"), ("pea", "sweet-pea"),
    ],
)  # fmt: skip
def test_a_crop_that_only_shares_pests_or_a_word_is_another_crop(on_label: str, crop: str) -> None:
    assert not names_crop(on_label, crop, (crop.replace("-", " "),)) or on_label == crop.replace("-", " ")


@pytest.mark.parametrize("word", ["leaf spot", "blight", "mildew", "plant bugs", "worms"])
def test_a_general_word_takes_in_no_trouble_by_bacteria_and_no_other_insect(word: str) -> None:
    fits = {t.id for t in troubles().values() if against(label(troubles=(word,)), t.id)}
    assert not {t for t in fits if troubles()[t].category in ("bacterium", "virus")}
    assert "stink_bugs" not in fits


def test_where_two_words_of_days_fit_a_crop_the_longer_wait_holds() -> None:
    made = record(days_to_picking=None, days_by_crop={"squash": 0, "zucchini": 3})
    assert "for 3 days" in said(case(record=made), "picking")


@pytest.mark.parametrize(
    ("sites", "answer"),
    [
        (("home garden",), "may"),
        (("residential vegetable gardens", "ornamentals"), "may"),
        ((), "unknown"),
        (("outdoors",), "unknown"),
        (("lawns", "turf"), "never"),
        (("home ornamentals",), "never"),
        (("roses and flowers in home gardens",), "never"),
        (("commercial vegetable farms",), "never"),
        (("professional use on food crops",), "never"),
        (("home gardens, not vegetables",), "never"),
    ],
)
def test_the_site_must_be_a_home_garden_of_food(sites: tuple[str, ...], answer: str) -> None:
    # Pacific Northwest handbook (cautions): a home garden product must be labelled for home use and for the crop.
    verdict = check(case(record=record(sites=sites)))
    worst = next(f.answer for f in verdict.findings if f.check == "site")
    assert worst == answer
    assert (verdict.answer == "may") is (answer == "may")


def test_of_a_mixture_every_part_has_its_say() -> None:
    # Sulfur alone is of little harm to bees; pyrethrins are highly toxic (Pacific Northwest, University of California).
    mixed = record(active="sulfur and pyrethrins", group="FRAC M02; IRAC 3A")
    in_flower = case(record=mixed, in_bloom=True, hour=at(TODAY, 15), flowers_in_bed=("beans",))
    assert "not now" in found(in_flower, "bees")
    assert "not now" not in found(replace(in_flower, record=record()), "bees")
    assert "unknown" in found(case(record=record(active="sulfur; essence of moonlight")), "kitchen garden")
    assert "never" in found(case(record=record(active="glyphosate, soap")), "kitchen garden")
    oily = record(active="mineral oil + sulfur", name="Both")
    assert "not now" in found(case(treatments=(treated(TODAY - timedelta(days=20), oily),)), "gaps")


# What was put on before


def by_words(day: date, words: str) -> Entry:
    return Entry(
        f"w-{day}", "work", 1, day, datetime(2026, 7, 1, tzinfo=UTC), target="zucchini-1", payload={"what": words}
    )


@pytest.mark.parametrize(
    ("words", "held"),
    [
        ("sprayed with oil", True),
        ("neem", True),
        ("dusted", False),  # nobody knows with what: unknown, but no gap can be counted
    ],
)
def test_words_without_a_label_speak_against_what_follows(words: str, held: bool) -> None:
    # Oil and sulfur 30 days apart in either order (handbook gaps; the sterner of two published figures).
    past = treatments([by_words(TODAY - timedelta(days=12), words)], ("zucchini-1",), {})
    made = case(treatments=past)
    assert ("not now" in found(made, "gaps")) is held
    assert "unknown" in found(made, "gaps")
    assert "unknown" in found(made, "treated before")


@pytest.mark.parametrize(
    ("words", "counts"),
    [
        ("sprayed with water", False), ("sprayed with water and soap", True), ("strong water spray", False),
        ("did not spray", False), ("copper tape round the bed", False), ("dusted with sulphur", True),
        ("weeded", False), ("slug pellets", True), ("hosed, then sprayed", True),
    ],
)  # fmt: skip
def test_work_is_read_for_sprays_and_water_is_none(words: str, counts: bool) -> None:
    assert bool(treatments([by_words(TODAY, words)], ("zucchini-1",), {})) is counts
    hidden = replace(by_words(TODAY, "evening round"), text=words)
    assert bool(treatments([hidden], ("zucchini-1",), {})) is counts


def test_a_second_product_on_the_same_day_is_a_mixture_of_the_tank() -> None:
    other = treated(TODAY, record(name="Other", active="spinosad", gaps=(), none_stated=label().none_stated))
    verdict = check(case(treatments=(other,)))
    assert verdict.answer == "not now"
    assert "mixture" in said(case(treatments=(other,)), "gaps")


def test_plantings_of_the_crop_in_one_bed_share_days_and_uses() -> None:
    mine = record()
    near = replace(treated(TODAY - timedelta(days=3), mine, entry="n"), target="zucchini-2")
    assert "not now" in found(case(beside=(near,)), "interval")
    assert "other zucchini in the same bed" in said(case(beside=(near,)), "interval")
    today = replace(near, day=TODAY)
    assert found(case(beside=(today,)), "interval") == {"may"}, "one round of the bed is one use"
    gone = tuple(replace(treated(date(2026, m, 1), mine, entry=str(m)), target="zucchini-0") for m in (3, 4, 5, 6))
    assert "never" in found(case(beside=gone), "uses left")


def test_the_sterner_of_two_labels_of_one_active_holds() -> None:
    other = record(name="Other sulfur", least_interval_days=14, most_uses=1)
    used = (treated(TODAY - timedelta(days=10), other),)
    assert "not now" in found(case(treatments=used), "interval")
    assert "never" in found(case(treatments=used), "uses left")


def test_what_grew_used_to_a_group_in_another_bed_counts() -> None:
    eleven = record(name="E", active="an eleven", group="FRAC 11")
    far = replace(treated(TODAY - timedelta(days=20), eleven), target="zucchini-9")
    assert "not now" in found(case(record=eleven, elsewhere=(far,)), "change of group")


@pytest.mark.parametrize(
    ("text", "read"),
    [
        ("FRAC M2", {"FRAC M02"}),
        ("FRAC code M 02", {"FRAC M02"}),
        ("FRAC 3 + 11", {"FRAC 3", "FRAC 11"}),
        ("FRAC 7/11", {"FRAC 7", "FRAC 11"}),
        ("IRAC 4A, 3B", {"IRAC 4", "IRAC 3"}),
        ("FRAC 03; IRAC UN", {"FRAC 3"}),
        ("FRAC group 11 fungicide", {"FRAC 11"}),
        ("HRAC/WSSA 4", {"HRAC 4"}),
        ("FRAC NC", set()),
    ],
)
def test_groups_are_read_as_labels_print_them(text: str, read: set[str]) -> None:
    assert groups(text) == read
    assert not unread(text)


@pytest.mark.parametrize("text", ["Group 11", "11", "a group", "FRAC", "FRAC eleven", "FRAC 11 or so"])
def test_a_group_that_cannot_be_read_is_unknown(text: str) -> None:
    made = case(record=record(group=text))
    assert "unknown" in found(made, "change of group")
    assert check(made).answer != "may"


@pytest.mark.parametrize(
    "order", [("copper octanoate", "peroxyacetic acid"), ("peroxyacetic acid", "copper octanoate")]
)
def test_acid_after_copper_or_before_is_unknown_where_no_label_names_the_days(order: tuple[str, str]) -> None:
    # Copper ions are freed by acid water and acid partners (Cornell, handbook copper_fixed, incompatible; rule S42).
    before, now = (record(name=name, active=name) for name in order)
    assert "unknown" in found(case(record=now, treatments=(treated(TODAY - timedelta(days=5), before),)), "gaps")


def test_what_lies_near_is_said_beside_the_wind() -> None:
    told = check(case(rules=Rules(organic=True, registered_in="Westmark", near="hives to the east")))
    assert any("hives to the east" in f.says for f in told.beside if f.check == "wind")


# The hour


def test_rain_just_before_wets_the_leaf_whatever_the_air() -> None:
    dry = weather()
    wet = FIT - timedelta(hours=1)
    rained = replace(dry, hours={**dry.hours, wet: replace(dry.hours[wet], rain_mm=1.0)})
    assert "not now" in found(case(weather=rained), "wet leaves")
    early = FIT - timedelta(hours=3)
    rained = replace(dry, hours={**dry.hours, early: replace(dry.hours[early], rain_mm=1.0)})
    assert found(case(weather=rained), "wet leaves") == {"may"}


@pytest.mark.parametrize("active", ["copper octanoate", "mineral oil"])
def test_copper_and_oils_wait_where_the_hour_behind_is_damp(active: str) -> None:
    # S42 for copper; oils 'not when humidity stops drying' (handbook, hort_oil).
    known = weather()
    later = FIT + timedelta(hours=1)
    damp = replace(known, hours={**known.hours, later: replace(known.hours[later], humidity_pct=84.0)})
    made = record(**{**OIL, "active": active})
    assert "not now" in found(case(record=made, weather=damp), "wet leaves")
    assert "not now" not in found(case(weather=damp), "wet leaves")


@pytest.mark.parametrize(("hole", "name"), [(1, "wet leaves"), (2, "rain"), (4, "rain")])
def test_an_hour_that_is_missing_while_it_dries_is_no_dry_one(hole: int, name: str) -> None:
    known = weather()
    hours = {h: each for h, each in known.hours.items() if h != FIT + timedelta(hours=hole)}
    made = case(weather=replace(known, hours=hours))
    assert "unknown" in found(made, name)
    assert check(made).answer != "may"


def test_true_hours_are_counted_where_the_clock_is_changed() -> None:
    # 25 October 2026 in Paris: the hour from 2 to 3 comes twice. Rain five true hours on is five hours on.
    paris = ZoneInfo("Europe/Paris")
    evening = datetime(2026, 10, 24, 23, tzinfo=paris)
    begins = [(evening.astimezone(UTC) + timedelta(hours=n)).astimezone(paris) for n in range(8)]
    known = Weather({}, {}, {b: Hour(b, 15.0, 60.0, 2.0, 0.0) for b in begins}, {})
    assert [h.begins.hour for h in known.after(evening, 6) if h] == [23, 0, 1, 2, 2, 3]
    spring = datetime(2026, 3, 29, 1, tzinfo=paris)
    then = [(spring.astimezone(UTC) + timedelta(hours=n)).astimezone(paris) for n in range(4)]
    known = Weather({}, {}, {b: Hour(b, 15.0, 60.0, 2.0, 0.0) for b in then}, {})
    assert [h.begins.hour for h in known.after(spring, 3) if h] == [1, 3, 4], "no hour is missed and none invented"


def test_what_is_seen_now_says_nothing_of_tomorrow() -> None:
    tomorrow = replace(case(), day=TODAY + timedelta(days=1), hour=FIT + timedelta(days=1))
    assert check(case()).answer == "may"
    assert check(tomorrow).answer == "unknown"
    refused = case(spot={**case().spot, "leaf-dry": False})
    assert check(refused).answer == "not now"
    fit = next_fit(refused, [h for h in sorted(refused.weather.hours) if h > NOW])
    assert fit is not None, "wet leaves now are no wet leaves tomorrow"
    assert fit >= NOW + timedelta(hours=1)


def test_still_air_seen_absent_now_opens_no_dusk_of_another_day() -> None:
    dusk = at(TODAY + timedelta(days=1), 19)
    (hour,) = spray_hours(case(), [dusk])
    assert hour.answer == "not now"


# The plants


def test_what_is_cleared_is_never_sprayed_and_what_is_not_sown_is_unknown() -> None:
    assert check(case(cleared=TODAY)).answer == "never"
    assert check(case(begun=False)).answer == "unknown"


def test_a_bed_short_of_water_and_a_word_of_wilting_stop_it() -> None:
    assert "not now" in found(case(thirsty=True), "thirst and drying")
    assert "not now" in found(case(wilted=TODAY), "thirst and drying")
    assert check(case(thirsty=None)).answer == "may", "then what is seen on the spot decides"


@pytest.mark.parametrize("active", ["mineral oil", "soap", "sulfur", "copper octanoate", "potassium bicarbonate"])
def test_what_burns_waits_for_plants_just_set_out(active: str) -> None:
    made = record(active=active)
    soft = case(record=made, settled=TODAY + timedelta(days=3))
    (stop,) = [f for f in check(soft).findings if f.check == "young plants" and f.answer == "not now"]
    assert stop.until == at(TODAY + timedelta(days=3), 0)
    assert "unknown" in found(case(record=made, settled=None), "young plants")
    assert found(case(record=made, settled=TODAY), "young plants") == {"may"}


def test_a_plan_takes_no_flower_for_shut_that_is_open_all_day() -> None:
    hours = [at(TODAY + timedelta(days=1), h) for h in range(10, 18)]
    beans = case(crop="bean-bush", plants="snap beans", record=record(crops=("beans",)), trouble="powdery_mildew_other",
                 in_bloom=True)  # fmt: skip
    assert {h.answer for h in spray_hours(beans, hours)} <= {"unknown", "not now"}
    assert any(h.answer == "may" for h in spray_hours(replace(beans, in_bloom=False), hours))
    neighbour = replace(beans, in_bloom=False, flowers_in_bed=("bee balm",), flowers_all_day=True)
    assert {h.answer for h in spray_hours(neighbour, hours)} <= {"unknown", "not now"}


def test_squash_whose_flowering_nobody_foresees_keeps_the_hours_of_its_flowers() -> None:
    morning = case(in_bloom=None, hour=at(TODAY, 8), now=at(TODAY, 7.5))
    assert "not now" in found(morning, "bees"), "whatever somebody has seen at half past seven"
    assert "not now" not in found(case(in_bloom=None), "bees")


def test_highly_toxic_to_bees_stops_beside_flowers_in_the_same_bed() -> None:
    # S27, class I: never on bloom; drift within a bed is certain.
    made = record(active="permethrin", group="IRAC 3A")
    assert "not now" in found(case(record=made, flowers_in_bed=("bee balm",)), "bees")
    near = check(case(flowers_near=("bee balm in bed 2",)))
    assert near.answer == "may"
    assert any("Bee balm in bed 2" in f.says for f in near.beside)


@pytest.mark.parametrize("active", ["Bacillus thuringiensis kurstaki", "spinosad", "permethrin", "carbaryl"])
def test_what_kills_caterpillars_is_never_put_beside_milkweed(active: str) -> None:
    # cautions: no caterpillar killer on butterfly host plants (common practice); in one bed it drifts on to them.
    assert "never" in found(case(record=record(active=active), hosts_in_bed=("milkweed",)), "butterfly plants")
    assert "never" not in found(case(hosts_in_bed=("milkweed",)), "butterfly plants")
    unknown = case(record=record(active="essence of moonlight"), hosts_in_bed=("milkweed",))
    assert "unknown" in found(unknown, "butterfly plants")


def test_a_label_written_again_is_counted_from_its_last_writing() -> None:
    def entry(day: date, **payload: object) -> Entry:
        written = datetime(day.year, day.month, day.day, tzinfo=UTC)
        return Entry(f"l-{day}", "label", 1, day, written, payload={"name": "Mealmute", **payload})

    known = records([entry(date(2026, 4, 1), days_to_picking=0), entry(date(2026, 5, 1), active="sulfur")])
    assert known["mealmute"].label.days_to_picking is None, "what is not typed again is not read"


def test_gaps_in_the_other_direction_stand_on_the_other_label() -> None:
    first = record(**{**OIL, "gaps": (Gap("sulfur", before_other=45),),
                      "none_stated": ("bees", "rain_free_hours", "water_m", "wind_max_m_s")})  # fmt: skip
    for days, stopped in ((40, True), (45, False)):
        made = case(treatments=(treated(TODAY - timedelta(days=days), first),))
        assert ("not now" in found(made, "gaps")) is stopped


@pytest.mark.parametrize("number", ["none", "n/a", "-", "see label", "?"])
def test_a_word_is_no_registration_number(number: str) -> None:
    assert "unknown" in found(case(record=record(number=number)), "registration")
