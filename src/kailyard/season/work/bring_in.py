"""Bring in plants that stand out to harden, before a night too cold for them."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta

import numpy as np

from kailyard.documents._parts import Reason, RestsOn
from kailyard.garden.model import Garden
from kailyard.season.life import Life
from kailyard.season.measures import day_words, in_ten, listing, span_words
from kailyard.season.reasons import from_entry, from_fact
from kailyard.season.view import SeasonView
from kailyard.season.windows import Danger

NAME = "bring in"
SCOPE = "garden"

NIGHTS = 3
"""Nights that a forecast can still tell from others."""

LONGEST_DAYS = 42
"""What was hardened longer ago and never entered as set out stands there no more."""

WORTH_SAYING = 0.3
"""Chance of a night too cold from which it is said: the plants are looked after every day as it is."""


def windows(view: SeasonView, garden: Garden) -> Iterator[Danger]:
    """One warning for all plants that are being hardened."""
    out: list[tuple[float, Life]] = []
    for life in view.lives.values():
        seen = life.sightings
        if life.planting.start != "raised" or seen.set_out or seen.ended or not (begun := seen.of("harden")):
            continue
        limit = view.fact(life.planting, "harden_min_c")
        # Until they are hardened they come in at night whatever the weather.
        least = view.number(life.planting, "harden_days_min", 7.0)
        if limit is not None and least <= (view.today - begun[-1].happened).days <= LONGEST_DAYS:
            out.append((limit.number, life))
    if not out:
        return
    start = view.ensemble.today_index
    nights = view.clocks.garden_tmin_c[:, start : start + NIGHTS]
    chances = {limit: (nights <= limit).mean(axis=0) for limit, _ in out}
    cold = [(limit, life) for limit, life in out if float(chances[limit].max()) >= WORTH_SAYING]
    if not cold:
        return
    worst = chances[max(limit for limit, _ in cold)]
    days = [view.today + timedelta(days=n) for n in range(NIGHTS) if worst[n] >= WORTH_SAYING]
    names = list(dict.fromkeys(view.plants(life.planting) for _, life in cold))
    chance = float(worst.max())
    yield Danger(
        name="bring-in/hardening",
        says=f"A cold night for plants being hardened, {in_ten(chance)}, {span_words(days[0], days[-1])}",
        where="under cover",
        detail=f"About {view.degrees(round(float(np.median(nights.min(axis=1)))))} in the garden. "
        f"Bring in {listing(names)} by evening; out again by day.",
        reasons=(
            Reason(
                "A night at or below what they bear, within three.",
                round(chance, 3),
                "chance",
                RestsOn("computed", "forecast and possible seasons", view.ensemble.source),
            ),
            *(reason for _, life in cold for reason in _reasons(view, life)),
        ),
        of=tuple(life.planting.id for _, life in cold),
        days=tuple(days),
        chance=chance,
    )


def _reasons(view: SeasonView, life: Life) -> Iterator[Reason]:
    plants, begun = view.plants(life.planting).capitalize(), life.sightings.of("harden")[-1]
    fact = view.fact(life.planting, "harden_min_c")
    if fact is not None:
        yield from_fact(fact, view.handbook, f"{plants} come in on nights under this.")
    yield from_entry(begun, f"{plants}: hardening since {day_words(begun.happened)}.")
