"""Insure plants raised or bought before their loss is certain: a second sowing while it still pays."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from kailyard.documents._parts import Reason, RestsOn
from kailyard.season.counted import same
from kailyard.season.hurt import decide
from kailyard.season.life import Life
from kailyard.season.measures import day_words, in_ten, worth
from kailyard.season.nursery import up_reason, up_under_cover
from kailyard.season.odds import DayArray, later
from kailyard.season.paying import Paying, still_pays
from kailyard.season.reasons import from_entry, from_fact
from kailyard.season.safety import safe_to_set_out, tender
from kailyard.season.view import SeasonView
from kailyard.season.windows import Loss, Window
from kailyard.season.work.sow_again import HURT_SHARE, INSURANCE_PAYS, OVERDUE, OVERDUE_DAYS

NAME = "insure"
SCOPE = "planting"

HURT_LATELY_DAYS = 28
"""What was hurt longer ago has been decided upon."""

SET_OUT_LATELY_DAYS = 21
"""Tender plants set out so lately are at risk of a late frost; later it is autumn that ends them."""

RISK_DAYS, RISK = 21, 0.15
"""Chance of a killing night within so many days from which spares are worth their seed."""

WAIT_DAYS = 42
"""Plants that must wait longer than this for safe ground are next year's, and no insurance."""

LOSS = Loss(late_per_day=0.03, late_most=0.6, early_per_day=0.0, early_most=0.0)


@dataclass(frozen=True, slots=True)
class _Doubt:
    since: date
    says: str
    reason: Reason


def windows(view: SeasonView, life: Life) -> Iterator[Window]:
    """A second sowing of what was raised or bought and stays away, was hurt, or stands at risk."""
    planting, seen = life.planting, life.sightings
    if planting.start not in ("raised", "bought") or seen.ended is not None or view.perennial(planting):
        return
    doubt = _doubt(view, life)
    if doubt is None or _sown_since(view, life, doubt.since):
        return
    direct = seen.set_out is not None and "sow" in view.handbook.text(planting.crop, "usual_start")
    weeks = 0 if direct else round(7 * view.number(planting, "weeks_indoors_min", 4.0))
    ready = view.today.toordinal() + weeks
    begin = safe_to_set_out(view.clocks, view.handbook, planting.crop, ready, view.garden.site.latitude)
    paying = still_pays(view, life, start="sown" if direct else "raised", begin=begin)
    if paying is None or (share := _share(paying, begin, ready + WAIT_DAYS)) < INSURANCE_PAYS:
        return
    how = "where they stand" if direct else "under cover"
    yield Window(
        name=f"insure/{planting.id}",
        says=f"Sow {view.plants(planting)} as insurance",
        where=view.where(planting) if direct else f"under cover, for {view.where(planting)}",
        detail=f"{doubt.says}; sown now {how} it pays {in_ten(share)}",
        reasons=(doubt.reason, *paying.reasons),
        opens=same(view, doubt.since),
        due=same(view, doubt.since, OVERDUE_DAYS),
        shuts=np.maximum(later(paying.last, -weeks), np.int32(view.today.toordinal())).astype(np.int32),
        loss=LOSS,
        lost="what is lost then is lost for the season",
        minutes=10.0,
        worth=worth(view, planting),
    )


def _doubt(view: SeasonView, life: Life) -> _Doubt | None:
    """Since when and why it is in doubt; None where it is not."""
    if life.sightings.set_out is None:
        return _stays_away(view, life)
    return _hurt(view, life) or _at_risk(view, life)


def _stays_away(view: SeasonView, life: Life) -> _Doubt | None:
    """Sown under cover, long due, and nobody saw it come up or worked on it."""
    seen = life.sightings
    if seen.sown is None or (view.today - seen.sown).days < OVERDUE_DAYS or (seen.alive or date.min) >= seen.sown:
        return None
    known = seen.stages.get("emerged")
    if (known is not None and known.seen is not None) or seen.of("harden"):
        return None
    up = up_under_cover(view, life)
    late = (view.today - timedelta(days=OVERDUE_DAYS)).toordinal()
    if up is None or float(np.mean(up <= late)) < OVERDUE:
        return None
    due = date.fromordinal(int(np.quantile(up, 0.9)))
    return _Doubt(seen.sown, f"should have come up by {day_words(due)}", up_reason(view, life))


def _hurt(view: SeasonView, life: Life) -> _Doubt | None:
    """Hurt in earnest of late, and worth watching or replacing by the decision on it."""
    for hurt in reversed(life.sightings.of("hurt")):
        if (view.today - hurt.happened).days > HURT_LATELY_DAYS:
            return None
        share, killed = float(hurt.payload.get("share") or 0.0), float(hurt.payload.get("killed") or 0.0)
        if share < HURT_SHARE and killed < HURT_SHARE / 2:
            continue
        looks = [e for e in life.sightings.of("look") if e.happened >= hurt.happened]
        if looks and looks[-1].payload.get("sound"):
            return None  # nothing is in doubt any more
        if decide(view, life, hurt, looks[-1] if looks else None).best not in ("watch", "replace"):
            return None
        said, cause = f"hurt on {day_words(hurt.happened)}", hurt.payload.get("cause", "cause unknown")
        return _Doubt(hurt.happened, said, from_entry(hurt, f"It was {said} ({cause})."))
    return None


def _at_risk(view: SeasonView, life: Life) -> _Doubt | None:
    """Tender, just set out, and a night that kills is not unlikely."""
    out = life.sightings.set_out
    if out is None or (view.today - out).days > SET_OUT_LATELY_DAYS or not tender(life.planting.crop, view.handbook):
        return None
    today = view.today.toordinal()
    chance = float(np.mean((life.killed >= today) & (life.killed <= today + RISK_DAYS)))
    if chance < RISK:
        return None
    limit = view.fact(life.planting, "kill_c")
    facts = () if limit is None else (from_fact(limit, view.handbook, "The plants die at about this temperature."),)
    rests = RestsOn("computed", "forecast and possible seasons", view.ensemble.source)
    reason = Reason("A night that kills within three weeks.", round(chance, 3), "chance", rests, facts)
    return _Doubt(out, f"frost may kill them, {in_ten(chance)} within three weeks", reason)


def _sown_since(view: SeasonView, life: Life, since: date) -> bool:
    return any(
        other is not life
        and other.planting.crop == life.planting.crop
        and (other.sightings.sown or other.sightings.set_out or date.min) >= since
        for other in view.lives.values()
    )


def _share(paying: Paying, begin: DayArray, latest: int) -> float:
    """Share of samples in which beginning on `begin` (traces, 1), by `latest`, pays."""
    soon = begin <= latest
    return float(sum(np.mean(soon & (first <= begin) & (begin <= last)) for first, last in paying.runs))
