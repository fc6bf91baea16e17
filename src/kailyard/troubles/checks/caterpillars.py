"""Is it a plant that is grown for caterpillars to eat?"""

from __future__ import annotations

from collections.abc import Iterator

from kailyard.documents._parts import RestsOn
from kailyard.troubles.case import Case
from kailyard.troubles.verdict import Finding

NAME = "butterfly plants"
_GROUND = RestsOn("common practice", "trade rule: butterfly host plants are not treated", "cautions")


def check(case: Case) -> Iterator[Finding]:
    """Milkweed and its like are never treated: what eats them is what they were planted for."""
    if case.host_of_butterflies:
        says = f"{case.plants[0].upper()}{case.plants[1:]} feed caterpillars that are wanted: nothing is put on them."
        yield Finding(NAME, "never", says, _GROUND)
    else:
        yield Finding(NAME, "may", "No plant that is grown for caterpillars.", _GROUND)
    if case.remedy is not None and "caterpillar-killer" in case.remedy.classes:
        says = "It kills caterpillars of butterflies too: let none of it reach milkweed or other plants grown for them."
        yield Finding(NAME, "may", says, _GROUND, beside=True)
