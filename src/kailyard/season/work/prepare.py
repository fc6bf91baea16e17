"""Prepare the ground that is to be sown or planted: clear, weeded, loose on top and settled again."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta

import numpy as np

from kailyard.documents._parts import Reason, RestsOn
from kailyard.garden.model import Bed
from kailyard.season.counted import filled
from kailyard.season.done import Answered, Fitting
from kailyard.season.life import Life
from kailyard.season.measures import day_words, listing, minutes, worth
from kailyard.season.odds import later, middle
from kailyard.season.reasons import from_judgement
from kailyard.season.view import SeasonView
from kailyard.season.windows import Loss, Window
from kailyard.season.work.sow import asked_for

NAME = "prepare"
SCOPE = "bed"


def _prepared_now(line: Answered) -> tuple[Fitting, ...]:
    """It is the bed that is prepared, before anything stands in it."""
    return (Fitting("work", line.about, {"what": "prepared"}),) if line.about in line.garden.beds else ()


DONE = {"prepare": _prepared_now}

AHEAD_DAYS = 21
"""So long before sowing weeds that are stirred up come and can be hoed off once."""

SETTLES_DAYS = 4
"""So long the ground settles before it is sown."""

HOLDS_DAYS = 60
"""Ground that was prepared stays so for as long."""

LOSS = Loss(late_per_day=0.004, late_most=0.08, early_per_day=0.001, early_most=0.02)
"""Sown into rough, weedy ground less comes up; most of it comes all the same."""


def windows(view: SeasonView, bed: Bed) -> Iterator[Window]:
    """Once for what is to be begun in a bed in the next weeks."""
    coming = [life for life in view.lives.values() if life.planting.bed == bed.id and _coming(view, life)]
    if not coming or _prepared(view, bed):
        return
    coming = [life for life in coming if life.planting.start not in ("sown", "planted") or asked_for(view, life)]
    if not coming:
        return
    coming.sort(key=lambda life: (middle(life.begun), life.planting.id))
    first = coming[0]
    begins = filled(view, first.begun)
    names = listing(list(dict.fromkeys(view.plants(life.planting) for life in coming)))
    day = view.today.fromordinal(middle(first.begun))
    yield Window(
        name=f"prepare/{bed.id}",
        says=f"Prepare the ground for {names}",
        where=bed.name,
        detail="clear and weed it, loosen the top, rake it level; never while soil sticks to the boot",
        reasons=(
            Reason(
                f"{view.plants(first.planting).capitalize()} are to be begun about {day_words(day)}.",
                rests_on=RestsOn(
                    "computed", "when it is safe to begin", "docs/explanation/how-a-season-is-foreseen.md"
                ),
            ),
            from_judgement("Ground settles for so long before it is sown.", SETTLES_DAYS, "days"),
        ),
        of=tuple(life.planting.id for life in coming),
        opens=later(begins, -AHEAD_DAYS),
        due=later(begins, -SETTLES_DAYS),
        shuts=np.maximum(begins, np.int32(view.today.toordinal() + SETTLES_DAYS)),  # until it is sown, be it late
        loss=LOSS,
        lost=f"{'less comes up' if first.planting.start == 'sown' else 'plants root badly'} among clods and weeds",
        minutes=sum(minutes(view, life.planting, "minutes_prepare_per_m2", 4.0) for life in coming),
        worth=max(worth(view, life.planting) for life in coming),
        tending=True,
    )


def _coming(view: SeasonView, life: Life) -> bool:
    """Whether it is still to be begun, within the weeks in which ground is prepared."""
    if life.begun_known or life.sightings.ended is not None or life.over:
        return False
    begins, today = middle(life.begun), view.today.toordinal()
    return today <= begins <= today + AHEAD_DAYS


def _prepared(view: SeasonView, bed: Bed) -> bool:
    since = view.today - timedelta(days=HOLDS_DAYS)
    works = (e for e in view.garden.entries_of(bed.id) if e.kind == "work" and since <= e.happened <= view.today)
    return any("prepar" in str(e.payload.get("what")).lower() for e in works)
