"""Scout: one round through the beds, with what is to be looked for closely today; the rest stands on its own page."""

from __future__ import annotations

from collections.abc import Iterator

from kailyard.documents._parts import Reason
from kailyard.documents.scout import Lookout, Stop
from kailyard.garden.model import Garden
from kailyard.season.measures import beds_words, listing
from kailyard.season.view import SeasonView
from kailyard.season.windows import Look

NAME = "scout"
SCOPE = "garden"

MOST_NAMED = 3
"""Troubles that the sheet's line names; the round has them all."""


def windows(view: SeasonView, garden: Garden) -> Iterator[Look]:
    """One line for the whole round, where anything is to be looked for closely."""
    from kailyard.troubles.scouting import closely  # nothing of it is loaded for a garden in which nothing stands

    close = closely(view) if any(life.standing for life in view.lives.values()) else ()
    if not close:
        return
    named = list(dict.fromkeys(k.name for _, k in close))
    more = f" and {len(named) - MOST_NAMED} more" if len(named) > MOST_NAMED else ""
    yield Look(
        name="scout/round",
        says="One round for pests and diseases",
        where=beds_words(list(dict.fromkeys(stop.name for stop, _ in close))),
        detail=f"Look closely for {listing(named[:MOST_NAMED]) if not more else ', '.join(named[:MOST_NAMED])}{more}; "
        f"{_first(close[0])}. Enter what is counted, none found too.",
        reasons=tuple(Reason(_why(k), because=k.reasons) for _, k in close[:MOST_NAMED]),
        of=tuple(dict.fromkeys(id_ for _, k in close for id_ in k.plantings)),
        urgency=0.75,
    )


def _first(of: tuple[Stop, Lookout]) -> str:
    stop, one = of
    return f"begin in {stop.name}: {one.where.split(';')[0]}"


def _why(one: Lookout) -> str:
    said = f"{one.name}: {one.why}"
    return f"{said[0].upper()}{said[1:]}."
