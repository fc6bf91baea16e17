"""Is the mode of action changed often enough, so that nothing grows used to it?"""

from __future__ import annotations

import re
from collections.abc import Iterator

from kailyard.documents._parts import RestsOn
from kailyard.troubles.case import Case, by_daybook, read_it, typed
from kailyard.troubles.checks.uses import times
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
_SCHEME = re.compile(r"\b(FRAC|IRAC|HRAC|WSSA)\b", re.IGNORECASE)
_CODE = re.compile(r"(?:BM|[MPU]|UN)?\s?\d{1,2}[A-Z]?|UN[BEFMPV]?|NC|[A-Z]", re.IGNORECASE)
_FILLER = re.compile(r"\b(?:codes?|groups?|and|moa|no|fungicides?|insecticides?|herbicides?)\b|[.:#]", re.IGNORECASE)
_NO_CLASS = frozenset({"IRAC UN", "IRAC UNM", "IRAC UNE", "IRAC UNF", "FRAC NC"})
"""No mode of action is named by these: there is nothing to be changed."""


def groups(text: str) -> frozenset[str]:
    """Groups as one reads them off a label: 'FRAC M02', 'IRAC 3' (3A and 3B share a target), 'HRAC 4'."""
    return _read(text)[0] - _NO_CLASS


def unread(text: str) -> bool:
    """Whether some of a label's group cannot be read: no scheme, no code, or something that is none."""
    found, left = _read(text)
    return bool(left) or not found


def _read(text: str) -> tuple[frozenset[str], str]:
    """Codes by their scheme, and what of the text is none: 'FRAC 3 + 11', 'FRAC code M2; IRAC UN'."""
    plain = re.sub(r"\([^)]*\)", " ", text)
    parts = _SCHEME.split(plain)
    found, left = set[str](), parts[0].strip(" ;,/+&")
    for who, said in zip(parts[1::2], parts[2::2], strict=True):
        scheme = "HRAC" if who.upper() == "WSSA" else who.upper()
        for word in re.split(r"[;,/+&]|\s+(?=\S)(?<!\bM )(?<!\bBM )(?<!\bP )(?<!\bU )", _FILLER.sub(" ", said)):
            code = " ".join(word.split())
            if not code:
                continue
            if _CODE.fullmatch(code) is None:
                left += code
                continue
            found.add(f"{scheme} {_as_listed(scheme, code.upper().replace(' ', ''))}")
    return frozenset(found), left


def _as_listed(scheme: str, code: str) -> str:
    """'M2' and 'M02' are one group, and 3A and 3B share a target."""
    letters = code[: len(code) - len(code.lstrip("ABCDEFGHIJKLMNOPQRSTUVWXYZ"))]
    digits = "".join(c for c in code if c.isdigit())
    sub = code[len(letters) + len(digits) :]
    number = digits.lstrip("0") if not letters else digits.zfill(2) if digits else ""
    return f"{letters}{number}{'' if scheme == 'IRAC' and digits else sub}"


def check(case: Case) -> Iterator[Finding]:
    """By the label's group; those of the handbook only speak against."""
    if not case.label.group and not silent(case.label, "group"):
        yield read_it(case, NAME, "its group (FRAC, IRAC or HRAC)")
    mine = _groups_of(case.record)
    season = [t for t in case.all_of_the_crop() if t.day.year == case.day.year and t.day <= case.day]
    clean = True
    if case.label.group and unread(case.label.group):
        clean = False
        says = (
            f"‘{case.label.group}’ is no group that can be read: type it as on the label, FRAC M02, IRAC 11A, HRAC 4."
        )
        yield Finding(NAME, "unknown", says, typed(case))
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
            how = f"{'One spray' if done == 1 else f'{done} sprays'} in a row of {group}: another group comes between"
        else:
            most, done = INSECTICIDE_USES, uses
            how = f"{group} was used {times(done)} this season: another group, or another way"
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
    known = frozenset[str]().union(*(_of_handbook(r.said("group_code")) for r in record.remedies))
    return groups(record.label.group) | known


def _of_handbook(text: str) -> frozenset[str]:
    """Only what a scheme's name and a code stand for: the handbook says more beside."""
    told = re.findall(r"(?:FRAC|IRAC|HRAC)(?:/WSSA)? (?:BM|[MPU])?\d+[A-Z]?\b", text)
    return frozenset[str]().union(*(groups(t) for t in told))


def _same_kind(group: str, record: Record) -> bool:
    """Sprays against insects do not come between sprays against fungi."""
    return any(g.split()[0] == group.split()[0] for g in _groups_of(record))


def _known(record: Record) -> bool:
    return (
        (bool(record.label.group) and not unread(record.label.group))
        or silent(record.label, "group")
        or record.remedy is not None
    )
