"""Keep, watch, pull or replace.

The figures behind are judgements of ours and are not tested against themselves. What is tested must hold of any such
decision: rules of the trade, marked 'common practice', and the arithmetic of deciding now or later (what is learned
free of cost is never worth less than nothing: Raiffa and Schlaifer, Applied Statistical Decision Theory, 1961; from
memory).
"""

from __future__ import annotations

from datetime import date

import pytest
from asking import said, season
from gardens import asparagus, beans, entry, tomatoes
from hypothesis import given
from hypothesis import strategies as st

from kailyard.garden.model import Entry
from kailyard.season.hurt import best, decide, worths
from kailyard.season.view import SeasonView
from kailyard.season.windows import Look

SHARE = st.floats(0.0, 1.0)


@given(share=SHARE, killed=SHARE, recovers=SHARE, ripens=SHARE, now=SHARE, later=SHARE)
def test_waiting_for_the_next_look_is_never_worth_less_than_keeping(**parts: float) -> None:
    worth = worths(**parts)  # type: ignore[arg-type]
    assert worth["watch"] >= worth["keep"] - 1e-12
    assert all(0.0 <= value <= 1.0 for value in worth.values())


@given(share=SHARE, killed=SHARE, more=SHARE, recovers=SHARE, ripens=SHARE)
def test_more_killed_is_never_worth_more(
    share: float, killed: float, more: float, recovers: float, ripens: float
) -> None:
    low, high = sorted((killed, more))

    def kept(k: float) -> float:
        return worths(share=max(share, k), killed=k, recovers=recovers, ripens=ripens, now=None, later=None)["keep"]

    assert kept(high) <= kept(low) + 1e-12


@given(share=SHARE, killed=SHARE, recovers=SHARE, ripens=SHARE, now=SHARE, later=SHARE)
def test_what_is_chosen_is_worth_most_or_nearly(**parts: float) -> None:
    worth = worths(**parts)  # type: ignore[arg-type]
    choice = best(worth)
    if choice != "pull":
        # Twice the margin by which the choice that leaves most open is preferred: keep to watch, watch to replace.
        assert worth[choice] >= max(worth.values()) - 0.04 - 1e-12


def hurt(planting: str, day: date, share: float, killed: float, cause: str = "frost") -> Entry:
    return entry("hurt", planting, day, cause=cause, share=share, killed=killed)


def decided(view: SeasonView, planting: str):  # type: ignore[no-untyped-def]
    life = view.lives[planting]
    looks = life.sightings.of("look")
    return decide(view, life, life.sightings.of("hurt")[-1], looks[-1] if looks else None)


def test_beans_that_a_late_frost_killed_are_sown_anew_while_it_pays() -> None:
    # Common practice.
    entries = (entry("sow", "bean-1", date(2026, 5, 10)), hurt("bean-1", date(2026, 5, 28), 1.0, 0.9))
    found = decided(season(date(2026, 5, 29), beans(), entries=entries), "bean-1")
    assert found.best == "replace"
    assert found.replace_by is not None
    assert found.replace_by > date(2026, 6, 15)
    assert "8 in 10" in found.says


def test_beans_that_lost_a_leaf_or_two_are_kept() -> None:
    # Common practice.
    entries = (entry("sow", "bean-1", date(2026, 5, 10)), hurt("bean-1", date(2026, 5, 28), 0.1, 0.0, "hail"))
    found = decided(season(date(2026, 5, 29), beans(), entries=entries), "bean-1")
    assert found.best in ("keep", "watch")
    assert found.next_look > date(2026, 5, 29)


def test_late_in_the_season_there_is_nothing_to_replace_with() -> None:
    # Common practice: no beans are sown in September where frost comes in October.
    entries = (entry("sow", "bean-1", date(2026, 7, 1)), hurt("bean-1", date(2026, 9, 10), 0.6, 0.2, "hail"))
    found = decided(season(date(2026, 9, 11), beans(), entries=entries), "bean-1")
    assert found.best in ("keep", "pull")
    assert found.replace_by is None
    gone = (entry("sow", "bean-1", date(2026, 7, 1)), hurt("bean-1", date(2026, 9, 10), 1.0, 0.99, "hail"))
    assert decided(season(date(2026, 9, 11), beans(), entries=gone), "bean-1").best in ("pull", "keep")


def test_half_hurt_plants_with_time_left_are_watched_first_and_the_look_is_dated_before_it_is_too_late() -> None:
    entries = (
        entry("sow", "bean-1", date(2026, 5, 10)),
        hurt("bean-1", date(2026, 5, 28), 0.6, 0.1),
    )
    found = decided(season(date(2026, 5, 29), beans(), entries=entries), "bean-1")
    assert found.best == "watch"
    assert found.replace_by is not None
    assert found.next_look <= found.replace_by


@pytest.mark.parametrize("sound", [True, False])
def test_what_a_look_found_moves_the_decision(sound: bool) -> None:
    told = (
        entry("sow", "bean-1", date(2026, 5, 10)),
        hurt("bean-1", date(2026, 5, 28), 0.9, 0.1),
    )
    look = entry("look", "bean-1", date(2026, 6, 4), found="new leaves", sound=sound)
    before = decided(season(date(2026, 6, 5), beans(), entries=told), "bean-1")
    after = decided(season(date(2026, 6, 5), beans(), entries=(*told, look)), "bean-1")
    assert (after.worth["keep"] > before.worth["keep"]) is sound


def test_crowns_are_never_replaced_for_a_frost() -> None:
    # Common practice: asparagus sends new spears.
    entries = (hurt("asparagus-1", date(2026, 5, 1), 0.5, 0.0),)
    found = decided(season(date(2026, 5, 2), asparagus(since=date(2018, 4, 1)), entries=entries), "asparagus-1")
    assert "replace" not in found.worth
    assert found.best == "keep"


def test_the_sheet_says_the_decision_with_its_dates() -> None:
    entries = (
        entry("sow", "tomato-1", date(2026, 4, 1), under_cover=True),
        entry("set-out", "tomato-1", date(2026, 5, 20)),
        hurt("tomato-1", date(2026, 5, 28), 0.5, 0.2, "animals"),
    )
    line = said(season(date(2026, 5, 29), tomatoes(), entries=entries))["watch/tomato-1"]
    assert isinstance(line, Look)
    assert "of a crop" in line.detail
    assert any("share of a whole crop" in reason.says for reason in line.reasons)
