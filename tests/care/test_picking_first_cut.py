"""Crowns before their first cut of the year: by their own years, else by the months, as much as their year allows."""

from datetime import date, timedelta

import numpy as np
import pytest
from gardens import asparagus, entry, look_ahead, plot

from kailyard.care.bearing import bearing
from kailyard.care.yields import full_share, published, range_kg, rate_kg, standing_of
from kailyard.season.first_cut import YEARS_SPREAD_DAYS, own_span

OLD = asparagus(since=date(2020, 4, 20))
SPRING = date(2026, 4, 5)


def cuts(*days):
    return tuple(entry("pick", "asparagus-1", day) for day in days)


def of(planting, *entries, today=SPRING):
    view = look_ahead(plot(planting, entries=entries), today, draws=200)
    return view, view.lives["asparagus-1"]


def test_without_own_years_the_first_cut_lies_in_the_months_it_comes_up():
    view, life = of(OLD)
    low, high = (view.handbook.number("asparagus", f"emerge_month_{end}") for end in ("first", "last"))
    tenth, ninth = np.quantile(bearing(view, life).first, (0.1, 0.9))
    assert date.fromordinal(round(tenth) + 1).month >= low
    assert date.fromordinal(round(ninth) - 1).month <= high


def test_own_years_tell_the_day_and_more_of_them_tell_it_better():
    days = [date(2022, 4, 28), date(2023, 4, 24), date(2024, 5, 1), date(2025, 4, 26)]
    view, life = of(OLD, *cuts(*days))
    first = bearing(view, life).first
    assert abs(float(np.median(first)) - date(2026, 4, 27).toordinal()) <= 2
    few, many = (own_span(*of(OLD, *cuts(*some))) for some in (days[-1:], days))
    assert (many[1] - many[0]) < (few[1] - few[0])
    # One year alone: its own spread and that of the next, sqrt 2 of what years differ by.
    assert (few[1] - few[0]).days == pytest.approx(2 * 1.2816 * 2**0.5 * YEARS_SPREAD_DAYS, abs=1)


def test_a_cut_of_this_year_is_the_first_cut():
    view, life = of(OLD, *cuts(date(2025, 4, 26), date(2026, 4, 20)), today=date(2026, 4, 25))
    assert (bearing(view, life).first == date(2026, 4, 20).toordinal()).all()


def test_in_winter_the_next_spring_is_looked_forward_to():
    view, life = of(OLD, *cuts(date(2025, 4, 26)), today=date(2026, 1, 12))
    assert date.fromordinal(int(np.median(bearing(view, life).first))) >= date(2026, 4, 1)


def test_a_year_of_rest_bears_nothing():
    view, life = of(asparagus(since=date(2025, 4, 20)), today=date(2025, 4, 25))
    assert bearing(view, life) is None


def test_young_crowns_give_no_more_than_their_weeks():
    # Weeks of cutting by year stand in the handbook; a yield printed for a grown bed is of all of a grown bed's weeks.
    view, young = of(asparagus(since=date(2024, 4, 20)))
    weeks = [sum(view.number(young.planting, f"cut_weeks_year_{n}_{e}", 0) for e in ("min", "max")) for n in (3, 4)]
    assert full_share(view, young, 2026) == pytest.approx(weeks[0] / weeks[1])
    totals = rate_kg(view, young, bearing(view, young), standing_of(view, "asparagus"), None)
    grown = range_kg(published(young.planting, view.garden.beds["bed-9"], view.handbook))
    assert np.median(totals) == pytest.approx((grown[0] * grown[1]) ** 0.5 * weeks[0] / weeks[1], rel=0.05)


def test_a_young_season_does_not_make_the_bed_look_poor():
    young = [
        entry("pick", "asparagus-1", date(2022, 5, 1) + timedelta(days=3 * n), quantity=0.5, unit="kg")
        for n in range(3)
    ]
    view, life = of(OLD, *young)
    share = full_share(view, life, 2022)
    assert 0 < share < 1
    found = standing_of(view, "asparagus")
    whole = [
        entry("pick", "asparagus-1", date(2025, 5, 1) + timedelta(days=3 * n), quantity=1.5 / share / 3, unit="kg")
        for n in range(3)
    ]
    view, _ = of(OLD, *whole)
    assert standing_of(view, "asparagus").mean == pytest.approx(found.mean)
