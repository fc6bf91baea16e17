"""Is the mode of action changed often enough, so that nothing grows used to it?"""

from __future__ import annotations

import re
from collections.abc import Iterator

from kailyard.documents._parts import RestsOn
from kailyard.troubles.case import Case, by_daybook, read_it, typed
from kailyard.troubles.label import Record, silent
from kailyard.troubles.verdict import Finding

NAME = "change of group"
ONCE = frozenset({"FRAC 1", "FRAC 4", "FRAC 9", "FRAC 11", "FRAC 17"})
"""Fungicide groups of which one spray is followed by another group. (University of California)"""
IN_A_ROW = 2
"""Sprays in a row of any other fungicide group, before it is changed. (University of California)"""
INSECTICIDE_USES = 2
"""Uses of one insecticide group in a season. (University of California)"""
_RULE = RestsOn(
    "published", "University of California IPM, Tomato Pest Management Guidelines: general properties of fungicides", ""
)
_ONE = re.compile(r"(FRAC|IRAC|HRAC)(?:/WSSA)?\s*([A-Z]*\d+[A-Z]?|[A-Z]+)", re.IGNORECASE)
_NO_CLASS = frozenset({"IRAC UN", "IRAC UNM", "IRAC UNE", "IRAC UNF", "FRAC NC"})
"""No mode of action is named by these: there is nothing to be changed."""


def groups(text: str) -> frozenset[str]:
    """Groups as one reads them off a label: 'FRAC M02', 'IRAC 3' (3A and 3B share a target), 'HRAC 4'."""
    found = set()
    for who, code in _ONE.findall(text):
        name = f"{who.upper()} {code.upper()}"
        if name in _NO_CLASS:
            continue
        found.add(re.sub(r"^(IRAC \d+)[A-Z]$", r"\1", name))
    return frozenset(found)


def check(case: Case) -> Iterator[Finding]:
    """By the label's group; those of the handbook only speak against."""
    if not case.label.group and not silent(case.label, "group"):
        yield read_it(case, NAME, "its group (FRAC, IRAC or HRAC)")
    mine = _groups_of(case.record)
    season = [t for t in case.treatments if t.day.year == case.day.year and t.day <= case.day]
    clean = True
    for group in sorted(mine):
        row = 0
        for t in reversed(season):
            if t.record is None or not _known(t.record):
                continue  # it may have been of any group: it breaks no row
            if group in _groups_of(t.record):
                row += 1
            elif _same_kind(group, t.record):
                break
        uses = sum(t.record is not None and group in _groups_of(t.record) for t in season)
        lost = [t for t in season if t.record is None or not _known(t.record)]
        if group.startswith("FRAC"):
            most, done = (1 if group in ONCE else IN_A_ROW), row
            how = f"{done} in a row of {group}: another group comes between"
        else:
            most, done = INSECTICIDE_USES, uses
            how = f"{group} was used {done} times this season: another group, or another way"
        if done >= most:
            clean = False
            yield Finding(NAME, "not now", f"{how[0].upper()}{how[1:]}.", _RULE)
        elif lost and done + len(lost) >= most:
            clean = False
            says = f"What was put on on {lost[-1].day:%d %B} has no group: whether it is changed is unknown."
            yield Finding(NAME, "unknown", says.replace(" 0", " "), by_daybook(lost[-1].entry))
    if clean:
        yield Finding(NAME, "may", "The group is changed often enough.", _RULE if mine else typed(case))


def _groups_of(record: Record) -> frozenset[str]:
    remedy = record.remedy
    return groups(record.label.group) | (groups(remedy.said("group_code")) if remedy else frozenset())


def _same_kind(group: str, record: Record) -> bool:
    """Sprays against insects do not come between sprays against fungi."""
    return any(g.split()[0] == group.split()[0] for g in _groups_of(record))


def _known(record: Record) -> bool:
    return bool(record.label.group) or silent(record.label, "group") or record.remedy is not None
