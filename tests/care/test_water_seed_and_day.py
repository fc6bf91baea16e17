"""What a gardener sees on the day: seed kept moist, ground that lay bare, today's rain and handfuls, rain to come."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest
from gardens import beans, entry, handbook, look_ahead, plot, seasons, steady

from kailyard.care.asked import days_asked, stand_of
from kailyard.care.used import season_of, used
from kailyard.care.water import water_of
from kailyard.care.water_document import water_document
from kailyard.care.water_words import stage_costs, week_costs
from kailyard.garden.model import Planting
from kailyard.season.answers import answers
from kailyard.season.windows import Window

TODAY = date(2026, 7, 10)
DRY = steady(14.0, 29.0, today=TODAY)
SOWN = entry("sow", "bean-1", date(2026, 5, 20))


def carrots(sown: date) -> tuple[Planting, tuple]:
    return Planting("carrot-1", "carrot", "bed-1", "sown", count=200), (entry("sow", "carrot-1", sown),)


def line_of(view):
    return next((a for a in answers(view) if isinstance(a, Window) and a.name.startswith("water/")), None)


def test_seed_that_is_not_up_is_kept_moist_every_day_or_two_in_dry_weather():
    # Common practice for carrots: sprinkle daily or every other day until they are up.
    sown = TODAY - timedelta(days=2)
    planting, entries = carrots(sown)
    soaked = entry("water", "bed-1", TODAY - timedelta(days=1), quantity=12.0, unit="mm")
    view = look_ahead(plot(planting, entries=(*entries, soaked)), TODAY, ensemble=DRY)
    water = water_of(view)
    assert np.median(water.stand.up) > TODAY.toordinal()
    opens = int(np.median(water.ahead.opens)) - TODAY.toordinal()
    assert 0 <= opens <= 2
    line = line_of(view)
    assert "fine rose" in line.detail
    assert "gaps in the row" in line.lost
    (bed,) = water_document(view).beds
    assert bed.plantings[0].stands.startswith("seed not up yet")


def test_once_up_the_roots_decide():
    planting, entries = carrots(TODAY - timedelta(days=60))
    soaked = entry("water", "bed-1", TODAY - timedelta(days=1), quantity=40.0, unit="mm")
    view = look_ahead(plot(planting, entries=(*entries, soaked)), TODAY, ensemble=DRY)
    assert (water_of(view).stand.up <= TODAY.toordinal()).all()
    line = line_of(view)
    assert line is None or "fine rose" not in line.detail


def test_peas_and_beans_lie_too_deep_to_be_sprinkled():
    view = look_ahead(plot(beans(), entries=(entry("sow", "bean-1", TODAY),)), TODAY, ensemble=DRY)
    assert (water_of(view).stand.up == 0).all()


def test_ground_that_lay_bare_in_a_dry_month_is_not_full_when_it_is_sown():
    # FAO-56 eq. 73: what can evaporate of bare loam is about 19 mm, and a month without rain takes most of it.
    bare = look_ahead(plot(beans(), entries=(entry("sow", "bean-1", TODAY - timedelta(days=1)),)), TODAY, ensemble=DRY)
    gone = float(water_of(bare).course.now_mm[0])
    assert 12 < gone < 22
    watered = entry("water", "bed-1", TODAY - timedelta(days=3), quantity=30.0, unit="mm")
    soaked = look_ahead(
        plot(beans(), entries=(entry("sow", "bean-1", TODAY - timedelta(days=1)), watered)), TODAY, ensemble=DRY
    )
    assert float(water_of(soaked).course.now_mm[0]) < gone - 5


def test_a_handful_squeezed_after_watering_is_squeezed_wet():
    # The same two entries of one day: which came first is what the daybook says.
    dusty = {"feel": "dusty"}
    poured = {"quantity": 200.0, "unit": "L"}
    first_dry = (
        entry("moisture", "bed-1", TODAY, hour=6, **dusty),
        entry("water", "bed-1", TODAY, hour=7, **poured),
    )
    first_wet = (
        entry("water", "bed-1", TODAY, hour=6, **poured),
        entry("moisture", "bed-1", TODAY, hour=7, **dusty),
    )
    dry, wet = (
        float(water_of(look_ahead(plot(beans(), entries=(SOWN, *told)), TODAY, ensemble=DRY)).course.now_mm[0])
        for told in (first_dry, first_wet)
    )
    assert wet > dry + 5


def test_rain_in_the_gauge_this_morning_counts_today():
    dry = look_ahead(plot(beans(), entries=(SOWN,)), TODAY, ensemble=DRY)
    assert line_of(dry).late
    rained = entry("rain", "", TODAY, quantity=60.0, unit="mm")
    wet = look_ahead(plot(beans(), entries=(SOWN, rained)), TODAY, ensemble=DRY)
    today = TODAY.toordinal()
    assert float(np.mean(water_of(dry).ahead.opens <= today)) > 0.9
    assert float(np.mean(water_of(wet).ahead.opens <= today)) < 0.1
    assert water_of(wet).waterings[0].day > TODAY


def test_rain_that_is_likely_is_waited_for():
    rain = np.array(DRY.rain_mm)
    rain[:, DRY.today_index + 1] = 30.0
    coming = replace(DRY, rain_mm=rain)
    enough = entry("water", "bed-1", TODAY - timedelta(days=5), quantity=400.0, unit="L")
    told = "wait for it while a handful still holds"
    view = look_ahead(plot(beans(), entries=(SOWN, enough)), TODAY, ensemble=coming)
    watering = water_of(view).waterings[0]
    assert watering.rain >= 0.8
    assert watering.day is not None
    assert not watering.short
    assert told in water_document(view).beds[0].how
    assert (
        told not in water_document(look_ahead(plot(beans(), entries=(SOWN, enough)), TODAY, ensemble=DRY)).beds[0].how
    )


def test_a_line_waters_all_of_its_bed_and_a_hose_only_what_wants_it():
    # 4 L a minute bring a millimetre to all of 7.2 m² in 7.2 / 4 / 0.9 minutes, however little of it wants any.
    half = [replace(beans(), id=f"bean-{n}", bed="bed-1") for n in (1, 2)]
    sown = tuple(entry("sow", p.id, TODAY - timedelta(days=d)) for p, d in zip(half, (51, 51), strict=True))
    soaked = entry("water", "bean-2", TODAY, quantity=500.0, unit="L")
    drip = entry("outlet", "bed-1", date(2026, 5, 1), what="drip", quantity=4.0, unit="L/min")
    hose, line = (
        water_of(look_ahead(plot(*half, entries=(*sown, soaked, *more)), TODAY, ensemble=DRY)).waterings[0]
        for more in ((), (drip,))
    )
    assert hose.at == line.at == (0,)
    assert line.goes.minutes == pytest.approx(line.mm * 7.2 / 0.9 / 4.0)
    assert hose.area_m2 == pytest.approx(3.6)  # two plantings of which nobody has said how long they are part the bed
    assert line.area_m2 == pytest.approx(7.2)
    assert line.whole
    assert not hose.whole


@pytest.mark.parametrize("soil", ["sand", "clay", "potting mix"])
def test_a_bed_that_wants_water_is_never_said_to_want_none(soil: str):
    garden = plot(beans(), entries=(entry("sow", "bean-1", TODAY - timedelta(days=8)),))
    garden = replace(garden, beds={"bed-1": replace(garden.beds["bed-1"], soil=soil)})
    (bed,) = water_document(look_ahead(garden, TODAY, ensemble=DRY)).beds
    assert "in no possible season" not in bed.next_words
    assert bed.mm >= 3


def test_the_season_counts_what_was_cleared_and_each_litre_once():
    peas = Planting("pea-9", "pea", "bed-1", "sown", count=60)
    entries = (
        entry("sow", "pea-9", TODAY - timedelta(days=90)),
        entry("water", "bed-1", TODAY - timedelta(days=40), quantity=100.0, unit="L"),
        entry("clear", "pea-9", TODAY - timedelta(days=12)),
        entry("sow", "bean-1", TODAY - timedelta(days=10)),
        entry("water", "bed-1", TODAY - timedelta(days=8), quantity=50.0, unit="L"),
        entry("work", "bed-1", TODAY - timedelta(days=6), what="watered"),
    )
    view = look_ahead(plot(peas, beans(), entries=entries), TODAY, ensemble=seasons(TODAY))
    season = season_of(view)
    whole, week = used(view, season), used(view, season, 7)
    assert (whole.given, whole.unknown) == (150.0, 1)
    assert (week.given, week.unknown) == (0.0, 1)
    assert whole.first <= TODAY - timedelta(days=40)
    # Nothing is asked of ground where nothing stands.
    empty = season.course.first + np.arange(len(season.needed_mm))
    for at in range(len(season.course.stand.lives)):
        outside = (empty < season.course.stand.begun[at]) | (empty >= season.course.stand.ended[at])
        assert not season.needed_mm[outside, at].any()


def test_a_film_saves_more_than_straw_and_slows_the_plants_a_little():
    # FAO-56 p. 195 to 197: under plastic evaporation falls by 50 to 80 %, the basal coefficient by 5 to 15 %.
    def asked(what: str):
        laid = (entry("work", "bean-1", TODAY - timedelta(days=20), what=what),) if what else ()
        view = look_ahead(plot(beans(), entries=(SOWN, *laid)), TODAY, ensemble=DRY)
        stand = stand_of(view, list(view.lives.values()))
        return days_asked(view, stand, view.ensemble.today_index, 5, past=False)

    bare, straw, film = asked(""), asked("mulched with straw"), asked("mulched with black film")
    assert straw.evaporates[0, 0, 0] == pytest.approx(0.5)
    assert 0.2 <= film.evaporates[0, 0, 0] <= 0.5
    assert straw.kcb[0, 0, 0] == bare.kcb[0, 0, 0]
    assert film.kcb[0, 0, 0] / bare.kcb[0, 0, 0] == pytest.approx(0.9, abs=0.05)


def test_easy_water_is_less_in_clay_and_more_in_sand():
    # FAO-56 p. 162: 5 to 10 % less in fine soils, 5 to 10 % more in coarse ones, than Table 22.
    def easy(soil: str) -> float:
        garden = plot(beans(), entries=(SOWN,))
        garden = replace(garden, beds={b: replace(garden.beds[b], soil=soil) for b in garden.beds})
        view = look_ahead(garden, TODAY, ensemble=DRY)
        stand = stand_of(view, list(view.lives.values()))
        return float(days_asked(view, stand, view.ensemble.today_index, 1, past=False).easy[0])

    assert 0.90 <= easy("clay") / easy("loam") <= 0.95
    assert 1.05 <= easy("sand") / easy("loam") <= 1.10


def test_a_week_of_half_the_water_costs_what_fao_33_says_of_the_stage():
    # Doorenbos and Kassam (1979), FAO-33: 1 - Ya/Ym = Ky (1 - ETa/ETm); Ky by stage recalled from its Table 24.
    view = look_ahead(plot(beans(), entries=(SOWN,)), TODAY, ensemble=DRY)
    water = water_of(view)
    costs = {stage: (ky, days) for stage, ky, days, _ in stage_costs(view, water, 0)}
    assert {stage: ky for stage, (ky, _) in costs.items()} == {"growth": 0.2, "flower": 1.1, "fill": 0.75}
    loss = 100 * 1.1 * 0.5 * 7 / costs["flower"][1]
    said = week_costs(view, water, 0)
    assert f"{5 * round(loss / 5)} in flower" in said
    assert "(now)" in said
    assert week_costs(*_of("carrot"), 0) == ""  # none is published: nothing is made up


def _of(crop: str):
    planting = Planting(f"{crop}-1", crop, "bed-1", "sown", count=100)
    view = look_ahead(plot(planting, entries=(entry("sow", planting.id, date(2026, 5, 20)),)), TODAY, ensemble=DRY)
    return view, water_of(view)


def test_weather_that_nobody_recorded_widens_the_account_and_is_said():
    filled = np.array(DRY.filled)
    filled[DRY.today_index - 12 : DRY.today_index] = True
    gap = replace(DRY, filled=filled)
    told, known = (look_ahead(plot(beans(), entries=(SOWN,)), TODAY, ensemble=e) for e in (gap, DRY))
    assert water_of(told).course.now_spread_mm[0] > water_of(known).course.now_spread_mm[0]
    assert any("12 days of the last 30 was not recorded" in note for note in water_document(told).notes)
    assert not any("not recorded" in note for note in water_document(known).notes)
    gauge = tuple(entry("rain", "", TODAY - timedelta(days=n), quantity=0.0, unit="mm") for n in range(1, 13))
    read = look_ahead(plot(beans(), entries=(SOWN, *gauge)), TODAY, ensemble=gap)
    assert not any("not recorded" in note for note in water_document(read).notes)


def test_garlic_covers_its_ground_in_spring_and_not_in_the_snow():
    # Common practice: garlic planted in October stands small through winter and closes its rows in April and May.
    garlic = Planting("garlic-1", "garlic", "bed-1", "planted", count=40)
    planted = entry("plant", "garlic-1", date(2025, 10, 12))
    day = date(2026, 3, 10)
    view = look_ahead(plot(garlic, entries=(planted,)), day, ensemble=seasons(day))
    stand = stand_of(view, list(view.lives.values()))
    covered = date.fromordinal(int(np.median(stand.covered)))
    assert date(2026, 4, 1) <= covered <= date(2026, 6, 5)
    assert date.fromordinal(int(np.median(stand.initial_ends))) >= date(2026, 3, 1)


def test_the_words_of_a_handful_are_the_handbook_s():
    assert handbook().text("feel-crumbly", "feel_words") == "a ball that falls apart"
