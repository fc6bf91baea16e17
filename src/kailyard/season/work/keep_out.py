"""Keep a crop out of a bed in whose soil a trouble of it lives on."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from kailyard.documents._parts import Reason, RestsOn
from kailyard.season.life import Life
from kailyard.season.measures import day_words
from kailyard.season.odds import BEYOND, middle
from kailyard.season.reasons import from_entry
from kailyard.season.view import SeasonView
from kailyard.season.windows import Hold
from kailyard.troubles.keep_away import KeptOut, kept_out
from kailyard.troubles.marks import as_status

NAME = "keep out"
SCOPE = "planting"

AHEAD_DAYS = 120
"""It is said so long before the planting would be begun: beds are planned in winter."""


def windows(view: SeasonView, life: Life) -> Iterator[Hold]:
    """A hold on what is planned there and not begun."""
    planting = life.planting
    if life.begun_known or life.sightings.ended is not None:
        return
    begin = middle(life.begun)
    if begin >= BEYOND or begin > view.today.toordinal() + AHEAD_DAYS:
        return
    kept = kept_out(view.garden, planting.bed, planting.crop, date.fromordinal(max(begin, view.today.toordinal())))
    if kept is None:
        return
    raised = planting.start in ("raised", "bought")
    yield Hold(
        name=f"keep-out/{planting.id}",
        says=f"Plant no {view.plants(planting)} here",
        where=view.where(planting),
        detail=_detail(kept),
        reasons=(from_entry(kept.met.entry, f"{kept.met.said} was found on {day_words(kept.met.day)}."), _why(kept)),
        of=(planting.id,),
        first=kept.met.day,
        last=None,
        forbids=("set-out", "prepare") if raised else ("sow", "prepare"),
    )


def _detail(kept: KeptOut) -> str:
    until = "never again" if kept.until is None else f"not before {kept.until:%B} {kept.until.year}"
    longer = "" if kept.until is None or " to " not in kept.years else f"; it may last {kept.years}"
    found = f"{day_words(kept.met.day)} {kept.met.day.year}"
    likely = "" if kept.met.entry.payload.get("sure") == "settled" else " (likely, not settled)"
    where = f"{kept.met.said}{likely} was found there on {found} and lives in the soil"
    return f"{where}: {until}{longer}. Give it another bed."


def _why(kept: KeptOut) -> Reason:
    course = kept.met.course
    assert course is not None
    status = course.away_status or course.status
    sure = as_status(status)
    return Reason(
        f"It lives on in the soil: {kept.years} without its hosts.", rests_on=RestsOn(sure, course.source, "years away")
    )
