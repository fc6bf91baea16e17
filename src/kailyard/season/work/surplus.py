"""More of a crop is coming than is wanted: said while there is time to give it away, freeze it or sow less."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta

from kailyard.garden.model import Garden
from kailyard.season.measures import beds_words, day_words, in_ten
from kailyard.season.reasons import from_entry, from_fact
from kailyard.season.use_words import fact_for, produce_for
from kailyard.season.view import SeasonView
from kailyard.season.windows import Answer, Rest

NAME = "surplus"
SCOPE = "garden"

WEEKS_SAID = 4
"""A surplus that begins later than this is not said on the sheet."""

URGENCY = 0.5
"""Beside what else may be left alone: a surplus in the next weeks is worth a line where room is."""


def windows(view: SeasonView, target: Garden) -> Iterator[Answer]:
    """Of each crop of which somebody said how much is wanted, the first weeks of surplus."""
    if not any(entry.kind == "want" for entry in target.entries):
        return
    from kailyard.care.amounts import (  # nothing of the pickings is loaded for gardens that say nothing
        picked_for,
        surplus,
        wants,
    )

    for (crop, use), wanted in wants(target, view.today).items():
        mine = [life for life in picked_for(view, crop, use) if life.standing]
        every = fact_for(view, mine[0], "picking_interval_days_max") if mine else None
        if not mine or every is None:
            continue  # what is lifted once is stored: a week's want says nothing of it
        found = surplus(view, crop, use, float(wanted.quantity or 0.0), WEEKS_SAID)
        if found is None:
            continue
        produce = produce_for(view, mine[0]) if use else view.produce(mine[0].planting)
        when = "now" if found.first <= view.today + timedelta(days=6) else f"from {day_words(found.first)}"
        yield Rest(
            name="/".join(("surplus", crop, *([use.replace(" ", "-")] if use else []))),
            says=f"More {produce} than you want {when}: {in_ten(found.chance)}",
            where=beds_words([view.where(life.planting) for life in mine]),
            detail="give away, share or keep; pick on, so that the plants bear on",
            reasons=(
                from_entry(wanted, "Wanted a week."),
                from_fact(every, view.handbook, "Longest time between pickings."),
            ),
            urgency=URGENCY,
            of=tuple(life.planting.id for life in mine),
        )
