"""Heat halves how long a ready crop keeps: by hand, by what is printed of sweet corn, and as a law."""

from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest
from gardens import beans, entry, handbook, look_ahead, plot
from hypothesis import given
from hypothesis import strategies as st

from kailyard.care.bearing import Bearing, bearing, ledger
from kailyard.care.picking import lost_if_not_picked, spell
from kailyard.garden.model import Planting
from kailyard.season.clock import Clock
from kailyard.season.keeping import good_until, heat_words
from kailyard.season.work.pick import windows

START = date(2026, 7, 1)
ORDINAL = START.toordinal()


def felt(hot):
    """A clock of sixty days of which those in `hot` (days from START) count twice, ten days before START too."""
    daily = np.ones((1, 90))
    for n in hot:
        daily[0, n + 10] = 2.0
    return Clock.of_daily(daily, ORDINAL - 10)


def ten_days(*picked, today=0, keeps=2, hot=(), days=10):
    full = np.full((1, 2), float(ORDINAL))
    return Bearing(
        first=full,
        last=full + days - 1,
        cut=full + days - 1,
        keeps=np.full((1, 2), float(keeps)),
        shape="even",
        picks=tuple(entry("pick", "bean-1", START + timedelta(days=n)) for n in picked),
        today=ORDINAL + today,
        standing=1.0,
        finished=False,
        felt=None if hot is None else felt(hot),
    )


def test_a_clock_without_heat_counts_plain_days():
    plain, clocked = ten_days(4, today=9, hot=None), ten_days(4, today=9, hot=())
    for day in (ORDINAL + 3.0, ORDINAL + 9.0, ORDINAL + 20.0):
        np.testing.assert_array_equal(plain.gone_by(day), clocked.gone_by(day))
    for one, other in zip(ledger(plain).picked, ledger(clocked).picked, strict=True):
        np.testing.assert_allclose(one, other)


def test_hot_days_by_hand():
    # Keeps 4 ordinary days: what came ready on day 0 is good through day 4. With days 1 to 4 hot it is good through
    # day 2 (two hot days count four), as half of four.
    mild, hot = ten_days(keeps=4, hot=()), ten_days(keeps=4, hot=(1, 2, 3, 4))
    ready = np.full((1, 2), float(ORDINAL))
    assert (mild.good_until(ready) == ORDINAL + 4).all()
    assert (hot.good_until(ready) == ORDINAL + 2).all()
    # On the evening of day 4 everything of day 1 and before has gone over: of day 2 on, two hot days or fewer passed.
    assert (hot.gone_by(ORDINAL + 4.0) == ORDINAL + 1).all()


@given(st.sets(st.integers(0, 30)), st.integers(0, 20), st.integers(0, 20), st.integers(1, 6))
def test_heat_never_saves_anything_and_the_ledger_still_closes(hot, wait, length, keeps):
    mild, warm = ten_days(3, today=4, keeps=keeps), ten_days(3, today=4, keeps=keeps, hot=hot)
    first = START + timedelta(days=4 + wait)
    cool, hotter = (
        spell(b, first, first + timedelta(days=length), unset_share=0.0, fruit_days=0.0) for b in (mild, warm)
    )
    assert (hotter.waits <= cool.waits + 1e-12).all()
    book = ledger(warm)
    np.testing.assert_allclose(book.all_picked + book.gone + book.waiting + book.coming, warm.borne, atol=1e-12)


def corn(day_max_c):
    """Sweet corn that is ripe now, in weather of one kind."""
    planting = Planting(id="corn-1", crop="sweet-corn", bed="bed-1", start="sown", count=40)
    view = look_ahead(plot(planting, entries=(entry("sow", "corn-1", date(2026, 5, 10)),)), date(2026, 7, 15))
    weather = replace(view.ensemble, tmax_c=np.full_like(view.ensemble.tmax_c, day_max_c))
    view = replace(view, ensemble=weather)
    return view, view.lives["corn-1"]


def test_sweet_corn_is_prime_for_a_day_or_two_in_heat():
    # University of California IPM, harvesting and storing corn: 1 to 2 days at 85 °F, about 5 near 60 °F; Iowa State
    # University Extension, Harvesting sweet corn: only one or two days in hot (85 °F and above) weather.
    ready = np.full((1, 30), date(2026, 7, 20).toordinal(), dtype=np.int32)
    (hot, of_hot), (cool, of_cool) = corn(30.0), corn(16.0)
    stays = [
        np.quantile(good_until(view, life, np.broadcast_to(ready, view.shape))[0] - ready, (0.1, 0.9))
        for view, life in ((hot, of_hot), (cool, of_cool))
    ]
    assert stays[0][0] >= 1
    assert stays[0][1] <= 2
    assert 2 <= stays[1][0] <= stays[1][1] <= 5
    assert handbook().get("sweet-corn", "pick_keeps_heat_c").number == pytest.approx((85 - 32) / 1.8, abs=0.05)


def test_more_is_lost_of_beans_in_a_hot_week_than_in_a_cool_one():
    sown = entry("sow", "bean-1", date(2026, 5, 20))
    view = look_ahead(plot(beans(), entries=(sown,)), date(2026, 7, 20))
    hot, cool = (
        replace(
            view, clocks=_fresh(view), ensemble=replace(view.ensemble, tmax_c=np.full_like(view.ensemble.tmax_c, c))
        )
        for c in (33.0, 22.0)
    )
    away = (date(2026, 7, 22), date(2026, 7, 25))
    lost = [lost_if_not_picked(v, v.lives["bean-1"], *away) for v in (hot, cool)]
    assert lost[0].share > lost[1].share
    assert any("count twice" in reason.says for reason in lost[0].reasons)


def test_heat_is_said_beside_a_picking_and_cool_days_are_not():
    sown, picked = entry("sow", "bean-1", date(2026, 5, 20)), entry("pick", "bean-1", date(2026, 7, 18))
    view = look_ahead(plot(beans(), entries=(sown, picked)), date(2026, 7, 20))
    hot, cool = (
        replace(view, ensemble=replace(view.ensemble, tmax_c=np.full_like(view.ensemble.tmax_c, c)))
        for c in (33.0, 22.0)
    )
    assert "goes over twice as fast" in next(iter(windows(hot, hot.lives["bean-1"]))).detail
    assert heat_words(cool, cool.lives["bean-1"]) == ("", ())
    view, life = hot, hot.lives["bean-1"]
    assert bearing(view, life).felt is not None


def _fresh(view):
    """The same clocks, nothing kept."""
    return type(view.clocks)(view.ensemble, garden_tmin_c=view.clocks.garden_tmin_c)
