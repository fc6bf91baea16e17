"""Keep the fern and leaves of perennials until they have browned, then cut them down before new growth."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

import numpy as np

from kailyard.season.counted import filled, grounds, is_past
from kailyard.season.done import last_work, work_done
from kailyard.season.life import Life
from kailyard.season.measures import minutes, worth
from kailyard.season.odds import later
from kailyard.season.view import SeasonView
from kailyard.season.windows import Answer, Loss, Rest, Window

NAME = "cut back"
SCOPE = "planting"
DONE = {"cut-back": work_done("cut down")}

TOPS_DIE_C = -3.0
"""A night as cold as this ends the green of most hardy perennials above ground."""

BROWN_AFTER_DAYS = 14
"""So long after it the tops have browned."""

BEFORE_SPRING_DAYS = 45
"""Where no frost browns them, the tops come off so long before new growth."""

AUTUMN_BEFORE_SPRING_DAYS = 180
"""The cold that ends the green is looked for from so long before new growth on: from September for growth in March."""

LOSS = Loss(late_per_day=0.002, late_most=0.1, early_per_day=0.01, early_most=0.3, shut_ends_it=True)
"""Cut green, the roots go short; left on, old tops carry leaf disease and beetles into spring."""


def windows(view: SeasonView, life: Life) -> Iterator[Answer]:
    """From late summer a word to leave it standing; in winter the cutting down."""
    planting = life.planting
    first = view.fact(planting, "emerge_month_first")
    if view.fact(planting, "cut_back_sign") is None or first is None or not life.standing:
        return
    spring = _spring(view.today, round(first.number), view.garden.site.latitude)
    autumn = spring - timedelta(days=AUTUMN_BEFORE_SPRING_DAYS)
    done = last_work(life, "cut down", "cut back")
    if (done is not None and done.happened > autumn) or view.today < autumn - timedelta(days=30):
        return
    start = np.full((view.shape[0], 1), autumn.toordinal(), dtype=np.int32)
    browned = later(view.clocks.cold_after(TOPS_DIE_C, start), BROWN_AFTER_DAYS)
    last = np.int32(spring.toordinal())
    opens = filled(view, np.minimum(browned, last - np.int32(BEFORE_SPRING_DAYS)).astype(np.int32))
    reasons = grounds(
        view,
        life,
        {
            "cut_back_sign": "When the tops may come off.",
            "emerge_month_first": "New growth may show from this month, of the northern half.",
        },
    )
    says, where = view.plants(planting), view.where(planting)
    if not is_past(view, later(opens, -1)):
        yield Rest(
            name=f"keep-tops/{planting.id}",
            says=f"Leave the tops of {says} standing",
            where=where,
            detail=f"Cut down when {view.said(planting, 'cut_back_sign')}, not before: green tops feed the roots.",
            reasons=reasons,
            urgency=0.25,
        )
        return
    yield Window(
        name=f"cut-back/{planting.id}",
        says=f"Cut down {says}",
        where=where,
        detail=f"when {view.said(planting, 'cut_back_sign')}; what was sick goes off the garden",
        reasons=reasons,
        opens=opens,
        shuts=np.full(view.shape, last, dtype=np.int32),
        due=np.full(view.shape, last - np.int32(21), dtype=np.int32),
        tending=True,
        loss=LOSS,
        lost="old tops carry leaf disease and beetles into spring",
        minutes=minutes(view, planting, "minutes_clear_per_m2", 3.0),
        worth=worth(view, planting),
    )


def _spring(today: date, month: int, latitude: float) -> date:
    """The next first day of new growth; months of the handbook are of the northern half."""
    month = month if latitude >= 0 else (month + 5) % 12 + 1
    day = date(today.year, month, 1)
    return day if day > today else date(today.year + 1, month, 1)
