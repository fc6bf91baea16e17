"""Say why a sowing or setting out waits: a pest that was found here flies just then."""

from __future__ import annotations

from collections.abc import Iterator

from kailyard.season.life import Life
from kailyard.season.measures import day_words
from kailyard.season.odds import middle
from kailyard.season.view import SeasonView
from kailyard.season.windows import Rest
from kailyard.troubles.flight import Wait, span, wait_past

NAME = "past flight"
SCOPE = "planting"

SOON_DAYS = 14
"""It is said from so long before the day on which the planting would be begun."""


def windows(view: SeasonView, life: Life) -> Iterator[Rest]:
    """One line, until the flight is over or a cover lies over the bed."""
    if life.begun_known or life.sightings.ended is not None or (wait := wait_past(view, life)) is None:
        return
    if middle(life.begun) > view.today.toordinal() + SOON_DAYS:
        return
    planting, past = life.planting, wait.past
    verb = "Sow" if planting.start == "sown" else "Plant" if planting.start == "planted" else "Set out"
    plants, (first, last) = view.plants(planting), span(past)
    yield Rest(
        name=f"past-flight/{planting.id}",
        says=f"{verb} no {plants} {_how_not(wait)}",
        where=view.where(planting),
        detail=f"{past.met.said} was found here in {past.met.day.year}; {past.flight.who} come from about "
        f"{day_words(first)} to {day_words(last)}. {_then(view, life, wait)}",
        reasons=past.reasons,
        urgency=0.85,
    )


def _how_not(wait: Wait) -> str:
    return "yet" if wait.pays else "here" if wait.past.from_here else "uncovered"


def _then(view: SeasonView, life: Life, wait: Wait) -> str:
    """After the flight, or under a cover; a cover over the bed it hatches from shuts it in."""
    bees = "bees" in view.handbook.text(life.planting.crop, "pollinated_by")
    cover = f"a cover closed at the soil from the first day{', off when flowers need bees' if bees else ''}: enter it"
    if wait.past.from_here:
        cover = f"in another bed under {cover}; over this one it would shut in what hatches there"
        return f"After that, or now {cover}." if wait.pays else f"Later it hardly comes in time: so {cover}."
    return f"After that, or now under {cover}." if wait.pays else f"Later it hardly comes in time: so under {cover}."
