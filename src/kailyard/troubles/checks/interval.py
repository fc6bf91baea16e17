"""Is it long enough since it was used last?"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta

from kailyard.troubles.case import Case, by_daybook, by_fact, by_label, read_it, typed
from kailyard.troubles.label import same_active, silent
from kailyard.troubles.verdict import Finding

NAME = "interval"


def check(case: Case) -> Iterator[Finding]:
    """The longest of this label's, the last one's and the handbook's days; the same crop in the same bed counts."""
    label, remedy = case.label, case.remedy
    last = [t for t in case.all_uses() if t.day <= case.day and same_active(case.record, t)][-1:]
    if not last:
        if label.least_interval_days is None and not silent(label, "least_interval_days"):
            yield read_it(case, NAME, "the least days between two uses")
        else:
            yield Finding(NAME, "may", "Not used here before.", typed(case))
        return
    named = remedy.number("repeat_min_days") if remedy else None
    other = last[0].record.label.least_interval_days if last[0].record else None
    told = [d for d in (label.least_interval_days, named, other) if d is not None]
    if label.least_interval_days is None and not silent(label, "least_interval_days"):
        yield read_it(case, NAME, "the least days between two uses")
    if not told:
        yield Finding(NAME, "unknown", "Used before, and nobody names the days between.", by_daybook(last[0].entry))
        return
    days = max(told)
    ground = typed(case)
    if other == days and last[0].record is not None:
        ground = by_label(last[0].record)
    elif named == days:
        ground = by_fact(remedy.ground("repeat_min_days") if remedy else None, remedy)
    free = last[0].day + timedelta(days=round(days))
    if case.day < free:
        where = "" if last[0].target in (case.planting, case.bed_id) else f" on other {case.plants} in the same bed"
        says = f"Used{where} on {last[0].day:%d %B}; {days:g} days lie between two uses.".replace(" 0", " ")
        yield Finding(NAME, "not now", says, ground, until=case.morning(free))
    else:
        yield Finding(NAME, "may", f"At least {days:g} days since it was used last.", ground)
