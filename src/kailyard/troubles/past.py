"""What the daybook says of each trouble: counts, finds, rounds walked; this year's and those of years before."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date

from kailyard.garden.model import Entry
from kailyard.season.view import SeasonView

MOTHS = 9
"""A catch of so many black cutworm moths is an intensive one (Purdue, Missouri)."""


@dataclass(frozen=True, slots=True)
class Past:
    """What the daybook says of one trouble, in order of day."""

    counts: tuple[Entry, ...] = ()
    found: tuple[Entry, ...] = ()

    def positive(self) -> Iterator[Entry]:
        """Entries that saw it, in order of day."""
        seen = [e for e in self.counts if e.payload.get("found_on") or e.payload.get("total")]
        yield from sorted((*seen, *self.found), key=lambda e: (e.happened, e.id))

    def triggers(self, year: date) -> dict[str, date]:
        """First day since `year` began on which eggs or moths of it were counted."""
        found: dict[str, date] = {}
        for entry in self.counts:
            if entry.happened < year:
                continue
            many = float(entry.payload.get("total") or entry.payload.get("found_on") or 0)
            for word, least in (("egg", 1), ("moth", MOTHS)):
                if word in str(entry.payload.get("what", "")) and many >= least:
                    found.setdefault(word, entry.happened)
        return found


def daybook(view: SeasonView) -> Mapping[str, Past]:
    """By trouble, what was entered up to today."""
    counts: dict[str, list[Entry]] = {}
    found: dict[str, list[Entry]] = {}
    for entry in sorted(view.garden.entries, key=lambda e: (e.happened, e.written, e.id)):
        if entry.kind in ("count", "found") and entry.happened <= view.today:
            id_ = str(entry.payload.get("trouble", "")).replace("-", "_")
            (counts if entry.kind == "count" else found).setdefault(id_, []).append(entry)
    return {k: Past(tuple(counts.get(k, ())), tuple(found.get(k, ()))) for k in counts.keys() | found.keys()}


def rounds(view: SeasonView) -> Mapping[str, date]:
    """By planting or bed, the day of the last round walked on which nothing was found."""
    walked: dict[str, date] = {}
    for entry in view.garden.entries:
        if entry.kind == "round" and entry.payload.get("sound") is True and entry.happened <= view.today:
            walked[entry.target] = max(entry.happened, walked.get(entry.target, entry.happened))
    return walked
