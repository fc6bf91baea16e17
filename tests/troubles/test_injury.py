"""Injury by what may be a herbicide: held until a release, windows, the days before, and patterns of the record."""

from __future__ import annotations

import sys
from datetime import date, timedelta
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parents[1] / "season"))  # the invented gardens
from gardens import entry, look_ahead, plot, record

from kailyard.errors import DataError, NotFound
from kailyard.garden import kinds
from kailyard.garden.model import Entry, Garden, Planting
from kailyard.handbook.signs import herbicide_facts
from kailyard.season.sheet import compose
from kailyard.season.windows import Rest
from kailyard.season.work import injury_hold
from kailyard.troubles.injury import (
    NO_PROOF,
    REPORT_DAYS,
    added,
    by_target,
    choice,
    days_before,
    held,
    sensitive,
    sprayed,
    windows,
    written_down,
)
from kailyard.troubles.setting import plant_stage, proposed, setting, weather_lately

TOMATO = Planting(id="tomato-1", crop="tomato-determinate", bed="bed-1", start="bought", count=6)
BEAN = Planting(id="bean-1", crop="bean-bush", bed="bed-2", start="sown", count=40)
SET = entry("set-out", "tomato-1", date(2026, 5, 20))
SOWN = entry("sow", "bean-1", date(2026, 5, 15))
DAY = date(2026, 6, 20)


def hurt(target: str = "tomato-1", day: date = DAY, **payload: object) -> Entry:
    return entry("injury", target, day, kinds="tomatoes, pole beans", **payload)


def let_go(target: str, day: date, by: str = "Upland plant clinic", what: str = "no residue found") -> Entry:
    return entry("release", target, day, by=by, what=what)


def garden(*entries: Entry) -> Garden:
    return plot(TOMATO, BEAN, entries=(SET, SOWN, *entries))


def holding(*entries: Entry, on: date = date(2026, 8, 1)) -> set[str]:
    return {p.id for h in held(garden(*entries), on) for p in h.plantings}


def test_an_injury_holds_back_and_only_a_recorded_release_ends_it() -> None:
    assert holding() == set()
    assert holding(hurt()) == {"tomato-1"}
    assert holding(hurt(), on=date(2027, 6, 1)) == {"tomato-1"}, "time alone ends nothing"
    assert holding(hurt(), entry("look", "tomato-1", date(2026, 7, 10), sound=True)) == {"tomato-1"}
    assert holding(hurt(), let_go("tomato-1", date(2026, 7, 20))) == set()
    assert holding(hurt(), let_go("bed-1", date(2026, 7, 20))) == set()
    assert holding(hurt(), let_go("bean-1", date(2026, 7, 20))) == {"tomato-1"}
    assert holding(hurt(), let_go("tomato-1", date(2026, 6, 1))) == {"tomato-1"}, "a release from before is of another"
    assert holding(hurt(), let_go("tomato-1", date(2026, 8, 20))) == {"tomato-1"}, "not yet released"


@pytest.mark.parametrize(("by", "what"), [("", "clean"), ("the clinic", "")])
def test_a_release_without_who_or_what_releases_nothing(by: str, what: str) -> None:
    assert holding(hurt(), let_go("tomato-1", date(2026, 7, 20), by=by, what=what)) == {"tomato-1"}


def test_what_is_hit_is_the_target_and_the_beds_named() -> None:
    assert holding(hurt("bed-2")) == {"bean-1"}
    assert holding(hurt("")) == {"tomato-1", "bean-1"}
    assert holding(hurt("", beds="bed-2")) == {"bean-1"}
    assert holding(hurt("tomato-1", beds="bed-1, bed-2")) == {"tomato-1", "bean-1"}
    assert holding(hurt("", day=date(2026, 5, 17))) == {"bean-1"}, "what was not set out yet was not hit"


def test_lifted_crops_stay_held_after_an_injury_however_it_was_entered() -> None:
    cleared = entry("clear", "tomato-1", date(2026, 7, 30))
    assert holding(hurt(), cleared) == {"tomato-1"}
    assert holding(hurt(), cleared, on=date(2027, 3, 1)) == {"tomato-1"}, "seed tubers lie until spring"
    plain = entry("hurt", "tomato-1", DAY, cause="drift", share=0.5)
    assert holding(plain) == {"tomato-1"}
    assert holding(plain, cleared) == {"tomato-1"}
    frost = entry("hurt", "tomato-1", DAY, cause="frost", share=0.5)
    assert holding(frost) == set()


def test_what_stood_when_it_was_first_seen_was_hit_even_if_it_was_cleared_before_it_was_written_down() -> None:
    cleared = entry("clear", "tomato-1", date(2026, 6, 15))
    assert holding(hurt(first_seen="2026-06-12"), cleared) == {"tomato-1"}
    assert holding(hurt(first_seen="2026-06-17"), cleared) == set()


def test_the_sheet_says_do_not_eat_long_after_all_was_cleared_and_names_the_way_out() -> None:
    cleared = entry("clear", "tomato-1", date(2026, 6, 28))
    view = look_ahead(garden(hurt(), cleared), date(2026, 9, 25))
    assert view.lives["tomato-1"].over, "or the test is of nothing"
    names = {line.name: line for line in compose(view).holds}
    assert "Do not eat" in names["injury/tomato-1"].says
    assert "fresh or kept" in names["injury/tomato-1"].says
    assert "enter that as the release" in names["injury/tomato-1"].detail
    let = let_go("tomato-1", date(2026, 9, 20), by="the gardener", what="nothing was kept")
    free = compose(look_ahead(garden(hurt(), cleared, let), date(2026, 9, 25)))
    assert not any(line.name.startswith("injury") for line in free.holds)


def test_no_line_of_the_sheet_asks_for_picking_or_giving_away_what_is_held() -> None:
    """The hold stands against whatever speaks of these plantings alone."""
    day = date(2026, 8, 20)
    (hold,) = [a for a in injury_hold.windows(look_ahead(garden(hurt()), day), garden(hurt())) if "pick" in forbid(a)]
    for name in ("pick/tomato-1", "surplus/tomato-determinate"):
        assert hold.bars(Rest(name=name, says="", where="", of=("tomato-1",), urgency=0.5), day, day)
    other = Rest(name="surplus/bean-bush", says="", where="", of=("tomato-1", "bean-1"), urgency=0.5)
    assert not hold.bars(other, day, day), "what is not held may be given away"


def forbid(answer: object) -> tuple[str, ...]:
    return getattr(answer, "forbids", ())


@pytest.mark.parametrize("said", ["bed-2", "Bed 2", "bed-2; bed-9", "bed 1 and bed 2", "bean-1"])
def test_beds_are_known_as_people_write_them(said: str) -> None:
    assert "bean-1" in holding(hurt(beds=said))


def test_a_bed_that_is_not_there_is_refused_before_it_holds_nothing() -> None:
    kinds.check_target(hurt(beds="bed-1, bean-1"), beds=["bed-1"], plantings=["tomato-1", "bean-1"])
    with pytest.raises(NotFound, match=r"no bed or planting 'bed-22'\. Did you mean bed-2"):
        kinds.check_target(hurt(beds="bed-1, bed 22"), beds=["bed-1", "bed-2"], plantings=["tomato-1"])


@pytest.mark.parametrize(
    ("payload", "says"),
    [
        ({"first_seen": "2026-07-01"}, "lies after the day"),
        ({"first_seen": "2026-06-18", "reported": "2026-06-17"}, "before it was"),
    ],
)
def test_days_that_cannot_be_are_refused(payload: dict[str, str], says: str) -> None:
    with pytest.raises(DataError, match=says):
        kinds.check_entry(hurt(**payload))


def test_a_second_entry_adds_to_the_first_and_what_was_done_is_asked_for_no_more() -> None:
    later = hurt(day=DAY + timedelta(days=3), reported="2026-06-22", sample_sent="2026-06-23", beds="bed-2")
    both = garden(hurt(first_seen="2026-06-18"), later)
    (one,) = by_target(both, date(2026, 6, 25))
    assert {p.id for p in one.plantings} == {"tomato-1", "bean-1"}
    assert (one.first_seen, one.said("reported")) == (date(2026, 6, 18), "2026-06-22")
    sheet = compose(look_ahead(both, date(2026, 6, 25)))
    assert not any(line.name == "injury-report/tomato-1" for line in sheet.look)


def test_the_windows_shut_on_the_sheet() -> None:
    last = DAY + timedelta(days=REPORT_DAYS)
    asked = {
        day: [line.detail for line in compose(look_ahead(garden(hurt()), day)).look if "injury-report" in line.name]
        for day in (DAY + timedelta(days=10), last, last + timedelta(days=1))
    }
    first, shut, after = asked.values()
    assert "Report it" in first[0]
    assert "take samples" in first[0]
    assert "Report it" in shut[0]
    assert "take samples" not in shut[0]
    assert after == []


def test_the_sheet_pins_both_holds_and_asks_for_report_and_sample_while_they_are_worth_it() -> None:
    view = look_ahead(garden(hurt(first_seen="2026-06-18")), date(2026, 6, 25))
    sheet = compose(view)
    names = {line.name: line for line in sheet.holds}
    assert "injury/tomato-1" in names
    assert "injury-keep/tomato-1" in names
    assert "until a release is entered" in names["injury/tomato-1"].detail
    assert "seed tubers" in names["injury-keep/tomato-1"].says
    assert "clippings" in names["injury-keep/tomato-1"].says
    assert any(line.name == "injury-report/tomato-1" for line in sheet.look)
    done = hurt(first_seen="2026-06-18", reported="2026-06-22", sample_sent="2026-06-22")
    quiet = compose(look_ahead(garden(done), date(2026, 6, 25)))
    assert not any(line.name == "injury-report/tomato-1" for line in quiet.look)
    let = compose(look_ahead(garden(hurt(), let_go("tomato-1", date(2026, 6, 24))), date(2026, 6, 25)))
    assert not any(line.name.startswith("injury") for line in let.holds)


def test_an_injury_written_down_twice_is_one_line() -> None:
    twice = garden(hurt(), hurt(day=DAY + timedelta(days=3)))
    names = [line.name for line in compose(look_ahead(twice, date(2026, 6, 25))).holds]
    assert names.count("injury/tomato-1") == 1


def test_windows_rest_on_the_published_rule_and_say_that_others_differ() -> None:
    (one,) = held(garden(hurt(first_seen="2026-06-18")), date(2026, 6, 25))
    report, sample = windows(one)
    # "file a misuse complaint within 30 days of the incident or first damage": University of Illinois Extension, 2021
    assert f"within {REPORT_DAYS} days" in herbicide_facts()["report"].fact
    assert report.last == date(2026, 6, 18) + timedelta(days=30)
    assert "other states differ" in report.ground.says
    assert report.ground.rests_on is not None
    assert report.ground.rests_on.status == "published"
    assert sample.last < report.last


def test_the_days_before_come_from_the_record_and_wind_only_where_it_is_recorded() -> None:
    days = days_before(record(), DAY, {date(2026, 6, 14): 3.2})
    assert (days[0].day, days[-1].day) == (date(2026, 6, 6), DAY)
    at = (days[3].day - record().first).days
    assert days[3].tmax_c == pytest.approx(float(record().tmax_c[at]))
    assert [d.wind_m_s for d in days if d.wind_m_s is not None] == [3.2]
    bare = days_before(None, DAY)
    assert all(d.tmax_c is None and d.wind_m_s is None for d in bare)
    assert "proves no source" in NO_PROOF


def test_what_was_brought_onto_beds_is_named_with_its_lot_and_the_beds_that_are_sound() -> None:
    manure = entry("work", "bed-1", date(2026, 4, 2), what="horse manure spread", lot="load 14, Upland stables")
    straw = entry("note", "bed-2", date(2026, 5, 30), text="Mulched with straw.")
    hoed = entry("work", "bed-1", date(2026, 6, 2), what="hoed")
    late = entry("work", "bed-1", DAY + timedelta(days=1), what="compost")
    made = garden(manure, straw, hoed, late, hurt())
    (one,) = held(made, date(2026, 6, 25))
    found = added(made, one)
    assert [(a.bed, a.hit) for a in found] == [("bed-1", True), ("bed-2", False)]
    assert "load 14, Upland stables" in found[0].what


def test_own_sprays_of_the_weeks_before_stand_beside_what_came_from_outside() -> None:
    near = entry("treat", "bed-2", date(2026, 6, 10), label="an own label")
    old = entry("treat", "bed-2", date(2026, 4, 10), label="long ago")
    made = garden(near, old, hurt())
    assert [e.payload["label"] for e in sprayed(made, held(made, DAY)[0])] == ["an own label"]


def test_the_record_outlives_the_release() -> None:
    made = garden(hurt(), let_go("tomato-1", date(2026, 7, 20)))
    assert held(made, date(2026, 8, 1)) == ()
    found = written_down(made, "tomato-1", date(2026, 8, 1))
    assert found is not None
    assert written_down(made, "", date(2026, 8, 1)) == found
    assert written_down(made, "bean-1", date(2026, 8, 1)) is None


def test_sensitivity_is_found_by_crop_with_its_status() -> None:
    tomato = {s.herbicide: s for s in sensitive("tomato-indeterminate") if s.status == "published"}
    assert tomato["dicamba"].sensitivity == "severe"
    assert {s.sensitivity for s in sensitive("bean-pole") if s.herbicide == "dicamba"} == {"extreme"}
    assert not sensitive("parsnip")


def test_keep_watch_pull_or_replace_is_decided_as_for_any_hurt() -> None:
    view = look_ahead(garden(hurt(share=0.9)), date(2026, 6, 25))
    (one,) = held(view.garden, view.today)
    decision = choice(view, view.lives["tomato-1"], one)
    assert set(decision.worth) >= {"keep", "watch", "pull"}
    assert decision.next_look >= view.today


def test_a_pattern_over_families_is_proposed_from_the_entries() -> None:
    both = garden(hurt("tomato-1"), hurt("bean-1", day=DAY + timedelta(days=2)))
    assert "bean-1" in proposed(both, TOMATO, date(2026, 6, 25))["many_families"]
    far = garden(hurt("tomato-1"), hurt("bean-1", day=DAY - timedelta(days=30)))
    assert "many_families" not in proposed(far, TOMATO, date(2026, 6, 25))
    alone = garden(hurt("tomato-1"))
    assert "many_families" not in proposed(alone, TOMATO, date(2026, 6, 25))


def test_manure_and_a_fresh_planting_out_are_proposed_with_their_day() -> None:
    manure = entry("work", "bed-1", date(2026, 5, 2), what="manure dug in")
    straw = entry("work", "bed-1", date(2026, 5, 2), what="straw mulch")
    assert "on 2 May: manure dug in" in proposed(garden(manure), TOMATO, date(2026, 6, 1))["after_manure_mulch"]
    clippings = entry("note", "tomato-9", date(2026, 5, 20), text="Mulched with clippings.")
    beside = Planting(id="tomato-9", crop="tomato-determinate", bed="bed-1", start="bought")
    shared = plot(TOMATO, BEAN, beside, entries=(SET, SOWN, clippings))
    assert "clippings" in proposed(shared, TOMATO, date(2026, 6, 1))["after_manure_mulch"], "it lies on the same bed"
    assert "after_manure_mulch" not in proposed(shared, BEAN, date(2026, 6, 1))
    hay = entry("work", "bed-1", date(2026, 5, 2), what="mulched", lot="hay of the second load")
    assert "lot: hay of the second load" in proposed(garden(hay), TOMATO, date(2026, 6, 1))["after_manure_mulch"]
    assert "after_manure_mulch" not in proposed(garden(straw), TOMATO, date(2026, 6, 1))
    assert "after_planting_out" in proposed(garden(), TOMATO, date(2026, 5, 24))
    assert "after_planting_out" not in proposed(garden(), TOMATO, date(2026, 6, 24))


def test_the_setting_knows_age_weather_past_and_counts() -> None:
    past = entry("found", "bean-1", date(2026, 6, 1), trouble="spider-mites", sure="settled")
    kin = entry("found", "tomato-1", date(2026, 6, 1), trouble="early-blight", sure="likely")
    view = look_ahead(garden(past, kin), date(2026, 6, 25))
    made = setting(view.garden, TOMATO, view.today, view)
    assert made.crop == "tomato-determinate"
    assert {b.trouble: b.settled for b in made.before} == {"early-blight": False}
    assert set(made.weather) == {"after_wet", "hot_dry", "after_cold"}
    young = look_ahead(garden(), date(2026, 5, 24))
    assert plant_stage(young.lives["tomato-1"], young.today) == "seedling"
    assert plant_stage(view.lives["tomato-1"], view.today) in ("growing", "flower")
    winter = look_ahead(garden(), date(2026, 2, 1))
    assert weather_lately(winter)["after_cold"] is True
    assert plant_stage(winter.lives["tomato-1"], winter.today) == ""
