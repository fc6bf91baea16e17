"""Dry days ahead: when a crop that is lifted or cut to be cured gets the weather it wants."""

from __future__ import annotations

from datetime import date, timedelta

import numpy as np

from kailyard.documents._parts import Reason, RestsOn
from kailyard.season.life import Life
from kailyard.season.measures import day_words, in_ten
from kailyard.season.reasons import from_fact
from kailyard.season.view import SeasonView

DRY_MM = 1.0
"""A day of less rain than this counts as dry."""

AHEAD_DAYS = 10
"""Dry spells are looked for so far ahead; beyond it one week is as likely dry as the next."""

LIKELIER = 0.1
"""A later spell is named first only where it is surer dry by so much: lifting waits for no small gain."""


def driest(view: SeasonView, days: int) -> tuple[date, float, float]:
    """The day from which `days` days are likeliest all dry, its chance, and that of beginning today."""
    at = view.ensemble.today_index
    wet = view.ensemble.rain_mm[:, at : at + AHEAD_DAYS + days] >= DRY_MM
    chances = [float(np.mean(~wet[:, n : n + days].any(axis=1))) for n in range(AHEAD_DAYS)]
    best = int(np.argmax(chances))
    if chances[best] - chances[0] < LIKELIER:
        best = 0
    return view.today + timedelta(days=best), chances[best], chances[0]


def to_lift_in(view: SeasonView, life: Life) -> tuple[str, tuple[Reason, ...]]:
    """Which of the next days are likely dry enough to lift, in words, and its ground; empty where it matters not."""
    fact = view.fact(life.planting, "lift_dry_days_max")
    if fact is None or not fact.number:
        return "", ()
    days = round(fact.number)
    day, chance, now = driest(view, days)
    spell = "a dry day" if days == 1 else f"{days} dry days"
    said = f"{spell} from {day_words(day)}: {in_ten(chance)}"
    if day != view.today:
        said += f" (from today {in_ten(now)})"
    ground = Reason(
        f"Days of less than {DRY_MM:g} mm, one after the other, from {day_words(day)}.",
        round(chance, 2),
        "chance",
        RestsOn("computed", "forecast and possible seasons", view.ensemble.source),
        (from_fact(fact, view.handbook, "So many dry days are wanted about lifting."),),
    )
    return said, (ground,)
