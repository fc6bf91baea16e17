"""Held back after an injury by what may be a herbicide: no picking, nothing moved, until a release is entered."""

from __future__ import annotations

from collections.abc import Iterator

from kailyard.garden.model import Garden, Planting
from kailyard.season.measures import beds_words, day_words, listing
from kailyard.season.view import SeasonView
from kailyard.season.windows import Hold, Look
from kailyard.troubles.injury import Held, by_target, gone, grounds
from kailyard.troubles.injury import windows as injury_windows

NAME = "injury hold"
SCOPE = "garden"

REPORT_URGENCY = 0.95
"""An injury's report and samples do not wait for the next visit."""


def windows(view: SeasonView, garden: Garden) -> Iterator[Hold | Look]:
    """For every injury: two holds without an end, and a look while reporting and sampling are still worth it."""
    for injury in by_target(garden, view.today):
        about = injury.entry.target or "garden"
        plants = listing(list(dict.fromkeys(view.plants(p) for p in injury.plantings)))
        where = beds_words([view.where(p) for p in injury.plantings])
        of, reasons = tuple(p.id for p in injury.plantings), grounds(injury)
        cleared = [p for p in injury.plantings if gone(garden, p, view.today) is not None]
        all_gone = len(cleared) == len(injury.plantings)
        yield Hold(
            name=f"injury/{about}",
            says=f"Do not eat {plants}, fresh or kept" if all_gone else f"Do not pick or eat {plants}",
            where=where,
            detail=f"Perhaps hit by a herbicide, seen {day_words(injury.first_seen)}; until a release is entered: who "
            f"says so, and what was found{_of_cleared(view, cleared, all_gone=all_gone)}",
            reasons=reasons,
            of=of,
            first=injury.first_seen,
            last=None,
            forbids=("pick", "surplus"),
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


def _of_cleared(view: SeasonView, cleared: list[Planting], *, all_gone: bool) -> str:
    """What is left to do where the plants are gone: nobody knows whether any of it lies in a store."""
    if not cleared:
        return ""
    what = "all is" if all_gone else f"{listing(list(dict.fromkeys(view.plants(p) for p in cleared)))} are"
    return f"; {what} cleared: where nothing of it is kept, enter that as the release"


def _look(view: SeasonView, injury: Held, about: str, plants: str, where: str) -> Iterator[Look]:
    open_ = [
        w
        for w, done in zip(injury_windows(injury), ("reported", "sample_sent"), strict=True)
        if not injury.said(done) and view.today <= w.last
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
