"""Train what has its support: tie in, lead up, again and again while it grows; late, but still worth doing."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from kailyard.season.counted import counted_from, far_off, grounds, is_past, opening, spans
from kailyard.season.done import last_work, work_done
from kailyard.season.life import Life
from kailyard.season.measures import day_words, minutes, worth
from kailyard.season.odds import BEYOND, later
from kailyard.season.view import SeasonView
from kailyard.season.windows import Loss, Window

NAME = "train"
SCOPE = "planting"
DONE = {"train": work_done("trained")}

LOSS = Loss(late_per_day=0.008, late_most=0.15, early_per_day=0.0, shut_ends_it=True)
"""Stems that hang out of their support break, shade each other and hide fruit; most of the crop comes all the same."""

LET_GO_DAYS = 7
"""Training that is overdue for longer than this is done as the handbook says for what was let go."""

NO_END_DAYS = 120
"""Where nobody can foresee the last picking, stems are led up for so long."""


def windows(view: SeasonView, life: Life) -> Iterator[Window]:
    """The next training of a planting whose support stands."""
    planting = life.planting
    every = spans(view, life, "train_interval_days")
    from_days = view.fact(planting, "train_from_days")
    # Without its support there is nothing to tie to: that line comes first.
    if not life.standing or every is None or from_days is None or not life.sightings.of("support"):
        return
    if view.seems_killed(life):
        return
    start = counted_from(view, life, view.handbook.text(planting.crop, "train_from_stage"))
    if start is None:
        return
    last = last_work(life, "train", "tied", "led up")
    opens = opening(view, start, from_days.number, last, every[0])
    if far_off(view, opens):
        return
    ends = life.stage("last-harvest")
    shuts = later(start, NO_END_DAYS) if ends is None else ends.days
    due = later(opens, round(every[1] - every[0]))
    if is_past(view, shuts):
        return
    let_go = is_past(view, later(due, LET_GO_DAYS))
    how = view.said(planting, "train_late_how") if let_go else ""
    since = "" if last is None else f"; last {day_words(last.happened)}"
    yield Window(
        name=f"train/{planting.id}",
        says=f"Train {view.plants(planting)}",
        where=view.where(planting),
        detail=how or f"{view.said(planting, 'train_how')}{since}",
        reasons=grounds(
            view,
            life,
            {
                "train_from_days": "It is first tied or led up so long after that stage.",
                "train_interval_days_min": "Least time between two trainings.",
                "train_interval_days_max": "Longest time between two trainings.",
                "train_how": "How.",
            },
            last,
        ),
        opens=opens,
        shuts=np.where(shuts < BEYOND, np.maximum(shuts, opens), shuts).astype(np.int32),
        due=due,
        tending=True,
        loss=LOSS,
        lost="stems hang out and break",
        minutes=minutes(view, planting, "minutes_train_per_plant", 1.0),
        worth=worth(view, planting),
        late=let_go,
        late_how=how,
    )
