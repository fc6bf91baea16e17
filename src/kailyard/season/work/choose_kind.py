"""Choose seed by what the plants took: a resistant kind of a crop that is not planned yet, while such seed is sold."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from kailyard.documents._parts import Reason, RestsOn
from kailyard.garden.model import Garden
from kailyard.handbook.troubles import crop_words
from kailyard.season.counted import same
from kailyard.season.done import Answered, Fitting
from kailyard.season.measures import day_words
from kailyard.season.reasons import from_judgement
from kailyard.season.safety import midsummer_after
from kailyard.season.view import SeasonView
from kailyard.season.windows import Loss, Window
from kailyard.troubles.met import Met, met
from kailyard.troubles.next_season import SELLS_OUT_BEFORE_MIDSUMMER_DAYS, TOLERANCE, any_of, wanted_codes

NAME = "choose kind"
SCOPE = "garden"


def _ordered(line: Answered) -> tuple[Fitting, ...]:
    return (Fitting("seed", "", {"crop": line.about, "state": "ordered"}),)


DONE = {"choose-kind": _ordered}

OPENS_BEFORE_DAYS = 110
"""Lists of seed come out so long before resistant kinds are sold out: in early November in the north."""

MOST = 2
"""Crops that are spoken of at once."""

LOSS = Loss(late_per_day=0.01, late_most=0.4, early_per_day=0.0, early_most=0.0)


def windows(view: SeasonView, garden: Garden) -> Iterator[Window]:
    """A line a crop, in winter, where nothing of it is planned: what is planned, the order of seed speaks of."""
    found = met(garden, view.today)
    if not found:
        return
    today = view.today.toordinal()
    gone = midsummer_after(today, garden.site.latitude) - SELLS_OUT_BEFORE_MIDSUMMER_DAYS
    if not gone - OPENS_BEFORE_DAYS <= today <= gone:
        return
    planned = {
        crop_words(life.planting.crop).words[0]
        for life in view.lives.values()
        if not life.begun_known and life.sightings.ended is None
    }
    crop_of = {p.id: p.crop for p in garden.plantings.values()}
    by_crop = {crop_words(m.crop).words[0]: m for m in found if m.crop and _recent(m, gone)}
    said = 0
    for kind, last in sorted(by_crop.items()):
        if kind in planned or said == MOST or _bought(garden, kind, last):
            continue
        wanted = wanted_codes(garden.entries, last.crop, crop_of, view.today)
        if wanted:
            said += 1
            yield _line(view, last, wanted, gone)


def _recent(one: Met, gone: int) -> bool:
    """Of the season that lies behind this winter."""
    return gone - one.day.toordinal() <= 365


def _bought(garden: Garden, kind: str, last: Met) -> bool:
    return any(
        e.kind == "seed" and e.happened > last.day and crop_words(str(e.payload.get("crop", ""))).words[0] == kind
        for e in garden.entries
    )


def _line(view: SeasonView, last: Met, wanted: dict[str, tuple[str, ...]], gone: int) -> Window:
    planting = view.garden.plantings[last.planting]
    plants, by = view.plants(planting), date.fromordinal(gone)
    codes = any_of([code for those in wanted.values() for code in those])
    return Window(
        name=f"choose-kind/{last.crop}",
        says=f"Choose a resistant kind of {plants}",
        where="for next season",
        detail=f"{', '.join(wanted)} took them in {last.day.year}: {codes} on the packet ({TOLERANCE}); such kinds "
        f"sell out by {day_words(by)}",
        reasons=(
            *(
                Reason(
                    f"{name[0].upper()}{name[1:]} was found: codes {', '.join(those)}.",
                    rests_on=RestsOn("common practice", "codes of the seed trade", "resistance codes"),
                )
                for name, those in wanted.items()
            ),
            from_judgement("Resistant kinds sell out by late winter (common practice)."),
        ),
        opens=same(view, date.fromordinal(gone), -OPENS_BEFORE_DAYS),
        due=same(view, by, -14),
        shuts=same(view, by),
        loss=LOSS,
        lost="resistant kinds are sold out",
        minutes=10.0,
        at_home=True,
        worth=0.5,
    )
