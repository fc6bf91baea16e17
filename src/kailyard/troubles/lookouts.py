"""One trouble on what stands in one bed: whether it is time to look, how hard, where, and what was counted so far."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta
from typing import cast

from kailyard.documents._parts import Reason, RestsOn, Status
from kailyard.documents.scout import Act, Effort, LifeStep, Lookout
from kailyard.garden.model import Entry
from kailyard.handbook.diseases import diseases
from kailyard.handbook.insects import Threshold, insects
from kailyard.handbook.looks import HostLook
from kailyard.handbook.troubles import crop_words, trouble
from kailyard.season.life import Life
from kailyard.season.reasons import from_entry, plain_day
from kailyard.season.view import SeasonView
from kailyard.troubles.counted import Seen, above, acts, fitting, judge, measure_of, more_wanted, read_count, said
from kailyard.troubles.look_words import figure_of, figure_reason, step_reason
from kailyard.troubles.past import Past

LOOK_DAYS = 7
"""From one look to the next where no source says how often."""
LOOK_AT = 10
"""Plants to look at where nobody says how many."""
_SAYS_HOW_MANY = re.compile(r"(?:\d+-)?(\d+) (?:green )?(?:plants|seedlings|fruits)")
"""'count beetles on 5-10 plants': of a range the larger."""
SOON = 0.1
"""Chance of a step of life within the week from which it is looked for."""
ACTIVE_C = 10.0
"""Warmth of a week from which insects without a sum, and diseases without limits, are looked for."""
PAST_DAYS = 10
"""So long before the day on which it was found here in an earlier year it is looked for again."""
SURE = 0.99
"""Chance from which a step of life has come."""
FRESH_DAYS = 21
"""What was found so lately is looked at closely."""
CLOSELY_DAYS = 4
"""Days from one look to the next where something is to be looked at closely."""
RECENT_DAYS = 42
"""A step of life so long past is no longer named as the reason to look."""
ENEMY_DAYS = 3
"""The same where natural enemies may bring down what stands above its threshold."""


@dataclass(slots=True)
class Place:
    """One trouble in one bed, on what it is looked for alike."""

    trouble: str
    look: HostLook | None
    lives: list[Life] = field(default_factory=list)
    stages: list[str] = field(default_factory=list)
    """Of each life, as `host_stage` has it."""

    @property
    def pairs(self) -> list[tuple[Life, str]]:
        """Each life with its stage."""
        return list(zip(self.lives, self.stages, strict=True))


@dataclass(frozen=True, slots=True)
class Grounds:
    """What is known besides the place: shared by all places of one round."""

    past: Past
    told: tuple[LifeStep, ...]
    mean_c: float
    """Mean of the coming week. [°C]"""
    walked: Mapping[str, date]
    """By planting or bed, the last round on which nothing was found."""
    weather: str
    """Why the weather speaks for looking; ''."""


@dataclass(frozen=True, slots=True)
class _Told:
    """This year's counts of one planting, or of the whole bed."""

    target: str
    lives: tuple[Life, ...]
    counts: tuple[Seen, ...]
    fits: tuple[Threshold, ...]


def lookout(view: SeasonView, place: Place, grounds: Grounds) -> Lookout | str:
    """What to look for; or, where it is too early, when it begins."""
    one, insect = trouble(place.trouble), insects().get(place.trouble)
    told = _counted(view, place, grounds.past)
    early = _too_early(view, place.trouble, grounds)
    fresh = [e for e in grounds.past.positive() if _of(e, place) and (view.today - e.happened).days <= FRESH_DAYS]
    if early and not told and not fresh:
        return early
    fits = _fits(place.trouble, place.pairs)
    coming = any(s.week >= SOON for s in grounds.told)
    uncounted = bool(fresh) and all(e.kind == "found" for e in fresh)
    close = uncounted or coming or any(above(t.counts, t.fits) for t in told)
    effort: Effort = "closely" if close else "as usual" if _speaks_for_it(grounds, fits) else "in passing"
    next_look = _next_look(view, place, told, grounds, close=close)
    look_words, how, ground = _how(place)
    figures = tuple(figure_of(t) for t in fits)
    names = tuple(view.with_cultivar(life.planting) for life in place.lives)
    return Lookout(
        trouble=one.slug,
        name=insect.name if insect else diseases()[place.trouble].name,
        plantings=tuple(life.planting.id for life in place.lives),
        names=names,
        plants="; ".join(dict.fromkeys(names)),
        stand=stand(place.lives),
        look_at=_look_at(place, told, how),
        effort=effort,
        due=next_look <= view.today,
        next_look=next_look,
        where=look_words,
        how=how,
        why=_why(view, grounds, fresh, told),
        steps=_ahead(grounds.told),
        figures=figures,
        counts=tuple(_named(line, t, place, view) for t in told for line in said(t.counts, t.fits)),
        act=tuple(_act(t) for t in told if acts(t.counts, t.fits)),
        enemies=insect.natural_enemies if insect else "",
        measures=tuple(dict.fromkeys(m for t in fits if (m := measure_of(t)) is not None)),
        reasons=(
            *(step_reason(s) for s in grounds.told),
            *map(figure_reason, figures),
            ground,
            *(from_entry(e, "Seen here.") for e in fresh[-2:]),
        ),
    )


def stand(lives: Sequence[Life]) -> int | None:
    """How many plants stand there; None where nobody said of one of them."""
    known = [life.planting.count for life in lives]
    return sum(known) if known and all(known) else None


def last_verdict(view: SeasonView, life: Life, places: Sequence[tuple[Place, Past]]) -> str:
    """Of the counts that cover a planting this year the last one's verdict; '' where none is judged."""
    told = [t for place, past in places for t in _counted(view, place, past) if life in t.lives]
    if not told:
        return ""
    last = max(told, key=lambda t: t.counts[-1].entry.happened)
    judged = judge(last.counts[-1], last.fits)
    return judged[1].verdict if judged else ""


def _speaks_for_it(grounds: Grounds, fits: tuple[Threshold, ...]) -> bool:
    """A step of its life that is about or past, a figure, the weather, or this garden's past."""
    about = any(s.come + s.week >= SOON for s in grounds.told)
    past = grounds.past.found or grounds.past.counts
    return bool(about or grounds.weather or past) or any(t.low is not None for t in fits)


def _of(entry: Entry, place: Place) -> bool:
    return any(entry.target in (life.planting.id, life.planting.bed) for life in place.lives)


def _counted(view: SeasonView, place: Place, past: Past) -> list[_Told]:
    """This year's counts, apart for each planting that was counted alone; the latest counted last."""
    year = date(view.today.year, 1, 1)
    by: dict[str, list[Entry]] = {}
    for entry in past.counts:
        if entry.happened >= year and _of(entry, place):
            by.setdefault(entry.target, []).append(entry)
    out = []
    for target, entries in by.items():
        mine = [pair for pair in place.pairs if target in (pair[0].planting.id, pair[0].planting.bed)]
        lives = tuple(life for life, _ in mine)
        counts = tuple(read_count(e, stand(lives)) for e in entries)
        out.append(_Told(target, lives, counts, _fits(place.trouble, mine)))
    return sorted(out, key=lambda t: t.counts[-1].entry.happened)


def _fits(id_: str, pairs: Sequence[tuple[Life, str]]) -> tuple[Threshold, ...]:
    """The thresholds of some plantings, each once; of one measure and unit the strictest."""
    found: dict[tuple[str, str], Threshold] = {}
    for life, stage in pairs:
        for one in fitting(id_, crop_words(life.planting.crop), stage):
            key = (one.measure, one.unit)
            kept = found.get(key)
            if kept is None or (one.low is not None and (kept.low is None or one.low < kept.low)):
                found[key] = one
    return tuple(found.values())


def _named(line: str, told: _Told, place: Place, view: SeasonView) -> str:
    """A sentence on a count, with the planting where it was counted alone."""
    if len(place.lives) == len(told.lives):
        return line
    return f"{view.with_cultivar(told.lives[0].planting)}: {line}"


def _act(told: _Told) -> Act:
    """What was counted in the whole bed stands at the planting that most were counted for: the first."""
    last = told.counts[-1]
    return Act(told.lives[0].planting.id, last.entry.happened, acts(told.counts, told.fits), last.enemies)


def _look_at(place: Place, told: Sequence[_Told], how: str) -> int:
    there, printed = stand(place.lives), _SAYS_HOW_MANY.search(how)
    usual = int(printed[1]) if printed else LOOK_AT
    more = next((m for t in reversed(told) if (m := more_wanted(t.counts, t.fits)) is not None), None)
    wanted = usual if more is None else max(usual, told[-1].counts[-1].looked_at + more)
    return wanted if there is None else min(wanted, there)


def _ahead(told: tuple[LifeStep, ...]) -> tuple[LifeStep, ...]:
    """The step that came last, and those to come."""
    past = [s for s in told if s.come >= SURE]
    return (*past[-1:], *(s for s in told if s.come < SURE))


def _too_early(view: SeasonView, id_: str, grounds: Grounds) -> str:
    """'' where it is to be looked for; else in words from when."""
    name = trouble(id_).name
    earlier = [e for e in grounds.past.positive() if e.happened.year < view.today.year]
    if earlier:
        first = min(earlier, key=lambda e: e.happened.timetuple().tm_yday).happened
        if view.today.timetuple().tm_yday >= first.timetuple().tm_yday - PAST_DAYS:
            return ""
    calendar = [s for s in grounds.told if s.come + s.week < 1 or s.come > 0]
    if calendar:
        if any(s.come + s.week >= SOON for s in calendar):
            return ""
        first_day = min((s.low for s in calendar if s.low is not None), default=None)
        return f"{name}: from about {plain_day(first_day)}" if first_day else f"{name}: not in the time foreseen"
    disease = diseases().get(id_)
    low = ACTIVE_C if disease is None or disease.temp_min_c is None else disease.temp_min_c
    high = None if disease is None else disease.temp_max_c
    if grounds.mean_c < low:
        return f"{name}: when a week's mean reaches {view.degrees(low)}"
    if high is not None and grounds.mean_c > high:
        return f"{name}: when a week's mean falls to {view.degrees(high)}"
    return ""


def _next_look(view: SeasonView, place: Place, told: Sequence[_Told], grounds: Grounds, *, close: bool) -> date:
    """The day of the next look at the planting that waits longest: today where one was not looked at this year.

    It comes before the next step of life where one comes, and sooner where natural enemies are to be given their time.
    """
    days = []
    for life in place.lives:
        mine = [t for t in told if life in t.lives]
        last = max((t.counts[-1].entry.happened for t in mine), default=None)
        walked = max((d for at in (life.planting.id, life.planting.bed) if (d := grounds.walked.get(at))), default=None)
        if close and walked is not None and (last is None or walked > last):
            last = walked
        if last is None or last.year < view.today.year:
            return view.today
        spared = any(t.counts[-1].enemies and above(t.counts, t.fits) for t in mine)
        days.append(_after(view, place.trouble, last, grounds, close=close, spared=spared))
    return max(min(days), view.today)


def _after(view: SeasonView, id_: str, last: date, grounds: Grounds, *, close: bool, spared: bool) -> date:
    insect = insects().get(id_)
    every = insect.every_days if insect and insect.every_days else LOOK_DAYS
    if close:
        every = min(every, ENEMY_DAYS if spared else CLOSELY_DAYS)
    due = last + timedelta(days=int(every))
    coming = [s.low - timedelta(days=1) for s in grounds.told if s.low and s.low > view.today and s.come < 0.5]
    return min([due, *(day for day in coming if last < day < due)])


def _how(place: Place) -> tuple[str, str, Reason]:
    """Where on the plant and how, by the crop's own row where there is one."""
    insect, own = insects().get(place.trouble), place.look
    if insect is not None:
        where, how = insect.where_to_look, insect.how_to_look
        status, source, table = insect.scouting_status, insect.scouting_source, "handbook, insects"
    else:
        disease = diseases()[place.trouble]
        where, how = disease.first_seen_where, ""
        status, source, table = disease.facts_status, disease.facts_source, "handbook, diseases"
    if own is not None and own.where:
        where, how = own.where, own.how
        status, source, table = own.status, own.source, "handbook, looks by crop"
    ground = RestsOn(cast(Status, status), source, table)
    says = f"How to look: {how}." if how else f"First seen: {where}."
    return where, how, Reason(says, rests_on=ground)


def _why(view: SeasonView, grounds: Grounds, fresh: Sequence[Entry], told: Sequence[_Told]) -> str:
    if fresh:
        return f"seen on {plain_day(fresh[-1].happened)}"
    coming = [s for s in grounds.told if s.week >= SOON]
    if coming:
        return f"{coming[0].event}, within the week"
    unsure = [t.counts[-1].entry.happened for t in told if above(t.counts, t.fits)]
    if unsure:
        return f"not below what is worth acting on when it was counted on {plain_day(max(unsure))}"
    if grounds.weather:
        return grounds.weather
    come = [s for s in grounds.told if s.come >= 0.5 and s.low and (view.today - s.low).days <= RECENT_DAYS]
    if come and come[-1].low is not None:
        return f"{come[-1].event}, since about {plain_day(come[-1].low)}"
    return "none found so far this year" if told else "not looked for yet this year"
