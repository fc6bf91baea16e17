"""How many uses are left this season?"""

from __future__ import annotations

from collections.abc import Iterator

from kailyard.troubles.case import Case, read_it, typed
from kailyard.troubles.label import same_active, silent
from kailyard.troubles.verdict import Finding

NAME = "uses left"


def times(n: int) -> str:
    """'once', '3 times'."""
    return {0: "not yet", 1: "once", 2: "twice"}.get(n, f"{n} times")


def check(case: Case) -> Iterator[Finding]:
    """Counted over the calendar year, by active ingredient under whatever name; what is unknown counts against."""
    season = [t for t in case.all_uses() if t.day.year == case.day.year and t.day <= case.day]
    same = [t for t in season if same_active(case.record, t)]
    allowed = [t.record.label.most_uses for t in same if t.record is not None and t.record.label.most_uses is not None]
    most = None if case.label.most_uses is None else min([case.label.most_uses, *allowed])
    lost = [t for t in season if t.record is None]
    if most is None:
        if silent(case.label, "most_uses"):
            yield Finding(NAME, "may", "The label names no most uses in a season.", typed(case))
        else:
            yield read_it(case, NAME, "the most uses in a season")
    elif len(same) >= most:
        says = f"Used {times(len(same))} this season on {case.plants} in {case.bed}; the label allows {most}."
        yield Finding(NAME, "never", says, typed(case))
    elif len(same) + len(lost) >= most:
        one = len(lost) == 1
        others = f"{'one treatment has' if one else f'{len(lost)} treatments have'} no label record"
        says = f"Used {times(len(same))}, and {others}; the label allows {most}."
        yield Finding(NAME, "unknown", says, typed(case))
    else:
        yield Finding(NAME, "may", f"Use {len(same) + 1} of {most} this season.", typed(case))
