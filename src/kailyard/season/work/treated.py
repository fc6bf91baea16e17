"""What was sprayed, dusted or baited: nobody picks or goes in too early, and somebody looks what came of it."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from kailyard.documents._parts import Reason, RestsOn
from kailyard.garden.model import Entry
from kailyard.season.done import of_kind
from kailyard.season.life import Life
from kailyard.season.measures import day_words
from kailyard.season.view import SeasonView
from kailyard.season.windows import Answer, Hold, Look
from kailyard.troubles.label import Treatment, keeps_out_h, records, treatments, waits, why_unknown
from kailyard.troubles.options import LOOK_AGAIN_DAYS

NAME = "treated"
SCOPE = "planting"
DONE = {"treated": of_kind("look", asks="found")}

WATCHED_DAYS = 28
"""So long after a treatment it is asked what came of it."""

FORGOTTEN_DAYS = 365
"""So long a treatment whose days to picking nobody knows keeps the planting from being picked without a word."""

EARLY_DAYS = 2
"""A look so long before the due day still tells of new growth; an earlier one does not."""

BARRED = ("pick", "flowers", "lift", "surplus")
"""Lines of the sheet that speak of taking something off to eat, blossoms too."""

_KINDS = frozenset({"treat", "work"})


def windows(view: SeasonView, life: Life) -> Iterator[Answer]:
    """Holds on picking and on going in, and the next look."""
    planting = life.planting
    targets = (planting.id, planting.bed)
    since = view.today - timedelta(days=FORGOTTEN_DAYS)
    entries = [
        e for target in targets for e in view.garden.entries_of(target) if e.kind in _KINDS and e.happened >= since
    ]
    if life.sightings.ended is not None or not treatments(entries, targets, {}, until=view.today):
        return
    mine = list(treatments(entries, targets, records(view.garden.entries, removed=True), until=view.today))
    if (picking := _picking(view, life, mine)) is not None:
        yield picking
    if (entry := _entry(view, life, mine)) is not None:
        yield entry
    if (look := _look(view, life, mine[-1])) is not None:
        yield look


def _eaten(view: SeasonView, life: Life) -> bool:
    """Plants that stand there for bees and butterflies are not picked."""
    return life.planting.crop not in view.handbook.plants


def _picking(view: SeasonView, life: Life, mine: list[Treatment]) -> Hold | None:
    """One hold for all: until the last of the days that are known, without end where any is not."""
    if not _eaten(view, life):
        return None
    crop, names = life.planting.crop, (view.plants(life.planting), view.produce(life.planting))
    ends: list[tuple[date | None, Treatment]] = []
    for t in mine:
        days = waits(t, crop, names)
        if days is None:
            ends.append((None, t))
        elif t.day + timedelta(days=days) > view.today:
            ends.append((t.day + timedelta(days=days), t))
    if not ends:
        return None
    unknown = [t for end, t in ends if end is None]
    if unknown:
        t = unknown[-1]
        lacks = why_unknown(t, crop, names)
        detail = f"{t.says} on {day_words(t.day)}, and {lacks}: when picking is free again is unknown"
        last = None
    else:
        free = max(end for end, _ in ends if end is not None)
        detail = f"nor blossoms; free again from {day_words(free)} by the label, never sooner"
        last = free - timedelta(days=1)
    return Hold(
        name=f"no-picking/{life.planting.id}",
        says=f"Do not pick {view.produce(life.planting)}",
        where=view.where(life.planting),
        detail=detail,
        reasons=tuple(_reason(t) for _, t in ends),
        of=(life.planting.id,),
        first=min(t.day for _, t in ends),
        last=last,
        forbids=BARRED,
    )


def _entry(view: SeasonView, life: Life, mine: list[Treatment]) -> Hold | None:
    """Until the hours of the label are over, by whole days where no hour was written down."""
    out: list[tuple[date | None, str, Treatment]] = []
    place = ZoneInfo(view.garden.site.timezone)
    for t in mine:
        hours = keeps_out_h(t)
        if hours is None:
            if (view.today - t.day).days <= LOOK_AGAIN_DAYS:
                out.append((None, "until the label is read", t))
            continue
        begins = datetime.combine(t.day, t.hour or time(23, 59), place)
        # Counted in true hours: where the clock is set forward in between, a day later by the clock is an hour short.
        end = (begins.astimezone(UTC) + timedelta(hours=hours)).astimezone(place)
        if end.date() >= view.today:
            dry = " and until it has dried" if t.record is not None and t.record.label.until_dry else ""
            until = f"until {day_words(end.date())}{f', {end:%H:%M}' if t.hour else ', the whole day'}{dry}"
            out.append((end.date(), until, t))
    if not out:
        return None
    last, until, t = max(out, key=lambda one: one[0] or date.max)
    others = tuple(
        x.planting.id
        for x in view.lives.values()
        if x.standing and x.planting.bed == life.planting.bed and x.planting.id != life.planting.id
    )
    whole_bed = all(each.target == life.planting.bed for _, _, each in out)
    if whole_bed and any(other < life.planting.id for other in others):
        return None  # one line for the bed: that of its first planting speaks for all
    beside = "; that holds for all that stands in the bed" if others else ""
    return Hold(
        name=f"no-entry/{life.planting.id}",
        says="Keep out of the whole bed" if whole_bed else f"Keep out of {view.plants(life.planting)}",
        where=view.where(life.planting),
        detail=f"{t.says}, {day_words(t.day)}: nobody goes in {until}; no child and no pet{beside}",
        reasons=tuple(_reason(t) for _, _, t in out),
        of=(life.planting.id, *others),
        first=t.day,
        last=last,
        forbids=("pick", "*"),
    )


def _look(view: SeasonView, life: Life, last: Treatment) -> Look | None:
    """What came of it, asked from a week after it on, until somebody has looked."""
    due, gone = last.day + timedelta(days=LOOK_AGAIN_DAYS), (view.today - last.day).days
    looked = [e for e in _looks(life) if e.happened >= due - timedelta(days=EARLY_DAYS)]
    if looked or gone > WATCHED_DAYS or due > view.today + timedelta(days=6):
        return None
    return Look(
        name=f"treated/{life.planting.id}",
        says=view.plants(life.planting).capitalize(),
        where=view.where(life.planting),
        detail=f"{last.says} on {day_words(last.day)}. From {day_words(due)}: what came of it? Judge the new growth, "
        "not old spots.",
        reasons=(_reason(last),),
        urgency=0.8 if due <= view.today else 0.5,
    )


def _looks(life: Life) -> tuple[Entry, ...]:
    return (*life.sightings.of("look"), *life.sightings.of("found"))


def _reason(t: Treatment) -> Reason:
    """The entry, and under it what its label says."""
    under: tuple[Reason, ...] = ()
    if t.record is not None:
        label = t.record.label
        days = "not typed" if label.days_to_picking is None else f"{label.days_to_picking}"
        hours = "until dry" if label.until_dry and not label.entry_hours else f"{label.entry_hours or 0:g} hours"
        hours = "not typed" if label.entry_hours is None and not label.until_dry else hours
        by_crop = "".join(f"; {crop} {d}" for crop, d in label.days_by_crop.items())
        says = f"Days to picking: {days}{by_crop}. Going in again: {hours}."
        under = (Reason(says, rests_on=RestsOn("yours", f"label record ‘{label.name}’", t.record.entry)),)
    return Reason(f"Put on: {t.says}.", None, "", RestsOn("observed", "daybook", t.entry), under)
