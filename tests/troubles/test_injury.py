"""Injury by what may be a herbicide: held until a release, windows, the days before, and patterns of the record."""

from __future__ import annotations

import sys
from datetime import date, timedelta
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parents[1] / "season"))  # the invented gardens
from gardens import entry, look_ahead, plot, record

from kailyard.garden.model import Entry, Garden, Planting
from kailyard.handbook.signs import herbicide_facts
from kailyard.season.sheet import compose
from kailyard.troubles.injury import (
    NO_PROOF,
    REPORT_DAYS,
    added,
    choice,
    days_before,
    held,
    sensitive,
    windows,
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


def test_lifted_crops_stay_held_after_an_injury() -> None:
    cleared = entry("clear", "tomato-1", date(2026, 7, 30))
    assert holding(hurt(), cleared) == {"tomato-1"}
    plain = entry("hurt", "tomato-1", DAY, cause="drift", share=0.5)
    assert holding(plain) == {"tomato-1"}
    assert holding(plain, cleared) == set()
    frost = entry("hurt", "tomato-1", DAY, cause="frost", share=0.5)
    assert holding(frost) == set()


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


def test_what_was_spread_on_the_bed_is_named() -> None:
    manure = entry("work", "bed-1", date(2026, 4, 2), what="horse manure spread", text="lot 14, Upland stables")
    hoed = entry("work", "bed-1", date(2026, 6, 2), what="hoed")
    (one,) = held(garden(manure, hoed, hurt()), date(2026, 6, 25))
    assert [e.payload["what"] for e in added(garden(manure, hoed, hurt()), one)] == ["horse manure spread"]


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
    assert "2026-05-02" in proposed(garden(manure), TOMATO, date(2026, 6, 1))["after_manure_mulch"]
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
