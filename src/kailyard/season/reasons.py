"""Reasons from facts and entries, so that every figure can be opened down to its ground."""

from __future__ import annotations

from datetime import date
from functools import lru_cache

from kailyard.documents._parts import Reason, RestsOn
from kailyard.garden.model import Entry
from kailyard.handbook.types import Fact, Handbook

JUDGEMENT = RestsOn("memory", "judgement of Kailyard's makers", "docs/explanation/how-a-season-is-foreseen.md")
"""Ground of the spreads and losses that nobody has published; the page named lists each."""


def rests_on_fact(fact: Fact, handbook: Handbook) -> RestsOn:
    """The ground of a handbook value: its citations written out, its place in them, its file and line."""
    cited = [c.strip() for c in fact.source.split(";") if c.strip()]
    source = "; ".join(handbook.citations[c].text if c in handbook.citations else c for c in cited)
    place = ", ".join(part for part in (fact.locator, f"{fact.file}:{fact.line}") if part)
    return RestsOn(fact.status, source or fact.status, place)


@lru_cache(maxsize=8192)  # a line says the same of a fact week by week
def from_fact(fact: Fact, handbook: Handbook, says: str) -> Reason:
    """A handbook value as a reason, its note opened under it; one in words is said after `says`."""
    note = (Reason(fact.note),) if fact.note else ()
    if isinstance(fact.value, str):
        return Reason(f"{says.rstrip('.')}: {fact.value.rstrip('.')}.", None, "", rests_on_fact(fact, handbook), note)
    return Reason(says, fact.value, fact.unit, rests_on_fact(fact, handbook), note)


def from_entry(entry: Entry, says: str) -> Reason:
    """A daybook entry as a reason."""
    who = f" by {entry.who}" if entry.who else ""
    text = (Reason(f"“{entry.text}”"),) if entry.text else ()
    return Reason(says, entry.quantity, entry.unit, RestsOn("observed", f"daybook{who}", entry.id), text)


def from_judgement(says: str, figure: float | None = None, unit: str = "") -> Reason:
    """A figure of ours that no source carries; it says so."""
    return Reason(says, figure, unit, JUDGEMENT)


def plain_day(day: date) -> str:
    """A day in running text: '12 June'; the year is said where it is not this season's."""
    return f"{day.day} {day:%B}"
