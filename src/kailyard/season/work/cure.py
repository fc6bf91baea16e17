"""Cure what was lifted for store, then trim it and put it away."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta

import numpy as np

from kailyard.season.counted import grounds, same, spans
from kailyard.season.done import work_done, works
from kailyard.season.life import Life
from kailyard.season.measures import day_words, minutes, worth
from kailyard.season.reasons import from_entry
from kailyard.season.view import SeasonView
from kailyard.season.windows import Answer, Loss, Rest, Window

NAME = "cure"
SCOPE = "planting"
DONE = {"store": work_done("stored")}

FORGOTTEN_DAYS = 30
"""So long after it should be in store nobody is asked any more."""

LOSS = Loss(late_per_day=0.01, late_most=0.2, early_per_day=0.03, early_most=0.3)
"""Put away damp it rots; left lying in warmth it dries out or sprouts."""


def windows(view: SeasonView, life: Life) -> Iterator[Answer]:
    """Curing, for as long as it takes; then the store."""
    picks = life.sightings.of("pick")
    if (life.planting.start != "planted" and not life.begun_known) or not picks:
        return
    days, last = spans(view, life, "cure_days"), picks[-1]
    if days is None or works(life, "stored", "in store"):
        return
    since = (view.today - last.happened).days
    if since > days[1] + FORGOTTEN_DAYS:
        return
    planting = life.planting
    reasons = (
        from_entry(last, f"Brought in on {day_words(last.happened)}."),
        *grounds(
            view,
            life,
            {
                "cure_days_min": "It cures for at least so long.",
                "cure_days_max": "And at most so long.",
                "cure_temp_c_min": "No cooler than this.",
                "cure_temp_c_max": "No warmer.",
                "cure_rh_pct_max": "No damper.",
                "cure_blocks": "What spoils it.",
                "store_temp_c_min": "In store, no cooler than this.",
                "store_temp_c_max": "In store, no warmer.",
                "store_weeks_max": "It keeps for at most so long.",
            },
        ),
    )
    ready = last.happened + timedelta(days=round(days[0]))
    if view.today < ready:
        yield Rest(
            name=f"curing/{planting.id}",
            says=f"{view.produce(planting).capitalize()} are curing",
            where="",
            detail=f"{view.said(planting, 'cure_how')}; until {day_words(ready)} at least",
            reasons=reasons,
            urgency=0.3,
        )
        return
    keeps = view.fact(planting, "store_weeks_max")
    long = f"; keeps to about {keeps.number:g} weeks" if keeps is not None else ""
    yield Window(
        name=f"store/{planting.id}",
        says=f"Sort and store {view.produce(planting)}",
        where="",
        detail=f"cured since {day_words(last.happened)}; keep back: {view.said(planting, 'cure_blocks')}{long}",
        reasons=reasons,
        opens=same(view, ready),
        shuts=same(view, last.happened, days[1] + FORGOTTEN_DAYS),
        due=np.maximum(same(view, last.happened, days[1]), np.int32(view.today.toordinal())).astype(np.int32),
        tending=True,
        loss=LOSS,
        lost="it sprouts or dries out",
        minutes=minutes(view, planting, "minutes_pick_per_m2", 5.0),
        worth=worth(view, planting),
    )
