"""Is it a plant that is grown for caterpillars to eat?"""

from __future__ import annotations

from collections.abc import Iterator

from kailyard.documents._parts import RestsOn
from kailyard.troubles.case import Case
from kailyard.troubles.verdict import Finding

NAME = "butterfly plants"
_GROUND = RestsOn("common practice", "trade rule: butterfly host plants are not treated", "cautions")


_KILLERS = frozenset({"caterpillar-killer", "pyrethroid", "carbamate", "organophosphate", "systemic"})


def check(case: Case) -> Iterator[Finding]:
    """Milkweed and its like are never treated: what eats them is what they were planted for."""
    if case.host_of_butterflies:
        says = f"{case.plants[0].upper()}{case.plants[1:]} feed caterpillars that are wanted: nothing is put on them."
        yield Finding(NAME, "never", says, _GROUND)
    elif case.hosts_in_bed and case.remedy is None:
        says = f"In the same bed stand {_named(case.hosts_in_bed)}; whether it kills caterpillars is unknown."
        yield Finding(NAME, "unknown", says, _GROUND)
    elif case.hosts_in_bed and _kills(case):
        says = f"In the same bed stand {_named(case.hosts_in_bed)} for caterpillars, and it would kill them."
        yield Finding(NAME, "never", says, _GROUND)
    else:
        yield Finding(NAME, "may", "No plant that is grown for caterpillars.", _GROUND)
    if _kills(case):
        where = f": here {_named(case.hosts_near)}" if case.hosts_near else ""
        says = f"It kills caterpillars of butterflies too: let none of it reach plants grown for them{where}."
        yield Finding(NAME, "may", says, _GROUND, beside=True)


def _kills(case: Case) -> bool:
    return bool(_KILLERS & case.record.classes)


def _named(things: tuple[str, ...]) -> str:
    return f"{', '.join(things[:-1])} and {things[-1]}" if len(things) > 1 else things[0]
