"""Protect from great heat: what stands and would be hurt or stop bearing in the next days."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta

import numpy as np

from kailyard.documents._parts import Reason, RestsOn
from kailyard.garden.model import Garden
from kailyard.season.done import Answered, Fitting
from kailyard.season.life import Life
from kailyard.season.measures import beds_words, in_ten, listing, span_words
from kailyard.season.reasons import from_fact, from_judgement
from kailyard.season.sightings import as_day
from kailyard.season.view import SeasonView
from kailyard.season.windows import Danger

NAME = "protect from heat"
SCOPE = "garden"

DAYS = 3
"""As far as a danger is told ahead."""

BEYOND_C = 4.0
"""So much hotter than the day that merely slows a crop, shade and water are worth the trouble."""

LEAST_C = 30.0
"""No day under this is called great heat."""

WORTH_SAYING = 0.3
"""Chance from which it is said."""

MOST_NAMED = 4


def _shaded(line: Answered) -> tuple[Fitting, ...]:
    """Shade is put over a bed."""
    beds = dict.fromkeys(p.bed for p in line.named if p.bed in line.garden.beds)
    off = {} if line.until is None else {"until": line.until.isoformat()}
    return tuple(Fitting("protect", bed, {"what": "shade", **off}) for bed in beds)


DONE = {"protect-heat": _shaded}


def windows(view: SeasonView, garden: Garden) -> Iterator[Danger]:
    """One warning for all that suffers, the tenderest named first."""
    at = view.ensemble.today_index
    highs = view.ensemble.tmax_c[:, at : at + DAYS]
    hottest = highs.max(axis=1)
    if float(np.mean(hottest >= LEAST_C)) < WORTH_SAYING:
        return
    struck: list[tuple[float, Life]] = []
    for life in view.lives.values():
        limit = _limit_c(view, life)
        if limit is not None and float(np.mean(hottest >= limit)) >= WORTH_SAYING:
            struck.append((limit, life))
    if not struck:
        return
    struck.sort(key=lambda pair: (pair[0], pair[1].planting.id))
    least, lives = struck[0][0], [life for _, life in struck]
    chance = float(np.mean(hottest >= least))
    days = [
        view.today + timedelta(days=n)
        for n in range(highs.shape[1])
        if float(np.mean(highs[:, n] >= least)) >= WORTH_SAYING
    ] or [view.today + timedelta(days=int(np.argmax(highs.mean(axis=0))))]
    names = list(dict.fromkeys(view.plants(life.planting) for life in lives))
    named = names if len(names) <= MOST_NAMED else [*names[: MOST_NAMED - 1], "others"]
    yield Danger(
        name="protect-heat/garden",
        says=f"Great heat {in_ten(chance)}, {span_words(days[0], days[-1])}",
        where=beds_words([view.where(life.planting) for life in lives]),
        detail=f"To about {view.degrees(round(float(np.median(hottest))))}. Water in the early morning, pick what is "
        f"ready, shade {listing(named)} at midday; keep out of the beds in the worst of it yourself.",
        reasons=_reasons(view, lives, chance, least),
        of=tuple(life.planting.id for life in lives),
        days=tuple(days),
        chance=chance,
    )


def _limit_c(view: SeasonView, life: Life) -> float | None:
    """Day maximum at which a standing planting in the open suffers in earnest; None where it is out of danger."""
    if not life.standing or view.seems_killed(life):
        return None
    up = life.stage("emerged")
    if up is not None and up.by(view.today) < 0.5:
        return None
    shaded = (e for e in life.sightings.of("protect") if "shade" in str(e.payload.get("what")).lower())
    if any((as_day(e.payload.get("until")) or e.happened) >= view.today for e in shaded):
        return None
    limit = view.fact(life.planting, "heat_limit_day_c")
    return None if limit is None else max(limit.number + BEYOND_C, LEAST_C)


def _reasons(view: SeasonView, lives: list[Life], chance: float, least: float) -> tuple[Reason, ...]:
    facts = dict.fromkeys(
        from_fact(fact, view.handbook, f"{view.plants(life.planting).capitalize()}: {says}")
        for life in lives
        for quantity, says in (("heat_limit_day_c", "days as hot as this slow it."), ("heat_effect", "in heat."))
        if (fact := view.fact(life.planting, quantity)) is not None
    )
    return (
        Reason(
            f"{view.degrees(least)} or more within three days.",
            round(chance, 2),
            "chance",
            RestsOn("computed", "forecast and possible seasons", view.ensemble.source),
            (from_judgement("Called great heat from so much above the day that slows it.", BEYOND_C, "°C difference"),),
        ),
        *facts,
    )
