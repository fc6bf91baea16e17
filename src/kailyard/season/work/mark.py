"""Mark perennials that come late in spring, so that nobody hoes them out; hold the hoe until they are up."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

from kailyard.garden.model import Bed
from kailyard.season.by_months import Months, months_of
from kailyard.season.counted import same
from kailyard.season.done import work_done
from kailyard.season.life import Life
from kailyard.season.measures import listing, span_words
from kailyard.season.reasons import from_fact, from_judgement
from kailyard.season.view import SeasonView
from kailyard.season.windows import Answer, Hold, Loss, Window

NAME = "mark"
SCOPE = "bed"
DONE = {"mark": work_done("marked")}

LATE_MONTH = 5
"""What may still be below ground in this month, of the northern half, is hoed out by mistake."""

BEFORE_DAYS = 150
"""Marks are set while last year's stems still show where the plants stand: so long before the first may show."""

LASTS_DAYS = 550
"""A label set in one autumn serves two springs at the most."""

MOST_NAMED = 3

LOSS = Loss(late_per_day=0.002, late_most=0.2, early_per_day=0.0, early_most=0.0)


def windows(view: SeasonView, bed: Bed) -> Iterator[Answer]:
    """One line a bed for marking, and one hold on the hoe in the weeks in which its perennials are still below."""
    waited = [
        (life, span)
        for life in _standing(view, bed)
        if (span := _span(view, life)) is not None and not _shown(life, span.first)
    ]
    if not waited:
        return
    first, last = min(span.first for _, span in waited), max(span.last for _, span in waited)
    names = list(dict.fromkeys(view.plants(life.planting) for life, _ in waited))
    named = listing(names[:MOST_NAMED] + ([f"{len(names) - MOST_NAMED} more"] if len(names) > MOST_NAMED else []))
    reasons = tuple(
        from_fact(fact, view.handbook, f"{view.plants(life.planting).capitalize()}: {says}")
        for life, span in waited
        for fact, says in zip(
            span.facts, ("may show from this month.", "may still be below in this month."), strict=True
        )
    )
    of = tuple(life.planting.id for life, _ in waited)
    if first <= view.today <= last:
        yield Hold(
            name=f"no-hoe/{bed.id}",
            says=f"Do not hoe over {named}",
            where=bed.name,
            detail=f"Not up yet: late ones show {span_words(first, last)}. Weed there by hand.",
            reasons=(*reasons, from_judgement("Nobody has entered that they are up.")),
            of=of,
            first=first,
            last=last,
        )
    opens = first - timedelta(days=BEFORE_DAYS)
    if opens <= view.today + timedelta(days=7) and view.today <= last and not _marked(view, bed, waited):
        yield Window(
            name=f"mark/{bed.id}",
            says=f"Mark {named}",
            where=bed.name,
            detail="a label or stick at each, tips below or far above the eye; they come up late and are hoed out",
            reasons=reasons,
            of=of,
            opens=same(view, opens),
            due=same(view, first, -30),
            shuts=same(view, last),
            loss=LOSS,
            lost="late shoots are hoed out",
            minutes=10.0,
            worth=0.5,
            late=view.today >= first,
            late_how="look for last year's stubs",
        )


def _standing(view: SeasonView, bed: Bed) -> Iterator[Life]:
    for life in view.lives.values():
        if life.planting.bed == bed.id and life.standing and view.perennial(life.planting):
            yield life


def _span(view: SeasonView, life: Life) -> Months | None:
    """The spring months in which it is waited for: those that are on, or come next."""
    last, begun = view.fact(life.planting, "emerge_month_last"), int(life.begun.flat[0])
    if last is None or last.number < LATE_MONTH:
        return None
    return months_of(
        life.planting.crop,
        view.handbook,
        ("emerge_month_first", "emerge_month_last"),
        today=view.today,
        since=date.fromordinal(begun),
        latitude=view.garden.site.latitude,
    )


def _shown(life: Life, first: date) -> bool:
    """Whether an entry of this spring shows it."""
    since = first - timedelta(days=30)
    return any(
        e.happened >= since and e.kind in ("stage", "pick", "hurt") and e.payload.get("state") != "not yet"
        for e in life.sightings.entries
    )


def _marked(view: SeasonView, bed: Bed, waited: list[tuple[Life, Months]]) -> bool:
    since = view.today - timedelta(days=LASTS_DAYS)
    entries = [*view.garden.entries_of(bed.id), *(e for life, _ in waited for e in life.sightings.entries)]
    return any(
        e.kind == "work" and since <= e.happened <= view.today and "marked" in str(e.payload.get("what")).lower()
        for e in entries
    )
