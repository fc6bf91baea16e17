"""Weather for diseases: one line where a published rule makes it likely that the coming week favours one."""

from __future__ import annotations

from collections.abc import Iterator

from kailyard.documents._parts import Reason
from kailyard.documents.risk import RuleRisk
from kailyard.garden.model import Garden
from kailyard.season.measures import beds_words, listing
from kailyard.season.view import SeasonView
from kailyard.season.windows import Look

NAME = "weather for diseases"
SCOPE = "garden"

LIKELY = 0.5
"""Chance in the coming week from which the sheet speaks of it."""
MOST_TOLD = 2
"""Diseases that the line names with their odds; the page has them all."""


def windows(view: SeasonView, garden: Garden) -> Iterator[Look]:
    """One line for all diseases that the week is likely to favour."""
    if not any(life.standing for life in view.lives.values()):
        return
    # Nothing of it is loaded for a garden in which nothing stands.
    from kailyard.troubles.risk import rules_told
    from kailyard.troubles.risk_groups import hosts

    told: dict[str, RuleRisk] = {}
    for rule in rules_told(view, hosts(view))[
        0
    ]:  # the likeliest first; of several rules for one disease the likeliest speaks
        if (rule.coming_week or 0.0) >= LIKELY and not _reached(rule):
            told.setdefault(rule.troubles[0] if rule.troubles else rule.model, rule)
    if not told:
        return
    named = [f"{rule.name} {_odds(rule)}" for rule in list(told.values())[:MOST_TOLD]]
    more = f" and {len(told) - MOST_TOLD} more" if len(told) > MOST_TOLD else ""
    here = [view.garden.plantings[id_] for rule in told.values() for id_ in rule.plantings]
    beds = dict.fromkeys(view.where(p) for p in here)
    yield Look(
        name="disease-weather/week",
        says="Weather for diseases",
        where=beds_words(list(beds)),
        detail=f"On some day of the week, reckoned from days: {', '.join(named) if more else listing(named)}{more}. "
        "Where its spores are about it can catch: look at the plants a few days later.",
        reasons=tuple(
            Reason(f"{rule.name[0].upper()}{rule.name[1:]}.", because=rule.reasons) for rule in told.values()
        ),
        of=tuple(dict.fromkeys(p.id for p in here)),
        urgency=0.7,
    )


def _reached(rule: RuleRisk) -> bool:
    """A sum that stands above its level already was told when it came to it."""
    return rule.sum_so_far is not None and rule.sum_so_far >= rule.level


def _odds(rule: RuleRisk) -> str:
    ten = round(10 * (rule.coming_week or 0.0))
    return "almost certainly" if ten >= 10 else f"{ten} in 10"
