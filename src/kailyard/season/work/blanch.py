"""Blanch: keep the light from leeks, celery and chicory for the last weeks."""

from __future__ import annotations

from collections.abc import Iterator

from kailyard.season.counted import far_off, grounds, is_past, spans
from kailyard.season.done import last_work, work_done
from kailyard.season.life import Life
from kailyard.season.measures import minutes, worth
from kailyard.season.odds import later
from kailyard.season.view import SeasonView
from kailyard.season.windows import Loss, Window

NAME = "blanch"
SCOPE = "planting"
DONE = {"blanch": work_done("blanched")}

LOSS = Loss(late_per_day=0.01, late_most=0.25, early_per_day=0.01, early_most=0.1)
"""Unblanched stems are shorter in white and stronger in taste; they are eaten all the same."""


def windows(view: SeasonView, life: Life) -> Iterator[Window]:
    """One blanching, so long before it is ripe that it is pale by then."""
    planting, way = life.planting, life.timeline
    days = spans(view, life, "blanch_days")
    if days is None or way is None or not life.standing or last_work(life, "blanch") is not None:
        return
    ready = life.stages[way.harvest].days
    opens, due = later(ready, -round(days[1])), later(ready, -round(days[0]))
    if far_off(view, opens) or is_past(view, ready) or view.seems_killed(life):
        return
    yield Window(
        name=f"blanch/{planting.id}",
        says=f"Blanch {view.plants(planting)}",
        where=view.where(planting),
        detail=f"{view.said(planting, 'blanch_sign')}: {view.said(planting, 'blanch_how')}",
        reasons=grounds(
            view,
            life,
            {
                "blanch_days_max": "It takes this long at most until it is pale.",
                "blanch_days_min": "And this long at least.",
                "blanch_sign": "When to begin.",
                "blanch_how": "How.",
            },
        ),
        opens=opens,
        shuts=ready,
        due=due,
        tending=True,
        loss=LOSS,
        lost="less of it is white and mild",
        minutes=minutes(view, planting, "minutes_blanch_per_plant", 1.0),
        worth=worth(view, planting),
    )
