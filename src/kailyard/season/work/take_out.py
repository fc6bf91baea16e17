"""Take sick plants out at once: late blight, viruses, wilts and their like go on to the next, or into the soil."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from kailyard.documents._parts import Reason, RestsOn
from kailyard.handbook.signs import report_first
from kailyard.season.counted import same
from kailyard.season.done import last_work, work_done
from kailyard.season.life import Life
from kailyard.season.measures import day_words, worth
from kailyard.season.reasons import from_entry
from kailyard.season.view import SeasonView
from kailyard.season.windows import Loss, Window
from kailyard.troubles.marks import as_status
from kailyard.troubles.met import Met, met, met_on
from kailyard.troubles.options import removed

NAME = "take out"
SCOPE = "planting"
DONE = {"take-out": work_done("sick plants taken out")}

FOR_DAYS = 21
"""So long after it was found the line stands."""

MINUTES = 15.0

LOSS = Loss(late_per_day=0.06, late_most=0.8, early_per_day=0.0, early_most=0.0)
"""A day's wait costs a few plants more; in three weeks most of them."""


def windows(view: SeasonView, life: Life) -> Iterator[Window]:
    """One line, until it is done or the planting is cleared."""
    if not met(view.garden, view.today) or not life.standing:
        return
    begun = min(
        (d for d in (life.sightings.sown, life.sightings.set_out, life.sightings.planted) if d), default=date.min
    )
    mine = [m for m in met_on(view.garden, life.planting, begun, view.today) if removed(m.trouble)]
    if not mine or (view.today - mine[-1].day).days > FOR_DAYS:
        return
    found = mine[-1]
    done = last_work(life, "taken out", "sick plants")
    if done is not None and done.happened >= found.day:
        return
    plants = view.plants(life.planting)
    yield Window(
        name=f"take-out/{life.planting.id}",
        says=f"Take sick {plants} out",
        where=view.where(life.planting),
        detail=_detail(found),
        reasons=(
            from_entry(found.entry, f"{found.said} was found on {day_words(found.day)}."),
            *_course(found),
        ),
        opens=same(view, found.day),
        due=same(view, found.day),
        shuts=same(view, found.day, FOR_DAYS),
        loss=LOSS,
        lost="it goes on to the next plant, or stays in the soil",
        minutes=MINUTES,
        worth=max(worth(view, life.planting), 1.0),
    )


def _detail(found: Met) -> str:
    sure = "" if found.entry.payload.get("sure") == "settled" else ", likely: in doubt send a sample first"
    told = report_first().get(found.trouble.id) or report_first().get(found.trouble.cause)
    report = "; report it before anything leaves the garden" if told else ""
    return f"{found.name}{sure}; bagged where they stand, in dry weather, not on the compost{report}"


def _course(found: Met) -> tuple[Reason, ...]:
    course = found.course
    if course is None or not course.left_alone:
        return ()
    sure = as_status(course.status)
    return (
        Reason(f"Left standing: {course.left_alone}.", rests_on=RestsOn(sure, course.source, "course of troubles")),
    )
