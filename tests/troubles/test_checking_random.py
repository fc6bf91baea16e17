"""Over random cases and every check: one reason more against never helps, and nothing that is dropped becomes a yes."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from datetime import timedelta

from hypothesis import given, settings
from hypothesis import strategies as st
from spraying import FIT, TODAY, case, treated

from kailyard.garden.entries.rules import Rules
from kailyard.troubles.case import QUESTIONS, Case, Coming
from kailyard.troubles.checking import check
from kailyard.troubles.spray_hours import planned
from kailyard.troubles.verdict import STERNNESS


@dataclass(frozen=True)
class Change:
    """One thing made otherwise, told in a few words where a law is broken."""

    words: str
    make: Callable[[Case], Case] = field(repr=False)

    def __call__(self, made: Case) -> Case:
        return self.make(made)


ACTIVES = ("sulfur", "mineral oil", "copper octanoate", "spinosad", "permethrin", "potassium bicarbonate",
           "Bacillus thuringiensis kurstaki", "sulfur and pyrethrins", "moonlight", "glyphosate")  # fmt: skip


def on_label(**what: object) -> Change:
    """A fact of the label changed; one that is given is no longer said to be missing from it."""

    def change(made: Case) -> Case:
        silent = tuple(n for n in made.label.none_stated if n not in what)
        own = replace(made.label, none_stated=silent, **what)  # type: ignore[arg-type]
        return replace(made, record=replace(made.record, label=own))

    return Change(f"label {what}", change)


def of_hour(ahead: int, **what: float | None) -> Change:
    def change(made: Case) -> Case:
        when = FIT + timedelta(hours=ahead)
        known = made.weather
        if when not in known.hours:
            return made
        hours = {**known.hours, when: replace(known.hours[when], **what)}  # type: ignore[arg-type]
        return replace(made, weather=replace(known, hours=hours))

    return Change(f"hour {ahead} {what}", change)


def without_hour(ahead: int) -> Change:
    def change(made: Case) -> Case:
        gone = FIT + timedelta(hours=ahead)
        hours = {h: each for h, each in made.weather.hours.items() if h != gone}
        return replace(made, weather=replace(made.weather, hours=hours))

    return Change(f"without hour {ahead}", change)


def hot(ahead: int, tmax_c: float | None) -> Change:
    def change(made: Case) -> Case:
        day = TODAY + timedelta(days=ahead)
        days = {d: t for d, t in made.weather.tmax_c.items() if d != day}
        if tmax_c is not None:
            days[day] = max(tmax_c, made.weather.tmax_c.get(day, tmax_c))
        return replace(made, weather=replace(made.weather, tmax_c=days))

    return Change(f"highest {tmax_c} on day {ahead}", change)


def seen(key: str, said: bool | None) -> Change:
    def change(made: Case) -> Case:
        spot = {k: v for k, v in made.spot.items() if k != key}
        return replace(made, spot=spot if said is None else {**spot, key: said})

    return Change(f"seen {key} {said}", change)


def of(**what: object) -> Change:
    return Change(f"{what}", lambda made: replace(made, **what))  # type: ignore[arg-type]


def again(days: int, where: str, known: bool) -> Change:
    """The same product once more, or something that nobody named."""

    def change(made: Case) -> Case:
        one = treated(TODAY - timedelta(days=days), made.record if known else None, entry=f"x{days}{where}")
        there = sorted((*getattr(made, where), one), key=lambda t: t.day)
        return replace(made, **{where: tuple(there)})

    return Change(f"used {days} days ago, {where}, {known}", change)


AGAINST = st.one_of(
    st.sampled_from((0, 1)).map(lambda n: hot(n, 38.0)),
    st.integers(-2, 4).map(lambda n: of_hour(n, rain_mm=2.0)),
    st.sampled_from((0, 1)).map(lambda n: of_hour(n, humidity_pct=96.0)),
    st.sampled_from(sorted(QUESTIONS)).map(lambda key: seen(key, False)),
    st.sampled_from(
        (
            of(thirsty=True), of(wilted=TODAY), of(settled=TODAY + timedelta(days=4)), of(host_of_butterflies=True),
            of(cleared=TODAY), of(hosts_in_bed=("milkweed",)), of(flowers_in_bed=("bee balm",), flowers_all_day=True),
            of(coming=(Coming(TODAY, "a class"),)), of(crop="rhubarb", plants="rhubarb"), of(trouble="aphids"),
            of(rules=Rules(organic=True, registered_in="Eastmark")), on_label(sites=("lawns",)),
            on_label(crops=("rhubarb",)), on_label(troubles=("rust",)), on_label(temp_max_c=12.0),
            on_label(temp_min_c=31.0, temp_max_c=32.0), on_label(wind_max_m_s=0.5), on_label(most_uses=1),
            on_label(least_interval_days=120), on_label(rain_free_hours=900.0), on_label(organic=False),
        )
    ),
    st.builds(again, st.integers(1, 150), st.sampled_from(("treatments", "beside", "elsewhere")), st.just(True)),
    st.builds(again, st.integers(0, 150), st.just("treatments"), st.just(False)),
)  # fmt: skip
"""Each is a reason against, whatever else is so."""

DROPPED = st.one_of(
    st.sampled_from(sorted(QUESTIONS)).map(lambda key: seen(key, None)),
    st.builds(lambda column: of_hour(0, **{column: None}), st.sampled_from(("humidity_pct", "wind_m_s", "rain_mm"))),
    st.integers(0, 4).map(without_hour),
    st.integers(2, 4).map(lambda n: of_hour(n, rain_mm=None)),
    st.just(of_hour(1, humidity_pct=None)),
    st.sampled_from((0, 1)).map(lambda n: hot(n, None)),
    st.sampled_from(
        (
            of(trouble=""), of(rules=Rules(organic=True)), of(settled=None), of(begun=False),
            on_label(crops=()), on_label(troubles=()), on_label(sites=()), on_label(active=""), on_label(number=""),
            on_label(registered_in=""), on_label(days_to_picking=None), on_label(entry_hours=None, until_dry=False),
            on_label(most_uses=None), on_label(least_interval_days=None), on_label(temp_max_c=None),
            on_label(group=""), on_label(bees=""), on_label(rain_free_hours=None), on_label(water_m=None),
            on_label(wind_max_m_s=None), on_label(temp_min_c=None), on_label(organic=None),
        )
    ),
    st.just(Change("no hours", lambda made: replace(made, weather=replace(made.weather, hours={})))),
    st.just(Change("no sun", lambda made: replace(made, weather=replace(made.weather, sun={})))),
)  # fmt: skip
"""Each takes away something without which nobody may be told yes."""


def built(active: str, changes: list[Change]) -> Case:
    made = on_label(active=active)(case(in_bloom=False))
    for change in changes:
        made = change(made)
    return made


def stern(made: Case) -> int:
    return STERNNESS[check(made).answer]


actives, some = st.sampled_from(ACTIVES), st.lists(st.one_of(AGAINST, DROPPED), max_size=3)


@settings(deadline=None, max_examples=150)
@given(actives, some, AGAINST)
def test_one_reason_more_against_never_makes_a_verdict_more_permissive(
    active: str, changes: list[Change], worse: Change
) -> None:
    made = built(active, changes)
    assert stern(worse(made)) <= stern(made)


@settings(deadline=None, max_examples=150)
@given(actives, some, DROPPED)
def test_what_is_dropped_never_becomes_a_yes(active: str, changes: list[Change], drop: Change) -> None:
    """Of what burns no leaf its young plants are no matter: then nothing is taken away, and nothing may change."""
    made = built(active, changes)
    after = drop(made)
    if after != made and check(after).answer == "may":
        assert check(made).answer == "may"
        assert after.settled is None
        assert after.weather == made.weather


@settings(deadline=None, max_examples=60)
@given(actives, some, DROPPED)
def test_nor_does_it_become_a_chance_in_a_plan(active: str, changes: list[Change], drop: Change) -> None:
    made = built(active, changes)
    after = drop(made)
    if after.spot != made.spot or after == made:
        return  # a plan takes for granted what will be seen then; what was dropped before is not dropped again
    if planned(after, FIT).answer == "may":
        assert planned(made, FIT).answer == "may"
        assert after.settled is None


@settings(deadline=None, max_examples=60)
@given(actives, some)
def test_every_check_has_its_say_in_every_case(active: str, changes: list[Change]) -> None:
    verdict = check(built(active, changes))
    said = {f.check for f in verdict.findings if not f.beside}
    assert {"crop", "site", "trouble", "registration", "wind", "still air", "rain", "bees", "uses left"} <= said
    worst = min(STERNNESS[f.answer] for f in verdict.findings if not f.beside)
    assert STERNNESS[verdict.answer] == worst
