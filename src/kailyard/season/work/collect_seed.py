"""Collect seed of what is kept for it: ripe, unburst, with leave; say what does not come true."""

from __future__ import annotations

import calendar
import math
from collections.abc import Iterator
from datetime import date

from kailyard.documents._parts import Reason, RestsOn
from kailyard.garden.model import Bed
from kailyard.season.counted import far_off, filled, is_past, same
from kailyard.season.done import work_done
from kailyard.season.life import Life
from kailyard.season.measures import listing, worth
from kailyard.season.odds import DayArray, later
from kailyard.season.reasons import from_fact, from_judgement
from kailyard.season.seed_stock import kept_for_seed
from kailyard.season.view import SeasonView
from kailyard.season.windows import Answer, Loss, Rest, Window
from kailyard.units import in_running_text

NAME = "collect seed"
SCOPE = "planting"
DONE = {"collect-seed": work_done("seed collected")}

STANDS_DAYS = 14
"""Ripe seed stands so long before pods burst, birds come or rain rots it."""

PODS_AFTER_DAYS = 60
"""From the first month of bloom to the first ripe pods, where only months are known."""

LOSS = Loss(late_per_day=0.03, late_most=0.8, early_per_day=0.04, early_most=0.8)


def windows(view: SeasonView, life: Life) -> Iterator[Answer]:
    """The collecting of a planting that is kept for seed; a word where its seed does not come true."""
    planting = life.planting
    sign = view.fact(planting, "seed_sign")
    if not life.standing or sign is None or not kept_for_seed(life):
        return
    if _hybrid(life):
        yield _untrue(view, life)
        return
    ripe = _ripe(view, life)
    if ripe is None:
        return
    opens, shuts, reasons = ripe
    if far_off(view, opens) or is_past(view, later(shuts, STANDS_DAYS)):
        return
    named = (
        ("seed_sign", "The sign that it is ripe."),
        ("pollinated_by", "What carries the pollen."),
        ("isolation_m_min", "Distance from another kind that crosses with it."),
        ("caution", "Mind."),
    )
    caution = view.handbook.get("collect-seed", "caution")
    yield Window(
        name=f"collect-seed/{planting.id}",
        says=f"Collect seed of {view.with_cultivar(planting)}",
        where=view.where(planting),
        detail=_detail(view, life),
        reasons=(
            *reasons,
            *(from_fact(f, view.handbook, says) for q, says in named if (f := view.fact(planting, q)) is not None),
            *((from_fact(caution, view.handbook, "Mind."),) if caution is not None else ()),
        ),
        opens=opens,
        due=shuts,
        shuts=later(shuts, STANDS_DAYS),
        loss=LOSS,
        lost="pods burst or rot and the seed is gone",
        minutes=15.0,
        worth=0.5 * worth(view, planting),
    )


def _hybrid(life: Life) -> bool:
    said = f"{life.planting.cultivar} {life.cultivar.habit if life.cultivar else ''}".lower().replace(",", " ").split()
    return "f1" in said or "hybrid" in said


def _untrue(view: SeasonView, life: Life) -> Rest:
    return Rest(
        name=f"no-seed/{life.planting.id}",
        says=f"Keep no seed of {view.with_cultivar(life.planting)}",
        where=view.where(life.planting),
        detail="a hybrid: its seed does not come true; order it anew",
        reasons=(
            Reason(
                "It is entered as a hybrid.",
                rests_on=RestsOn("observed", "daybook", f"cultivar {life.planting.cultivar}"),
            ),
            from_judgement("The next generation of a hybrid falls apart into many kinds (common practice)."),
        ),
        urgency=0.3,
    )


def _ripe(view: SeasonView, life: Life) -> tuple[DayArray, DayArray, tuple[Reason, ...]] | None:
    """From when and until when its seed ripens, and why; None where nothing tells."""
    planting, handbook = life.planting, view.handbook
    least, most = view.fact(planting, "seed_after_days_min"), view.fact(planting, "seed_after_days_max")
    if least is None or most is None:
        return _by_months(view, life)
    year = view.number(planting, "seed_year", 1.0)
    facts = (
        from_fact(least, handbook, "Seed is ripe at the earliest so long after the time of picking."),
        from_fact(most, handbook, "And at the latest."),
    )
    if year > 1 and not view.perennial(planting):
        start = later(filled(view, life.begun), round(365 * (year - 1)))
        grown = view.fact(planting, "seed_year")
        counted: tuple[Reason, ...] = (from_judgement("Counted from a year after it was begun."),)
        counted += () if grown is None else (from_fact(grown, handbook, "The year of its life in which it seeds."),)
    else:
        ready = life.stage(life.timeline.harvest) if life.timeline is not None else None
        if ready is None:
            return _by_months(view, life)
        start = ready.days
        rests = RestsOn("computed", "stage odds", "docs/explanation/how-a-season-is-foreseen.md")
        counted = (Reason("Counted from when it is fit to pick.", rests_on=rests),)
    return later(start, round(least.number)), later(start, round(most.number)), (*counted, *facts)


def _by_months(view: SeasonView, life: Life) -> tuple[DayArray, DayArray, tuple[Reason, ...]] | None:
    first, last = (view.fact(life.planting, f"bloom_month_{end}") for end in ("first", "last"))
    if first is None or last is None:
        return None
    shift = 0 if view.garden.site.latitude >= 0 else 6
    months = [round(f.number) + shift for f in (first, last)]
    # The bloom that is on, or was last; its pods come after.
    year = view.today.year if view.today.month >= (months[0] - 1) % 12 + 1 else view.today.year - 1
    begins = _middle(year, months[0])
    ends = _middle(year, months[0] + (months[1] - months[0]) % 12)
    reasons = (
        from_fact(first, view.handbook, "First month of bloom, of the northern half; six on in the southern."),
        from_fact(last, view.handbook, "Last month of bloom."),
        from_judgement("Pods are ripe so long after the bloom.", float(PODS_AFTER_DAYS), "days"),
    )
    opens, shuts = (same(view, day, PODS_AFTER_DAYS) for day in (begins, ends))
    return opens, shuts, reasons


def _middle(year: int, month: int) -> date:
    year, month = year + (month - 1) // 12, (month - 1) % 12 + 1
    return date(year, month, calendar.monthrange(year, month)[1] // 2)


def _detail(view: SeasonView, life: Life) -> str:
    planting = life.planting
    wet = view.handbook.text(planting.crop, "seed_how") == "wet"
    parts = [
        view.said(planting, "seed_sign"),
        "wash it out of the flesh and dry it" if wet else "on a dry day, into paper",
        "gloves: the sap hurts eyes" if view.fact(planting, "sap") is not None else "",
        _crossed(view, life),
        "with leave where the plants are not yours",
    ]
    return "; ".join(part for part in parts if part)


def _crossed(view: SeasonView, life: Life) -> str:
    """The kinds of its species that stand nearer than they should; '' where none does."""
    planting, apart = life.planting, view.number(life.planting, "isolation_m_min", 0.0)
    species, here = _species(view, life), view.bed(planting)
    if not species or apart <= 0 or here is None:
        return ""
    near = [
        other
        for other in view.lives.values()
        if other.begun_known
        and other is not life
        and (other.planting.crop, other.planting.cultivar) != (planting.crop, planting.cultivar)
        and (other.sightings.ended is None or other.sightings.ended >= (life.sightings.sown or date.min))
        and _species(view, other) == species
        and (bed := view.bed(other.planting)) is not None
        and _apart_m(here, bed) < apart
    ]
    if not near:
        return ""
    names = listing(list(dict.fromkeys(view.with_cultivar(other.planting) for other in near))[:2])
    metres = in_running_text(f"{apart:g} m", view.garden.units)
    if view.handbook.text(planting.crop, "pollinated_by") == "self":
        return f"seldom crosses with {names}, {metres} apart never"
    return f"may have crossed with {names}: {metres} apart keeps it true"


def _species(view: SeasonView, life: Life) -> str:
    return " ".join(view.handbook.text(life.planting.crop, "botanical_name").split()[:2])


def _apart_m(a: Bed, b: Bed) -> float:
    return math.hypot(a.east_m - b.east_m, a.north_m - b.north_m)
