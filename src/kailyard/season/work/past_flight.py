"""Say why a sowing or setting out waits: a pest that was found here flies just then."""

from __future__ import annotations

from collections.abc import Iterator

from kailyard.season.life import Life
from kailyard.season.measures import day_words
from kailyard.season.odds import middle
from kailyard.season.view import SeasonView
from kailyard.season.windows import Rest
from kailyard.troubles.flight import span, wait_past

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
    met = f"{past.met.name} was found here in {past.met.day.year}; {past.flight.who} come from about "
    met += f"{day_words(first)} to {day_words(last)}."
    how = "a cover closed at the soil, put on the same day: enter it"
    then = f"After that, or now under {how}." if wait.pays else f"Later it hardly comes in time: so under {how}."
    yield Rest(
        name=f"past-flight/{planting.id}",
        says=f"{verb} no {plants} yet" if wait.pays else f"{verb} no {plants} uncovered",
        where=view.where(planting),
        detail=f"{met[0].upper()}{met[1:]} {then}",
        reasons=past.reasons,
        urgency=0.85,
    )
