"""The balance in a garden: what the daybook says wins, the odds are those of the truth, lines speak and are silent."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest
from gardens import HOT, SOUTHERN, asparagus, beans, entry, handbook, look_ahead, peas, plot, seasons, steady, tomatoes
from hypothesis import given, settings
from hypothesis import strategies as st

from kailyard.care.asked import days_asked, stand_of
from kailyard.care.balance import Surface, pass_day
from kailyard.care.course import AHEAD_DAYS, ET_SPREAD, OPEN_SHARE, ahead, so_far
from kailyard.care.used import season_of, used
from kailyard.care.water import water_of
from kailyard.errors import DataError
from kailyard.garden.kinds import check_entry
from kailyard.garden.model import Planting
from kailyard.season.answers import answers
from kailyard.season.fitting import fitting
from kailyard.season.odds import BEYOND
from kailyard.season.view import foresee
from kailyard.season.windows import Look, Window

TODAY = date(2026, 7, 10)
SOWN = entry("sow", "bean-1", date(2026, 5, 20))
DRY = steady(14.0, 29.0, today=TODAY)
"""A month without rain behind, and more of it to come."""


def dry_beans(*entries, **more):
    return look_ahead(plot(beans(), entries=(SOWN, *entries), **more), TODAY, ensemble=DRY)


def water_line(view):
    return next((a for a in answers(view) if isinstance(a, Window) and a.name.startswith("water/")), None)


def gone(view):
    water = water_of(view)
    return float(water.course.now_mm[0])


def test_a_month_without_rain_asks_for_water_and_says_how_much():
    # Common practice: beans in flower after a dry month on loam want water now, about 15 to 40 mm of it.
    view = dry_beans()
    line = water_line(view)
    assert line is not None
    assert line.late
    assert line.open_on(TODAY) > 0.9 or int(np.median(line.due)) <= TODAY.toordinal()
    mm = water_of(view).waterings[0].mm
    assert 15 < mm < 60
    assert line.reasons
    assert "if nobody has watered" in line.detail


def test_water_given_is_believed_and_silences_the_line():
    today = entry("water", "bed-1", TODAY, quantity=500.0, unit="L")
    view = dry_beans(today)
    assert water_line(view) is None or not water_line(view).late
    assert gone(view) < 1.0
    # 500 L on 7.2 m² with a hose of which three quarters arrive: 52 mm.
    given = water_of(view).course.given[0]
    assert given.mm == pytest.approx(500 * 0.75 / 7.2)


def test_done_on_the_line_is_an_entry_of_water():
    view = dry_beans()
    line = water_line(view)
    (fit,) = fitting(line.name, line.of, "done", view.garden)
    assert (fit.kind, fit.target, fit.asks) == ("water", "bed-1", "amount")


def test_wet_weather_asks_for_nothing():
    wet = replace(DRY, rain_mm=DRY.rain_mm + 8.0)
    view = look_ahead(plot(beans(), entries=(SOWN,)), TODAY, ensemble=wet)
    assert water_line(view) is None
    assert not [a for a in answers(view) if a.name.startswith("feel/")]


def test_a_tunnel_keeps_the_rain_off():
    wet = replace(DRY, rain_mm=DRY.rain_mm + 8.0)
    view = look_ahead(plot(beans(), entries=(SOWN,), cover="tunnel"), TODAY, ensemble=wet)
    assert water_line(view) is not None


def test_a_handful_found_wet_pulls_the_balance_and_narrows_it():
    before = water_of(dry_beans()).course
    after = water_of(dry_beans(entry("moisture", "bed-1", TODAY, feel="firm"))).course
    assert after.now_mm[0] < before.now_mm[0]
    assert after.now_spread_mm[0] < before.now_spread_mm[0]
    # Between what was reckoned and what was found, as any mean of two is.
    room = 150 * 0.12  # no less than: some 0.15 m of loam
    assert after.now_mm[0] > 0.0
    assert before.now_mm[0] - after.now_mm[0] > room / 10


def test_a_kalman_step_is_the_mean_weighted_by_certainty():
    # Textbook: precision adds up, 1/V = 1/V1 + 1/V2.
    before = water_of(dry_beans()).course
    e = entry("moisture", "bed-1", TODAY, quantity=20.0, unit="%")
    after = water_of(dry_beans(e)).course
    reading = after.found[0]
    available = before.asked.available_mm[-1, 0]
    v1, v2 = before.now_spread_mm[0] ** 2, (reading.spread * available) ** 2
    assert after.now_spread_mm[0] ** 2 == pytest.approx(1 / (1 / v1 + 1 / v2))
    expected = (before.now_mm[0] / v1 + (1 - reading.left) * available / v2) / (1 / v1 + 1 / v2)
    assert after.now_mm[0] == pytest.approx(expected)


FEELS = ("dusty", "crumbly", "holds", "firm", "wet")
EARLIER = st.integers(1, 60).map(lambda n: TODAY - timedelta(days=n))
TOLD = st.lists(
    st.one_of(
        st.builds(lambda d, q: entry("water", "bed-1", d, hour=7, quantity=q, unit="L"), EARLIER, st.floats(5, 600)),
        st.builds(lambda d, f: entry("moisture", "bed-1", d, hour=8, feel=f), EARLIER, st.sampled_from(FEELS)),
        st.builds(lambda d: entry("work", "bed-1", d, hour=9, what="watered"), EARLIER),
    ),
    max_size=8,
    unique_by=lambda e: (e.kind, e.happened),
)


@settings(max_examples=25, deadline=None)
@given(TOLD)
def test_the_bookkeeping_of_the_past_closes_whatever_is_entered(told):
    # Conservation of water (FAO-56 eq. 85): the account moves by rain, watering, use, drainage, and what is written
    # down as correction where a reading pulled it; by nothing else. Drainage is what no longer fits.
    course = water_of(look_ahead(plot(beans(), entries=(SOWN, *told)), TODAY)).course
    before, asked = course.depletion_mm, course.asked
    into = asked.rain_mm - asked.runoff_mm + course.given_mm
    after = before - into + course.et_mm
    ends = np.maximum(after, 0.0)
    assert np.abs(before[1:] - course.correction_mm[1:] - ends[:-1]).max() < 1e-9
    assert (course.et_mm >= 0).all()
    assert (before >= 0).all()
    # A handful squeezed dry after watering says that the water never arrived: so much more was gone before it.
    assert (before - course.given_mm <= asked.available_mm + 1e-9).all()
    moved = {course.first + int(day) for day in np.flatnonzero(course.correction_mm.any(axis=1))}
    assert moved <= {e.happened.toordinal() for e in told if e.kind == "moisture"}


def test_what_ripens_is_watered_no_more():
    garlic = Planting("garlic-1", "garlic", "bed-1", "planted", count=40)
    planted = entry("plant", "garlic-1", date(2025, 10, 15))
    ripe = entry("stage", "garlic-1", date(2026, 7, 8), stage="mature", share=0.4)
    view = look_ahead(plot(garlic, entries=(planted, ripe)), TODAY, ensemble=seasons(TODAY))
    water = water_of(view)
    assert water is None or "garlic-1" in " ".join(water.left_out)


def test_flower_and_fruit_are_not_said_to_be_at_stake_weeks_before_there_are_any():
    corn = Planting("corn-1", "sweet-corn", "bed-1", "sown", count=40)
    young = look_ahead(plot(corn, entries=(entry("sow", "corn-1", date(2026, 6, 10)),)), TODAY, ensemble=DRY)
    assert water_line(young).lost == "growth is checked"
    # Common practice: beans in flower drop flowers and pods in a dry spell.
    assert water_line(dry_beans()).lost == handbook().text("bean-bush", "dry_hurts").partition(": ")[2]


def test_a_row_that_wants_water_is_named_by_its_cultivar_beside_one_that_ripens():
    two = [
        Planting(f"garlic-{n}", "garlic", "bed-1", "planted", cultivar=name, count=40)
        for n, name in ((1, "Early"), (2, "Late"))
    ]
    entries = (
        entry("plant", "garlic-1", date(2025, 10, 15)),
        entry("plant", "garlic-2", date(2026, 5, 20)),
        entry("stage", "garlic-1", date(2026, 7, 8), stage="mature", share=0.4),
        entry("stage", "garlic-2", date(2026, 7, 8), stage="mature", state="not yet"),
    )
    view = look_ahead(plot(*two, entries=entries), TODAY, ensemble=DRY)
    line = water_line(view)
    assert line is not None
    assert line.of == ("garlic-2",)
    assert line.says == "Water garlic ‘Late’"


@pytest.mark.parametrize(
    ("made", "says"),
    [
        ({"quantity": 4000.0, "unit": "mm"}, "4000 mm is outside 0 to 300 mm at once; litres are written 4000 L"),
        ({"quantity": -5.0, "unit": "L"}, "lies outside 0 to 100000 L"),
        ({"minutes": -3.0}, "minutes -3 is outside"),
        ({}, "say how much"),
        ({"quantity": 5.0, "unit": "L", "minutes": 4.0}, "say one amount"),
    ],
)
def test_impossible_water_is_refused_in_one_clear_line(made, says):
    with pytest.raises(DataError, match=says):
        check_entry(entry("water", "bed-1", TODAY, **made))


@pytest.mark.parametrize(
    ("kind", "made", "says"),
    [
        ("moisture", {}, "either"),
        ("moisture", {"feel": "holds", "quantity": 20.0, "unit": "%"}, "either"),
        ("moisture", {"quantity": 95.0, "unit": "%"}, "lies outside 0 to 80"),
        ("outlet", {"what": "drip", "quantity": 10.0, "unit": "L"}, "measured in L/min"),
        ("outlet", {"what": "can", "quantity": 150.0, "unit": "L"}, "outside 0 to 100 L"),
    ],
)
def test_readings_and_outlets_that_cannot_be_are_refused(kind, made, says):
    with pytest.raises(DataError, match=says):
        check_entry(entry(kind, "bed-1", TODAY, **made))


def test_habits_are_counted_on_the_same_days():
    # An inch a week on 7.2 m² for 7 days is 25.4 × 7.2 litres at the ground; a hose brings three quarters of its water.
    view = dry_beans()
    week = used(view, season_of(view), 7)
    assert week.inch_a_week == pytest.approx(25.4 * 7.2 / 0.75)
    assert week.minutes_daily == pytest.approx(7 * 15 * 10.0)
    assert week.given == 0


def test_south_of_the_equator_and_without_frost():
    for climate, today in ((SOUTHERN, date(2026, 1, 10)), (HOT, TODAY)):
        sown = entry("sow", "bean-1", today - timedelta(days=45))
        view = look_ahead(plot(beans(), entries=(sown,), latitude=-35.0), today, climate=climate)
        water = water_of(view)
        assert np.isfinite(water.course.now_mm).all()
        assert (water.course.et_mm[-7:, 0] > 0.3).all()


def test_no_two_samples_of_one_morning_open_before_they_are_short():
    view = look_ahead(plot(beans(), peas(), tomatoes(), asparagus(), entries=(SOWN,)), TODAY)
    to_come = water_of(view).ahead
    assert (to_come.opens <= to_come.due).all()
    assert (to_come.due <= to_come.shuts).all()


def test_odds_of_watering_hold_in_simulated_truth():
    """Gardens whose weather, start and use are drawn from what is stated: the odds must be those of what then happens.

    Truth is made apart from the forecast: a trace that is kept out of it, a depletion drawn about the reckoned one, a
    use off by its stated spread. Held: as many truths lie below each share of the odds as that share says.
    """

    rng = np.random.default_rng(12)
    place = []
    for week in range(16):
        today = date(2026, 5, 25) + timedelta(days=5 * week)
        sown = entry("sow", "bean-1", today - timedelta(days=40))
        wet = entry("water", "bed-1", today - timedelta(days=4), quantity=300.0, unit="L")
        whole = seasons(today)
        view = foresee(plot(beans(), entries=(sown, wet)), whole, handbook(), draws=20)
        stand = stand_of(view, list(view.lives.values()))
        course = so_far(view, stand)
        foreseen = ahead(view, course)
        asked = days_asked(view, stand, whole.today_index, AHEAD_DAYS + 1, past=False)
        ground = Surface(stand.of("evaporable_mm"), stand.of("readily_mm"))
        for out in range(whole.traces):
            start = np.clip(course.now_mm + rng.normal() * course.now_spread_mm, 0, asked.available_mm[0, out])
            factor, surface, day, wetted = (
                1 + ET_SPREAD * rng.normal(),
                course.now_surface_mm,
                BEYOND,
                course.now_wetted,
            )
            for i in range(AHEAD_DAYS + 1):
                d = asked._make((*(x[i, out] for x in asked[:-1]), asked.easy))._replace(
                    et0_mm=asked.et0_mm[i, out] * factor
                )
                wetted = np.where(d.rain_mm >= 3, 1.0, wetted)
                passed = pass_day(d, ground, surface, start, wetted=wetted)
                if start[0] - d.rain_mm[0] + d.runoff_mm[0] >= OPEN_SHARE * passed.easy_mm[0]:
                    day = today.toordinal() + i
                    break
                surface, start = passed.surface_mm, passed.depletion_mm
            others = np.delete(foreseen.opens[0], out, axis=0)
            # Days are whole: where the truth falls within its own day's chance is drawn, so that right odds come level.
            place.append(np.mean(others < day) + rng.random() * np.mean(others == day))
    assert len(place) == 16 * 20
    below = [float(np.mean(np.array(place) <= share)) for share in (0.1, 0.25, 0.5, 0.75, 0.9)]
    # Three standard errors of 320 outcomes, which hang together in twenties, are about 0.05 to 0.1.
    assert below == pytest.approx([0.1, 0.25, 0.5, 0.75, 0.9], abs=0.075), below


def test_doubt_asks_for_a_handful():
    view = dry_beans()
    looks = [a for a in answers(view) if isinstance(a, Look) and a.name.startswith("feel/")]
    assert len(looks) == 1
    told = dry_beans(entry("moisture", "bed-1", TODAY, feel="dusty"))
    assert not [a for a in answers(told) if a.name.startswith("feel/")]
