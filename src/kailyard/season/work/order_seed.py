"""Order what planned plantings lack before it is needed or sells out; test seed that is old."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from math import ceil

import numpy as np

from kailyard.documents._parts import Reason, RestsOn
from kailyard.garden.model import Garden
from kailyard.season.counted import FAR_DAYS, same
from kailyard.season.done import Answered, Fitting
from kailyard.season.life import Life
from kailyard.season.measures import day_words, listing
from kailyard.season.odds import BEYOND
from kailyard.season.reasons import from_fact, from_judgement
from kailyard.season.safety import midsummer_after
from kailyard.season.seed_stock import (
    SOWN_WITHIN_DAYS,
    Kind,
    Lot,
    germination_pct,
    lot_reasons,
    old,
    plants_in,
    seeds_each,
    stock,
)
from kailyard.season.view import SeasonView
from kailyard.season.windows import Loss, Window
from kailyard.troubles.next_season import SELLS_OUT_BEFORE_MIDSUMMER_DAYS, TOLERANCE, any_of, wanted_codes

NAME = "order seed"
SCOPE = "garden"


def _ordered(line: Answered) -> tuple[Fitting, ...]:
    """One lot on order for each crop and cultivar."""
    kinds = dict.fromkeys((p.crop, p.cultivar) for p in line.named)
    return tuple(
        Fitting("seed", "", {"crop": crop, **({"cultivar": name} if name else {}), "state": "ordered"})
        for crop, name in kinds
    )


DONE = {"order-seed": _ordered, "order-plants": _ordered}

ORDER_AHEAD_DAYS = 60
"""The line stands on the sheet so long before anything must be ordered: one order for all."""

DELIVERY_DAYS = 10
"""Days from ordering to having it."""

TOGETHER_DAYS = 240
"""What is sown within so many days of the first is ordered with it."""

WEEKS_BEFORE = 6.0
"""By when to order where the handbook does not say."""

TEST_DAYS = 21
"""From laying seed out to knowing: two weeks of waiting and the count."""

TEST_SEEDS = 20

MOST_NAMED = 3
MOST_RESISTANT = 2
"""Kinds whose codes are named; the reasons have them all."""

LOSS = Loss(late_per_day=0.008, late_most=0.6, early_per_day=0.0, early_most=0.0)
TEST_LOSS = Loss(late_per_day=0.006, late_most=0.3, early_per_day=0.0, early_most=0.0)


@dataclass(slots=True)
class _Lacking:
    """Plantings of one crop and cultivar that lack seed."""

    kind: Kind
    lives: list[Life]
    begins: int
    """Day of the first sowing or planting. [ordinal]"""
    lots: tuple[Lot, ...]
    old: bool
    """Old seed would do if a test shows it good."""
    due: int = 0
    """Day by which to order. [ordinal]"""
    sells_out: bool = False

    @property
    def planting_start(self) -> str:
        return self.lives[0].planting.start


def windows(view: SeasonView, garden: Garden) -> Iterator[Window]:
    """At most one line for seed, one for what is bought as plants, sets or tubers, one for testing old seed."""
    planned = _planned(view)
    if not planned:
        return
    lacking = _lacking(view, garden, planned)
    seed = [one for one in lacking if one.planting_start in ("sown", "raised") and not one.old]
    other = [one for one in lacking if one.planting_start not in ("sown", "raised")]
    test = [one for one in lacking if one.old]
    for name, group in (("order-seed", seed), ("order-plants", other)):
        if (together := _together(view, group)) and _near(view, together[0]):
            yield _order(view, name, together)
    if (together := _together(view, test)) and _near(view, together[0]):
        yield _test(view, together)


def _near(view: SeasonView, first: _Lacking) -> bool:
    return first.due - ORDER_AHEAD_DAYS <= view.today.toordinal() + FAR_DAYS


def _planned(view: SeasonView) -> dict[Kind, list[tuple[int, Life]]]:
    """Plantings that are still to be begun, with the day of their sowing or planting."""
    found: dict[Kind, list[tuple[int, Life]]] = {}
    for life in view.lives.values():
        planting, seen = life.planting, life.sightings
        if life.begun_known or seen.sown is not None or seen.ended is not None or seen.planted is not None:
            continue
        begins = _begins(view, life)
        if begins is not None:
            found.setdefault((planting.crop, planting.cultivar), []).append((begins, life))
    for lives in found.values():
        lives.sort(key=lambda pair: (pair[0], pair[1].planting.id))
    return found


def _begins(view: SeasonView, life: Life) -> int | None:
    """The day meant for its sowing or planting, or the middle of those foreseen; None where none comes. [ordinal]"""
    planting, today = life.planting, view.today.toordinal()
    if planting.planned is not None:
        return max(planting.planned.toordinal(), today)
    middle = int(np.sort(life.begun, axis=None)[life.begun.size // 2])
    if middle >= BEYOND:
        return None
    before = 7 * view.number(planting, "weeks_indoors_max", 6.0) if planting.start == "raised" else 0.0
    return max(middle - round(before), today)


def _lacking(view: SeasonView, garden: Garden, planned: Mapping[Kind, list[tuple[int, Life]]]) -> list[_Lacking]:
    there = stock(garden, view.handbook, view.today)
    out = []
    for kind, of_kind in sorted(planned.items()):
        lots = _lots(kind, there)
        lives, begins = [life for _, life in of_kind], of_kind[0][0]
        start = lives[0].planting.start
        if not lots and _sown_lately(view, kind, start):
            continue
        plants, seed, raised = (
            sum(life.planting.count for life in lives),
            start in ("sown", "raised"),
            start == "raised",
        )
        fresh = [lot for lot in lots if not (seed and old(lot, view.handbook, view.today))]
        if any(lot.ordered and lot.amount is None for lot in lots):
            continue
        if plants_in(fresh, view.handbook, view.today, raised=raised, seed=seed) >= plants:
            continue
        would_do = plants_in(lots, view.handbook, view.today, raised=raised, seed=seed) >= plants
        one = _Lacking(kind, lives, begins, lots, would_do)
        _set_due(view, one)
        # Too late for a test: what is not sure is ordered.
        one.old = would_do and one.due - TEST_DAYS >= view.today.toordinal()
        out.append(one)
    return out


def _lots(kind: Kind, there: Mapping[Kind, tuple[Lot, ...]]) -> tuple[Lot, ...]:
    """Lots that serve a planting: its cultivar's, or any of the crop where it names none."""
    if kind[1]:
        return there.get(kind, ())
    return tuple(lot for (crop, _), lots in there.items() if crop == kind[0] for lot in lots)


def _sown_lately(view: SeasonView, kind: Kind, start: str) -> bool:
    """Nothing is entered of a kind that was sown of late: the packet is taken to be there. Tubers are bought anew."""
    if start not in ("sown", "raised") and view.handbook.text(kind[0], "stock") not in ("cloves", "slips"):
        return False
    since = view.today - timedelta(days=SOWN_WITHIN_DAYS)
    return any(
        (life.planting.crop, life.planting.cultivar) == kind
        and (life.sightings.sown or life.sightings.planted or date.min) >= since
        for life in view.lives.values()
    )


def _set_due(view: SeasonView, one: _Lacking) -> None:
    weeks = view.handbook.number(one.kind[0], "order_weeks_before")
    one.due = one.begins - round(7 * (WEEKS_BEFORE if weeks is None else weeks))
    cultivar = view.garden.cultivars.get(one.kind)
    if cultivar is not None and cultivar.resistance and one.planting_start in ("sown", "raised"):
        winter = midsummer_after(one.begins - SELLS_OUT_BEFORE_MIDSUMMER_DAYS, view.garden.site.latitude)
        gone = winter - SELLS_OUT_BEFORE_MIDSUMMER_DAYS
        one.sells_out = one.begins >= gone
        one.due = min(one.due, gone) if one.sells_out else one.due


def _together(view: SeasonView, lacking: list[_Lacking]) -> list[_Lacking]:
    """Those ordered at one time, the most pressing first."""
    if not lacking:
        return []
    first = min(one.begins for one in lacking)
    return sorted((one for one in lacking if one.begins <= first + TOGETHER_DAYS), key=lambda one: (one.due, one.kind))


def _order(view: SeasonView, name: str, lacking: list[_Lacking]) -> Window:
    today, first = view.today.toordinal(), lacking[0]
    late = min(one.begins for one in lacking) - DELIVERY_DAYS < today
    need = [_need(view, one) for one in lacking]
    by = date.fromordinal(max(first.due, today))
    what = "seed" if name == "order-seed" else "plants, sets and tubers"
    return Window(
        name=f"{name}/garden",
        says=f"Order {what}" if len(lacking) > 1 else f"Order {need[0]}",
        where="for what is planned" if len(lacking) > 1 else f"for {view.where(first.lives[0].planting)}",
        detail=_detail(view, lacking, need, by, late),
        reasons=tuple(reason for one in lacking for reason in _reasons(view, one)),
        of=tuple(life.planting.id for one in lacking for life in one.lives),
        opens=same(view, date.fromordinal(first.due), -ORDER_AHEAD_DAYS),
        due=same(view, date.fromordinal(first.due)),
        shuts=same(view, date.fromordinal(max(max(one.begins for one in lacking) - DELIVERY_DAYS, today))),
        loss=LOSS,
        lost="it sells out or comes after its sowing day",
        minutes=float(min(10 + 2 * len(lacking), 60)),
        at_home=True,
        worth=min(0.5 + 0.1 * len(lacking), 2.0),
        late=late,
    )


def _detail(view: SeasonView, lacking: list[_Lacking], need: list[str], by: date, late: bool) -> str:
    more = len(need) - MOST_NAMED
    named = need[:MOST_NAMED] + ([f"{more} more kind{'s' if more > 1 else ''}"] if more > 0 else [])
    now = "now" if by.toordinal() <= view.today.toordinal() else f"by {day_words(by)}"
    when = "late: ask that it is sent at once, or buy it over the counter" if late else now
    when += f"; to be begun about {day_words(date.fromordinal(min(one.begins for one in lacking)))}"
    scarce = [one for one in lacking if one.sells_out]
    tail = "; resistant kinds sell out by late winter" if scarce and not late else ""
    resistant = list(dict.fromkeys(said for one in lacking if (said := _resistant(view, one))))
    tail += "".join(f"; {said}" for said in resistant[:MOST_RESISTANT])
    return f"{listing(named)}; {when}{tail}" if len(lacking) > 1 else f"{when}{tail}"


def _wanted(view: SeasonView, one: _Lacking) -> dict[str, tuple[str, ...]]:
    """Troubles found on this crop this year and last that the planned kind carries no code against."""
    crop_of = {p.id: p.crop for p in view.garden.plantings.values()}
    cultivar = view.garden.cultivars.get(one.kind)
    carries = set(cultivar.resistance) if cultivar else set()
    wanted = wanted_codes(view.garden.entries, one.kind[0], crop_of, view.today)
    return {trouble: codes for trouble, codes in wanted.items() if not carries & set(codes)}


def _resistant(view: SeasonView, one: _Lacking) -> str:
    """'ask for cucumbers with Px, Gc or PM on the packet (tolerance, not immunity)'; '' where none is wanted."""
    codes = [code for those in _wanted(view, one).values() for code in those]
    if not codes or one.planting_start not in ("sown", "raised"):
        return ""
    plants = view.plants(one.lives[0].planting)
    return f"ask for {plants} with {any_of(codes)} on the packet ({TOLERANCE})"


def _need(view: SeasonView, one: _Lacking) -> str:
    """'160 seeds of peas ‘First Packet’', '20 pieces of potatoes ‘Keelstone’'."""
    plants = sum(life.planting.count for life in one.lives)
    what = view.with_cultivar(one.lives[0].planting)
    if one.planting_start not in ("sown", "raised"):
        unit = view.handbook.text(one.kind[0], "stock", "plants") if one.planting_start == "planted" else "plants"
        return f"{plants} {'sets' if unit == 'seed' else unit} of {what}"
    raised = one.planting_start == "raised"
    fresh = [lot for lot in one.lots if not old(lot, view.handbook, view.today)]
    there = plants_in(fresh, view.handbook, view.today, raised=raised, seed=True)
    pct = germination_pct(None, one.kind[0], view.handbook, view.today)
    return (
        f"{ceil((plants - there) * seeds_each(one.kind[0], view.handbook, pct, raised=raised) - 1e-9)} seeds of {what}"
    )


def _test(view: SeasonView, lacking: list[_Lacking]) -> Window:
    first = lacking[0]
    names = [f"{view.with_cultivar(one.lives[0].planting)} of {_packed(one)}" for one in lacking]
    named = names[:MOST_NAMED] + ([f"{len(names) - MOST_NAMED} more"] if len(names) > MOST_NAMED else [])
    due = first.due - TEST_DAYS
    return Window(
        name="test-seed/garden",
        says="Test old seed",
        where="under cover",
        detail=f"{listing(named)}: {TEST_SEEDS} seeds in a damp cloth, warm; count in two weeks and enter how many of "
        f"them; while there is time to order, by {day_words(date.fromordinal(max(due, view.today.toordinal())))}",
        reasons=tuple(reason for one in lacking for reason in _reasons(view, one)),
        of=tuple(life.planting.id for one in lacking for life in one.lives),
        opens=same(view, date.fromordinal(first.due), -ORDER_AHEAD_DAYS),
        due=same(view, date.fromordinal(due)),
        shuts=same(view, date.fromordinal(max(one.due for one in lacking))),
        loss=TEST_LOSS,
        lost="dead seed is sown, or good seed is bought twice",
        minutes=10.0,
        at_home=True,
        worth=0.5,
    )


def _packed(one: _Lacking) -> str:
    return str(min(lot.packed for lot in one.lots if lot.packed is not None))


def _reasons(view: SeasonView, one: _Lacking) -> Iterator[Reason]:
    handbook, planting = view.handbook, one.lives[0].planting
    weeks = handbook.get(one.kind[0], "order_weeks_before")
    facts = [from_fact(weeks, handbook, "Weeks before by which to order.")] if weeks is not None else []
    if one.sells_out:
        facts.append(from_judgement("A resistant kind: such sell out by late winter (common practice)."))
    for trouble, codes in _wanted(view, one).items():
        says = f"{trouble[0].upper()}{trouble[1:]} was found on this crop: codes {', '.join(codes)}, {TOLERANCE}."
        facts.append(Reason(says, None, "", RestsOn("common practice", "codes of the seed trade", "resistance codes")))
    resting = [reason for lot in one.lots for reason in lot_reasons(lot, handbook, view.today)]
    names, what = ", ".join(life.planting.id for life in one.lives), view.with_cultivar(planting)
    yield Reason(
        f"{what[0].upper()}{what[1:]}, planned as {names}: first to be begun about "
        f"{day_words(date.fromordinal(one.begins))}; {'what there is falls short' if one.lots else 'none is entered'}.",
        float(sum(life.planting.count for life in one.lives)),
        "plants",
        RestsOn("observed", "daybook", planting.id),
        (*resting, *facts),
    )
