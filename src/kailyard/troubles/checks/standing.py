"""Does it stand in the bed at all?"""

from __future__ import annotations

from collections.abc import Iterator

from kailyard.documents._parts import RestsOn
from kailyard.troubles.case import Case
from kailyard.troubles.verdict import Finding

NAME = "planting"
_GROUND = RestsOn("observed", "daybook", "")


def check(case: Case) -> Iterator[Finding]:
    """What is cleared is never sprayed; what nobody has sown or set out is unknown."""
    if case.cleared is not None and case.cleared <= case.day:
        says = f"It was cleared on {case.cleared:%d %B %Y}.".replace(" 0", " ")
        yield Finding(NAME, "never", says, _GROUND)
    elif not case.begun:
        yield Finding(NAME, "unknown", "Nobody has entered that it was sown, planted or set out.", _GROUND)
    else:
        yield Finding(NAME, "may", f"{case.plants[0].upper()}{case.plants[1:]} stand in {case.bed}.", _GROUND)
