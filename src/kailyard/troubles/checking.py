"""Whether a label's product may be put on a planting at an hour, or on a day, and every reason why or why not.

The label is the law. Every check of the register is asked; one that finds nothing is unknown, and unknown is never yes.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta

from kailyard import discover
from kailyard.documents._parts import RestsOn
from kailyard.troubles.case import Case
from kailyard.troubles.verdict import STERNNESS, Finding, Verdict, verdict

CHECKS = "kailyard.troubles.checks"
_SILENT = RestsOn("computed", "Kailyard", "")


def check(case: Case) -> Verdict:
    """The verdict of an hour; or of the day's best hour where none is named and the weather by the hour is known.

    Of a day the hours from now on count. Where nothing by the hour is known, what rests on the hour is unknown.
    """
    if case.hour is not None:
        return _at(case)
    hours = [h for h in sorted(case.weather.hours) if h.date() == case.day and h + timedelta(hours=1) > case.now]
    if not hours:
        return _at(case)
    found = [_at(replace(case, hour=h)) for h in hours]
    return min(found, key=lambda v: (-STERNNESS[v.answer], len(v.against), v.hour or case.now))


def _at(case: Case) -> Verdict:
    findings: dict[tuple[str, str, str, bool], Finding] = {}
    for part in case.record.parts():  # of a mixture each active ingredient is asked about: the sternest holds
        for module in discover.modules(CHECKS):
            own = list(module.check(replace(case, record=part)))
            if not any(not f.beside for f in own):
                own.append(Finding(module.NAME, "unknown", "Nothing is known of it.", _SILENT))
            for f in own:
                findings.setdefault((f.check, f.answer, f.says, f.beside), f)
    if _past(case):
        findings["hour", "never", "", False] = Finding("hour", "never", "That hour is over.", _SILENT)
    return verdict(findings.values(), hour=case.hour)


def _past(case: Case) -> bool:
    end: datetime = case.morning(case.day + timedelta(days=1)) if case.hour is None else case.hour + timedelta(hours=1)
    return end <= case.now
