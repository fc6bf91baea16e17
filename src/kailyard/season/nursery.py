"""Under cover: when seed sown there comes up, at the warmth that its handbook facts give."""

from __future__ import annotations

from datetime import date

import numpy as np

from kailyard.documents._parts import Reason, RestsOn
from kailyard.season.draws import normal_point, strata
from kailyard.season.ladder import EMERGENCE_SPREAD
from kailyard.season.life import Life
from kailyard.season.measures import day_words
from kailyard.season.odds import DayArray
from kailyard.season.reasons import from_entry, from_fact
from kailyard.season.view import SeasonView

PRINTED_AT_C = (5, 10, 15, 20, 25, 30, 35)
"""Soil temperatures for which days to emergence are printed."""

ROOM_C = 20.0
"""Warmth of the compost where the handbook has no better."""


def up_under_cover(view: SeasonView, life: Life) -> DayArray | None:
    """Day on which a sowing under cover came or comes up, ordinals (1, draws); None where nothing tells.

    What was seen wins; else the days printed for the warmth at which the crop is raised.
    """
    known = life.sightings.stages.get("emerged")
    if known is not None and known.seen is not None:
        return np.full((1, view.draws), known.seen.toordinal(), dtype=np.int32)
    days, sown = emergence_days(view, life), life.sightings.sown
    if days is None or sown is None:
        return None
    spread = np.exp(EMERGENCE_SPREAD * normal_point(strata(view.draws, f"{life.planting.id}/under-cover")))
    up = sown.toordinal() + np.rint(days * spread)[None, :]
    if known is not None and known.not_yet is not None:
        up = np.maximum(up, known.not_yet.toordinal() + 1)
    return up.astype(np.int32)


def emergence_days(view: SeasonView, life: Life) -> float | None:
    """Days from sowing under cover to coming up; None where no table has them."""
    warm = view.number(life.planting, "raise_soil_c", ROOM_C)
    there = [
        (float(c), fact.number)
        for c in PRINTED_AT_C
        if (fact := view.fact(life.planting, f"emerge_days_{c}c")) is not None and not isinstance(fact.value, str)
    ]
    if not there:
        return None
    return float(np.interp(warm, [c for c, _ in there], [days for _, days in there]))


def up_reason(view: SeasonView, life: Life) -> Reason:
    """From when the days under cover are counted, and why."""
    known = life.sightings.stages.get("emerged")
    if known is not None and known.seen is not None and known.seen_entry is not None:
        return from_entry(known.seen_entry, f"Seen coming up by {day_words(known.seen)}.")
    days, sown = emergence_days(view, life), life.sightings.sown
    warm = round(view.number(life.planting, "raise_soil_c", ROOM_C) / 5) * 5
    named = (
        ("raise_soil_c", "The compost under cover."),
        (f"emerge_days_{warm}c", "Days to emergence near that warmth."),
    )
    facts = tuple(
        from_fact(f, view.handbook, says) for q, says in named if (f := view.fact(life.planting, q)) is not None
    )
    return Reason(
        f"Sown under cover on {day_words(sown or date.min)}; up so many days later.",
        None if days is None else round(days, 1),
        "days" if days is not None else "",
        RestsOn("computed", "days to emergence at the warmth of the compost", ""),
        facts,
    )
