"""When may somebody go in again, and who is expected before?"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta

from kailyard.troubles.case import Case, read_it, typed
from kailyard.troubles.verdict import Finding

NAME = "going in again"


def check(case: Case) -> Iterator[Finding]:
    """Entry off the label, against classes and open days; other visits are warned of."""
    label = case.label
    if label.entry_hours is None and not label.until_dry:
        yield read_it(case, NAME, "when somebody may go in again")
        return
    start = case.hour or case.morning(case.day)
    whole_day = timedelta(hours=24) if case.hour is None else timedelta(0)
    end = start + whole_day + timedelta(hours=label.entry_hours or 0.0)
    kept_out = f"{label.entry_hours:g} hours" if label.entry_hours else "no hours"
    kept_out += ", and until it has dried" if label.until_dry else ""
    inside = [v for v in case.coming if case.day <= v.day <= end.date()]
    for visit in inside:
        if visit.what:
            who = f"{visit.what[0].upper()}{visit.what[1:]}"
            says = f"{who} on {visit.day:%d %B}: the label keeps people out for {kept_out}."
            free = case.morning(visit.day + timedelta(days=1))
            yield Finding(NAME, "not now", says.replace(" 0", " "), typed(case), until=free)
        else:
            says = f"Somebody is expected on {visit.day:%d %B}: keep out for {kept_out}.".replace(" 0", " ")
            yield Finding(NAME, "may", says, typed(case), beside=True)
    if not any(v.what for v in inside):
        yield Finding(NAME, "may", f"Nobody goes in for {kept_out}.", typed(case))
