"""Set plants out, hardened first."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

import numpy as np

from kailyard.documents._parts import Reason, RestsOn
from kailyard.season.done import of_kind
from kailyard.season.life import Life
from kailyard.season.measures import day_words, in_ten, minutes, worth
from kailyard.season.odds import later
from kailyard.season.paying import still_pays
from kailyard.season.reasons import from_entry, from_fact
from kailyard.season.safety import frost_limit_c, safe_to_set_out, tender
from kailyard.season.view import SeasonView
from kailyard.season.windows import Loss, Window
from kailyard.troubles.flight import wait_past

NAME = "set out"
SCOPE = "planting"
DONE = {"set-out": of_kind("set-out"), "harden": of_kind("harden")}

LOSS = Loss(late_per_day=0.008, late_most=1.0, early_per_day=0.15, early_most=1.0)
"""A day's wait costs a little of the season; setting out before the last frost can cost all."""

HARDEN_LOSS = Loss(late_per_day=0.02, late_most=0.3, early_per_day=0.01, early_most=0.1)

SAFE_TO_NAME = 0.05
"""Chance of being safe from today below which it is plainly not safe yet."""


def windows(view: SeasonView, life: Life) -> Iterator[Window]:
    """Hardening, then setting out, of plants that are under cover or to be bought."""
    planting, seen = life.planting, life.sightings
    waiting = planting.start == "bought" or (planting.start == "raised" and seen.sown is not None)
    if not waiting or seen.set_out is not None or seen.ended is not None or life.begun_known:
        return
    ready, latest = _ready_span(view, life)
    safe = safe_to_set_out(view.clocks, view.handbook, planting.crop, ready.toordinal(), view.garden.site.latitude)
    wait = wait_past(view, life)
    if wait is not None and wait.pays:
        safe = np.maximum(safe, wait.past.free)
    opens = np.broadcast_to(np.maximum(safe, np.int32(ready.toordinal())), view.shape).astype(np.int32)
    paying = still_pays(view, life, start=planting.start, begin=safe)
    shuts = paying.last if paying is not None else later(opens, 60)
    reasons = (*_reasons(view, life, ready), *(wait.past.reasons if wait is not None else ()))
    least, most = (round(view.number(planting, f"harden_days_{end}", d)) for end, d in (("min", 7.0), ("max", 10.0)))
    detail = _detail(view, life, least, opens)
    hardened = seen.of("harden")
    if not hardened and planting.start == "raised":
        yield Window(
            name=f"harden/{planting.id}",
            says=f"Begin to harden {view.plants(planting)}",
            where=f"for {view.where(planting)}",
            detail=f"{least} to {most} days out by day, in by night, before they are set out",
            reasons=reasons,
            opens=later(opens, -most),
            shuts=np.maximum(later(shuts, -least), opens).astype(np.int32),
            due=later(opens, -least),
            late=float(np.mean(later(opens, -least) < view.today.toordinal())) > 0.5,
            loss=HARDEN_LOSS,
            lost="setting out is put off, or plants are checked by wind and sun",
            minutes=10.0,
            worth=worth(view, planting),
        )
    if planting.start == "raised":  # not before the hardening is over that has begun or is still to come
        begun = hardened[0].happened if hardened else view.today
        opens = np.maximum(opens, np.int32(begun.toordinal() + least))
        shuts = np.maximum(shuts, opens)
    yield Window(
        name=f"set-out/{planting.id}",
        says=f"Set out {view.plants(planting)}",
        where=view.where(planting),
        detail=detail,
        reasons=(*reasons, *(paying.reasons if paying else ())),
        opens=opens,
        shuts=np.maximum(shuts, opens).astype(np.int32),
        due=opens,
        loss=LOSS,
        lost=f"plants outgrow their pots after {day_words(latest)} and fruit later",
        minutes=minutes(view, planting, "minutes_set_out_per_plant", 2.0),
        worth=worth(view, planting),
    )


def _ready_span(view: SeasonView, life: Life) -> tuple[date, date]:
    """From when the plants are big enough, and when they begin to be overgrown."""
    planting, sown = life.planting, life.sightings.sown
    if planting.start == "bought" or sown is None:
        day = max(planting.planned or view.today, view.today)
        return day, day + timedelta(days=21)
    weeks = [view.number(planting, f"weeks_indoors_{end}", default) for end, default in (("min", 4.0), ("max", 6.0))]
    return sown + timedelta(weeks=weeks[0]), sown + timedelta(weeks=weeks[1])


def _detail(view: SeasonView, life: Life, harden_days: int, opens: np.ndarray) -> str:
    begun = life.sightings.of("harden")
    safe = float(np.mean(opens <= view.today.toordinal()))
    if not begun:
        first = "not hardened yet: harden first" if life.planting.start == "raised" else "ask whether they are hardened"
    else:
        enough = begun[0].happened + timedelta(days=harden_days)
        first = f"hardening until {day_words(enough)} at least" if enough > view.today else "hardened"
    if safe >= 0.975:
        frost = "safe from frost and warm enough"
    else:
        frost = f"{in_ten(safe)} safe from today" if safe >= SAFE_TO_NAME else "not warm enough or safe from frost yet"
    return f"{first}; {frost}; water before and after"


def _reasons(view: SeasonView, life: Life, ready: date) -> tuple[Reason, ...]:
    planting, handbook = life.planting, view.handbook
    out = [
        Reason(
            f"Big enough from {day_words(ready)}.",
            rests_on=RestsOn("computed", "sowing day and weeks under cover", ""),
            because=tuple(
                from_fact(f, handbook, "Weeks under cover.")
                for q in ("weeks_indoors_min", "weeks_indoors_max")
                if (f := view.fact(planting, q)) is not None
            )
            + tuple(from_entry(e, f"Sown on {day_words(e.happened)}.") for e in life.sightings.of("sow")[-1:]),
        )
    ]
    limit = frost_limit_c(planting.crop, handbook)
    fact = view.fact(planting, "protect_below_c") or view.fact(
        planting, "frost_damage_c" if tender(planting.crop, handbook) else "kill_c"
    )
    if fact is not None:
        out.append(
            from_fact(
                fact, handbook, f"No night at or below {view.degrees(limit)} in the garden may follow before midsummer."
            )
        )
    soil = view.fact(planting, "min_soil_to_set_or_sow_c")
    if soil is not None:
        out.append(from_fact(soil, handbook, "The soil's mean of five days must reach this."))
    out += [from_entry(e, f"Hardening began on {day_words(e.happened)}.") for e in life.sightings.of("harden")[-1:]]
    return tuple(out)
