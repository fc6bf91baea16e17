"""Was something put on before of which nothing is written down?"""

from __future__ import annotations

from collections.abc import Iterator

from kailyard.troubles.case import Case, by_daybook, typed
from kailyard.troubles.label import waits, why_unknown
from kailyard.troubles.verdict import Finding

NAME = "treated before"
FORGOTTEN_DAYS = 365
"""So long a treatment without a label record is held against what follows it: labels name waits up to a season."""


def check(case: Case) -> Iterator[Finding]:
    """A treatment without its label record makes picking, gaps and uses unknown."""
    lost = [
        t
        for t in case.treatments
        if (t.record is None or (case.edible is not False and waits(t, case.crop, case.crop_names) is None))
        and 0 <= (case.day - t.day).days <= FORGOTTEN_DAYS
    ]
    for t in lost:
        what = why_unknown(t, case.crop, case.crop_names)
        says = f"{t.day:%d %B}: {t.says}; {what}. When picking is free again is unknown.".replace(" 0", " ").lstrip("0")
        yield Finding(NAME, "unknown", says, by_daybook(t.entry))
    if not lost:
        yield Finding(NAME, "may", "No treatment without its label record.", typed(case))
