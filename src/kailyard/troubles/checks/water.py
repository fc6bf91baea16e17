"""Is water near?"""

from __future__ import annotations

from collections.abc import Iterator

from kailyard.troubles.case import Case, asked, by_rule, read_it, typed
from kailyard.troubles.label import silent
from kailyard.troubles.verdict import Finding

NAME = "water"


def check(case: Case) -> Iterator[Finding]:
    """The label's distance is the rule; what lies near is seen on the spot."""
    label = case.label
    if label.water_m is None and not silent(label, "water_m"):
        yield read_it(case, NAME, "the distance to water")
    elif label.water_m is not None:
        yield Finding(NAME, "may", f"The label asks for {label.water_m:g} m to open water.", typed(case), beside=True)
    yield asked(case, NAME, "water-away", "Water, a ditch or a drain lies too near.")
    if case.remedy is not None and "pyrethroid" in case.remedy.classes:
        says = "Never on paving, into drains or ditches, or in rain; no watering until it runs off."
        yield Finding(NAME, "may", says, by_rule("S28"), beside=True)
