"""How many uses are left this season?"""

from __future__ import annotations

from collections.abc import Iterator

from kailyard.troubles.case import Case, read_it, typed
from kailyard.troubles.label import same_active, silent
from kailyard.troubles.verdict import Finding

NAME = "uses left"


def check(case: Case) -> Iterator[Finding]:
    """Counted over the calendar year, by active ingredient under whatever name; what is unknown counts against."""
    most = case.label.most_uses
    season = [t for t in case.treatments if t.day.year == case.day.year and t.day <= case.day]
    same = [t for t in season if same_active(case.record, t)]
    lost = [t for t in season if t.record is None]
    if most is None:
        if silent(case.label, "most_uses"):
            yield Finding(NAME, "may", "The label names no most uses in a season.", typed(case))
        else:
            yield read_it(case, NAME, "the most uses in a season")
    elif len(same) >= most:
        says = f"Used {len(same)} times this season on {case.plants}; the label allows {most}."
        yield Finding(NAME, "never", says, typed(case))
    elif len(same) + len(lost) >= most:
        says = f"Used {len(same)} times, and {len(lost)} treatments have no label record; the label allows {most}."
        yield Finding(NAME, "unknown", says, typed(case))
    else:
        yield Finding(NAME, "may", f"Use {len(same) + 1} of {most} this season.", typed(case))
