"""Before lifting: count the sign of ripeness on a sample, and end the watering."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta

from kailyard.documents._parts import Reason, RestsOn
from kailyard.season.counted import grounds
from kailyard.season.done import of_kind
from kailyard.season.life import Life
from kailyard.season.measures import day_words
from kailyard.season.odds import Odds
from kailyard.season.reasons import from_entry
from kailyard.season.uses import moves
from kailyard.season.view import SeasonView
from kailyard.season.windows import Answer, Look, Rest

NAME = "lift"
SCOPE = "planting"
DONE = {"count": of_kind("look", asks="found")}

COUNT_AHEAD_DAYS = 10
"""A count is worth making when ripeness may come within so many days."""

COUNT_CHANCE = 0.3
"""Chance of that from which it is asked for."""

COUNT_AGAIN_DAYS = 5
"""A count holds for so long."""


def windows(view: SeasonView, life: Life) -> Iterator[Answer]:
    """What ripens for store: the count that decides, and water no more."""
    if view.fact(life.planting, "lift_false_sign") is None or not life.standing or life.sightings.of("pick"):
        return
    if moves(view.handbook, life.planting.crop, life.use) is not None:
        return  # picked young: nothing of it is to ripen
    ready = life.stage("mature") or life.stage("first-harvest")
    if ready is None or view.seems_killed(life):
        return
    yield from _count(view, life, ready)
    yield from _no_more_water(view, life, ready)


def _count(view: SeasonView, life: Life, ready: Odds) -> Iterator[Look]:
    share = view.fact(life.planting, "ripe_share_min")
    chance = ready.by(view.today + timedelta(days=COUNT_AHEAD_DAYS))
    counts = life.sightings.partial
    last = counts[-1] if counts else None
    fresh = last is not None and (view.today - last.happened).days < COUNT_AGAIN_DAYS
    if share is None or chance < COUNT_CHANCE or fresh:
        return
    enough = last is not None and float(last.payload["share"]) >= share.number
    if enough:
        return
    seen = "" if last is None else f" Last {float(last.payload['share']):.0%} on {day_words(last.happened)}."
    yield Look(
        name=f"count/{life.planting.id}",
        says=view.plants(life.planting).capitalize(),
        where=view.where(life.planting),
        detail=f"Count a sample: {view.said(life.planting, 'pick_sign')}? {share.number:.0%} decides.{seen} "
        f"{view.said(life.planting, 'lift_false_sign')}".replace("%", " %"),
        reasons=(
            *((from_entry(last, "The last count."),) if last is not None else ()),
            *grounds(
                view,
                life,
                {
                    "ripe_share_min": "From this share on it is lifted.",
                    "ripe_share_max": "At this share no later.",
                    "lift_false_sign": "What is no ripeness.",
                },
            ),
        ),
        urgency=0.6,
    )


def _no_more_water(view: SeasonView, life: Life, ready: Odds) -> Iterator[Rest]:
    most, middle = view.fact(life.planting, "stop_water_days_max"), ready.quantile(0.5)
    if most is None or middle is None or not view.today >= middle - timedelta(days=round(most.number)):
        return
    yield Rest(
        name=f"no-water/{life.planting.id}",
        says=f"Water {view.told_apart(life.planting)} no more",
        where=view.where(life.planting),
        detail=f"They ripen about {day_words(max(middle, view.today))}; dry soil sets skins and closes necks.",
        reasons=(
            Reason(
                "Chance that they are ripe within a week.",
                round(ready.by(view.today + timedelta(days=7)), 2),
                "chance",
                RestsOn("computed", "stage odds", ""),
            ),
            *grounds(view, life, {"stop_water_days_max": "So long before lifting watering ends."}),
        ),
        urgency=0.35,
    )
