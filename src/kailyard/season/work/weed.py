"""Weed while the weeds are small, bed by bed, for as long as they cost yield."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from kailyard.documents._parts import Reason
from kailyard.garden.model import Bed
from kailyard.season.cold import too_cold
from kailyard.season.counted import far_off, grounds, is_past, opening, stood
from kailyard.season.done import last_work, work_done
from kailyard.season.life import Life
from kailyard.season.measures import listing, minutes, worth
from kailyard.season.odds import DayArray, later
from kailyard.season.view import SeasonView
from kailyard.season.windows import Loss, Window

NAME = "weed"
SCOPE = "bed"
DONE = {"weed": work_done("weeded")}

AHEAD_DAYS = 7
"""Weeds are taken small: so long before they begin to cost yield."""

AGAIN_DAYS = 12
"""After so many days a bed that was hoed shows seedlings again."""

GRACE_DAYS = 6
"""So long after that they are still small enough for a hoe."""

LOSS = Loss(late_per_day=0.006, late_most=0.3, early_per_day=0.0, shut_ends_it=True)
"""Weeds left all through the time in which they count cost about a third of most crops, much more of onions."""


@dataclass(frozen=True, slots=True, eq=False)
class _Turn:
    """The next weeding of one planting."""

    life: Life
    opens: DayArray
    due: DayArray
    shuts: DayArray
    reasons: tuple[Reason, ...]


def windows(view: SeasonView, bed: Bed) -> Iterator[Window]:
    """The next weeding of what is young in a bed; what is mulched or has closed over the ground needs none.

    Nor does any in the open while it is too cold for weeds.
    """
    if bed.cover == "none" and too_cold(view.ensemble):
        return
    turns = [
        turn
        for life in view.lives.values()
        if life.planting.bed == bed.id and life.standing and (turn := _turn(view, life)) is not None
    ]
    if not turns:
        return
    turns.sort(key=lambda t: int(np.median(t.opens)))
    # What is ready within a few days of the first is done in the same go.
    soonest = int(np.median(turns[0].opens))
    turns = [t for t in turns if int(np.median(t.opens)) <= max(soonest, view.today.toordinal()) + GRACE_DAYS]
    opens = np.minimum.reduce([t.opens for t in turns])
    plantings = [t.life.planting for t in turns]
    yield Window(
        name=f"weed/{bed.id}",
        says=f"Weed {listing(list(dict.fromkeys(view.plants(p) for p in plantings)))}",
        where=bed.name,
        detail="while the weeds are small, on a dry day, shallow",
        reasons=tuple(dict.fromkeys(reason for t in turns for reason in t.reasons)),
        of=tuple(p.id for p in plantings),
        opens=opens,
        shuts=np.maximum.reduce([t.shuts for t in turns]),
        due=np.minimum.reduce([t.due for t in turns]),
        tending=True,
        loss=LOSS,
        lost="weeds root firmly and take light and water",
        minutes=sum(minutes(view, p, "minutes_weed_per_m2", 3.0) for p in plantings),
        worth=max(worth(view, p) for p in plantings),
    )


def _turn(view: SeasonView, life: Life) -> _Turn | None:
    planting = life.planting
    until = view.fact(planting, "weed_free_until_days")
    if until is None or last_work(life, "mulch") is not None or view.seems_killed(life):
        return None
    start = stood(view, life)
    shuts = later(start, round(until.number))
    if is_past(view, shuts):
        return None
    last = last_work(life, "weed", "hoe")
    costly = view.number(planting, "weed_free_from_days", 14.0)
    opens = opening(view, start, max(costly - AHEAD_DAYS, 3.0), last, AGAIN_DAYS)
    if far_off(view, opens):
        return None
    due = later(opens, GRACE_DAYS)
    if last is None:
        due = np.maximum(due, later(start, round(costly)))
    plants = view.plants(planting).capitalize()
    says = {
        "weed_free_from_days": f"{plants}: from so long after coming up or setting out weeds cost yield.",
        "weed_free_until_days": f"{plants}: until then; after that they keep the ground to themselves.",
    }
    return _Turn(life, opens, due, shuts, grounds(view, life, says, last))
