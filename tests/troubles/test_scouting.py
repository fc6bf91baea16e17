"""Scouting: from when, how hard and where; thresholds of crop and stage; counts, none found too; the next look."""

from datetime import date, timedelta

import pytest
from gardens import SOUTHERN, entry, look_ahead, plot, tomatoes

from kailyard.documents.scout import Lookout, Scout
from kailyard.garden.model import Bed, Entry, Planting
from kailyard.handbook.insects import events_of
from kailyard.handbook.troubles import crop_words
from kailyard.season.sheet import compose
from kailyard.season.view import SeasonView
from kailyard.troubles.counted import fitting, judge, read_count, unit_of
from kailyard.troubles.life_steps import step_days
from kailyard.troubles.scouting import closely, host_stage, scout, walk

_SQUASH = Planting(id="zucchini-1", crop="zucchini", bed="bed-5", start="sown", count=5)
_CABBAGE = Planting(id="cabbage-1", crop="cabbage", bed="bed-6", start="raised", count=20)
_BEGUN = (
    entry("sow", "zucchini-1", date(2026, 5, 20)),
    entry("sow", "cabbage-1", date(2026, 3, 20)),
    entry("set-out", "cabbage-1", date(2026, 4, 25)),
)


def _view(today: date, *entries: Entry, plantings: tuple[Planting, ...] = (_SQUASH, _CABBAGE)) -> SeasonView:
    mine = tuple(e for e in (*_BEGUN, *entries) if e.happened <= today)
    return look_ahead(plot(*plantings, entries=mine), today)


def _find(found: Scout, name: str) -> Lookout | None:
    return next((k for stop in found.stops for k in stop.lookouts if k.trouble == name), None)


def _count(day: date, target: str = "zucchini-1", **payload: object) -> Entry:
    return entry("count", target, day, **{"trouble": "squash-bug", "looked_at": 5, **payload})


def test_squash_and_cabbage_each_have_their_own_pests_and_where_to_look() -> None:
    found = scout(_view(date(2026, 6, 25)))
    bug, worm = _find(found, "squash-bug"), _find(found, "imported-cabbageworm")
    assert bug is not None
    assert "undersides" in bug.where
    assert bug.plantings == ("zucchini-1",)
    assert worm is not None
    assert worm.plantings == ("cabbage-1",)
    assert _find(found, "colorado-potato-beetle") is None


def test_a_flight_is_not_looked_for_months_before_it() -> None:
    # Squash vine borer: moths at 555.6 °C·d above 10 °C, in this climate not before high summer.
    early = scout(_view(date(2026, 6, 1)))
    assert _find(early, "squash-vine-borer") is None
    assert any("squash vine borer" in line and "from about" in line for line in early.not_yet)
    late = [scout(_view(date(2026, 6, 1) + timedelta(days=d))) for d in range(20, 75, 6)]
    assert any(_find(found, "squash-vine-borer") for found in late)


def test_odds_of_a_step_are_those_of_its_own_sum_counted_season_by_season() -> None:
    # 83.3 °C·d of the simple average above 10 °C from 1 January, one possible season after another.
    view = _view(date(2026, 5, 1))
    event = next(e for e in events_of("imported_cabbageworm") if e.event == "spring butterflies")
    days = step_days(view, event, {})
    assert days is not None
    ensemble = view.ensemble
    first = date(2026, 1, 1).toordinal() - ensemble.first.toordinal()
    for trace in range(ensemble.traces):
        run, at = 0.0, first
        while run < event.low:
            run += max((ensemble.tmin_c[trace, at] + ensemble.tmax_c[trace, at]) / 2 - 10.0, 0.0)
            at += 1
        assert days[trace, 0] == ensemble.first.toordinal() + at - 1


def test_a_sum_from_eggs_starts_at_the_eggs_that_were_counted() -> None:
    potato = Planting(id="potato-1", crop="potato", bed="bed-7", start="planted", count=10)
    begun = entry("plant", "potato-1", date(2026, 4, 20))
    today, seen = date(2026, 6, 20), date(2026, 6, 12)
    eggs = _count(seen, "potato-1", trouble="colorado-potato-beetle", total=3, what="egg masses")
    without = _find(scout(_view(today, begun, plantings=(potato,))), "colorado-potato-beetle")
    with_eggs = _find(scout(_view(today, begun, eggs, plantings=(potato,))), "colorado-potato-beetle")
    assert without is not None
    assert without.steps == ()
    assert with_eggs is not None
    first = next(s for s in with_eggs.steps if s.event == "first-instar larva")
    assert first.low is not None
    assert first.low > seen
    # The next look comes before the next step of its life, and never later than the usual interval.
    assert today <= with_eggs.next_look <= seen + timedelta(days=8)
    # None found starts nothing.
    none = _count(seen, "potato-1", trouble="colorado-potato-beetle", total=0, what="egg masses")
    empty = _find(scout(_view(today, begun, none, plantings=(potato,))), "colorado-potato-beetle")
    assert empty is not None
    assert empty.steps == ()


def test_thresholds_are_those_of_crop_stage_and_unit_and_the_strictest_holds() -> None:
    cabbage = {(t.measure, t.low) for t in fitting("imported_cabbageworm", crop_words("cabbage"), "growing")}
    assert cabbage == {("plants with any caterpillar", 20.0)}  # 30 to cupping, 20 just before heading: the stricter
    young = {t.low for t in fitting("imported_cabbageworm", crop_words("broccoli"), "young")}
    assert young == {10.0}
    melon = {t.low for t in fitting("striped_cucumber_beetle", crop_words("melon"), "young")}
    squash = {t.low for t in fitting("striped_cucumber_beetle", crop_words("zucchini"), "young")}
    assert (melon, squash) == ({1.0}, {5.0})
    assert fitting("squash_bug", crop_words("zucchini"), "bearing") == ()


def test_what_a_figure_is_counted_per() -> None:
    # 1 egg mass in 15 plants (Maine), 1 weevil in 400 terminal buds: brought to one.
    borer = next(t for t in fitting("european_corn_borer", crop_words("potato"), "young") if t.measure == "egg masses")
    assert unit_of(borer) == ("plant", 15.0)
    assert {unit_of(t) for t in fitting("european_corn_borer", crop_words("potato"), "young")} == {
        ("plant", 15.0),
        None,
    }
    judged = judge(read_count(_count(date(2026, 6, 1), looked_at=15, of=15, total=2, what="egg masses"), None), [borer])
    assert judged is not None
    assert judged[1].verdict == "above"


def test_all_five_plants_counted_leave_no_doubt_and_none_found_is_below() -> None:
    today = date(2026, 6, 25)
    none = _find(scout(_view(today, _count(date(2026, 6, 24), total=0, what="egg masses"))), "squash-bug")
    assert none is not None
    assert "all of them looked at" in none.counts[0]
    assert none.counts[0].endswith("below")
    assert not none.due
    many = _find(scout(_view(today, _count(date(2026, 6, 24), total=9, what="egg masses", found_on=4))), "squash-bug")
    assert many is not None
    assert many.counts[0].endswith("above")
    assert many.effort == "closely"


def test_two_of_five_undecided_says_how_many_more() -> None:
    today = date(2026, 6, 25)
    some = _find(scout(_view(today, _count(date(2026, 6, 24), looked_at=2, total=3, what="egg masses"))), "squash-bug")
    assert some is not None
    assert "undecided" in some.counts[0]
    assert "more alike would decide" in some.counts[0]


def test_trend_and_natural_enemies_are_told() -> None:
    first = _count(date(2026, 6, 15), total=30, found_on=5, what="egg masses")
    second = _count(date(2026, 6, 22), total=2, found_on=1, what="egg masses", enemies="tachinid flies")
    found = _find(scout(_view(date(2026, 6, 25), first, second)), "squash-bug")
    assert found is not None
    assert any(line.startswith("fewer than on 15 June") for line in found.counts)
    assert any("tachinid flies" in line for line in found.counts)


def test_a_look_that_was_made_is_not_asked_for_again_until_its_day() -> None:
    seen = date(2026, 6, 24)
    look = _count(seen, total=0, what="egg masses")
    due = [
        (_find(scout(_view(seen + timedelta(days=d), look)), "squash-bug") or pytest.fail("not there")).due
        for d in range(6)
    ]
    assert due[0] is False
    assert due[-1] is True  # twice a week, so by the fifth day
    assert due == sorted(due)


def test_what_was_found_here_in_an_earlier_year_is_looked_for_from_then_on() -> None:
    before = entry("found", "cabbage-1", date(2025, 5, 5), trouble="squash-vine-borer")
    early = date(2026, 6, 1)
    assert _find(scout(_view(early)), "squash-vine-borer") is None
    assert _find(scout(_view(early, before)), "squash-vine-borer") is not None


def test_seedling_pests_are_not_looked_for_on_old_plants() -> None:
    assert _find(scout(_view(date(2026, 5, 10))), "cutworms") is not None
    old = _find(scout(_view(date(2026, 8, 10))), "cutworms")
    assert old is None


def test_stage_of_the_plants() -> None:
    view = _view(date(2026, 6, 2))
    assert host_stage(view, view.lives["zucchini-1"]) == "young"
    later = _view(date(2026, 9, 1))
    assert host_stage(later, later.lives["zucchini-1"]) == "bearing"


def test_the_round_goes_from_bed_to_the_nearest_bed() -> None:
    beds = [
        Bed(id_, id_, 4, 1, east_m=e, north_m=n) for id_, e, n in (("far", 9, 9), ("a", 0, 1), ("b", 0, 4), ("c", 8, 8))
    ]
    assert [b.id for b in walk(beds)] == ["a", "b", "c", "far"]


def test_the_sheet_has_one_line_for_the_whole_round_and_none_where_nothing_is_near() -> None:
    lines = [compose(_view(date(2026, 6, 1) + timedelta(days=d))).look for d in range(0, 70, 7)]
    found = [[line for line in look if line.name.startswith("scout/")] for look in lines]
    assert all(len(one) <= 1 for one in found)
    assert any(found)
    assert closely(look_ahead(plot(), date(2026, 7, 1))) == ()


def test_the_sheets_line_says_what_the_round_says() -> None:
    for d in range(0, 60, 5):
        view = _view(date(2026, 6, 1) + timedelta(days=d))
        near = {(stop.bed, k.trouble) for stop, k in closely(view)}
        whole = {(s.bed, k.trouble) for s in scout(view).stops for k in s.lookouts if k.due and k.effort == "closely"}
        assert near == whole


def test_south_of_the_equator_a_sum_from_january_dates_nothing() -> None:
    garden = plot(tomatoes(), latitude=-40.0, entries=(entry("sow", "tomato-1", date(2026, 9, 1)),))
    view = look_ahead(garden, date(2026, 12, 1), climate=SOUTHERN)
    event = next(e for e in events_of("european_corn_borer") if e.counts == "calendar")
    assert step_days(view, event, {}) is None
