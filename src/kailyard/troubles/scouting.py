"""Scouting: for every pest and disease of what stands, from when, how hard and where on the plant to look.

One round in walking order. Its grounds: sums of warmth on the possible seasons, the stage of the plants, what this
garden's counts and finds said before. A look that found nothing is an entry and counts.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta
from functools import cache
from math import hypot
from typing import cast

import numpy as np

from kailyard.documents._parts import Reason, RestsOn, Status
from kailyard.documents.scout import Effort, Figure, LifeStep, Lookout, Scout, Stop
from kailyard.garden.model import Bed, Entry
from kailyard.handbook.diseases import diseases
from kailyard.handbook.insects import Insect, Threshold, insects
from kailyard.handbook.troubles import LISTED, crop_words, host_weight, trouble
from kailyard.season.life import Life
from kailyard.season.reasons import from_entry, plain_day
from kailyard.season.view import SeasonView
from kailyard.troubles.counted import Seen, above, fitting, measure_of, read_count, said
from kailyard.troubles.life_steps import WEEK, steps
from kailyard.troubles.standing import here

LOOK_DAYS = 7
"""From one look to the next where no source says how often."""
SOON = 0.1
"""Chance of a step of life within the week from which it is looked for."""
ACTIVE_C = 10.0
"""Warmth of a week from which insects without a sum, and diseases without limits, are looked for."""
YOUNG_DAYS = 28
"""So long after coming up or setting out plants are 'young'."""
PAST_DAYS = 10
"""So long before the day on which it was found here in an earlier year it is looked for again."""
SURE = 0.99
"""Chance from which a step of life has come."""
FRESH_DAYS = 21
"""What was found so lately is looked at closely."""
CLOSELY_DAYS = 4
"""Days from one look to the next where something is to be looked at closely."""

NOTE = (
    "Sums of warmth come from other places: what is seen here stands above them. A look "
    "that found none is worth entering. Before anything is done, read the label and the local rules; in doubt send a "
    "sample to a diagnostic laboratory or ask the local extension office."
)


@dataclass(frozen=True, slots=True)
class _Past:
    """What the daybook says of one trouble."""

    counts: tuple[Entry, ...] = ()
    found: tuple[Entry, ...] = ()

    def positive(self) -> Iterator[Entry]:
        """Entries that saw it, in order of day."""
        seen = [e for e in self.counts if e.payload.get("found_on") or e.payload.get("total")]
        yield from sorted((*seen, *self.found), key=lambda e: (e.happened, e.id))


@dataclass(slots=True)
class _Place:
    """One trouble in one bed."""

    trouble: str
    lives: list[Life] = field(default_factory=list)
    stages: list[str] = field(default_factory=list)
    """Of each life, as `host_stage` has it."""


def scout(view: SeasonView) -> Scout:
    """The round of today, and what is not to be looked for yet."""
    return _round(view, None)


def closely(view: SeasonView) -> tuple[tuple[Stop, Lookout], ...]:
    """What is due today and to be looked for closely, in walking order: only what can be is asked about."""
    year, past = date(view.today.year, 1, 1), _daybook(view)
    stand = {life.planting.crop for life in view.lives.values() if here(view, life)}
    hosted = {id_ for crop in stand for id_ in troubles_of(crop)} & insects().keys()
    soon = {i for i in hosted if any(s.week >= SOON for s in steps(view, i, _triggers(past.get(i, _Past()), year)))}
    only = frozenset(soon | past.keys())
    if not only:
        return ()
    stops = _round(view, only).stops
    return tuple((stop, k) for stop in stops for k in stop.lookouts if k.due and k.effort == "closely")


def _round(view: SeasonView, only: frozenset[str] | None) -> Scout:
    past = _daybook(view)
    mean_c, year = _week_mean_c(view), date(view.today.year, 1, 1)
    stops: list[Stop] = []
    not_yet: dict[str, str] = {}
    told: dict[str, tuple[LifeStep, ...]] = {}
    for bed, places in _places(view, only):
        made = []
        for place in places:
            before = past.get(place.trouble, _Past())
            if place.trouble in insects() and place.trouble not in told:
                told[place.trouble] = steps(view, place.trouble, _triggers(before, year))
            one = _lookout(view, place, before, mean_c, told.get(place.trouble, ()))
            if isinstance(one, str):
                not_yet.setdefault(place.trouble, one)
            else:
                made.append(one)
        if made:
            order = {"closely": 0, "as usual": 1, "in passing": 2}
            made.sort(key=lambda k: (not k.due, order[k.effort], k.name))
            stops.append(Stop(bed.id, bed.name, tuple(made)))
    looked_for = {k.trouble for stop in stops for k in stop.lookouts}
    return Scout(
        garden=view.garden.name,
        on=view.today,
        units=view.garden.units,
        stops=tuple(stops),
        not_yet=tuple(sorted(says for id_, says in not_yet.items() if trouble(id_).slug not in looked_for)),
        notes=(NOTE,),
    )


def walk(beds: Iterable[Bed]) -> list[Bed]:
    """Beds in walking order: from the one nearest the garden's origin always to the nearest that is left."""
    left = sorted(beds, key=lambda b: (hypot(b.east_m, b.north_m), b.id))
    path: list[Bed] = []
    while left:
        here_ = path[-1] if path else None
        near = (
            left[0]
            if here_ is None
            else min(left, key=lambda b: (hypot(b.east_m - here_.east_m, b.north_m - here_.north_m), b.id))
        )
        left.remove(near)
        path.append(near)
    return path


@cache
def troubles_of(crop: str) -> tuple[str, ...]:
    """Pests and diseases whose lists of hosts name a crop."""
    return tuple(id_ for id_ in (*insects(), *diseases()) if host_weight(trouble(id_), crop) >= LISTED)


def _places(view: SeasonView, only: frozenset[str] | None) -> Iterator[tuple[Bed, list[_Place]]]:
    standing: dict[str, list[Life]] = {}
    for life in view.lives.values():
        if here(view, life) and view.bed(life.planting) is not None:
            standing.setdefault(life.planting.bed, []).append(life)
    for bed in walk(view.garden.beds[id_] for id_ in standing):
        found: dict[str, _Place] = {}
        for life in standing[bed.id]:
            stage = host_stage(view, life)
            for id_ in troubles_of(life.planting.crop):
                insect = insects().get(id_)
                wanted = insect is None or not insect.host_stages or stage in insect.host_stages
                if wanted and (only is None or id_ in only):
                    place = found.setdefault(id_, _Place(id_))
                    place.lives.append(life)
                    place.stages.append(stage)
        yield bed, list(found.values())


def _daybook(view: SeasonView) -> Mapping[str, _Past]:
    counts: dict[str, list[Entry]] = {}
    found: dict[str, list[Entry]] = {}
    for entry in view.garden.entries:
        if entry.kind in ("count", "found") and entry.happened <= view.today:
            id_ = str(entry.payload.get("trouble", "")).replace("-", "_")
            (counts if entry.kind == "count" else found).setdefault(id_, []).append(entry)
    return {k: _Past(tuple(counts.get(k, ())), tuple(found.get(k, ()))) for k in counts.keys() | found.keys()}


def _week_mean_c(view: SeasonView) -> float:
    at = view.ensemble.today_index
    low, high = (x[:, at : at + WEEK] for x in (view.ensemble.tmin_c, view.ensemble.tmax_c))
    return float(np.mean(low + high) / 2)


def host_stage(view: SeasonView, life: Life) -> str:
    """'young', 'growing', 'flowering' or 'bearing', by what was seen, else by the middle of the odds."""
    today = view.today

    def come(stage: str) -> bool:
        odds = life.stage(stage)
        return odds is not None and odds.by(today) >= 0.5

    if come("first-harvest") or come("mature"):
        return "bearing"
    if come("first-flower"):
        return "flowering"
    begun = date.fromordinal(int(np.median(life.begun)))
    up = life.stage("emerged")
    started = begun if up is None else (up.quantile(0.5) or begun)
    return "young" if (today - started).days < YOUNG_DAYS else "growing"


def _lookout(view: SeasonView, place: _Place, past: _Past, mean_c: float, told: tuple[LifeStep, ...]) -> Lookout | str:
    """What to look for; or, where it is too early, when it begins."""
    one, insect = trouble(place.trouble), insects().get(place.trouble)
    year = date(view.today.year, 1, 1)
    counts = [read_count(e, _stand(place.lives)) for e in past.counts if _of_place(e, place)]
    this_year = [c for c in counts if c.entry.happened >= year]
    fits = _fits(place)
    early = _too_early(view, place.trouble, past, told, mean_c)
    if early and not this_year:
        return early
    fresh = [e for e in past.positive() if _of_place(e, place) and (view.today - e.happened).days <= FRESH_DAYS]
    close = (bool(fresh) and not this_year) or above(this_year, fits) or any(s.week >= SOON for s in told)
    grounds = bool(told) or any(t.low is not None for t in fits) or bool(past.found or past.counts)
    effort: Effort = "closely" if close else "as usual" if grounds else "in passing"
    next_look = _next_look(view, insect, this_year, told, close)
    where, how, ground = _how(place.trouble)
    figures = tuple(_figure(t) for t in fits)
    return Lookout(
        trouble=one.slug,
        name=insect.name if insect else diseases()[place.trouble].name,
        plantings=tuple(life.planting.id for life in place.lives),
        plants="; ".join(dict.fromkeys(view.with_cultivar(life.planting) for life in place.lives)),
        stand=_stand(place.lives),
        effort=effort,
        due=next_look <= view.today,
        next_look=next_look,
        where=where,
        how=how,
        why=_why(view, told, fresh, this_year),
        steps=_ahead(told),
        figures=figures,
        counts=said(counts, fits, year),
        measures=tuple(dict.fromkeys(m for t in fits if (m := measure_of(t)) is not None)),
        reasons=(
            *(_step_reason(s) for s in told),
            *map(_figure_reason, figures),
            ground,
            *(from_entry(e, "Seen here.") for e in fresh[-2:]),
        ),
    )


def _ahead(told: tuple[LifeStep, ...]) -> tuple[LifeStep, ...]:
    """The step that came last, and those to come."""
    past = [s for s in told if s.come >= SURE]
    return (*past[-1:], *(s for s in told if s.come < SURE))


def _of_place(entry: Entry, place: _Place) -> bool:
    return any(entry.target in (life.planting.id, life.planting.bed) for life in place.lives)


def _stand(lives: Sequence[Life]) -> int | None:
    known = [life.planting.count for life in lives]
    return sum(known) if known and all(known) else None


def _triggers(past: _Past, year: date) -> dict[str, date]:
    """First day of this year on which eggs or moths of it were counted."""
    found: dict[str, date] = {}
    for entry in past.counts:
        if entry.happened < year:
            continue
        many = float(entry.payload.get("total") or entry.payload.get("found_on") or 0)
        for word, least in (("egg", 1), ("moth", 9)):
            if word in str(entry.payload.get("what", "")) and many >= least:
                found.setdefault(word, entry.happened)
    return found


def _fits(place: _Place) -> tuple[Threshold, ...]:
    """The thresholds of every planting of the bed, each once; of one measure and unit the strictest."""
    found: dict[tuple[str, str], Threshold] = {}
    for life, stage in zip(place.lives, place.stages, strict=True):
        for one in fitting(place.trouble, crop_words(life.planting.crop), stage):
            key = (one.measure, one.unit)
            kept = found.get(key)
            if kept is None or (one.low is not None and (kept.low is None or one.low < kept.low)):
                found[key] = one
    return tuple(found.values())


def _too_early(view: SeasonView, id_: str, past: _Past, told: tuple[LifeStep, ...], mean_c: float) -> str:
    """'' where it is to be looked for; else in words from when."""
    name = trouble(id_).name
    earlier = [e for e in past.positive() if e.happened.year < view.today.year]
    if earlier:
        first = min(earlier, key=lambda e: e.happened.timetuple().tm_yday).happened
        from_day = first.timetuple().tm_yday - PAST_DAYS
        if view.today.timetuple().tm_yday >= from_day:
            return ""
    calendar = [s for s in told if s.come + s.week < 1 or s.come > 0]
    if calendar:
        if any(s.come + s.week >= SOON for s in calendar):
            return ""
        first_day = min((s.low for s in calendar if s.low is not None), default=None)
        return f"{name}: from about {plain_day(first_day)}" if first_day else f"{name}: not in the time foreseen"
    disease = diseases().get(id_)
    low = ACTIVE_C if disease is None or disease.temp_min_c is None else disease.temp_min_c
    high = None if disease is None else disease.temp_max_c
    if mean_c < low:
        return f"{name}: when a week's mean reaches {view.degrees(low)}"
    if high is not None and mean_c > high:
        return f"{name}: when a week's mean falls to {view.degrees(high)}"
    return ""


def _next_look(
    view: SeasonView, insect: Insect | None, counts: Sequence[Seen], told: tuple[LifeStep, ...], close: bool
) -> date:
    """The day of the next look: today where none was this year; before the next step of life where one comes."""
    if not counts:
        return view.today
    every = insect.every_days if insect and insect.every_days else LOOK_DAYS
    days = min(every, CLOSELY_DAYS) if close else every
    last = counts[-1].entry.happened
    due = last + timedelta(days=int(days))
    coming = [s.low - timedelta(days=1) for s in told if s.low is not None and s.low > view.today and s.come < 0.5]
    before = [day for day in coming if last < day < due]
    return max(min([due, *before]), view.today) if due > view.today or before else view.today


def _how(id_: str) -> tuple[str, str, Reason]:
    insect = insects().get(id_)
    if insect is not None:
        ground = RestsOn(cast(Status, insect.scouting_status), insect.scouting_source, "handbook, insects")
        return insect.where_to_look, insect.how_to_look, Reason(f"How to look: {insect.how_to_look}.", rests_on=ground)
    disease = diseases()[id_]
    ground = RestsOn(cast(Status, disease.facts_status), disease.facts_source, "handbook, diseases")
    return disease.first_seen_where, "", Reason(f"First seen: {disease.first_seen_where}.", rests_on=ground)


def _why(view: SeasonView, told: tuple[LifeStep, ...], fresh: Sequence[Entry], counts: Sequence[Seen]) -> str:
    if fresh:
        return f"seen on {plain_day(fresh[-1].happened)}"
    coming = [s for s in told if s.week >= SOON]
    if coming:
        return coming[0].event
    come = [s for s in told if s.come >= 0.5]
    if come:
        return come[-1].event
    return "none found so far this year" if counts else "not looked for yet this year"


def _figure(one: Threshold) -> Figure:
    note = f" ({one.note})" if one.note else ""
    stage = "at any stage" if one.stage == "any" else one.stage
    if one.low is None:
        amount = f": {one.value} {one.unit}".rstrip() if one.value else ""
        return Figure(f"{one.measure}{amount}, {stage}{note}", cast(Status, one.status), one.source)
    unit = " %" if one.unit == "percent" else f" {one.unit}"
    stricter = f" ({one.value.replace('-', ' to ')} printed; the stricter holds)" if one.low != one.high else ""
    says = f"{one.measure}: {one.low:g}{unit}, {stage}{stricter}{note}"
    return Figure(says, cast(Status, one.status), one.source)


def _figure_reason(figure: Figure) -> Reason:
    return Reason(f"Worth acting from: {figure.says}.", rests_on=RestsOn(figure.status, figure.source, "thresholds"))


def _step_reason(step: LifeStep) -> Reason:
    span = f"{plain_day(step.low)} to {plain_day(step.high)}" if step.low and step.high else "beyond what is foreseen"
    return Reason(f"{step.event}: {span}.", rests_on=RestsOn(step.status, step.source, "handbook, insect events"))
