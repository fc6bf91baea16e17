"""The sheet plans for the days on which someone is there: what cannot wait until the next visit comes first."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

from asking import season
from gardens import beans, entry, handbook, peas, plot, steady, tomatoes
from hypothesis import given
from hypothesis import strategies as st

from kailyard.garden.model import Entry
from kailyard.season.sheet import compose
from kailyard.season.view import foresee
from kailyard.season.visits import Plan

TODAY = date(2026, 6, 12)
GROWING = (
    entry("sow", "bean-1", date(2026, 5, 20)),
    entry("sow", "pea-1", date(2026, 4, 5)),
    entry("sow", "tomato-1", date(2026, 4, 1), under_cover=True),
    entry("set-out", "tomato-1", date(2026, 5, 20)),
)


def visit(day: date, **more: object) -> Entry:
    return replace(entry("visit", "", TODAY - timedelta(days=1), on=day, **more), payload={"day": day, **more})


def sheet(*visits: Entry):  # type: ignore[no-untyped-def]
    return compose(season(TODAY, beans(), peas(), tomatoes(), entries=(*GROWING, *visits)))


def test_without_visits_nothing_is_said_of_them_and_nothing_left_out() -> None:
    found = sheet()
    assert found.visits == ()
    assert found.time is None
    assert not any(line.left_out for line in found.work)


def test_a_longer_absence_makes_waiting_dearer() -> None:
    here = visit(TODAY + timedelta(days=1))
    soon, late = (sheet(here, visit(TODAY + timedelta(days=n))) for n in (7, 21))
    regret = {line.name: line.regret for line in soon.work}
    longer = {line.name: line.regret for line in late.work}
    both = regret.keys() & longer.keys()
    assert both
    assert all(longer[name] >= regret[name] - 1e-9 for name in both)
    assert any(longer[name] > regret[name] for name in both)


def test_ordering_is_done_at_home_and_takes_no_time_of_a_visit() -> None:
    later = replace(beans(), id="bean-9", planned=TODAY + timedelta(days=30))
    told = (*GROWING, visit(TODAY + timedelta(days=1), hands=1, hours=0.1))
    found = compose(season(TODAY, peas(), tomatoes(), later, entries=told), whole=True)
    (order,) = [line for line in found.work if line.name == "order-seed/garden"]
    assert order.minutes > 6
    assert not order.left_out
    assert any(line.left_out for line in found.work)


def test_what_there_is_no_time_for_is_left_out_from_the_end() -> None:
    # 1 person for an hour and a half: 90 minutes, as typed.
    found = sheet(visit(TODAY + timedelta(days=1), hands=1, hours=1.5))
    assert found.time == 90
    assert sum(line.minutes for line in found.work if not line.left_out) <= 90
    assert any(line.left_out for line in found.work)
    # No line that is left out would still have fitted in beside those that stand before it.
    used = 0.0
    for line in found.work:
        assert line.left_out is (used + line.minutes > 90)
        used += 0 if line.left_out else line.minutes


def test_hands_count_as_hours() -> None:
    assert sheet(visit(TODAY, hands=6, hours=0.5)).time == 180


def test_a_danger_before_anyone_comes_says_so() -> None:
    frosty = steady(-3.0, 9.0, today=TODAY)
    for day, said in ((TODAY + timedelta(days=5), True), (TODAY, False)):
        garden = plot(tomatoes(), entries=(*GROWING[2:], _alive(), visit(day)))
        near = compose(foresee(garden, frosty, handbook(), draws=10)).near
        assert near
        assert any("Nobody is expected" in line.detail for line in near) is said


def _alive() -> Entry:
    return entry("look", "tomato-1", TODAY, found="all alive", sound=True)


@given(st.lists(st.integers(1, 240), max_size=12), st.integers(0, 600))
def test_what_fits_never_takes_more_time_than_there_is(minutes: list[int], time: int) -> None:
    fits = Plan((TODAY,), TODAY, (), time).fits(minutes)
    assert sum(m for m, good in zip(minutes, fits, strict=True) if good) <= time
