"""A planting's life: what entries, frost and a shared fate do to the odds of its stages."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from itertools import pairwise

import numpy as np
import pytest
from gardens import (
    HOT,
    MIDLAND,
    asparagus,
    beans,
    entry,
    handbook,
    look_ahead,
    peas,
    plot,
    record,
    seasons,
    steady,
    tomatoes,
)

from kailyard.garden.model import Cultivar, Entry, Planting
from kailyard.garden.project import standing
from kailyard.season.odds import BEYOND, NEVER, Odds
from kailyard.season.view import SeasonView, foresee
from kailyard.weather.ensemble import Ensemble, build_ensemble
from kailyard.weather.record import DailyRecord, read_only

SOWN = date(2026, 5, 20)
TODAY = date(2026, 6, 25)
BEFORE = (entry("sow", "bean-1", SOWN), entry("stage", "bean-1", date(2026, 6, 1), stage="emerged", state="seen"))


def bean_view(*entries: Entry, today: date = TODAY, **changes: object) -> SeasonView:
    return look_ahead(plot(beans(**changes), entries=(*BEFORE, *entries)), today, draws=60)  # type: ignore[arg-type]


def width(odds: Odds) -> int:
    low, high = odds.quantile(0.1), odds.quantile(0.9)
    assert low
    assert high
    return (high - low).days


def first_pick(view: SeasonView, id_: str = "bean-1") -> Odds:
    return view.lives[id_].stages["first-harvest"]


def middle(odds: Odds) -> date:
    day = odds.quantile(0.5)
    assert day
    return day


def test_first_flower_seen_early_moves_and_narrows_what_follows() -> None:
    usual = bean_view()
    early = bean_view(
        entry("stage", "bean-1", TODAY - timedelta(days=2), stage="first-flower", state="not yet"),
        entry("stage", "bean-1", TODAY, stage="first-flower", state="seen"),
    )
    assert middle(usual.lives["bean-1"].stages["first-flower"]) > TODAY + timedelta(days=2)
    assert middle(first_pick(early)) < middle(first_pick(usual)) - timedelta(days=2)
    assert width(first_pick(early)) < width(first_pick(usual))


def test_not_yet_moves_what_follows_later() -> None:
    today = date(2026, 7, 8)
    not_yet = entry("stage", "bean-1", today, stage="first-flower", state="not yet")
    usual, late = bean_view(today=today), bean_view(not_yet, today=today)
    assert middle(first_pick(late)) > middle(first_pick(usual))
    assert np.all(late.lives["bean-1"].stages["first-flower"].days > today.toordinal())


def test_what_was_seen_lies_between_not_yet_and_seen() -> None:
    view = bean_view(
        entry("stage", "bean-1", date(2026, 6, 18), stage="first-flower", state="not yet"),
        entry("stage", "bean-1", date(2026, 6, 22), stage="first-flower", state="seen"),
    )
    days = view.lives["bean-1"].stages["first-flower"].days
    assert np.all((days > date(2026, 6, 18).toordinal()) & (days <= date(2026, 6, 22).toordinal()))


def test_superseded_as_a_mistake_it_is_as_if_never_entered() -> None:
    mistake = entry("stage", "bean-1", TODAY, stage="first-flower", state="seen")
    withdrawn = entry("withdraw", "bean-1", TODAY, hour=20, supersedes=mistake.id)
    kept = standing([*BEFORE, mistake, withdrawn])
    corrected = look_ahead(plot(beans(), entries=kept), TODAY, draws=60)
    never = bean_view()
    for stage, odds in never.lives["bean-1"].stages.items():
        assert np.array_equal(odds.days, corrected.lives["bean-1"].stages[stage].days)


def test_two_like_plantings_ripen_together_more_than_by_chance_and_less_than_surely() -> None:
    entries = tuple(entry("sow", f"bean-{n}", SOWN) for n in (1, 2))
    # Unnamed cultivars may be two: then only the crop's part and the weather are common.
    for cultivar, more in (("Lantern", 0.05), ("", 0.01)):
        view = look_ahead(
            plot(beans("bean-1", cultivar=cultivar), beans("bean-2", cultivar=cultivar), entries=entries),
            date(2026, 5, 25),
            draws=200,
        )
        one, two = first_pick(view), first_pick(view, "bean-2")
        day = middle(one)
        both = float(np.mean((one.days <= day.toordinal()) & (two.days <= day.toordinal())))
        assert one.by(day) * two.by(day) + more < both < min(one.by(day), two.by(day)) - 0.02


def test_the_same_weather_comes_to_every_planting() -> None:
    # Traces are the same weather for all: a cool possible season is late for beans and corn alike.
    view = look_ahead(
        plot(
            beans(),
            Planting("corn-1", "sweet-corn", "bed-2", "sown"),
            entries=(entry("sow", "bean-1", SOWN), entry("sow", "corn-1", SOWN)),
        ),
        date(2026, 5, 25),
    )
    means = [np.median(first_pick(view, id_).days, axis=1) for id_ in ("bean-1", "corn-1")]
    assert np.corrcoef(*means)[0, 1] > 0.5


def frosty(low_c: float, *, night: int, today: date = TODAY) -> Ensemble:
    """Steady warmth with one cold night, so many days from today."""
    base = steady(12.0, 26.0, today=today, days=400)
    tmin = np.array(base.tmin_c)
    tmin[:, base.today_index + night] = low_c
    return replace(base, tmin_c=read_only(tmin))


def stages_with(ensemble: Ensemble, planting: Planting, *entries: Entry, cover: str = "none") -> SeasonView:
    kind = {"sown": "sow", "raised": "set-out", "planted": "plant"}[planting.start]
    begun = () if planting.since else (entry(kind, planting.id, TODAY - timedelta(days=25)),)
    garden = plot(planting, entries=(*begun, *entries), cover=cover)
    return look_ahead(garden, TODAY, ensemble=ensemble)


@pytest.mark.parametrize(
    ("planting", "low_c", "dies"),
    [
        (beans(), -3.0, True),
        (beans(), 1.0, False),
        (tomatoes(), -3.0, True),
        (Planting("corn-1", "sweet-corn", "bed-1", "sown"), -3.0, True),
        (peas(), -3.0, False),
        (Planting("cab-1", "cabbage", "bed-1", "raised"), -3.0, False),
        (Planting("cab-1", "cabbage", "bed-1", "raised"), -15.0, True),
    ],
)
def test_a_killing_night_ends_the_tender_and_leaves_the_hardy(planting: Planting, low_c: float, dies: bool) -> None:
    # Common practice: -3 °C kills beans, corn and tomatoes in leaf; peas and cabbages stand it.
    view = stages_with(frosty(low_c, night=10), planting)
    life = view.lives[planting.id]
    assert life.timeline is not None
    ripe = life.stages[life.timeline.harvest].days
    night = TODAY.toordinal() + 10
    if dies:
        assert np.all((ripe <= night) | (ripe == NEVER))
        assert np.any(ripe == NEVER)
        end = life.stages["last-harvest"].days
        assert np.all((end <= night) | (end == NEVER))
    else:
        assert not np.any(ripe == NEVER)


def test_perennials_outlive_the_frost() -> None:
    view = stages_with(frosty(-20.0, night=10), asparagus())
    assert np.all(view.lives["asparagus-1"].killed == BEYOND)


def test_a_cover_keeps_off_a_light_frost() -> None:
    # The handbook has fleece keep a night 1.5 °C warmer.
    open_, covered = (stages_with(frosty(-1.5, night=10), beans(), cover=c) for c in ("none", "fleece"))
    assert first_pick(open_).never > 0.9
    assert first_pick(covered).never == 0


@pytest.mark.parametrize(
    ("low_c", "told", "dead"),
    [
        (-4.0, (), True),
        (-1.0, (), False),
        (-4.0, (("hurt", -3, {"cause": "frost", "share": 0.5, "killed": 0.3}),), False),
        (-4.0, (("hurt", -3, {"cause": "frost", "share": 1.0, "killed": 1.0}),), True),
        (-4.0, (("look", -1, {"sound": True}),), False),
        (-4.0, (("look", -1, {"sound": False}),), True),
        (-4.0, (("protect", -4, {"what": "fleece", "until": (TODAY - timedelta(days=2)).isoformat()}),), False),
        (-4.0, (("look", -5, {"sound": True}),), True),
    ],
)
def test_a_hard_frost_of_the_past_is_believed_until_something_lives(low_c: float, told: tuple, dead: bool) -> None:
    entries = tuple(entry(kind, "bean-1", TODAY + timedelta(days=n), **payload) for kind, n, payload in told)
    view = stages_with(frosty(low_c, night=-3), beans(), *entries)
    assert (view.seems_killed(view.lives["bean-1"]) is not None) is dead
    assert (first_pick(view).never == 1.0) is dead


def test_a_cover_over_the_bed_covers_what_stands_in_it() -> None:
    cover = entry("protect", "bed-1", TODAY - timedelta(days=4), what="fleece", until=TODAY.isoformat())
    assert stages_with(frosty(-4.0, night=-3), beans(), cover).lives["bean-1"].sightings.covered == TODAY


def test_nothing_of_the_future_leaks() -> None:
    # Other weather and other entries from today on: the same odds.
    whole = record(MIDLAND)
    at = (TODAY - whole.first).days

    def changed(values: np.ndarray) -> np.ndarray:
        out = np.array(values)
        out[at:] = out[at:] + 9.0
        return read_only(out)

    other = DailyRecord(whole.first, changed(whole.tmin_c), changed(whole.tmax_c), changed(whole.rain_mm), whole.source)
    start = TODAY - timedelta(days=420)
    one, two = (build_ensemble(r, today=TODAY, start=start, most_traces=20, use_trend=False) for r in (whole, other))
    garden = plot(beans(), peas(), entries=(*BEFORE, entry("sow", "pea-1", date(2026, 4, 10))))
    later = (
        entry("stage", "bean-1", TODAY + timedelta(days=1), stage="first-flower", state="seen"),
        entry("clear", "pea-1", TODAY + timedelta(days=1)),
    )
    known = foresee(garden, one, handbook(), draws=20)
    after = foresee(replace(garden, entries=(*garden.entries, *later)), two, handbook(), draws=20)
    for id_, life in known.lives.items():
        assert life.standing is after.lives[id_].standing
        for stage, odds in life.stages.items():
            assert np.array_equal(odds.days, after.lives[id_].stages[stage].days)


def test_no_possible_season_is_read_for_another() -> None:
    # The same possible seasons in another order: the same odds in that order. Entries of today included, though what
    # today's weather will be differs.
    ensemble = seasons(TODAY)
    order = np.random.default_rng(3).permutation(ensemble.traces)
    shuffled = replace(
        ensemble,
        tmin_c=read_only(ensemble.tmin_c[order]),
        tmax_c=read_only(ensemble.tmax_c[order]),
        rain_mm=read_only(ensemble.rain_mm[order]),
        years=tuple(ensemble.years[i] for i in order),
    )
    garden = plot(
        beans(),
        peas(),
        tomatoes(planned=date(2026, 6, 20)),
        entries=(
            *BEFORE,
            entry("stage", "bean-1", TODAY, stage="first-flower", state="not yet"),
            entry("sow", "pea-1", date(2026, 6, 20)),
            entry("stage", "pea-1", TODAY, stage="emerged", state="not yet"),
        ),
    )
    one, two = look_ahead(garden, TODAY, ensemble=ensemble), look_ahead(garden, TODAY, ensemble=shuffled)
    for id_, life in one.lives.items():
        for stage, odds in life.stages.items():
            got, expected = two.lives[id_].stages[stage].days, odds.days[order]
            # Means over possible seasons are summed in another order: a day's difference at a rounding edge.
            assert np.mean(got != expected) < 0.01, (id_, stage)


def test_stages_come_one_after_the_other() -> None:
    view = bean_view()
    stages = [view.lives["bean-1"].stages[s].days for s in ("emerged", "first-flower", "first-harvest", "last-harvest")]
    for early, late in pairwise(stages):
        assert np.all(early <= late)


@pytest.mark.parametrize(
    "told",
    [
        [("stage", date(2026, 5, 1), {"stage": "first-flower", "state": "seen"})],
        [("stage", SOWN, {"stage": "first-harvest", "state": "seen"})],
        [
            ("stage", date(2026, 6, 20), {"stage": "first-flower", "state": "seen"}),
            ("stage", date(2026, 6, 24), {"stage": "first-flower", "state": "not yet"}),
        ],
        [("set-out", date(2026, 5, 1), {})],
        [("pick", SOWN, {})],
        [("sow", date(2026, 6, 24), {})],
        [("stage", date(2026, 6, 2), {"stage": "mature", "state": "seen", "share": 0.2})],
        [("hurt", date(2026, 6, 2), {"cause": "hail", "share": 1.0, "killed": 1.0})],
    ],
)
def test_entries_that_cannot_be_do_not_break_the_view(told: list) -> None:
    view = bean_view(*(entry(kind, "bean-1", day, **payload) for kind, day, payload in told))
    for odds in view.lives["bean-1"].stages.values():
        assert 0 <= odds.never + odds.beyond + odds.by(date(2099, 1, 1)) <= 1 + 1e-9


def test_sown_again_what_was_seen_of_the_old_row_is_forgotten() -> None:
    view = bean_view(
        entry("stage", "bean-1", date(2026, 6, 15), stage="first-flower", state="seen"),
        entry("sow", "bean-1", date(2026, 6, 20)),
    )
    assert view.lives["bean-1"].sightings.stages == {}
    assert view.lives["bean-1"].begun[0, 0] == date(2026, 6, 20).toordinal()


def test_plants_still_too_small_are_not_set_out_in_thought() -> None:
    # Common practice: tomatoes stand five to seven weeks under cover.
    sown = date(2026, 5, 20)
    view = look_ahead(plot(tomatoes(), entries=(entry("sow", "tomato-1", sown, under_cover=True),)), TODAY)
    assert np.all(view.lives["tomato-1"].begun >= sown.toordinal() + 35)
    assert not view.lives["tomato-1"].standing


def test_early_corn_ripens_in_a_warm_place_and_may_not_in_a_cool_one() -> None:
    # The weather of the places is made up; that cool summers leave 85-day corn green is common practice.
    corn = Planting("corn-1", "sweet-corn", "bed-1", "sown", cultivar="Lantern")
    cultivar = (Cultivar("sweet-corn", "Lantern", 85.0),)
    garden = plot(corn, entries=(entry("sow", "corn-1", date(2026, 5, 15)),), cultivars=cultivar)
    warm = look_ahead(garden, date(2026, 5, 16), climate=MIDLAND)
    cool = look_ahead(garden, date(2026, 5, 16), climate=replace(MIDLAND, mean_c=6.0, swing_c=9.5))
    assert first_pick(warm, "corn-1").never < 0.1
    assert first_pick(cool, "corn-1").never > 0.4


def test_without_any_frost_nothing_is_killed() -> None:
    view = look_ahead(plot(beans(), entries=BEFORE), TODAY, climate=HOT)
    assert np.all(view.lives["bean-1"].killed == BEYOND)
