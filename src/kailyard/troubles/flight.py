"""Beginning a planting past the flight of a pest found here before, by sums of warmth on the possible seasons."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

from kailyard.documents._parts import Reason, RestsOn
from kailyard.garden.model import Planting
from kailyard.handbook.insects import events_of
from kailyard.handbook.practices import Flight, flights
from kailyard.handbook.troubles import crop_words
from kailyard.season.life import Life
from kailyard.season.odds import BEYOND, DayArray, Odds, later, middle
from kailyard.season.paying import still_pays
from kailyard.season.reasons import from_entry
from kailyard.season.sightings import as_day
from kailyard.season.view import SeasonView
from kailyard.troubles.life_steps import step_days
from kailyard.troubles.marks import as_status
from kailyard.troubles.met import Met, met

LAST_SEASONS = 2
"""A pest found in this year or so many before is taken to come again."""
COVER_DAYS = 42
"""A cover put over the bed so lately is taken to lie there still, where nobody said until when."""
PAYS = 0.3
"""Share of the possible seasons in which what is begun past the flight must come in time; else a cover must do."""


@dataclass(frozen=True, slots=True, eq=False)
class Past:
    """The flight that a planting had better wait for."""

    met: Met
    flight: Flight
    first: DayArray
    """Days from which it flies, one a possible season. (traces, 1)"""
    free: DayArray
    """First day past it. (traces, 1)"""
    from_here: bool
    """It was found in the very bed: a cover would shut it in."""

    @property
    def reasons(self) -> tuple[Reason, ...]:
        """Where it was found, and what its days are counted by."""
        f = self.flight
        ground = RestsOn(as_status(f.status), f.source, f"flights, {f.trouble.replace('_', ' ')}")
        event = next(e for e in events_of(f.trouble) if e.event == f.event)
        counted = RestsOn(
            as_status(event.status), event.source, f"{event.event}: {event.low:g} °C·d above {event.base_c:g} °C"
        )
        return (
            from_entry(self.met.entry, f"{self.met.said} was found here."),
            Reason("Its days by the sum of warmth on the possible seasons.", rests_on=counted),
            Reason("Days from then until young plants are safe.", float(f.after_days), "days", ground),
        )


@dataclass(frozen=True, slots=True, eq=False)
class Wait:
    """Whether a planting can wait for the end of a flight."""

    past: Past
    pays: bool
    """Begun after it, it still comes in time; else a cover from the first day is what helps."""


def wait_past(view: SeasonView, life: Life) -> Wait | None:
    """The flight in which a planting is foreseen to be begun; None, at once, where nothing of the kind was found."""
    if not met(view.garden, view.today) or life.begun_known:
        return None
    begin = middle(life.begun)
    if begin >= BEYOND:
        return None
    past = past_flight(view, life, date.fromordinal(max(begin, view.today.toordinal())))
    if past is None:
        return None
    paying = still_pays(view, life, start=life.planting.start, begin=past.free)
    return Wait(past, paying is None or paying.share_at_once(past.free) >= PAYS)


def past_flight(view: SeasonView, life: Life, begin: date) -> Past | None:
    """The flight in which a planting would be begun on `begin`; None where none, or where a cover keeps it off.

    A cover keeps off what comes from elsewhere, and shuts in what hatches from the bed's own soil.
    """
    planting, bed = life.planting, view.bed(life.planting)
    found = met(view.garden, view.today)
    if not found:
        return None
    covered = (bed is not None and bed.cover != "none") or _covered(life, view.today)
    words = set(crop_words(planting.crop).words)
    best: Past | None = None
    for f in flights():
        if not words & set(f.crops) or (f.starts and planting.start not in f.starts):
            continue
        of = [m for m in found if f.trouble == m.trouble.id and m.day.year >= view.today.year - LAST_SEASONS]
        event = next((e for e in events_of(f.trouble) if e.event == f.event), None)
        if covered and not any(m.bed == planting.bed for m in of):
            continue
        if not of or event is None or (days := step_days(view, event, {}, begin.year)) is None:
            continue
        first = days[:, :1]
        at = middle(first)
        if at >= BEYOND or not at - f.before_days <= begin.toordinal() < at + f.after_days:
            continue
        free = later(first, f.after_days)
        if best is None or middle(free) > middle(best.free):
            here = [m for m in of if m.bed == planting.bed]
            best = Past((here or of)[-1], f, first, free, from_here=bool(here))
    return best


def flown(view: SeasonView, trouble_id: str, planting: Planting) -> tuple[date, date] | None:
    """When a pest comes that can be begun past: next year or, where that lies too far, this one; None: unknown."""
    words = set(crop_words(planting.crop).words)
    for f in flights():
        if f.trouble != trouble_id or not words & set(f.crops) or (f.starts and planting.start not in f.starts):
            continue
        event = next(e for e in events_of(f.trouble) if e.event == f.event)
        for year in (view.today.year + 1, view.today.year):
            days = step_days(view, event, {}, year)
            if days is not None and (first := Odds(days[:, :1]).quantile(0.2)) is not None:
                last = Odds(days[:, :1]).quantile(0.8)
                if last is not None:
                    return first, last + timedelta(days=f.after_days)
    return None


def _covered(life: Life, today: date) -> bool:
    """Whether something lies over its place: a net or cover that is closed keeps the flight out."""
    for e in life.sightings.of("protect"):
        until = as_day(e.payload.get("until"))
        if (until >= today) if until else ((today - e.happened).days <= COVER_DAYS):
            return True
    return False


def span(past: Past) -> tuple[date, date]:
    """From and to, in most of the possible seasons."""
    first, free = Odds(past.first).quantile(0.2), Odds(past.free).quantile(0.8)
    assert first is not None
    return first, (free or date.fromordinal(middle(past.free))) - timedelta(days=1)
