"""Take away what is left in the bed of plants that were sick, before it winters there."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from kailyard.documents._parts import Reason, RestsOn
from kailyard.season.counted import same
from kailyard.season.done import work_done, works
from kailyard.season.life import Life
from kailyard.season.measures import day_words, minutes, worth
from kailyard.season.reasons import from_entry
from kailyard.season.view import SeasonView
from kailyard.season.windows import Loss, Window
from kailyard.troubles.marks import as_status
from kailyard.troubles.met import met, met_on
from kailyard.troubles.next_season import winters_in_remains

NAME = "remains"
SCOPE = "planting"
DONE = {"remains": work_done("sick remains cleared away")}

GRACE_DAYS = 7
"""It is best done in the week of clearing."""

FOR_DAYS = 60
"""So long after clearing it is still asked for."""

LOSS = Loss(late_per_day=0.004, late_most=0.2, early_per_day=0.0, early_most=0.0)


def windows(view: SeasonView, life: Life) -> Iterator[Window]:
    """Once, after a planting was cleared."""
    ended = life.sightings.ended
    if ended is None or not met(view.garden, view.today) or (view.today - ended).days > FOR_DAYS:
        return
    seen = life.sightings
    begun = min((d for d in (seen.sown, seen.set_out, seen.planted) if d), default=date.min)
    mine = [m for m in met_on(view.garden, life.planting, begun, ended) if winters_in_remains(m)]
    if not mine or works(life, "remains"):
        return
    found, plants = mine[-1], view.plants(life.planting)
    course = found.course
    assert course is not None
    sure = as_status(course.status)
    yield Window(
        name=f"remains/{life.planting.id}",
        says=f"Rake up what is left of {plants}",
        where=view.where(life.planting),
        detail=f"{found.name} was found on them: leaves, stalks, roots and fruit into the bin or deep under, not on "
        "the compost; wash stakes and ties",
        reasons=(
            from_entry(found.entry, f"{found.said} was found on {day_words(found.day)}."),
            Reason(
                f"Common ways to meet it: {course.cultural}.",
                rests_on=RestsOn(sure, course.source, "course of troubles"),
            ),
        ),
        opens=same(view, ended),
        due=same(view, ended, GRACE_DAYS),
        shuts=same(view, ended, FOR_DAYS),
        loss=LOSS,
        lost="it winters in what is left and comes again",
        minutes=minutes(view, life.planting, "minutes_clear_per_m2", 4.0),
        worth=0.5 * worth(view, life.planting),
    )
