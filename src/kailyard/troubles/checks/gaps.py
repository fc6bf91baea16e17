"""Is it far enough from what else was put on, in both directions?"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

from kailyard.documents._parts import RestsOn
from kailyard.handbook.remedies import Gap, gaps
from kailyard.troubles.case import Case, by_daybook, read_it, typed
from kailyard.troubles.label import Record, Treatment, gap_to, same_active, silent
from kailyard.troubles.verdict import Finding

NAME = "gaps"
LONGEST_DAYS = 400
"""No label names a longer gap than this: the entry takes none."""
LOOK_BACK_DAYS = 60
"""A gap that nobody has typed is asked for after what was put on so lately; a typed one holds as long as it says."""

_WORDS = {"fungus-insecticide": "living fungus against insects", "oxidizer": "peroxide", "bacillus": "living bacteria"}


def check(case: Case) -> Iterator[Finding]:
    """Each earlier treatment by another active: this label's days, that label's days, the handbook's; the most hold."""
    others = [t for t in case.treatments if not same_active(case.record, t) or _holds_more(case.record, t)]
    recent = [t for t in others if 0 <= (case.day - t.day).days <= LONGEST_DAYS]
    for t in recent:
        yield from _between(case, t)
    if not recent:
        yield Finding(NAME, "may", "Nothing else was put on of late.", typed(case))
    for gap in gaps():
        theirs = _other_side(gap, case.record)
        if theirs and gap.days:
            says = f"After it, {gap.days:g} days before any {_WORDS.get(theirs, theirs)}: {gap.says}."
            yield Finding(NAME, "may", says, _ground(gap), beside=True)


def _holds_more(record: Record, t: Treatment) -> bool:
    """Whether another product that shares an active ingredient holds one more: then that one keeps its distance."""
    other = t.record
    return other is not None and len(other.actives) > 1 and other.label.name.casefold() != record.label.name.casefold()


def _between(case: Case, t: Treatment) -> Iterator[Finding]:
    lately = (case.day - t.day).days <= LOOK_BACK_DAYS
    if t.day == case.day:
        says = f"{t.says} was put on today: one on top of the other is a mixture that no label here allows."
        says = says.replace("today", f"on {t.day:%d %B}".replace(" 0", " "))
        yield Finding(NAME, "not now", says, by_daybook(t.entry), until=case.morning(t.day + timedelta(days=1)))
    if t.record is None:
        named = [gap for gap in gaps() if gap.days and _applies(gap, case.record.classes, t.classes)]
        for gap in named:
            over: date = t.day + timedelta(days=round(gap.days or 0))
            if case.day < over:
                says = f"By its words {t.says} was put on on {t.day:%d %B}; {gap.days:g} days lie between."
                yield Finding(NAME, "not now", says.replace(" 0", " "), _ground(gap), until=case.morning(over))
        if not lately:
            yield Finding(NAME, "may", f"{t.says} was long ago; see 'treated before'.", by_daybook(t.entry))
            return
        says = f"{t.says} on {t.day:%d %B} has no label record: what must lie between is unknown.".replace(" 0", " ")
        yield Finding(NAME, "unknown", says, by_daybook(t.entry))
        return
    told: list[tuple[float, RestsOn]] = []
    mine, theirs = gap_to(case.label, t.record), gap_to(t.record.label, case.record)
    if mine is not None and mine.after_other is not None:
        told.append((mine.after_other, typed(case)))
    if theirs is not None and theirs.before_other is not None:
        told.append((theirs.before_other, RestsOn("yours", f"label record ‘{t.record.label.name}’", t.record.entry)))
    unnamed = False
    for gap in gaps():
        if _other_side(gap, case.record) and _applies(gap, case.record.classes, t.classes):
            if gap.days is None:
                unnamed = lately and not told
            else:
                told.append((gap.days, _ground(gap)))
    days, ground = max(told, key=lambda one: one[0]) if told else (0.0, typed(case))
    free: date = t.day + timedelta(days=round(days))
    if case.day < free:
        says = f"{t.says} was put on on {t.day:%d %B}; {days:g} days lie between.".replace(" 0", " ")
        yield Finding(NAME, "not now", says, ground, until=case.morning(free))
    elif unnamed:
        says = f"After {t.says} it may burn, and neither label names the days between."
        yield Finding(NAME, "unknown", says, typed(case))
    else:
        yield Finding(NAME, "may", f"Far enough from {t.says}.", ground)
    for label, known in ((case.label, case.record), (t.record.label, t.record)):
        if lately and not label.gaps and not silent(label, "gaps"):
            yield read_it(case, NAME, f"what must not come before or after ‘{known.label.name}’")


def _other_side(gap: Gap, record: Record) -> str:
    """The class that must be kept away from this material by the gap; '' where it is not of it."""
    if gap.one in record.classes:
        return gap.other
    return gap.one if gap.other in record.classes else ""


def _applies(gap: Gap, one: frozenset[str], other: frozenset[str]) -> bool:
    return (gap.one in one and gap.other in other) or (gap.other in one and gap.one in other)


def _ground(gap: Gap) -> RestsOn:
    status = gap.status
    return RestsOn(
        "published" if status == "published" else "common practice" if status == "common practice" else "memory",
        gap.source,
        "gaps",
    )
