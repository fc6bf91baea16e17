"""Sow, under cover and in the open; plant sets, tubers and cloves."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

import numpy as np

from kailyard.documents._parts import Reason, RestsOn
from kailyard.season.counted import far_off
from kailyard.season.done import Answered, Fitting
from kailyard.season.life import Life
from kailyard.season.measures import day_words, in_ten, minutes, worth
from kailyard.season.odds import DayArray, later, middle
from kailyard.season.paying import Paying, still_pays
from kailyard.season.reasons import from_fact, from_judgement
from kailyard.season.safety import midsummer_after, safe_to_set_out, sets_after
from kailyard.season.view import SeasonView
from kailyard.season.windows import Answer, Loss, Rest, Window
from kailyard.troubles.flight import wait_past

NAME = "sow"
SCOPE = "planting"


def _sown(line: Answered) -> tuple[Fitting, ...]:
    """Sets and tubers are planted; what is raised goes under cover."""
    return tuple(
        Fitting("plant", p.id)
        if p.start == "planted"
        else Fitting("sow", p.id, {"under_cover": True} if p.start == "raised" else {})
        for p in line.named
    )


DONE = {"sow": _sown}

HARDLY = 0.3
"""Where it pays in a smaller share of the possible seasons, no sowing is asked for."""

EARLIEST_BEFORE_PLAN_DAYS = 3
"""A sowing that is planned for a day may be done this much before."""

UNKNOWN_GROWTH_DAYS = 28
"""Where nobody knows how long it grows, a sowing is offered for this long."""

LOSS = Loss(late_per_day=0.006, late_most=1.0, early_per_day=0.03, early_most=0.6)
"""A day's wait costs a little of the season; a sowing that no longer pays is lost whole."""


def windows(view: SeasonView, life: Life) -> Iterator[Answer]:
    """The window of a sowing or planting that is planned and not done."""
    planting, seen = life.planting, life.sightings
    if seen.ended or planting.start == "bought" or seen.sown or seen.planted or life.begun_known:
        return
    if planting.start == "raised":
        yield from _under_cover(view, life)
    else:
        yield from _outdoors(view, life)


def asked_for(view: SeasonView, life: Life) -> bool:
    """Whether a sowing or planting that is planned is asked for, not advised against."""
    return any(isinstance(answer, Window) for answer in windows(view, life))


def _planned(view: SeasonView, life: Life) -> int:
    """The planned day; without one, when the wave before has had its time, or today. [ordinal]"""
    planting, today = life.planting, view.today.toordinal()
    if planting.planned:
        return planting.planned.toordinal()
    interval = view.fact(planting, "succession_interval_days")
    if interval is None or not planting.wave:
        return sets_after(view.handbook, planting.crop, today, view.garden.site.latitude)
    others = [o for o in view.lives.values() if o.planting.wave == planting.wave and o.planting.id != planting.id]
    days = [d.toordinal() for o in others if (d := o.sightings.sown or o.planting.planned) is not None]
    return max([today, *(d + round(interval.number) for d in days)])


def _outdoors(view: SeasonView, life: Life) -> Iterator[Answer]:
    planting, handbook, latitude = life.planting, view.handbook, view.garden.site.latitude
    meant = _planned(view, life) - (EARLIEST_BEFORE_PLAN_DAYS if planting.planned else 0)
    cooled = view.fact(planting, "plant_when_soil_below_c")
    safe = safe_to_set_out(view.clocks, handbook, planting.crop, meant, latitude)
    wait = wait_past(view, life)
    if wait is not None and wait.pays:
        safe = np.maximum(safe, wait.past.free)
    if far_off(view, safe):
        return
    begin = np.maximum(safe, np.int32(view.today.toordinal()))
    if cooled is not None:
        reasons = [from_fact(cooled, handbook, "Planting waits until the soil has cooled to this.")]
        paying = None
    else:
        reasons = _opening_reasons(view, life)
        paying = still_pays(view, life, start=planting.start, begin=begin)
    opens = np.broadcast_to(safe, view.shape).astype(np.int32)
    if paying is not None:
        opens = np.maximum(opens, paying.first)
    shuts = _shuts(view, opens, paying)
    if paying is None and cooled is None and not planting.planned:
        opens, shuts = _once_a_year(view, life)
    if planting.planned:
        reasons.insert(0, _plan_reason(life))
    if wait is not None:
        reasons += wait.past.reasons
    if paying is None and cooled is None:
        reasons.append(_unknown_growth())
    if paying is not None:
        reasons += paying.reasons
        best, share = paying.best(view.today)
        if share < HARDLY:
            yield _hardly(view, life, tuple(reasons), date.fromordinal(middle(begin)), share)
            return
        if paying.share_at_once(begin) < HARDLY:
            yield _later(view, life, tuple(reasons), best, share)
            return
    verb = "Plant" if planting.start == "planted" else "Sow"
    yield Window(
        name=f"sow/{planting.id}",
        says=f"{verb} {view.plants(planting)}",
        where=view.where(planting),
        detail=_detail(view, life, None if paying is None else paying.share_at_once(begin)),
        reasons=tuple(reasons),
        opens=opens,
        shuts=shuts,
        # A day before it shuts at the latest, so that what no longer pays is lost whole.
        due=np.minimum(np.maximum(opens, meant), later(shuts, -1)).astype(np.int32),
        loss=LOSS,
        lost=_lost(view, paying),
        minutes=minutes(view, planting, "minutes_sow_per_m2", 5.0),
        worth=worth(view, planting),
    )


def _hardly(view: SeasonView, life: Life, reasons: tuple[Reason, ...], begin: date, share: float) -> Rest:
    when = "now" if begin <= view.today + timedelta(days=7) else f"about {day_words(begin)}, as is planned,"
    return Rest(
        name=f"sow/{life.planting.id}",
        says=f"Sow no {view.plants(life.planting)}",
        where=view.where(life.planting),
        detail=f"Sown {when} the crop comes in time {in_ten(share)}.",
        reasons=reasons,
        urgency=0.9,
    )


def _later(view: SeasonView, life: Life, reasons: tuple[Reason, ...], best: date, share: float) -> Rest:
    """Heat lies between: the sowing that was planned for now pays better when it is past."""
    return Rest(
        name=f"sow-later/{life.planting.id}",
        says=f"Sow no {view.plants(life.planting)} yet",
        where=view.where(life.planting),
        detail=f"They would come ready in lasting heat; from {day_words(best)} a sowing pays {in_ten(share)}.",
        reasons=reasons,
        urgency=0.8,
    )


def _under_cover(view: SeasonView, life: Life) -> Iterator[Window]:
    """Sown so that the plants are neither too small nor overgrown when the open ground is safe for them."""
    planting, handbook = life.planting, view.handbook
    least, most = (
        view.number(planting, f"weeks_indoors_{end}", default) for end, default in (("min", 4.0), ("max", 6.0))
    )
    meant = _planned(view, life)
    safe = safe_to_set_out(view.clocks, handbook, planting.crop, meant + round(7 * least), view.garden.site.latitude)
    if far_off(view, later(safe, -round(7 * most))):
        return
    paying = still_pays(view, life, start="raised", begin=safe)
    opens = np.broadcast_to(later(safe, -round(7 * most)), view.shape)
    if planting.planned:
        opens = np.maximum(opens, np.int32(meant - EARLIEST_BEFORE_PLAN_DAYS))
    shuts = np.maximum(later(_shuts(view, safe, paying), -round(7 * least)), later(opens, 7)).astype(np.int32)
    due = np.broadcast_to(later(safe, -round(7 * least)), view.shape)
    facts = [view.fact(planting, "weeks_indoors_min"), view.fact(planting, "weeks_indoors_max")]
    reasons = [_plan_reason(life)] if planting.planned else []
    reasons += [from_fact(f, handbook, "Weeks under cover before setting out.") for f in facts if f is not None]
    reasons += paying.reasons if paying else (_unknown_growth(),)
    yield Window(
        name=f"sow/{planting.id}",
        says=f"Sow {view.plants(planting)} under cover",
        where=f"for {view.where(planting)}",
        detail=f"{least:g} to {most:g} weeks before they are set out",
        reasons=tuple(reasons),
        opens=opens,
        shuts=shuts,
        due=np.clip(due, opens, shuts).astype(np.int32),
        loss=LOSS,
        lost=_lost(view, paying),
        minutes=minutes(view, planting, "minutes_sow_per_m2", 5.0),
        worth=worth(view, planting),
    )


def _shuts(view: SeasonView, opens: DayArray, paying: Paying | None) -> DayArray:
    if paying is None:
        return np.broadcast_to(later(opens, UNKNOWN_GROWTH_DAYS), view.shape)
    return paying.last


def _once_a_year(view: SeasonView, life: Life) -> tuple[DayArray, DayArray]:
    """A few weeks from the first safe day of this growing year, or of the next where they are over."""
    crop, latitude, today = life.planting.crop, view.garden.site.latitude, view.today.toordinal()
    midwinter = midsummer_after(today, latitude) - 200
    for start in (max(midwinter, view.clocks.first), midwinter + 365):
        opens = np.broadcast_to(safe_to_set_out(view.clocks, view.handbook, crop, start, latitude), view.shape)
        shuts = later(opens, UNKNOWN_GROWTH_DAYS)
        if float(np.median(shuts)) >= today:
            break
    return opens.astype(np.int32), np.asarray(shuts, dtype=np.int32)


def _unknown_growth() -> Reason:
    return from_judgement(
        "How long it grows is not known here, so it is offered for this long.", float(UNKNOWN_GROWTH_DAYS), "days"
    )


def _plan_reason(life: Life) -> Reason:
    day = life.planting.planned
    assert day is not None
    return Reason(f"Planned for {day_words(day)}.", rests_on=RestsOn("observed", "daybook", life.planting.id))


def _opening_reasons(view: SeasonView, life: Life) -> list[Reason]:
    named = {
        "min_soil_to_set_or_sow_c": "The soil's mean of five days must reach this.",
        "protect_below_c": "The last night at or below this must be past.",
    }
    found = [(view.fact(life.planting, q), says) for q, says in named.items()]
    return [from_fact(fact, view.handbook, says) for fact, says in found if fact is not None]


def _detail(view: SeasonView, life: Life, share: float | None) -> str:
    planting = life.planting
    depth = view.fact(planting, "depth_cm_max")
    parts = []
    if planting.planned and planting.planned < view.today:
        parts.append(f"was planned for {day_words(planting.planned)}")
    if share is not None:
        parts.append(f"pays {in_ten(share)}" if share < 0.975 else "in good time")
    if depth is not None and depth.number:
        parts.append(f"{view.depth(depth.number)} deep")
    return "; ".join(parts)


def _lost(view: SeasonView, paying: Paying | None) -> str:
    """What comes of waiting too long, by the last day that pays in most years."""
    by = paying.until(0.8, view.today) if paying else None
    if paying is None or by is None:
        return "the best of the season"
    return f"a shorter harvest; it pays until {day_words(by)} in 8 years of 10"
