"""Sow again: the next wave of a crop eaten young, and the row that insures one that was hurt or stays away."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

import numpy as np

from kailyard.documents._parts import Reason, RestsOn
from kailyard.garden.model import Entry, Garden
from kailyard.season.life import Life
from kailyard.season.measures import day_words, in_ten, minutes, worth
from kailyard.season.paying import Paying, still_pays, until_words
from kailyard.season.reasons import from_entry, from_fact
from kailyard.season.safety import safe_to_set_out
from kailyard.season.view import SeasonView
from kailyard.season.windows import Loss, Window

NAME = "sow again"
SCOPE = "garden"

HURT_SHARE = 0.3
"""From this share of plants hurt, or half as many killed, a second row is worth thinking of."""

OVERDUE, OVERDUE_DAYS = 0.95, 7
"""An empty row is doubted when it was this likely to be up this many days ago."""

WORTH_ASKING = 0.5
"""Share of the possible seasons in which another wave must pay to be spoken of; insurance needs less."""

WAVES = 2
"""From this many sowings of a crop in one season the gardener is taken to sow in waves."""

INSURANCE_PAYS = 0.3

LOSS = Loss(late_per_day=0.06, late_most=1.0, early_per_day=0.02, early_most=0.4)


def windows(view: SeasonView, garden: Garden) -> Iterator[Window]:
    """A wave that nobody has planned yet, and insurance for what was hurt or is overdue."""
    lives = [life for life in view.lives.values() if life.sightings.ended is None]
    for crop in sorted({life.planting.crop for life in lives}):
        same = [life for life in lives if life.planting.crop == crop]
        insured = [window for life in same for window in _insurance(view, life, same)]
        # A row sown as insurance is the next wave too: one line asks for one sowing.
        yield from insured or _next_wave(view, crop, same)


def _paying_now(view: SeasonView, life: Life) -> tuple[Paying | None, np.ndarray]:
    today = view.today.toordinal()
    safe = safe_to_set_out(view.clocks, view.handbook, life.planting.crop, today, view.garden.site.latitude)
    return still_pays(view, life, start="sown", begin=safe), safe


def _next_wave(view: SeasonView, crop: str, lives: list[Life]) -> Iterator[Window]:
    interval = view.handbook.get(crop, "succession_interval_days")
    sown = [life for life in lives if life.planting.start == "sown" and life.sightings.sown]
    in_waves = len(sown) >= WAVES or any(life.planting.wave for life in sown)
    if interval is None or not in_waves or any(not life.begun_known for life in lives):
        return
    latest = max(sown, key=lambda life: (life.sightings.sown or date.min, life.planting.id))
    last_sown = latest.sightings.sown
    assert last_sown is not None
    if (view.today - last_sown).days > 120:
        return
    paying, safe = _paying_now(view, latest)
    if paying is None or paying.share_on(view.today) < WORTH_ASKING:
        return
    due = last_sown + timedelta(days=round(interval.number))
    opens = np.broadcast_to(np.maximum(safe, np.int32(due.toordinal())), view.shape).astype(np.int32)
    plants = view.plants(latest.planting)
    yield Window(
        name=f"sow-again/{crop}",
        says=f"Sow {plants} again",
        where="where a bed is free",
        detail=f"last sown {day_words(last_sown)}; now it pays {in_ten(paying.share_on(view.today))}",
        reasons=(
            from_fact(interval, view.handbook, "Sowings in waves follow each other after about this long."),
            *(from_entry(e, f"Last sown on {day_words(e.happened)}.") for e in latest.sightings.of("sow")[-1:]),
            *paying.reasons,
        ),
        opens=opens,
        shuts=paying.last,
        loss=LOSS,
        lost=_until(view, paying),
        minutes=minutes(view, latest.planting, "minutes_sow_per_m2", 5.0),
        worth=0.7 * worth(view, latest.planting),
    )


def _insurance(view: SeasonView, life: Life, same: list[Life]) -> Iterator[Window]:
    planting, seen = life.planting, life.sightings
    if planting.start != "sown" or seen.sown is None:
        return
    doubt = _doubt(view, life)
    if doubt is None:
        return
    since, says, reason = doubt
    if any(other is not life and (other.sightings.sown or date.min) >= since for other in same):
        return
    paying, safe = _paying_now(view, life)
    if paying is None or paying.share_on(view.today) < INSURANCE_PAYS:
        return
    yield Window(
        name=f"insure/{planting.id}",
        says=f"Sow {view.plants(planting)} as insurance",
        where=view.where(planting),
        detail=f"{says}; sown now it pays {in_ten(paying.share_on(view.today))}",
        reasons=(reason, *paying.reasons),
        opens=np.broadcast_to(safe, view.shape).astype(np.int32),
        shuts=paying.last,
        loss=LOSS,
        lost=_until(view, paying),
        minutes=10.0,
        worth=worth(view, planting),
    )


def _until(view: SeasonView, paying: Paying) -> str:
    words = until_words(paying, view.today)
    return f"it {words[0].lower()}{words[1:]}"


def _doubt(view: SeasonView, life: Life) -> tuple[date, str, Reason] | None:
    """Since when and why this planting is in doubt; None where it is not."""
    hurts = [e for e in life.sightings.of("hurt") if _badly(e)]
    if hurts:
        worst = hurts[-1]
        said = f"hurt on {day_words(worst.happened)}"
        return (
            worst.happened,
            said,
            from_entry(worst, f"It was {said} ({worst.payload.get('cause', 'cause unknown')})."),
        )
    up = life.stage("emerged")
    known = life.sightings.stages.get("emerged")
    if up is None or (known is not None and known.seen is not None):
        return None
    chance = up.by(view.today - timedelta(days=OVERDUE_DAYS))
    sown = life.sightings.sown
    if chance < OVERDUE or sown is None:
        return None
    due = up.quantile(0.9)
    reason = Reason(
        f"Sown on {day_words(sown)}, it should have been up a week ago; nobody has entered that it was.",
        round(chance, 3),
        "chance",
        RestsOn("computed", "emergence from soil temperature", "docs/validation.md"),
        life.timeline.emergence.reasons if life.timeline and life.timeline.emergence else (),
    )
    return sown, f"should have come up by {day_words(due)}" if due else "should be up", reason


def _badly(entry: Entry) -> bool:
    share, killed = float(entry.payload.get("share") or 0.0), float(entry.payload.get("killed") or 0.0)
    return share >= HURT_SHARE or killed >= HURT_SHARE / 2
