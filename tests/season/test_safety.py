"""From when a planting is safe in the open: by trade rules, on both sides of the equator and of midsummer."""

from __future__ import annotations

from datetime import date, timedelta

import numpy as np
import pytest
from gardens import BLEAK, HOT, MIDLAND, SOUTHERN, Climate, handbook, seasons

from kailyard.season.clock import Clocks
from kailyard.season.odds import BEYOND
from kailyard.season.safety import midsummer_after, safe_to_set_out, sets_after


def clocks(today: date, climate: Climate = MIDLAND) -> Clocks:
    ensemble = seasons(today, climate)
    return Clocks(ensemble, garden_tmin_c=ensemble.tmin_c)


def days(values: np.ndarray) -> list[date | None]:
    return [None if v >= BEYOND else date.fromordinal(int(v)) for v in values.ravel()]


@pytest.mark.parametrize(
    ("day", "latitude", "split"),
    [
        (date(2026, 3, 1), 45.0, date(2026, 7, 24)),
        (date(2026, 7, 24), 45.0, date(2026, 7, 24)),
        (date(2026, 7, 25), 45.0, date(2027, 7, 24)),
        (date(2026, 3, 1), -45.0, date(2027, 1, 22)),
        (date(2026, 1, 5), -45.0, date(2026, 1, 22)),
    ],
)
def test_spring_frosts_end_with_midsummer(day: date, latitude: float, split: date) -> None:
    assert midsummer_after(day.toordinal(), latitude) == split.toordinal()


def test_beans_wait_in_spring_for_the_last_frost_and_warm_soil() -> None:
    # Common practice: snap beans go in after the last frost, when the soil has warmed.
    today = date(2026, 3, 1)
    c = clocks(today)
    safe = safe_to_set_out(c, handbook(), "bean-bush", today.toordinal(), 45.0)
    for trace, day in enumerate(days(safe)):
        assert day is not None
        assert date(2026, 4, 15) < day < date(2026, 6, 20)
        frosts = c.last_cold(0.0, day.toordinal(), date(2026, 7, 24).toordinal())[trace, 0]
        assert frosts < day.toordinal()


@pytest.mark.parametrize("crop", ["bean-bush", "lettuce-leaf", "cabbage", "carrot"])
def test_in_high_summer_no_frost_stands_before_the_autumn(crop: str) -> None:
    # Common practice: autumn crops are sown and set out in late July and August; spring's last frost is no matter then.
    today = date(2026, 7, 28)
    safe = safe_to_set_out(clocks(today), handbook(), crop, today.toordinal(), 45.0)
    assert set(days(safe)) == {today}


def test_what_a_killing_night_would_end_at_once_waits_for_spring() -> None:
    today = date(2026, 10, 12)
    safe = safe_to_set_out(clocks(today), handbook(), "bean-bush", today.toordinal(), 45.0)
    assert all(day is not None and date(2027, 4, 15) < day < date(2027, 6, 25) for day in days(safe))


def test_where_no_frost_comes_it_is_safe_at_once() -> None:
    for today in (date(2026, 1, 10), date(2026, 6, 1), date(2026, 11, 5)):
        safe = safe_to_set_out(clocks(today, HOT), handbook(), "tomato-indeterminate", today.toordinal(), 20.0)
        assert max(d for d in days(safe) if d) <= today + timedelta(days=5)


def test_where_the_soil_never_warms_it_is_never_safe() -> None:
    today = date(2026, 4, 1)
    safe = safe_to_set_out(clocks(today, BLEAK), handbook(), "pepper-sweet", today.toordinal(), 45.0)
    assert set(days(safe)) == {None}


def test_south_of_the_equator_spring_is_half_a_year_off() -> None:
    today = date(2026, 9, 1)
    safe = safe_to_set_out(clocks(today, SOUTHERN), handbook(), "bean-bush", today.toordinal(), -40.0)
    assert all(day is not None and date(2026, 10, 10) < day < date(2026, 12, 25) for day in days(safe))
    late = date(2027, 1, 28).toordinal()
    assert set(days(safe_to_set_out(clocks(today, SOUTHERN), handbook(), "bean-bush", late, -40.0))) == {
        date(2027, 1, 28)
    }


@pytest.mark.parametrize(
    ("today", "latitude", "earliest"),
    [
        (date(2026, 4, 10), 45.0, date(2026, 7, 24)),
        (date(2026, 10, 5), 45.0, date(2026, 10, 5)),
        (date(2026, 10, 5), -40.0, date(2027, 1, 22)),
        (date(2026, 4, 10), -40.0, date(2026, 4, 10)),
    ],
)
def test_garlic_goes_into_soil_that_is_cooling_not_into_spring_soil_still_cold(
    today: date, latitude: float, earliest: date
) -> None:
    # Common practice: garlic is planted in autumn.
    assert sets_after(handbook(), "garlic", today.toordinal(), latitude) == earliest.toordinal()
