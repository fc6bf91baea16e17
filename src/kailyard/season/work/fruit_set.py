"""Look at flowers and fruit set: what is usual and needs nothing, and when fruit should be seen."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from kailyard.documents._parts import Reason, RestsOn
from kailyard.season.counted import grounds
from kailyard.season.done import of_kind
from kailyard.season.life import Life
from kailyard.season.measures import day_words
from kailyard.season.odds import Odds
from kailyard.season.view import SeasonView
from kailyard.season.windows import Answer, Look, Rest

NAME = "fruit set"
SCOPE = "planting"
DONE = {"fruit-set": of_kind("look", asks="found")}

FOR_DAYS = 10
"""The question is asked for so long; after that the picking answers it."""

HOT_OR_COLD_DAYS = 3
"""So many hot days or cold nights since the flowers opened explain a gap."""

FLOWERING = 0.7
"""Chance of flowering from which flowers are spoken of."""


def windows(view: SeasonView, life: Life) -> Iterator[Answer]:
    """Nothing is wrong while one sex comes first; then: is fruit set? If not, was it the heat, the cold?"""
    planting, flower = life.planting, life.stage("first-flower")
    wait = view.fact(planting, "set_check_days")
    if wait is None or flower is None or not life.standing or life.sightings.of("pick") or view.seems_killed(life):
        return
    today = view.today.toordinal()
    if float(np.mean(flower.days <= today)) < FLOWERING:
        return
    opened = flower.quantile(0.5)
    if opened is None:
        return
    first = view.number(planting, "male_first_days_max", 0.0)
    days = (view.today - opened).days
    check = round(first + wait.number)
    if days < check:
        if first:
            yield _usual(view, life, opened.toordinal() + round(first))
    elif days <= check + FOR_DAYS and not _looked(view, life, opened.toordinal() + check):
        yield _set_by_now(view, life, flower, check)


def _looked(view: SeasonView, life: Life, since: int) -> bool:
    return any(e.happened.toordinal() >= since for e in life.sightings.of("look"))


def _usual(view: SeasonView, life: Life, until: int) -> Rest:
    """One sex of flower before the other."""
    planting = life.planting
    which = view.handbook.text(planting.crop, "first_flowers")
    said = {
        "male": "The first flowers are male and drop",
        "female": "The first flowers are female and may drop for want of a mate",
        "either": "Male or female flowers come first and drop",
    }.get(which, "The first flowers may drop")
    return Rest(
        name=f"flowers/{planting.id}",
        says=f"Flowers of {view.plants(planting)}",
        where=view.where(planting),
        detail=f"{said}: nothing is wrong until about {day_words(view.today.fromordinal(until))}. "
        "Spare male flowers may be picked; some must stay.",
        reasons=grounds(
            view,
            life,
            {
                "first_flowers": "Which come first.",
                "male_first_days_max": "By so many days at most.",
                "flower_sex_order": "Published.",
                "fruit_set_note": "What is usual.",
            },
        ),
        urgency=0.35,
    )


def _set_by_now(view: SeasonView, life: Life, flower: Odds, check: int) -> Look:
    planting = life.planting
    why = _weather_since(view, life, flower)
    blame = f" {why[0]}" if why else ""
    return Look(
        name=f"fruit-set/{planting.id}",
        says=view.plants(planting).capitalize(),
        where=view.where(planting),
        detail=f"Is fruit setting, {check} days after the first flowers?{blame}",
        reasons=(
            *(why[1] if why else ()),
            *grounds(
                view,
                life,
                {
                    "set_check_days": "So long after the first flowers that can set, fruit should be seen.",
                    "male_first_days_max": "Flowers of one sex come first by so many days at most.",
                    "pollinated_by": "What carries the pollen.",
                    "fruit_set_note": "What is usual.",
                },
            ),
        ),
        urgency=0.45,
    )


def _weather_since(view: SeasonView, life: Life, flower: Odds) -> tuple[str, tuple[Reason, ...]] | None:
    """Whether heat or cold since flowering explains a gap, from the record: in words, and the ground for it."""
    planting, opened = life.planting, flower.quantile(0.5)
    assert opened is not None
    a, b = opened.toordinal() - view.clocks.first, view.ensemble.today_index
    if not 0 <= a < b:
        return None
    e = view.ensemble
    hot, cold = view.fact(planting, "heat_limit_day_c"), view.fact(planting, "set_night_min_c")
    hot_days = 0 if hot is None else int(np.sum(e.tmax_c[0, a:b] >= hot.number))
    cold_nights = 0 if cold is None else int(np.sum(view.clocks.garden_tmin_c[0, a:b] <= cold.number))
    number, limit, said = max(
        (hot_days, hot, "days"), (cold_nights, cold, "nights"), key=lambda found: found[0]
    )  # fmt: skip
    if limit is None or number < HOT_OR_COLD_DAYS:
        return None
    which = "hot days" if said == "days" else "cold nights"
    words = f"{number} {which} since: gaps come of that, and later flowers set."
    ground = Reason(
        f"{number} {said} {'at or above' if said == 'days' else 'at or below'} {view.degrees(limit.number)} since.",
        float(number),
        said,
        RestsOn("observed", e.source, opened.isoformat()),
        grounds(view, life, {"heat_limit_day_c" if said == "days" else "set_night_min_c": "It hinders fruit set."}),
    )
    return words, (ground,)
