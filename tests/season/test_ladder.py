"""What a planting needs: from the firmest fact there is, and a packet's days turned at the reference mean."""

from __future__ import annotations

import csv
import gzip
import statistics
from dataclasses import replace
from datetime import date, timedelta
from functools import cache
from pathlib import Path

import numpy as np
import pytest
from gardens import beans, entry, handbook, look_ahead, peas, plot, steady, tomatoes

from kailyard.garden.model import Cultivar, Planting
from kailyard.handbook.types import Leg
from kailyard.season.clock import CALENDAR, Clocks
from kailyard.season.ladder import (
    NURSERY_SHARE,
    START_STAGES,
    best_leg,
    harvest_stage,
    reference_mean_c,
    timeline,
    usual_nursery_days,
)
from kailyard.season.life import emergence
from kailyard.season.odds import Odds
from kailyard.weather.ensemble import build_ensemble
from kailyard.weather.record import DailyRecord, read_only

TODAY = date(2026, 6, 1)


def packet(crop: str, days: float, start: str = "sown", **changes: object) -> Cultivar:
    return replace(Cultivar(crop, "Lantern", days, start), **changes)  # type: ignore[arg-type]


def median_days(planting: Planting, mean_c: float, cultivar: Cultivar | None = None, stage: str = "") -> float:
    """Days from today's beginning to a stage, at a steady temperature day and night."""
    kind = {"sown": "sow", "raised": "set-out", "bought": "set-out", "planted": "plant"}[planting.start]
    if cultivar is not None:
        planting = replace(planting, cultivar=cultivar.name)
    garden = plot(
        planting, entries=(entry(kind, planting.id, TODAY),), cultivars=() if cultivar is None else (cultivar,)
    )
    view = look_ahead(garden, TODAY, ensemble=steady(mean_c, mean_c, today=TODAY, days=400), draws=101)
    life = view.lives[planting.id]
    assert life.timeline is not None
    middle = life.stages[stage or life.timeline.harvest].quantile(0.5)
    return float("inf") if middle is None else (middle - TODAY).days


def test_published_degree_days_come_before_days() -> None:
    way = timeline(beans(), None, handbook())
    assert way is not None
    assert way.rung == 1


def test_a_packet_makes_days_at_a_reference_of_them() -> None:
    way = timeline(beans(), packet("bean-bush", 54), handbook())
    assert way is not None
    assert way.rung == 2
    assert way.reasons[0].because[0].rests_on is not None
    assert way.reasons[0].because[0].rests_on.status == "yours"


def test_without_any_response_days_of_the_calendar_are_left() -> None:
    way = timeline(Planting("x", "onion-long-day", "bed-1", "bought"), None, handbook())
    assert way is not None
    assert (way.rung, way.key) == (4, CALENDAR)


def test_of_what_the_handbook_does_not_know_nothing_is_foreseen() -> None:
    assert timeline(Planting("x", "no-such-crop", "bed-1", "sown"), None, handbook()) is None
    assert timeline(Planting("x", "asparagus", "bed-1", "planted"), None, handbook()) is None


@pytest.mark.parametrize(
    ("planting", "cultivar"),
    [
        (beans(), packet("bean-bush", 54)),
        (peas(), packet("pea", 63)),
        (Planting("x", "sweet-corn", "bed-1", "sown"), packet("sweet-corn", 85)),
        (tomatoes(), packet("tomato-indeterminate", 72, "set-out")),
        (Planting("x", "tomato-indeterminate", "bed-1", "bought"), packet("tomato-indeterminate", 72, "set-out")),
        (Planting("x", "potato", "bed-1", "planted"), packet("potato", 95, "planted")),
    ],
)
def test_at_the_reference_mean_a_packet_keeps_its_word(planting: Planting, cultivar: Cultivar) -> None:
    # Nothing of ours is expected here: the packet's own days are.
    mean_c, _ = reference_mean_c(planting.crop, handbook(), timeline_leg(planting))
    # The soil lags the air a little, and a day counts when it ends.
    assert median_days(planting, mean_c, cultivar) == pytest.approx(cultivar.days_to_maturity, abs=3)


def timeline_leg(planting: Planting) -> Leg | None:
    legs = handbook().legs[planting.crop]
    return best_leg(legs, START_STAGES[planting.start], harvest_stage(planting.crop, handbook()))


def test_a_cool_site_ripens_a_packet_later_than_it_says_and_a_warm_one_sooner() -> None:
    corn, cultivar = Planting("x", "sweet-corn", "bed-1", "sown"), packet("sweet-corn", 85)
    cool, usual, warm = (median_days(corn, t, cultivar) for t in (15.0, 20.0, 25.0))
    assert cool > usual + 30
    assert warm < usual - 15
    # Linear above its base of 10 °C: half the warmth, twice the time (science of degree-days), the soil's part apart.
    assert (cool - usual) / usual == pytest.approx(1.0, abs=0.15)


def test_days_that_were_counted_here_hold_here() -> None:
    corn = Planting("x", "sweet-corn", "bed-1", "sown")
    for mean_c in (15.0, 18.0, 24.0):
        counted = packet("sweet-corn", 85, counted_here=True)
        assert median_days(corn, mean_c, counted) == pytest.approx(85, abs=4)


def test_plants_set_out_are_ahead_of_seed_by_less_than_their_time_under_cover() -> None:
    cultivar = packet("tomato-indeterminate", 72, "set-out")
    out = timeline(tomatoes(), cultivar, handbook())
    sown = timeline(tomatoes(start="sown"), cultivar, handbook())
    from_seed = timeline(tomatoes(), packet("tomato-indeterminate", 120, "sown"), handbook())
    assert out is not None
    assert sown is not None
    assert from_seed is not None
    degrees = out.key.degrees(20.0)
    assert out.total == pytest.approx(72 * degrees)
    assert (out.anchor, sown.anchor) == ("set-out", "emerged")
    ahead = NURSERY_SHARE * usual_nursery_days("tomato-indeterminate", handbook())
    assert from_seed.total == pytest.approx((120 - ahead) * degrees)
    assert out.total < sown.total < out.total + ahead * degrees


def test_a_known_stay_under_cover_counts_instead_of_the_usual_one() -> None:
    cultivar = packet("tomato-indeterminate", 120, "sown")
    short, long = (timeline(tomatoes(), cultivar, handbook(), nursery_days=d) for d in (20.0, 60.0))
    assert short is not None
    assert long is not None
    assert long.total < short.total


def test_days_from_first_flower_are_not_taken_for_days_from_sowing() -> None:
    # A winter squash of '55 days from flower' is not ripe 55 days after it came up.
    squash = Planting("x", "winter-squash-acorn", "bed-1", "sown")
    cultivar = packet("winter-squash-acorn", 55, "first-flower")
    flower = median_days(squash, 21.0, cultivar, "first-flower")
    ripe = median_days(squash, 21.0, cultivar)
    usual = median_days(squash, 21.0)
    assert ripe - flower == pytest.approx(55, abs=4)
    assert ripe == pytest.approx(usual, abs=8)


ANCHORS = [
    (beans(), "emerged"),
    (tomatoes(), "set-out"),
    (Planting("x", "cabbage", "bed-1", "bought"), "set-out"),
    (Planting("x", "potato", "bed-1", "planted"), "emerged"),
    (Planting("x", "onion-long-day", "bed-1", "bought"), "set-out"),
]


@pytest.mark.parametrize(("planting", "anchor"), ANCHORS)
def test_the_main_clock_starts_where_the_plants_do(planting: Planting, anchor: str) -> None:
    way = timeline(planting, None, handbook())
    assert way is not None
    assert way.anchor == anchor
    assert (way.emergence is not None) == (anchor == "emerged")


@cache
def soil_at(soil_c: float) -> Clocks:
    """Steady weather whose estimated soil temperature is the one asked for."""
    low, high = soil_c - 10, soil_c + 10
    for _ in range(20):
        air_c = (low + high) / 2
        ensemble = steady(air_c, air_c, today=TODAY, days=120)
        clocks = Clocks(ensemble, garden_tmin_c=ensemble.tmin_c)
        low, high = (air_c, high) if clocks.soil_c[0, -1] < soil_c else (low, air_c)
    assert clocks.soil_c[:, clocks.today - clocks.first :] == pytest.approx(soil_c, abs=0.1)
    return clocks


def soil_legs() -> list[str]:
    return [
        c
        for c in handbook().crops
        if any(
            leg.soil
            and leg.from_stage == "sown"
            and leg.to_stage == "emerged"
            and leg.days
            and leg.reference_mean_c == 20
            for leg in handbook().legs.get(c, ())
        )
        and timeline(Planting("x", c, "bed-1", "sown"), None, handbook()) is not None
    ]


LOOSE = {"lima-bean": 5.0, "parsley": 2.0}
"""Printed cells that no one base fits: lima bean 31, 18 and 7 days at 15, 20 and 25 °C, parsley 17, 14 and 13."""


@pytest.mark.parametrize("crop", soil_legs())
def test_in_soil_of_20_c_seed_comes_up_in_the_days_harrington_and_minges_printed(crop: str) -> None:
    # Harrington and Minges (1954), Vegetable Seed Germination, table of days to emergence from half an inch at constant
    # soil temperatures, as reprinted by Oregon State University Extension; the handbook carries the days at 20 °C
    # (68 °F). A heat sum over the whole table misses its single cells: a day is allowed.
    leg = next(g for g in handbook().legs[crop] if g.soil and g.to_stage == "emerged" and g.days and g.order == 1)
    assert leg.days is not None
    printed = leg.days[0]
    clocks = soil_at(20.0)
    way = timeline(Planting("x", crop, "bed-1", "sown"), None, handbook())
    assert way is not None
    begun = np.full((clocks.traces, 1), TODAY.toordinal(), dtype=np.int32)
    odds = Odds(emergence(clocks, way, begun, None, 101, "x"))
    middle = odds.quantile(0.5)
    assert middle is not None
    assert (middle - TODAY).days == pytest.approx(printed, abs=LOOSE.get(crop, 1.0))


def twin_cities(shared: Path) -> DailyRecord:
    text = gzip.decompress((shared / "data/weather/twin_cities_daily_1981_2023.csv.gz").read_bytes()).decode()
    rows = list(csv.DictReader(text.splitlines()))
    first, last = (date.fromisoformat(rows[i]["date"]) for i in (0, -1))
    columns = {name: np.full((last - first).days + 1, np.nan) for name in ("tmin_c", "tmax_c", "rain_mm")}
    for row in rows:
        at = (date.fromisoformat(row["date"]) - first).days
        for name, column in columns.items():
            column[at] = float(row[name]) if row[name] else np.nan
    return DailyRecord(first, *(read_only(columns[name]) for name in columns))


def first_picks(shared: Path) -> list[tuple[str, str, date, date]]:
    with (shared / "data/checks/sowing_to_harvest.csv").open(encoding="utf-8") as file:
        rows = list(csv.DictReader(file))
    crops = ("bean-bush", "pea", "sweet-corn", "zucchini", "cucumber-pickling", "lettuce-leaf")
    return [
        (r["id"], r["crop"], date.fromisoformat(r["sown"]), date.fromisoformat(r["first_harvest"]))
        for r in rows
        if r["weather"].startswith("twin_cities") and r["crop"] in crops and r["harvest_kind"] == "first pick"
    ]


def test_first_picks_of_a_garden_record_fall_where_they_were_foreseen_on_the_sowing_day(shared: Path) -> None:
    # Lendway L., gardenR 1.0.0: sowings and first pickings of one home garden in 2020, as carried by the reference
    # table checks/sowing_to_harvest.csv; weather of the Twin Cities. Foreseen on the day of sowing from earlier years
    # only, no packet known. A light look: the heavy comparison is validation's.
    record, inside, off = twin_cities(shared), [], []
    picks = first_picks(shared)
    assert len(picks) >= 8
    for id_, crop, sown, picked in picks:
        ensemble = build_ensemble(record, today=sown, start=sown - timedelta(days=300))
        view = look_ahead(
            plot(Planting("x", crop, "bed-1", "sown"), entries=(entry("sow", "x", sown),)), sown, ensemble=ensemble
        )
        odds = view.lives["x"].stages["first-harvest"]
        low, middle, high = (odds.quantile(q) for q in (0.1, 0.5, 0.9))
        assert low, id_
        assert middle, id_
        inside.append(low <= picked and (high is None or picked <= high))
        off.append((middle - picked).days)
    # Eight in ten are meant to fall within; of ten, binomially, fewer than five would with chance 0.006.
    assert sum(inside) >= 5
    assert statistics.median(abs(n) for n in off) <= 10
