"""What a trouble that was found asks of this season and the next: lines in the season in which they can be taken.

Rotation against what lives in the soil alone: University of Connecticut IPM, rotation periods, vegetable diseases
(clubroot seven years and more; Verticillium four and more; powdery and downy mildew of cucurbits none). Cabbage maggot:
flies peak at 300 degree-days F above 43 F from January, and cole crops go out a week before or after that peak
(Wisconsin DATCP Pest Bulletin 58(2), 2013; Delahaut 2015). Gardens and weather are made up.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from typing import Any

import numpy as np
import pytest
from asking import asked, said, season
from gardens import entry, plot, tomatoes

from kailyard.garden.model import Entry, Planting
from kailyard.handbook.remedies import courses
from kailyard.handbook.troubles import LISTED, Trouble, all_troubles, host_weight
from kailyard.season.answers import answers
from kailyard.season.beds import sick_groups
from kailyard.season.fitting import fitting
from kailyard.season.sheet import compose
from kailyard.season.view import SeasonView
from kailyard.season.windows import Hold, Look, Rest, Window
from kailyard.troubles.flight import wait_past
from kailyard.troubles.keep_away import kept_out
from kailyard.troubles.met import met

SPRING = date(2026, 4, 10)


def found(target: str, day: date, trouble: str, sure: str = "likely") -> Entry:
    return entry("found", target, day, trouble=trouble, sure=sure)


def cabbage(id_: str, **changes: Any) -> Planting:
    return replace(Planting(id=id_, crop="cabbage", bed="bed-4", start="raised", count=8), **changes)


def radish(id_: str, **changes: Any) -> Planting:
    return replace(Planting(id=id_, crop="radish", bed="bed-5", start="sown", count=60), **changes)


def cucumber(id_: str, **changes: Any) -> Planting:
    return replace(Planting(id=id_, crop="cucumber-slicing", bed="bed-6", start="sown", count=6), **changes)


OLD = cabbage("cabbage-0", since=date(2025, 5, 1))
OLD_ENTRIES = (entry("set-out", "cabbage-0", date(2025, 5, 1)), entry("clear", "cabbage-0", date(2025, 9, 1)))


def keep_outs(view: SeasonView) -> list[Hold]:
    return [a for a in answers(view) if isinstance(a, Hold) and a.name.startswith("keep-out/")]


def test_a_bed_with_clubroot_takes_no_cabbage_for_seven_years_and_another_bed_does() -> None:
    new = cabbage("cabbage-1", planned=date(2026, 4, 20))
    sick = found("cabbage-0", date(2025, 7, 1), "clubroot")
    view = season(SPRING, OLD, new, entries=(*OLD_ENTRIES, sick))
    (hold,) = keep_outs(view)
    assert hold.of == ("cabbage-1",)
    assert "not before July 2032" in hold.detail
    elsewhere = season(SPRING, OLD, replace(new, bed="bed-7"), entries=(*OLD_ENTRIES, sick))
    assert keep_outs(elsewhere) == []


def test_the_hold_keeps_the_sowing_off_the_sheet() -> None:
    new = radish("radish-1", bed="bed-4", planned=SPRING)
    free = season(SPRING, OLD, new, entries=OLD_ENTRIES)
    assert "sow/radish-1" in asked(free)
    held = season(SPRING, OLD, new, entries=(*OLD_ENTRIES, found("cabbage-0", date(2025, 7, 1), "clubroot")))
    assert "sow/radish-1" not in asked(held)
    assert "keep-out/radish-1" in {line.name for line in compose(held).holds}


@pytest.mark.parametrize(
    "blown_in",
    ["powdery-mildew-cucurbit", "downy-mildew-cucurbit", "bacterial-wilt-cucurbit", "cmv", "anthracnose-cucurbit"],
)
def test_what_the_wind_or_a_beetle_brings_holds_no_bed(blown_in: str) -> None:
    old, new = cucumber("cucumber-0", since=date(2025, 5, 20)), cucumber("cucumber-1", planned=date(2026, 5, 20))
    view = season(SPRING, old, new, entries=(found("cucumber-0", date(2025, 8, 1), blown_in),))
    assert keep_outs(view) == []


def test_a_wilt_of_tomatoes_lets_asparagus_in_and_no_tomato() -> None:
    garden = season(SPRING, tomatoes("tomato-0", since=date(2025, 5, 20)),
                    entries=(found("tomato-0", date(2025, 8, 1), "fusarium-wilt"),)).garden  # fmt: skip
    assert kept_out(garden, "bed-2", "tomato-determinate", SPRING) is not None
    assert kept_out(garden, "bed-2", "asparagus", SPRING) is None
    assert kept_out(garden, "bed-2", "pepper-sweet", SPRING) is None, "no host of it, though kin"
    assert kept_out(garden, "bed-2", "tomato-determinate", date(2028, 8, 2)) is None, "three years on it may come back"


def test_a_finding_that_was_put_right_holds_nothing() -> None:
    # The garden holds only entries that stand: what a later one supersedes is not there.
    garden = season(SPRING, OLD, entries=OLD_ENTRIES).garden
    assert met(garden, SPRING) == ()
    assert kept_out(garden, "bed-4", "cabbage", SPRING) is None


def test_what_follows_on_an_emptied_bed_is_no_host_of_what_lives_there() -> None:
    # Garlic stood there, beans would follow: white mold takes beans, and stays three years and more in the soil.
    garlic = Planting("garlic-1", "garlic", "bed-4", "planted", count=40)
    beans = Planting("bean-1", "bean-bush", "bed-1", "sown", count=60, spacing_cm=8)
    told = (
        entry("plant", "garlic-1", date(2025, 10, 10)),
        entry("clear", "garlic-1", date(2026, 7, 10)),
        entry("sow", "bean-1", date(2026, 5, 25)),
    )
    today = date(2026, 7, 12)
    assert "beans" in said(season(today, garlic, beans, entries=told))["follow/bed-4"].says
    sick = found("bed-4", date(2025, 7, 1), "white-mold")
    after = said(season(today, garlic, beans, entries=(*told, sick))).get("follow/bed-4")
    assert after is None or "beans" not in after.says


def test_a_green_manure_of_the_family_with_clubroot_is_not_called() -> None:
    told = (*OLD_ENTRIES, found("cabbage-0", date(2025, 7, 1), "clubroot"))
    assert sick_groups(season(SPRING, OLD, entries=told), "bed-4") == {"brassica": "cabbages"}
    assert sick_groups(season(SPRING, OLD, entries=OLD_ENTRIES), "bed-4") == {}


# --- flights


def flight_middle(view: SeasonView) -> date:
    """The day on which 300 degree-days F above 43 F are reached, by plain sums over the possible seasons' days."""
    e = view.ensemble
    start = date(2026, 1, 1).toordinal() - e.first.toordinal()
    mean_f = (e.tmin_c[:, start:] + e.tmax_c[:, start:]) / 2 * 1.8 + 32
    total = np.cumsum(np.maximum(mean_f - 43.0, 0.0), axis=1)
    days = [int(np.argmax(row >= 300.0)) for row in total]
    return date(2026, 1, 1) + timedelta(days=int(np.median(days)))


def test_radishes_wait_for_the_end_of_the_first_flies_where_they_were_met() -> None:
    sick = found("radish-0", date(2025, 6, 1), "cabbage-maggot")
    old = radish("radish-0", since=date(2025, 4, 20), bed="bed-8")
    first = flight_middle(season(SPRING, old))
    new = radish("radish-1", planned=first)
    today = first - timedelta(days=2)
    free, wary = season(today, old, new), season(today, old, new, entries=(sick,))
    assert "sow/radish-1" in asked(free)
    assert "past-flight/radish-1" not in said(free)
    assert "sow/radish-1" not in asked(wary)
    rest = said(wary)["past-flight/radish-1"]
    assert isinstance(rest, Rest)
    assert "Cabbage maggot was found here in 2025" in rest.detail
    window = said(wary)["sow/radish-1"]
    assert isinstance(window, Window)
    opens = date.fromordinal(int(np.median(window.opens)))
    assert abs((opens - (flight_middle(wary) + timedelta(days=21))).days) <= 1
    assert any("DATCP" in str(r) or "Delahaut" in str(r) for r in window.reasons)


def test_a_cover_over_the_bed_ends_the_wait() -> None:
    sick = found("radish-0", date(2025, 6, 1), "cabbage-maggot")
    old = radish("radish-0", since=date(2025, 4, 20), bed="bed-8")
    first = flight_middle(season(SPRING, old))
    today = first - timedelta(days=2)
    net = entry("protect", "bed-5", today, what="net")
    view = season(today, old, radish("radish-1", planned=first), entries=(sick, net))
    assert "past-flight/radish-1" not in said(view)
    assert wait_past(view, view.lives["radish-1"]) is None


def test_a_cover_over_the_bed_they_hatch_from_ends_no_wait() -> None:
    # Pupae lie in the soil over winter: a cover over that ground shuts the flies in (common practice).
    sick = found("radish-0", date(2025, 6, 1), "cabbage-maggot")
    old = radish("radish-0", since=date(2025, 4, 20))
    first = flight_middle(season(SPRING, old))
    today = first - timedelta(days=2)
    net = entry("protect", "bed-5", today, what="net")
    new = radish("radish-1", planned=first)
    view = season(today, old, new, entries=(sick, net, entry("clear", "radish-0", date(2025, 6, 20))))
    rest = said(view)["past-flight/radish-1"]
    assert isinstance(rest, Rest)
    assert "in another bed under a cover" in rest.detail
    assert "shut in" in rest.detail


def test_a_pest_of_long_ago_or_of_other_crops_delays_nothing() -> None:
    old = radish("radish-0", since=date(2021, 4, 20), bed="bed-8")
    first = flight_middle(season(SPRING, old))
    for of in (found("radish-0", date(2021, 6, 1), "cabbage-maggot"), found("radish-0", date(2025, 6, 1), "aphids")):
        view = season(first - timedelta(days=2), old, radish("radish-1", planned=first), entries=(of,))
        assert wait_past(view, view.lives["radish-1"]) is None


def test_cabbages_are_set_out_past_the_peak_of_the_flies() -> None:
    old = radish("radish-0", since=date(2025, 4, 20), bed="bed-8")
    sick = found("radish-0", date(2025, 6, 1), "cabbage-maggot")
    first = flight_middle(season(SPRING, old))
    grown = (
        entry("sow", "cabbage-1", first - timedelta(days=42)),
        entry("harden", "cabbage-1", first - timedelta(days=12)),
    )
    today = first - timedelta(days=1)
    free = season(today, old, cabbage("cabbage-1"), entries=grown)
    wary = season(today, old, cabbage("cabbage-1"), entries=(*grown, sick))
    assert said(free)["set-out/cabbage-1"].open_on(today) > 0.9  # type: ignore[union-attr]
    assert said(wary)["set-out/cabbage-1"].open_on(today) < 0.1  # type: ignore[union-attr]
    past = flight_middle(wary) + timedelta(days=9)
    assert said(wary)["set-out/cabbage-1"].open_on(past) > 0.5  # type: ignore[union-attr]


# --- support


def test_the_trellis_goes_up_before_planting_where_cucumbers_lay_on_the_ground_and_took_a_leaf_disease() -> None:
    old, new = cucumber("cucumber-0", since=date(2025, 5, 20)), cucumber("cucumber-1", planned=date(2026, 5, 20))
    sick = found("cucumber-0", date(2025, 8, 1), "downy-mildew-cucurbit")
    day = date(2026, 5, 10)
    assert "trellis/cucumber-1" in asked(season(day, old, new, entries=(sick,)))
    propped = entry("support", "cucumber-0", date(2025, 6, 1))
    assert "trellis/cucumber-1" not in said(season(day, old, new, entries=(sick, propped))), "it stood on a trellis"
    wilt = found("cucumber-0", date(2025, 8, 1), "bacterial-wilt-cucurbit")
    assert "trellis/cucumber-1" not in said(season(day, old, new, entries=(wilt,))), "no support hinders a wilt"
    assert "trellis/cucumber-1" not in said(season(date(2025, 12, 1), old, new, entries=(sick,))), "not in winter"
    done = entry("support", "cucumber-1", day)
    assert "trellis/cucumber-1" not in said(season(day, old, new, entries=(sick, done)))


# --- this season


STOOD = tomatoes()
STOOD_ENTRIES = (entry("sow", "tomato-1", date(2026, 3, 20)), entry("set-out", "tomato-1", date(2026, 5, 25)))


def test_late_blight_is_taken_out_at_once_and_once_done_is_done() -> None:
    sick = found("tomato-1", date(2026, 7, 20), "late-blight", "settled")
    view = season(date(2026, 7, 21), STOOD, entries=(*STOOD_ENTRIES, sick))
    assert "take-out/tomato-1" in asked(view)
    line = said(view)["take-out/tomato-1"]
    assert "report it before anything leaves the garden" in line.detail
    answer = fitting("take-out/tomato-1", line.of, "done", view.garden)
    done = entry("work", "tomato-1", date(2026, 7, 21), what="sick plants taken out")
    assert answer
    assert [(f.kind, dict(f.payload)) for f in answer] == [("work", dict(done.payload))]
    assert "take-out/tomato-1" not in said(season(date(2026, 7, 22), STOOD, entries=(*STOOD_ENTRIES, sick, done)))


def test_a_leaf_spot_is_not_taken_out_and_what_is_only_likely_says_so() -> None:
    spot = found("tomato-1", date(2026, 7, 20), "septoria-leaf-spot")
    assert "take-out/tomato-1" not in said(season(date(2026, 7, 21), STOOD, entries=(*STOOD_ENTRIES, spot)))
    blight = found("tomato-1", date(2026, 7, 20), "late-blight")
    view = season(date(2026, 7, 21), STOOD, entries=(*STOOD_ENTRIES, blight))
    assert "in doubt send a sample first" in said(view)["take-out/tomato-1"].detail


@pytest.mark.parametrize(("trouble", "days"), [("septoria-leaf-spot", 7), ("late-blight", 3)])
def test_the_next_look_is_a_line_on_its_day_until_somebody_looked(trouble: str, days: int) -> None:
    day = date(2026, 7, 6)
    sick, due = found("tomato-1", day, trouble), day + timedelta(days=days)
    view = season(due, STOOD, entries=(*STOOD_ENTRIES, sick))
    look = said(view)["found/tomato-1"]
    assert isinstance(look, Look)
    assert f"From {due.day} July" in look.detail
    assert "found/tomato-1" in {line.name for line in compose(view).look}
    looked = entry("look", "tomato-1", due, found="new leaves clean", sound=True)
    assert "found/tomato-1" not in said(season(due, STOOD, entries=(*STOOD_ENTRIES, sick, looked)))


def test_what_is_left_of_sick_plants_is_raked_up_after_clearing() -> None:
    sick = found("tomato-1", date(2026, 8, 1), "septoria-leaf-spot")
    clear = entry("clear", "tomato-1", date(2026, 9, 20))
    day = date(2026, 9, 25)
    assert "remains/tomato-1" in asked(season(day, STOOD, entries=(*STOOD_ENTRIES, sick, clear)))
    assert "remains/tomato-1" not in said(season(day, STOOD, entries=(*STOOD_ENTRIES, clear)))
    blown = found("tomato-1", date(2026, 8, 1), "leaf-roll")
    assert "remains/tomato-1" not in said(season(day, STOOD, entries=(*STOOD_ENTRIES, blown, clear)))
    done = entry("work", "tomato-1", day, what="sick remains cleared away")
    assert "remains/tomato-1" not in said(season(day, STOOD, entries=(*STOOD_ENTRIES, sick, clear, done)))


def test_the_line_for_clearing_says_that_sick_plants_go_into_the_bin() -> None:
    sick = found("tomato-1", date(2026, 8, 1), "septoria-leaf-spot")
    dead = entry("hurt", "tomato-1", date(2026, 9, 28), cause="frost", share=1.0, killed=1.0)
    day = date(2026, 9, 30)
    with_it = said(season(day, STOOD, entries=(*STOOD_ENTRIES, sick, dead)))["clear/tomato-1"]
    without = said(season(day, STOOD, entries=(*STOOD_ENTRIES, dead)))["clear/tomato-1"]
    assert "Septoria leaf spot was found: into the bin, not on the compost" in with_it.detail
    assert "into the bin, not on the compost" not in without.detail


def test_leaves_that_carry_a_spot_come_off_on_a_dry_day_and_go_into_the_bin() -> None:
    sick = found("tomato-1", date(2026, 7, 1), "septoria-leaf-spot")
    day = date(2026, 8, 1)
    with_it = said(season(day, STOOD, entries=(*STOOD_ENTRIES, sick)))["leaf-removal/tomato-1"]
    without = said(season(day, STOOD, entries=STOOD_ENTRIES))["leaf-removal/tomato-1"]
    assert "Septoria leaf spot was found: on a dry day, and those leaves into the bin" in with_it.detail
    assert "into the bin" not in without.detail


# --- seed


def test_in_winter_a_resistant_kind_is_chosen_by_what_was_met_and_bought_seed_ends_it() -> None:
    old = cucumber("cucumber-0", since=date(2025, 5, 20))
    sick = found("cucumber-0", date(2025, 8, 1), "powdery-mildew-cucurbit")
    ends = entry("clear", "cucumber-0", date(2025, 9, 20))
    winter = date(2026, 1, 20)
    line = said(season(winter, old, entries=(sick, ends)))["choose-kind/cucumber-slicing"]
    assert isinstance(line, Window)
    assert "Px, Gc or PM on the packet (tolerance, not immunity)" in line.detail
    assert "choose-kind/cucumber-slicing" not in said(season(date(2026, 6, 1), old, entries=(sick, ends)))
    bought = entry("seed", "", date(2026, 1, 5), crop="cucumber-slicing", state="ordered")
    assert "choose-kind/cucumber-slicing" not in said(season(winter, old, entries=(sick, ends, bought)))
    planned = cucumber("cucumber-1", planned=date(2026, 5, 20))
    both = said(season(winter, old, planned, entries=(sick, ends)))
    assert "choose-kind/cucumber-slicing" not in both, "the order of seed speaks of what is planned"


def test_a_garden_in_which_nothing_was_found_is_asked_none_of_it() -> None:
    view = season(date(2026, 7, 21), STOOD, OLD, entries=(*STOOD_ENTRIES, *OLD_ENTRIES))
    kinds = {"keep-out", "past-flight", "trellis", "take-out", "remains", "found", "choose-kind"}
    assert not kinds & {a.name.split("/")[0] for a in answers(view)}


@pytest.mark.parametrize("trouble", [t for t in all_troubles() if not t.harmless], ids=lambda t: t.slug)
def test_a_bed_is_held_by_what_lives_in_the_soil_for_known_years_and_by_nothing_else(trouble: Trouble) -> None:
    grown = ("tomato-determinate", "cabbage", "onion-long-day", "potato", "bean-bush", "asparagus", "zucchini")
    hosts = [crop for crop in grown if host_weight(trouble, crop) >= LISTED]
    course = courses().get(trouble.id) or courses().get(trouble.cause)
    for crop in hosts:
        old = Planting("old-1", crop, "bed-1", "sown", count=5)
        garden = plot(old, entries=(found("old-1", date(2025, 7, 1), trouble.slug),))
        held = kept_out(garden, "bed-1", crop, SPRING)
        lives = course is not None and course.lives_in_soil and course.away_years is not None
        assert (held is not None) is lives, crop
        assert trouble.category not in ("virus", "insect", "abiotic", "herbicide", "nutrient", "animal") or held is None
        assert kept_out(garden, "bed-2", crop, SPRING) is None


def test_any_trouble_found_on_any_day_lets_the_sheet_be_made() -> None:
    every = [t.slug for t in all_troubles()]
    crops = ("tomato-indeterminate", "cabbage", "cucumber-slicing", "onion-long-day", "radish", "zucchini", "potato")
    old = [Planting(f"old-{n}", crop, f"bed-{n}", "sown", count=5) for n, crop in enumerate(crops)]
    new = [Planting(f"new-{n}", crop, f"bed-{n}", "sown", count=5) for n, crop in enumerate(crops)]
    told = [found(p.id, date(2025, 8, 1 + n % 28), t) for p in old for n, t in enumerate(every)]
    begun = [entry("sow", p.id, date(2025, 5, 1)) for p in old] + [entry("clear", p.id, date(2025, 10, 1)) for p in old]
    for day in (date(2025, 8, 15), date(2025, 10, 20), date(2026, 1, 20), date(2026, 4, 20), date(2026, 6, 20)):
        sheet = compose(season(day, *old, *new, entries=(*told, *begun)), whole=True)
        assert sheet.work or sheet.holds
        for line in (*sheet.work, *sheet.holds, *sheet.look, *sheet.leave):
            assert line.reasons, line.name
            assert "  " not in line.detail


def test_sick_plants_go_before_all_that_can_wait() -> None:
    # Common practice: plants with late blight are taken out the day it is seen, before its spores fly on.
    day = date(2026, 7, 10)
    others = [replace(tomatoes(), id=f"tomato-{n}", bed=f"bed-{n}") for n in range(2, 8)]
    told = [entry("set-out", p.id, date(2026, 5, 28)) for p in (tomatoes(), *others)]
    sick = found("tomato-1", day, "late-blight", "settled")
    sheet = compose(season(day, tomatoes(), *others, entries=(*told, sick)))
    assert sheet.work[0].name == "take-out/tomato-1"
