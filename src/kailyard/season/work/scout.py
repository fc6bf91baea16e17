"""Scout: one round through the beds, with what is to be looked for closely; and what was counted that calls for more.

The rest of the round stands on its own page.
"""

from __future__ import annotations

from collections.abc import Iterator

from kailyard.documents._parts import Reason, RestsOn
from kailyard.documents.scout import Act, Lookout, Stop
from kailyard.garden.model import Garden
from kailyard.season.done import Answered, Fitting
from kailyard.season.measures import beds_words, day_words, listing
from kailyard.season.view import SeasonView
from kailyard.season.windows import Look

NAME = "scout"
SCOPE = "garden"


def _walked(line: Answered) -> tuple[Fitting, ...]:
    """One entry for each bed of the round: numbers are counted on the round itself."""
    beds = dict.fromkeys(p.bed for p in line.named)
    return tuple(Fitting("round", bed, asks="found") for bed in beds)


DONE = {"scout": _walked}

MOST_NAMED = 3
"""Troubles that the sheet's line names; the round has them all."""


def windows(view: SeasonView, garden: Garden) -> Iterator[Look]:
    """One line for the whole round, where anything is to be looked for closely; one for each count to act on."""
    from kailyard.troubles.scouting import pressing  # nothing of it is loaded for a garden in which nothing stands

    found = pressing(view) if any(life.standing for life in view.lives.values()) else ()
    close = [(stop, k) for stop, k in found if k.due and k.effort == "closely"]
    if close:
        yield _round(close)
    for stop, k in found:
        yield from (_to_act_on(view, stop, k, act) for act in k.act if not _answered(view, act, k.trouble))


def _round(close: list[tuple[Stop, Lookout]]) -> Look:
    named = list(dict.fromkeys(k.name for _, k in close))
    more = f" and {len(named) - MOST_NAMED} more" if len(named) > MOST_NAMED else ""
    return Look(
        name="scout/round",
        says="One round for pests and diseases",
        where=beds_words(list(dict.fromkeys(stop.name for stop, _ in close))),
        detail=f"Look closely for {listing(named[:MOST_NAMED]) if not more else ', '.join(named[:MOST_NAMED])}{more}; "
        f"{_first(close[0])}. None found counts too.",
        reasons=tuple(Reason(_why(k), because=k.reasons) for _, k in close[:MOST_NAMED]),
        of=tuple(dict.fromkeys(id_ for _, k in close for id_ in k.plantings)),
        urgency=0.75,
    )


def _to_act_on(view: SeasonView, stop: Stop, one: Lookout, act: Act) -> Look:
    """The day of the count is part of its name: the next count above is a line of its own."""
    plants = dict(zip(one.plantings, one.names, strict=True))[act.planting]
    spared = (
        f" Seen with it: {act.enemies}; natural enemies may bring it down, look again first." if act.enemies else ""
    )
    return Look(
        name=f"options/{act.planting}/{one.trouble}/{act.on.isoformat()}",
        says=f"{_capital(one.name)} on {plants}",
        where=stop.name,
        detail=f"{day_words(act.on)}: {act.says}.{spared} See what may be done.",
        reasons=(
            Reason(f"Counted on {day_words(act.on)}: {act.says}.", rests_on=RestsOn("observed", "daybook", "")),
            *one.reasons,
        ),
        urgency=0.85,
    )


def _answered(view: SeasonView, act: Act, trouble: str) -> bool:
    """Whether something was put on or taken off since the count, or the plants are gone."""
    planting = view.garden.plantings.get(act.planting)
    at = (act.planting, planting.bed if planting else act.planting)
    return any(
        e.kind == "treat" and e.happened >= act.on and str(e.payload.get("trouble", "")) in ("", trouble)
        for target in at
        for e in view.garden.entries_of(target)
    )


def _first(of: tuple[Stop, Lookout]) -> str:
    stop, one = of
    return f"begin in {stop.name}: {one.where.split(';')[0]}"


def _why(one: Lookout) -> str:
    return f"{_capital(one.name)}: {one.why}."


def _capital(words: str) -> str:
    return f"{words[:1].upper()}{words[1:]}"
