"""Is whoever sprays dressed for it, and everybody else away?"""

from __future__ import annotations

from collections.abc import Iterator

from kailyard.troubles.case import GARDEN_RULES, Case, asked, by_rule
from kailyard.troubles.verdict import Finding

NAME = "people"


def check(case: Case) -> Iterator[Finding]:
    """Seen on the spot."""
    yield asked(case, NAME, "nobody-near", "Somebody, a child or a pet is in or beside the bed.")
    yield asked(case, NAME, "gear", "Not without what the label asks to be worn.")
    if case.rules.children:
        says = "Children garden here: tell who brings them, mark the bed, and lock the product away."
        yield Finding(NAME, "may", says, GARDEN_RULES, beside=True)
    says = "Long sleeves, long trousers, closed shoes, gloves, eyes covered; more if the label says so."
    yield Finding(NAME, "may", says, by_rule("S35"), beside=True)
