"""The sheet as a whole: order, room, decisions, stable names; and gardens thrown together at random."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest
from gardens import (
    BLEAK,
    HOT,
    MIDLAND,
    MILD,
    SOUTHERN,
    asparagus,
    beans,
    entry,
    handbook,
    look_ahead,
    peas,
    plot,
    seasons,
    tomatoes,
)
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from kailyard.documents._parts import Reason
from kailyard.documents.sheet import Line, Sheet
from kailyard.garden.model import Cultivar, Entry, Garden, Planting
from kailyard.season.answers import answers
from kailyard.season.sheet import LITTLE, MOST_WORK, compose
from kailyard.season.view import SeasonView
from kailyard.season.why import why_of
from kailyard.weather.record import read_only

TODAY = date(2026, 7, 14)

BUSY = (
    asparagus(),
    beans("bean-1"),
    beans("bean-2", planned=date(2026, 7, 16)),
    peas("pea-1"),
    tomatoes("tomato-1"),
    Planting("cab-1", "cabbage", "bed-4", "raised", count=10),
    Planting("carrot-1", "carrot", "bed-5", "sown"),
    Planting("cuc-1", "cucumber-slicing", "bed-6", "sown"),
    Planting("garlic-1", "garlic", "bed-7", "planted", count=60),
    Planting("lettuce-1", "lettuce-leaf", "bed-8", "sown"),
    Planting("potato-1", "potato", "bed-10", "planted", count=40),
    Planting("zucchini-1", "zucchini", "bed-11", "sown", count=3),
    Planting("corn-1", "sweet-corn", "bed-12", "sown", count=60),
)
TOLD = (
    entry("sow", "bean-1", date(2026, 5, 22)),
    entry("sow", "pea-1", date(2026, 4, 12)),
    entry("sow", "tomato-1", date(2026, 4, 5), under_cover=True),
    entry("harden", "tomato-1", date(2026, 5, 14)),
    entry("set-out", "tomato-1", date(2026, 5, 25)),
    entry("sow", "cab-1", date(2026, 6, 8), under_cover=True),
    entry("sow", "carrot-1", date(2026, 4, 25)),
    entry("sow", "cuc-1", date(2026, 6, 1)),
    entry("plant", "garlic-1", date(2025, 10, 12)),
    entry("sow", "lettuce-1", date(2026, 6, 2)),
    entry("plant", "potato-1", date(2026, 4, 20)),
    entry("sow", "zucchini-1", date(2026, 5, 24)),
    entry("sow", "corn-1", date(2026, 5, 18)),
    entry("hurt", "corn-1", date(2026, 7, 6), cause="hail", share=0.2),
    entry("pick", "zucchini-1", date(2026, 7, 13), quantity=2.0, unit="kg"),
    entry("pick", "pea-1", date(2026, 7, 1), quantity=1.0, unit="kg"),
    entry("stage", "bean-1", date(2026, 7, 10), stage="first-flower", state="seen"),
)


def busy(*entries: Entry, today: date = TODAY, plantings: tuple[Planting, ...] = BUSY) -> SeasonView:
    return look_ahead(plot(*plantings, entries=(*TOLD, *entries)), today)


def lines(sheet: Sheet) -> list[Line]:
    return [*sheet.holds, *sheet.near, *sheet.work, *sheet.look, *sheet.leave, *sheet.changed, *sheet.next]


def names(sheet: Sheet) -> set[str]:
    return {line.name for line in lines(sheet)}


def test_holds_stand_apart_and_are_never_ranked() -> None:
    view = look_ahead(plot(asparagus(since=date(2026, 4, 1)), beans()), date(2026, 5, 25))
    sheet = compose(view)
    assert {line.name for line in sheet.holds} == {"no-cutting/asparagus-1", "no-hoe/bed-9"}
    assert "no-cutting/asparagus-1" not in {line.name for line in sheet.work}


def test_a_busy_sheet_has_about_ten_lines_of_work_and_counts_the_rest() -> None:
    sheet = compose(busy())
    assert 5 <= len(sheet.work) <= MOST_WORK == 10
    assert len(sheet.look) <= 4
    assert len(sheet.leave) <= 3
    assert len(sheet.next) <= 6
    assert sheet.minutes == sum(line.minutes for line in sheet.work)


def test_the_whole_sheet_has_every_line_and_the_short_one_is_part_of_it() -> None:
    short, whole = compose(busy()), compose(busy(), whole=True)
    assert len(whole.work) == len(short.work) + short.more_work
    assert whole.more_work == 0
    for part in ("work", "look", "leave"):
        assert {line.name for line in getattr(short, part)} <= {line.name for line in getattr(whole, part)}


def test_many_hurt_beds_leave_room_for_other_looks() -> None:
    hurt = [
        entry("hurt", p, TODAY - timedelta(days=3), cause="hail", share=0.4)
        for p in ("bean-1", "pea-1", "tomato-1", "zucchini-1", "cuc-1")
    ]
    kinds = [line.name.split("/")[0] for line in compose(busy(*hurt)).look]
    whole = [line.name.split("/")[0] for line in compose(busy(*hurt), whole=True).look]
    assert whole.count("watch") >= 5
    assert len(set(whole)) > 2
    assert kinds.count("watch") == 2


def test_what_is_ripe_comes_before_all_that_can_wait_and_then_by_what_waiting_costs() -> None:
    sheet = compose(busy())
    picks = [line.name.startswith("pick/") and line.regret >= LITTLE for line in sheet.work]
    pressing = picks.index(False) if False in picks else len(picks)
    assert pressing >= 1
    worth = {a.name: getattr(a, "worth", 0.0) for a in answers(busy())}
    rest = [line.regret * worth[line.name] for line in sheet.work[pressing:] if not line.name.startswith("pick/")]
    assert rest == pytest.approx(sorted(rest, reverse=True), abs=0.02)


@pytest.mark.parametrize("verdict", ["done", "not yet", "leave it"])
def test_a_decision_hides_a_line_until_its_day_and_then_it_is_back(verdict: str) -> None:
    name = compose(busy()).work[0].name
    decided = entry("decide", "", TODAY, line=name, verdict=verdict, until=(TODAY + timedelta(days=2)).isoformat())
    assert name not in names(compose(busy(decided)))
    assert name in names(compose(busy(decided, today=TODAY + timedelta(days=3))))


def test_a_decision_without_a_day_covers_a_week_and_a_later_one_takes_it_back() -> None:
    name = compose(busy()).work[0].name
    decided = entry("decide", "", TODAY - timedelta(days=6), line=name, verdict="leave it")
    assert name not in names(compose(busy(decided)))
    older = entry("decide", "", TODAY - timedelta(days=7), line=name, verdict="leave it")
    assert name in names(compose(busy(older)))
    until = (TODAY - timedelta(days=1)).isoformat()
    back = entry("decide", "", TODAY - timedelta(days=1), line=name, verdict="not yet", until=until)
    assert name in names(compose(busy(decided, back)))


def test_a_decision_made_later_does_not_hide_an_earlier_sheet() -> None:
    name = compose(busy()).work[0].name
    decided = entry("decide", "", TODAY + timedelta(days=1), line=name, verdict="leave it")
    assert name in names(compose(busy(decided)))


def test_names_stay_from_day_to_day() -> None:
    today, tomorrow = (names(compose(busy(today=TODAY + timedelta(days=n)))) for n in (0, 1))
    assert len(today & tomorrow) >= 0.7 * len(today)


def test_names_do_not_hang_on_the_order_of_plantings_or_on_entries_about_others() -> None:
    there = names(compose(busy()))
    assert names(compose(busy(plantings=tuple(reversed(BUSY))))) == there
    said = {a.name for a in answers(busy(entry("note", "", TODAY, text="The swifts are here.")))}
    assert said == {a.name for a in answers(busy())}
    more = {a.name for a in answers(busy(entry("sow", "bean-9", TODAY), plantings=(*BUSY, beans("bean-9"))))}
    about_others = {n for n in said if "bean" not in n}
    assert about_others <= more


def test_the_same_garden_gives_the_same_sheet() -> None:
    assert compose(busy()) == compose(busy())
    moved = plot(*reversed(BUSY), entries=TOLD)
    assert compose(look_ahead(moved, TODAY)) == compose(busy())


def test_what_changed_is_what_was_seen_this_week() -> None:
    sheet = compose(busy())
    assert [line.name for line in sheet.changed] == ["changed/bean-1/first-flower"]
    assert not compose(busy(today=TODAY + timedelta(days=8))).changed


def test_the_strip_of_weather_is_sane_and_marks_the_day_that_endangers() -> None:
    ensemble = seasons(TODAY)
    tmin = np.array(ensemble.tmin_c)
    tmin[:, ensemble.today_index + 1] = -2.0
    frosty = replace(ensemble, tmin_c=read_only(tmin))
    sheet = compose(look_ahead(plot(*BUSY, entries=TOLD), TODAY, ensemble=frosty))
    assert [day.endangers for day in sheet.weather] == [False, True, False, False, False, False, False]
    assert sheet.near
    for day in sheet.weather:
        assert day.tmin_low_c <= day.tmin_c <= day.tmin_high_c
        assert day.tmax_low_c <= day.tmax_c <= day.tmax_high_c
        assert 0 <= day.rain_chance <= 1


GROUNDS = {"published", "common practice", "memory", "yours", "observed", "computed"}


def check_grounded(reasons: tuple[Reason, ...], name: str) -> None:
    """Every branch must meet, on its way down, a source, an entry, the weather or a stated judgement of ours."""

    def walk(reason: Reason, rested: bool) -> None:
        rested = rested or reason.rests_on is not None
        if reason.rests_on is not None:
            assert reason.rests_on.status in GROUNDS, name
            assert reason.rests_on.source, f"{name}: {reason.says}"
        for below in reason.because:
            walk(below, rested)
        assert reason.because or rested, f"{name}: '{reason.says}' rests on nothing"

    assert reasons, name
    for reason in reasons:
        walk(reason, False)


def check_sane(view: SeasonView) -> Sheet:
    """What must be true of any sheet of any garden."""
    sheet = compose(view)
    said = answers(view)
    assert len({a.name for a in said}) == len(said), "two answers share a name"
    shown = [line.name for line in lines(sheet)]
    assert len(set(shown)) == len(shown), "two lines share a name"
    held = {line.name.split("/")[1] for line in sheet.holds}
    for line in sheet.work:
        kind, _, id_ = line.name.partition("/")
        assert kind != "pick" or id_ not in held, f"asks to pick {id_}, which is held"
        if kind in ("set-out", "harden"):
            life = view.lives[id_]
            assert life.planting.start == "bought" or life.sightings.sown, f"{id_} was never sown"
            assert life.sightings.set_out is None
        if kind == "sow":
            assert not view.lives[id_].sightings.sown
        if kind in ("pick", "support", "train", "thin", "mulch", "earth-up", "side-dress", "leaf-removal", "blanch"):
            assert view.lives[id_].standing, f"{kind} of {id_}, which does not stand"
        assert 0 <= line.regret <= 1
        assert line.minutes > 0
    for line in (*lines(sheet), *said):
        assert line.says
        assert "{" not in line.says + line.detail
        assert "nan" not in line.detail.lower().split()
        check_grounded(line.reasons, line.name)
    for line in sheet.work:
        assert why_of(view, line.name).reasons
        assert all(0 <= chance <= 1 + 1e-9 for chance in line.window.chances)
    return sheet


def test_a_busy_sheet_is_sane() -> None:
    check_sane(busy())


CROPS = handbook().crops
IDS = ("a", "b", "pea", "bean-bush", "c-1")
days = st.dates(date(2025, 9, 1), date(2026, 12, 20))
shares = st.sampled_from([0.0, 0.1, 0.5, 1.0])
WORKS = (
    *("thinned", "weeded", "mulched", "earthed up", "trained", "blanched", "side-dressed", "pricked out", "potted on"),
    *("kept for seed", "seed collected", "stored", "cut down", "old leaves taken off", "anything else"),
)


def told(kind: str, **payload: st.SearchStrategy) -> st.SearchStrategy[Entry]:
    return st.builds(
        lambda target, day, values: entry(kind, target, day, **values),
        st.sampled_from(IDS),
        days,
        st.fixed_dictionaries(payload),
    )


entries = st.lists(
    st.one_of(
        told("sow", under_cover=st.booleans()),
        told("set-out"),
        told("plant"),
        told("harden"),
        told("support"),
        told("work", what=st.sampled_from(WORKS)),
        told("pick", last=st.booleans()),
        told("clear"),
        told("protect", what=st.just("fleece"), until=days.map(date.isoformat)),
        told(
            "hurt",
            cause=st.sampled_from(["frost", "hail", "drift", "animals", "wind", "other"]),
            share=shares,
            killed=shares,
        ),
        told("look", sound=st.sampled_from([True, False, None]), next_look=st.none() | days.map(date.isoformat)),
        told(
            "stage",
            stage=st.sampled_from(["emerged", "first-flower", "first-harvest", "mature", "bulb-start"]),
            state=st.sampled_from(["seen", "not yet"]),
            share=st.none() | shares,
        ),
    ),
    max_size=14,
)
plantings = st.lists(
    st.builds(
        Planting,
        id=st.sampled_from(IDS),
        crop=st.sampled_from([*CROPS, "oca"]),
        bed=st.sampled_from(["bed-1", "bed-2"]),
        start=st.sampled_from(["sown", "raised", "bought", "planted"]),
        cultivar=st.sampled_from(["", "Lantern"]),
        count=st.integers(1, 200),
        length_m=st.none() | st.floats(0.2, 10),
        planned=st.none() | days,
        since=st.none() | st.dates(date(2015, 1, 1), date(2026, 6, 1)),
        wave=st.sampled_from(["", "w"]),
    ),
    max_size=5,
    unique_by=lambda p: p.id,
)
cultivars = st.lists(
    st.builds(
        Cultivar,
        crop=st.sampled_from(CROPS),
        name=st.just("Lantern"),
        days_to_maturity=st.none() | st.floats(20, 300),
        days_from=st.sampled_from(["sown", "set-out", "planted", "first-flower"]),
        counted_here=st.booleans(),
    ),
    max_size=3,
)
gardens = st.builds(
    lambda ps, es, cs, cover: plot(
        *ps, entries=tuple({e.id: e for e in es}.values()), cultivars=tuple(cs), cover=cover
    ),
    plantings,
    entries,
    cultivars,
    st.sampled_from(["none", "fleece", "glass"]),
)
PLACES = [(MIDLAND, 45.0), (MILD, 52.0), (BLEAK, 60.0), (HOT, 10.0), (SOUTHERN, -40.0)]
TODAYS = [date(2026, month, 9) for month in range(1, 13)]


@given(gardens, st.sampled_from(TODAYS), st.sampled_from(PLACES))
@settings(max_examples=120, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_no_garden_breaks_the_sheet(garden: Garden, today: date, place: tuple) -> None:
    climate, latitude = place
    garden = replace(garden, site=replace(garden.site, latitude=latitude))
    view = look_ahead(garden, today, draws=8, ensemble=seasons(today, climate, traces=8))
    check_sane(view)


@given(gardens, st.sampled_from(TODAYS))
@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_the_order_of_plantings_never_matters(garden: Garden, today: date) -> None:
    other = replace(garden, plantings=dict(reversed(garden.plantings.items())))
    one, two = (look_ahead(g, today, draws=8, ensemble=seasons(today, traces=8)) for g in (garden, other))
    assert compose(one) == compose(two)
