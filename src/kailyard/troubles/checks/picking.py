"""How long is nothing picked, and what does that cost?"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta

from kailyard.troubles.case import Case, read_it, typed
from kailyard.troubles.label import picking_days
from kailyard.troubles.verdict import Finding

NAME = "picking"


def check(case: Case) -> Iterator[Finding]:
    """Days to picking off the label; their cost in pickings stands beside. 0 is a figure like any other."""
    days = picking_days(case.label, case.crop, case.crop_names)
    if case.edible is False:
        yield Finding(NAME, "may", "Nothing of it is eaten.", typed(case))
        return
    if days is None:
        yield read_it(case, NAME, f"the days from spraying to picking {case.plants}")
        return
    first, free = case.day, case.day + timedelta(days=days)
    if days == 0:
        says = (
            "The label asks for no days before picking; pick before it is sprayed all the same, and wash what is eaten."
        )
        yield Finding(NAME, "may", says, typed(case))
        return
    last = free - timedelta(days=1)
    says = f"Nothing is picked for {days} day{'s' if days > 1 else ''}: again from {free:%d %B}.".replace(" 0", " ")
    yield Finding(NAME, "may", says, typed(case))
    cost = case.cost(first, last)
    words = cost.words if cost.known and cost.words else "What that costs in pickings cannot be told."
    yield Finding(NAME, "may", words, typed(case), beside=True)
    if case.next_picking is not None and case.next_picking <= last:
        yield Finding(NAME, "may", "A picking falls into these days: pick first.", typed(case), beside=True)
