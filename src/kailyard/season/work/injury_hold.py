"""Held back after an injury by what may be a herbicide: no picking, nothing moved, until a release is entered."""

from __future__ import annotations

from collections.abc import Iterator

from kailyard.garden.model import Garden
from kailyard.season.measures import beds_words, day_words, listing
from kailyard.season.view import SeasonView
from kailyard.season.windows import Hold, Look
from kailyard.troubles.injury import Held, by_target, grounds
from kailyard.troubles.injury import windows as injury_windows

NAME = "injury hold"
SCOPE = "garden"

REPORT_URGENCY = 0.95
"""An injury's report and samples do not wait for the next visit."""


def windows(view: SeasonView, garden: Garden) -> Iterator[Hold | Look]:
    """For every injury: two holds without an end, and a look while reporting and sampling are still worth it."""
    for injury in by_target(garden, view.today):
        about = injury.entry.target or "garden"
        # What ended long ago is neither picked nor eaten any more.
        held = [p for p in injury.plantings if (life := view.lives.get(p.id)) is not None and not life.over]
        if not held:
            continue
        plants = listing(list(dict.fromkeys(view.plants(p) for p in held)))
        where = beds_words([view.where(p) for p in held])
        of, reasons = tuple(p.id for p in held), grounds(injury)
        seen = f"perhaps hit by a herbicide, seen {day_words(injury.first_seen)}"
        yield Hold(
            name=f"injury/{about}",
            says=f"Do not pick or eat {plants}",
            where=where,
            detail=f"{seen[0].upper()}{seen[1:]}; until a release is entered: who says so, and what was found",
            reasons=reasons,
            of=of,
            first=injury.first_seen,
            last=None,
            forbids=("pick",),
        )
        yield Hold(
            name=f"injury-keep/{about}",
            says=f"Keep no seed and no seed tubers of {plants}; move no clippings, compost or soil",
            where=where,
            detail="They may carry it to other beds and into another year",
            reasons=reasons,
            of=of,
            first=injury.first_seen,
            last=None,
            forbids=("collect-seed",),
        )
        yield from _look(view, injury, about, plants, where)


def _look(view: SeasonView, injury: Held, about: str, plants: str, where: str) -> Iterator[Look]:
    open_ = [
        w
        for w, done in zip(injury_windows(injury), ("reported", "sample_sent"), strict=True)
        if not injury.entry.payload.get(done) and view.today <= w.last
    ]
    if open_:
        said = "; ".join(f"{w.what}, by {day_words(w.last)}" for w in open_)
        yield Look(
            name=f"injury-report/{about}",
            says=f"Injury of {plants}",
            where=where,
            detail=f"{said[0].upper()}{said[1:]}. Photograph several kinds, the edge, the weeds; pull nothing before.",
            reasons=tuple(w.ground for w in open_),
            of=tuple(p.id for p in injury.plantings),
            urgency=REPORT_URGENCY,
        )
