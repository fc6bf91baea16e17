"""Have its plants got over sprouting, or being set out?"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta

from kailyard.documents._parts import RestsOn
from kailyard.troubles.case import Case, by_weather
from kailyard.troubles.verdict import Finding

NAME = "young plants"
SET_OUT_DAYS = 7
"""So long plants that were set out or planted are soft. (ours)"""
SPROUTED_DAYS = 14
"""So long seedlings are, once up. (ours)"""
BURN = frozenset({"oil", "soap", "sulfur", "copper", "bicarbonate", "oxidizer"})
"""What burns soft leaves."""
_GROUND = RestsOn(
    "common practice", "handbook: soft, wilted or newly transplanted leaves burn", "neem oil, crop cautions"
)


def check(case: Case) -> Iterator[Finding]:
    """What burns waits until they are settled; where nobody has written when they began, that is unknown."""
    burns = bool(BURN & case.record.classes) or case.remedy is None
    if not burns:
        yield Finding(NAME, "may", "Nothing that burns soft leaves.", _GROUND)
        if case.settled is not None and case.day < case.settled:
            yield Finding(NAME, "may", "The plants are young: try it on a few leaves first.", _GROUND, beside=True)
    elif case.settled is None:
        says = "When they came up or were set out is unknown, and it burns soft leaves."
        yield Finding(NAME, "unknown", says, by_weather(case))
    elif case.day < case.settled:
        last = case.settled - timedelta(days=1)
        says = f"The plants are soft until about {last:%d %B}, and it burns soft leaves.".replace(" 0", " ")
        yield Finding(NAME, "not now", says, _GROUND, until=case.morning(case.settled))
    else:
        yield Finding(NAME, "may", "The plants are no longer seedlings.", _GROUND)
