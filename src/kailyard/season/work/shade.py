"""Shade what is newly set out against sun and heat."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta

import numpy as np

from kailyard.documents._parts import Reason, RestsOn
from kailyard.season.counted import grounds
from kailyard.season.done import Answered, Fitting
from kailyard.season.life import Life
from kailyard.season.measures import in_ten, span_words
from kailyard.season.sightings import as_day
from kailyard.season.view import SeasonView
from kailyard.season.windows import Danger

NAME = "shade"
SCOPE = "planting"

AHEAD_DAYS = 3
"""As far as a danger is told ahead."""

WORTH_SAYING = 0.3
"""Chance of such a day from which shade is worth carrying out."""


def _shaded(line: Answered) -> tuple[Fitting, ...]:
    """A shade is put up until it is meant to come down."""
    off = {} if line.until is None else {"until": line.until.isoformat()}
    return tuple(Fitting("protect", p.id, {"what": "shade", **off}) for p in line.named)


DONE = {"shade": _shaded}


def windows(view: SeasonView, life: Life) -> Iterator[Danger]:
    """Shade for the first days in the bed, where hot days are near."""
    planting, seen = life.planting, life.sightings
    above, days = view.fact(planting, "shade_above_c"), view.fact(planting, "shade_days_max")
    if above is None or days is None or seen.set_out is None or not life.standing:
        return
    until = seen.set_out + timedelta(days=round(days.number))
    if until <= view.today or any(
        "shade" in str(e.payload.get("what")).lower() and (as_day(e.payload.get("until")) or until) > view.today
        for e in seen.of("protect")
    ):
        return
    at, left = view.ensemble.today_index, min((until - view.today).days, AHEAD_DAYS)
    hot = view.ensemble.tmax_c[:, at : at + left] >= above.number
    chance = float(np.mean(hot.any(axis=1)))
    if chance < WORTH_SAYING:
        return
    when = tuple(view.today + timedelta(days=n) for n in range(left) if float(np.mean(hot[:, n])) >= WORTH_SAYING)
    struck = when or (view.today,)
    yield Danger(
        name=f"shade/{planting.id}",
        says=f"{view.degrees(above.number)} or more, {in_ten(chance)}, {span_words(struck[0], struck[-1])}",
        where=view.where(planting),
        detail=f"Shade {view.plants(planting)}, newly set out, through the middle of the day; water in the morning.",
        reasons=(
            Reason(
                "Chance of such a day while the roots take hold.",
                round(chance, 2),
                "chance",
                RestsOn("computed", "forecast and possible seasons", view.ensemble.source),
                grounds(
                    view,
                    life,
                    {
                        "shade_above_c": "From this day maximum on shade pays.",
                        "shade_days_max": "For so long after setting out.",
                    },
                ),
            ),
        ),
        of=(planting.id,),
        days=struck,
        chance=chance,
    )
