"""Protect from frost: what stands in the open and would be hurt in the next nights."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

import numpy as np

from kailyard.documents._parts import Reason, RestsOn
from kailyard.garden.model import Garden
from kailyard.season.done import Answered, Fitting
from kailyard.season.life import Life
from kailyard.season.measures import beds_words, in_ten, listing, span_words
from kailyard.season.reasons import from_fact
from kailyard.season.safety import frost_limit_c
from kailyard.season.view import SeasonView
from kailyard.season.windows import Danger

NAME = "protect from frost"
SCOPE = "garden"


def _covered(line: Answered) -> tuple[Fitting, ...]:
    """A cover is put over a bed, with all that stands in it."""
    beds = dict.fromkeys(p.bed for p in line.named if p.bed in line.garden.beds)
    off = {} if line.until is None else {"until": line.until.isoformat()}
    return tuple(Fitting("protect", bed, off) for bed in beds)


DONE = {"protect": _covered}

NIGHTS = 3
MOST_NAMED = 5
WORTH_SAYING = 0.1


def windows(view: SeasonView, garden: Garden) -> Iterator[Danger]:
    """One warning for all that is in danger, the tenderest named first."""
    exposed: dict[float, list[Life]] = {}
    for life in view.lives.values():
        limit = _limit_c(view, life)
        if limit is not None:
            exposed.setdefault(limit, []).append(life)
    if not exposed:
        return
    start = view.ensemble.today_index
    nights = view.clocks.garden_tmin_c[:, start : start + NIGHTS]
    chances = {limit: float(np.mean(nights.min(axis=1) <= limit)) for limit in exposed}
    struck = sorted((limit for limit, chance in chances.items() if chance >= WORTH_SAYING), reverse=True)
    if not struck:
        return
    lives = [life for limit in struck for life in exposed[limit]]
    days = [
        view.today + timedelta(days=n)
        for n in range(nights.shape[1])
        if float(np.mean(nights[:, n] <= struck[0])) >= WORTH_SAYING
    ]
    lowest = float(np.median(nights.min(axis=1)))
    names = _named(list(dict.fromkeys(view.plants(life.planting) for life in lives)))
    yield Danger(
        name="protect/frost",
        says=f"Frost {in_ten(chances[struck[0]])}, night of {_nights(days)}",
        where=beds_words([view.where(life.planting) for life in lives]),
        detail=f"About {view.degrees(round(lowest))} in the garden. Cover {names} by evening; uncover in the morning.",
        reasons=_reasons(view, lives, chances[struck[0]], struck[0], lowest),
        of=tuple(life.planting.id for life in lives),
        days=tuple(days),
        chance=chances[struck[0]],
    )


def _limit_c(view: SeasonView, life: Life) -> float | None:
    """Garden minimum at which a standing, unprotected planting is hurt; None where it is out of danger."""
    if not life.standing:
        return None
    today = view.today.toordinal()
    up = life.stage("emerged")
    if up is not None and up.by(date.fromordinal(today + NIGHTS)) < 0.3:
        return None
    if view.perennial(life.planting) and not _up_this_year(view, life):
        return None
    if (life.sightings.covered or date.min) >= view.today or view.seems_killed(life):
        return None
    return frost_limit_c(life.planting.crop, view.handbook) - view.cover_gain_c(life.planting)


def _named(plants: list[str]) -> str:
    """The tenderest by name, the rest together."""
    return (
        listing(plants)
        if len(plants) <= MOST_NAMED
        else listing([*plants[: MOST_NAMED - 1], "all else that is tender"])
    )


def _up_this_year(view: SeasonView, life: Life) -> bool:
    """Whether an entry of this year shows shoots of a perennial."""
    shown = (e for e in life.sightings.entries if e.kind in ("pick", "stage"))
    return any(e.happened.year == view.today.year and e.payload.get("state") != "not yet" for e in shown)


def _nights(days: list[date]) -> str:
    return span_words(days[0], days[-1]) if days else "any of the next three days"


def _reasons(view: SeasonView, lives: list[Life], chance: float, limit: float, lowest: float) -> tuple[Reason, ...]:
    facts = []
    for life in lives:
        fact = view.fact(life.planting, "protect_below_c") or view.fact(life.planting, "frost_damage_c")
        if fact is not None:
            facts.append(
                from_fact(fact, view.handbook, f"{view.plants(life.planting).capitalize()} are hurt at or below this.")
            )
    weather = Reason(
        f"{view.degrees(limit)} or less in the garden within three nights.",
        round(chance, 3),
        "chance",
        RestsOn("computed", "forecast and possible seasons", view.ensemble.source),
        (
            Reason(
                "The garden's minimum against the station's.",
                round(view.minimum_offset_c, 2),
                "°C difference",
                RestsOn("observed", "daybook and site", ""),
            ),
            Reason(
                "Middle of the lowest minima of the three nights.",
                round(lowest, 1),
                "°C",
                RestsOn("computed", "possible seasons", ""),
            ),
        ),
    )
    return (weather, *dict.fromkeys(facts))
