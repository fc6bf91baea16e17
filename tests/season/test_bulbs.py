"""Bulbs and the length of the day."""

from __future__ import annotations

from datetime import date

import numpy as np
import pytest
from asking import said, season
from gardens import Climate, entry, handbook

from kailyard.garden.model import Planting
from kailyard.season.bulbs import days_long_enough, not_ripe_before

GARLIC = Planting("garlic-1", "garlic", "bed-1", "planted", count=60)
PLANTED = entry("plant", "garlic-1", date(2025, 10, 12))


@pytest.mark.parametrize(
    ("crop", "latitude", "first", "last"),
    [
        # U.S. Naval Observatory, tables of daylight: at 40° N the day reaches 13 h about 11 April and 14 h about
        # 5 May; at 52° N 14 h about 14 April (from memory, to a few days; the tables count the sun's upper limb).
        ("garlic", 40.0, date(2026, 4, 5), date(2026, 4, 16)),
        ("onion-long-day", 40.0, date(2026, 4, 28), date(2026, 5, 9)),
        ("onion-long-day", 52.0, date(2026, 4, 9), date(2026, 4, 20)),
        # Six months on in the southern half.
        ("garlic", -40.0, date(2025, 10, 6), date(2025, 10, 18)),
    ],
)
def test_days_are_long_enough_when_the_almanac_says(crop: str, latitude: float, first: date, last: date) -> None:
    begun = date(2026, 1, 15) if latitude > 0 else date(2025, 7, 15)
    day = days_long_enough(handbook(), crop, latitude, begun.toordinal())
    assert day is not None
    assert first.toordinal() <= day <= last.toordinal()


def test_a_crop_without_bulbs_waits_for_no_length_of_day() -> None:
    assert days_long_enough(handbook(), "carrot", 45.0, date(2026, 3, 1).toordinal()) is None
    assert not_ripe_before(handbook(), "carrot", 45.0, date(2026, 3, 1).toordinal()) is None


def test_no_day_is_too_short_at_the_equator_for_short_day_onions() -> None:
    begun = date(2026, 3, 1).toordinal()
    assert days_long_enough(handbook(), "onion-short-day", 0.0, begun) == begun


def test_garlic_planted_in_autumn_is_not_counted_for_ripeness_in_early_spring() -> None:
    # Common practice: autumn garlic of middle latitudes is lifted in June and July.
    view = season(date(2026, 4, 10), GARLIC, entries=(PLANTED,))
    ripe = view.lives["garlic-1"].stage("mature")
    assert ripe is not None
    assert np.all(ripe.days > date(2026, 5, 1).toordinal())
    assert "count/garlic-1" not in said(view)


@pytest.mark.parametrize(
    ("planted", "south"),
    [(date(2025, 9, 5), False), (date(2025, 10, 1), False), (date(2025, 11, 20), False), (date(2025, 10, 20), True)],
)
def test_autumn_garlic_is_lifted_in_the_months_of_the_trade_whenever_it_was_planted(planted: date, south: bool) -> None:
    # Common practice: lifted in June and July at 40 to 50° N, in May and early June at 30 to 35° N.
    told = entry("plant", "garlic-1", planted)
    if south:
        view = season(
            date(2026, 3, 20), GARLIC, entries=(told,), climate=Climate(mean_c=17.0, swing_c=10.0), latitude=33.0
        )
    else:
        view = season(date(2026, 3, 20), GARLIC, entries=(told,))
    ripe = view.lives["garlic-1"].stage("mature")
    assert ripe is not None
    middle = date.fromordinal(int(np.median(ripe.days)))
    assert middle.month in ((5, 6) if south else (6, 7))


def test_garlic_that_shows_its_sign_is_believed_before_any_length_of_day() -> None:
    sign = entry("stage", "garlic-1", date(2026, 4, 9), stage="mature", state="seen", share=0.4)
    view = season(date(2026, 4, 10), GARLIC, entries=(PLANTED, sign))
    ripe = view.lives["garlic-1"].stage("mature")
    assert ripe is not None
    assert np.median(ripe.days) < date(2026, 5, 1).toordinal()
