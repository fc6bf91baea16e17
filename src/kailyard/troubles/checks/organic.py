"""Does it keep the organic rules, where the garden holds to them?"""

from __future__ import annotations

from collections.abc import Iterator

from kailyard.troubles.case import GARDEN_RULES, Case, by_fact, read_it, typed
from kailyard.troubles.verdict import Finding

NAME = "organic rules"


def check(case: Case) -> Iterator[Finding]:
    """Only what the label shows as listed, and never what the rules shut out. Organic is not harmless."""
    if not case.rules.organic:
        yield Finding(NAME, "may", "The garden has not declared organic rules.", GARDEN_RULES)
        return
    remedy = case.remedy
    said = remedy.facts.get("organic_status") if remedy else None
    if said is not None and said.value.startswith("not allowed"):
        yield Finding(NAME, "never", "Organic rules shut it out.", by_fact(said, remedy))
    elif case.label.organic is None:
        yield read_it(case, NAME, "whether it is listed for organic growing")
    elif not case.label.organic:
        yield Finding(NAME, "never", "Its label is not listed for organic growing.", typed(case))
    else:
        yield Finding(NAME, "may", "Listed for organic growing. Organic is not harmless.", typed(case))
