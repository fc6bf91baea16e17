"""What is lost if nothing can be picked for a while: worked by hand on a curve of ten even days, and in gardens."""

import math
from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest
from gardens import asparagus, beans, entry, look_ahead, plot
from hypothesis import given
from hypothesis import strategies as st

from kailyard.care.bearing import Bearing, bearing, ledger, run
from kailyard.care.picking import lost_if_not_picked, spell
from kailyard.errors import DataError
from kailyard.garden.model import Planting

START = date(2026, 7, 1)


def day(n):
    """The n-th day of the picking, the first being 0."""
    return START + timedelta(days=n)


def ten_days(*picked, today=0, keeps=2, shape="even", cut=9, first=0, days=10, last=False):
    """Ten days of bearing, a tenth a day, in two samples alike."""
    o = START.toordinal()
    full = np.full((1, 2), float(o))
    return Bearing(
        first=full + first,
        last=full + first + days - 1,
        cut=np.minimum(full + first + days - 1, full + cut),
        keeps=np.full((1, 2), float(keeps)),
        shape=shape,
        picks=tuple(entry("pick", "bean-1", day(n)) for n in picked),
        today=o + today,
        standing=1.0,
        finished=last,
    )


def lost(b, first, last, unset=0.0, fruit=0.0):
    s = spell(b, day(first), day(last), unset_share=unset, fruit_days=fruit)
    return tuple(round(float(part.mean()), 6) for part in (s.over, s.unset, s.waits, s.left))


def test_what_goes_over_is_lost_and_what_keeps_is_not():
    # By hand: picked on day 2. Days 3 to 6 are missed; on day 7 what came ready on 3 and 4 has hung for more than two
    # days, what came ready on 5 and 6 has not.
    assert lost(ten_days(), 3, 6) == (0.2, 0.0, 0.2, 1.0)


def test_what_keeps_past_the_end_is_not_lost():
    assert lost(ten_days(keeps=5), 3, 6) == (0.0, 0.0, 0.4, 1.0)


def test_frost_takes_what_hangs_on_the_plants():
    # Killed on the night of day 7: the last day of bearing is 6, and nothing can be picked on day 7 or after.
    assert lost(ten_days(keeps=5, cut=6), 3, 7) == (0.4, 0.0, 0.0, 0.7)


def test_plants_that_hang_full_set_less():
    # By hand: what came ready on day 1 has gone over on day 3, so it hangs on days 3 to 5. Flowers of those days would
    # have been ready on days 6 to 8, three days later: half of three tenths does not set.
    over, unset, _, _ = lost(ten_days(), 1, 5, unset=0.5, fruit=3)
    assert over == pytest.approx(0.3)  # days 1, 2, 3
    assert unset == pytest.approx(0.5 * 0.3)


def test_a_spell_that_begins_today_counts_from_the_last_picking():
    # Picked on day 1, today is day 4: days 2 and 3 hang there, day 2 goes over tonight if nobody comes.
    b = ten_days(1, today=4)
    assert lost(b, 4, 4)[0] == pytest.approx(0.1)
    picked_yesterday = ten_days(1, 3, today=4)
    assert lost(picked_yesterday, 4, 4)[0] == 0.0


def test_the_ledger_by_hand():
    # Picked on day 4: days 0 and 1 had hung for more than two days, 2 to 4 were good. Today is day 9: days 5 and 6 have
    # gone over since, 7 and 8 are good, and what comes ready today is to come.
    book = ledger(ten_days(4, today=9))
    parts = (book.all_picked, book.gone, book.waiting, book.coming)
    assert [round(float(x.mean()), 6) for x in parts] == [0.3, 0.4, 0.2, 0.1]


bearings = st.builds(
    lambda picked, today, keeps, shape, cut, days, last: ten_days(
        *sorted(p for p in picked if p <= today), today=today, keeps=keeps, shape=shape, cut=cut, days=days, last=last
    ),
    st.sets(st.integers(0, 40), max_size=8),
    st.integers(-20, 60),
    st.integers(1, 20),
    st.sampled_from(["even", "early", "middle"]),
    st.integers(0, 60),
    st.integers(1, 50),
    st.booleans(),
)


@given(bearings)
def test_picked_and_left_and_gone_are_what_was_borne(b):
    book = ledger(b)
    parts = (*book.picked, book.gone, book.waiting, book.coming)
    assert all((part >= -1e-12).all() for part in parts)
    np.testing.assert_allclose(sum(parts), np.broadcast_to(b.borne, b.first.shape), atol=1e-12)


@given(bearings, st.integers(0, 30), st.integers(0, 30), st.floats(0, 1), st.floats(0, 20))
def test_no_more_is_lost_than_is_left_and_nothing_is_negative(b, wait, length, unset, fruit):
    first = date.fromordinal(b.today + wait)
    s = spell(b, first, first + timedelta(days=length), unset_share=unset, fruit_days=fruit)
    for part in (s.over, s.unset, s.waits, s.left):
        assert (part >= -1e-12).all()
    if not b.finished:
        assert (s.over + s.unset + s.waits <= s.left + 1e-9).all()


@given(bearings, st.integers(0, 30), st.integers(0, 30))
def test_a_longer_spell_never_loses_less(b, wait, length):
    first = date.fromordinal(b.today + wait)
    short, long = (
        spell(b, first, first + timedelta(days=n), unset_share=0.0, fruit_days=0.0) for n in (length, length + 1)
    )
    assert (long.over >= short.over - 1e-12).all()


@given(st.sampled_from(["even", "early", "middle"]), st.floats(0, 1), st.floats(0, 1))
def test_a_run_rises_from_nothing_to_all(shape, a, b):
    low, high = run(shape, np.array(sorted((a, b))))
    assert 0.0 <= low <= high <= 1.0 + 1e-12
    assert run(shape, np.array(0.0)) == 0.0
    assert run(shape, np.array(1.0)) == pytest.approx(1.0)


@pytest.mark.parametrize(("shape", "a", "b"), [("early", 2, 3), ("middle", 2, 2), ("even", 1, 1)])
def test_runs_are_the_beta_distributions_they_are_called(shape, a, b):
    # NIST Digital Library of Mathematical Functions, 8.17.5: for whole numbers the incomplete beta function is a sum of
    # binomial chances.
    u, n = np.linspace(0, 1, 41), a + b - 1
    printed = sum(math.comb(n, j) * u**j * (1 - u) ** (n - j) for j in range(a, n + 1))
    np.testing.assert_allclose(run(shape, u), printed, atol=1e-12)


SOWN = entry("sow", "bean-1", date(2026, 5, 10))


def test_ten_days_away_cost_snap_beans_more_than_kale():
    # Common practice: snap beans are stringy after three or four days; kale leaves stand for a week or two.
    kale = Planting(id="kale-1", crop="kale", bed="bed-5", start="sown", count=10)
    garden = plot(beans(), kale, entries=(SOWN, entry("sow", "kale-1", date(2026, 4, 20))))
    view = look_ahead(garden, date(2026, 7, 15))
    ten = (date(2026, 7, 22), date(2026, 7, 31))
    bean, leaf = (lost_if_not_picked(view, view.lives[id_], *ten) for id_ in ("bean-1", "kale-1"))
    assert bean.share > 2 * leaf.share
    assert "set less" in bean.words
    assert "set less" not in leaf.words
    assert 0 <= bean.least <= bean.share <= bean.most <= 1
    assert bean.reasons[0].rests_on is not None


def test_the_end_of_bearing_is_the_last_picking_of_the_stages():
    view = look_ahead(plot(beans(), entries=(SOWN,)), date(2026, 6, 1))
    life = view.lives["bean-1"]
    b = bearing(view, life)
    real = life.stages["first-harvest"].days < 2_000_000_000
    unkilled = real & (life.killed > life.stages["last-harvest"].days)
    np.testing.assert_array_equal(b.last[unkilled], life.stages["last-harvest"].days[unkilled])


def test_a_picking_after_the_foreseen_end_shows_that_it_bore_longer():
    # Long after any bush bean's usual three weeks it was picked still: no possible season may have it ended before.
    picks = tuple(entry("pick", "bean-1", date(2026, 7, 15) + timedelta(days=4 * n)) for n in range(12))
    view = look_ahead(plot(beans(), entries=(SOWN, *picks)), date(2026, 8, 29))
    b = bearing(view, view.lives["bean-1"])
    assert (b.last >= picks[-1].happened.toordinal()).all()


def test_nothing_is_lost_of_what_has_ended_or_is_not_known():
    crowns = (asparagus(), asparagus("asparagus-2", since=None))
    garden = plot(beans(), *crowns, entries=(SOWN, entry("clear", "bean-1", date(2026, 8, 10))))
    view = look_ahead(garden, date(2026, 8, 15))
    span = (date(2026, 8, 16), date(2026, 8, 20))
    ended, of_spring, unknown = (
        lost_if_not_picked(view, view.lives[id_], *span) for id_ in ("bean-1", "asparagus-1", "asparagus-2")
    )
    assert (ended.share, ended.known) == (0.0, True)
    assert (of_spring.share, of_spring.known) == (0.0, True)
    assert (unknown.share, unknown.known) == (0.0, False)


def test_days_that_are_over_cost_nothing():
    view = look_ahead(plot(beans(), entries=(SOWN,)), date(2026, 7, 25))
    assert lost_if_not_picked(view, view.lives["bean-1"], date(2026, 7, 1), date(2026, 7, 20)).share == 0.0


def test_an_end_before_the_beginning_is_refused_in_one_line():
    view = look_ahead(plot(beans(), entries=(SOWN,)), date(2026, 7, 25))
    with pytest.raises(DataError, match="the end comes first"):
        lost_if_not_picked(view, view.lives["bean-1"], date(2026, 8, 2), date(2026, 8, 1))


def test_any_planting_can_be_asked_begun_or_not():
    planned = replace(beans("bean-9"), planned=date(2026, 7, 1))
    garlic = Planting(id="garlic-1", crop="garlic", bed="bed-4", start="planted", count=50)
    view = look_ahead(
        plot(planned, garlic, entries=(entry("plant", "garlic-1", date(2025, 10, 10)),)), date(2026, 6, 1)
    )
    for life in view.lives.values():
        found = lost_if_not_picked(view, life, date(2026, 6, 1), date(2026, 12, 31))
        assert 0 < found.share <= 1
