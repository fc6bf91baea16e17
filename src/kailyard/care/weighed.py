"""What was weighed: by ground, row, plant and hour, and what cultivars, starts and sowing days seem to make of it.

A difference between two groups is said together with all else in which they differ: a garden is no trial.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from kailyard.care.yields import Season, absurd, range_of, round_two, row_m, seasons_of, weight_range
from kailyard.documents.picking import WeighedCrop, WeighedPlanting
from kailyard.garden.model import Planting
from kailyard.season.measures import day_words, listing
from kailyard.season.uses import usual
from kailyard.season.view import SeasonView
from kailyard.units import Units, convert

ALIKE_DAYS = 10
"""Sowings within so many days of each other count as sown at the same time."""

APART = 0.15
"""Groups nearer to each other than this part of their mean are said to have given alike."""


_STARTED = {"sown": "sown in place", "raised": "raised under cover", "bought": "bought as plants"}


@dataclass(frozen=True, slots=True)
class One:
    """A season as weighed, with what may be the reason for it."""

    season: Season
    begun: date | None
    per_m2: float

    @property
    def cultivar(self) -> str:
        """Its cultivar, or that none was said."""
        return self.season.planting.cultivar

    @property
    def started(self) -> str:
        """How it was started."""
        return self.season.planting.start


def weighed(view: SeasonView, crop: str = "") -> tuple[WeighedCrop, ...]:
    """Every crop of which anything was weighed, by name; one alone where it is named."""
    by_crop: dict[str, list[Season]] = {}
    for life in view.lives.values():
        if crop and life.planting.crop != crop:
            continue
        for season in seasons_of(view, life):
            if season.weighed_kg > 0 and not _absurd(view, season):
                by_crop.setdefault(life.planting.crop, []).append(season)
    out = []
    for seasons in by_crop.values():
        produce = called(view, seasons[0].planting)
        rows = tuple(_row(view, season) for season in seasons)
        through = [One(s, _begun(view, s), s.kg / s.area_m2) for s in seasons if s.through]
        said = (*comparisons(through, view.garden.units), *_by_use(view, seasons))
        out.append(WeighedCrop(produce, rows, said))
    return tuple(sorted(out, key=lambda one: one.produce))


def called(view: SeasonView, planting: Planting) -> str:
    """What is picked; where another crop of the garden is called so too, with its name in the trade."""
    produce = view.produce(planting)
    alike = {p.crop for p in view.garden.plantings.values() if view.produce(p) == produce}
    name = view.handbook.text(planting.crop, "common_name")
    return f"{produce} ({name[:1].lower()}{name[1:]})" if len(alike) > 1 and name else produce


def questions(view: SeasonView) -> tuple[str, ...]:
    """Weights that look like slips: so far above everything published that nothing is learned from them."""
    out = []
    for life in view.lives.values():
        for season in seasons_of(view, life):
            if _absurd(view, season):
                found = range_of(view, season)
                assert found is not None
                heaviest = max((e for e in season.picks if e.unit == "kg"), key=lambda e: e.quantity or 0.0)
                most = weight_range(view, found[1], found[1])
                out.append(
                    f"{weight_range(view, season.weighed_kg, season.weighed_kg)} of {view.produce(season.planting)} "
                    f"from {season.planting.id}? "
                    f"The most published for such a planting is {most} a season. Look at the entry of "
                    f"{day_words(heaviest.happened)} and put it right, or change the planting's count or length; "
                    "till then nothing is learned from it."
                )
    return tuple(out)


def _by_use(view: SeasonView, seasons: Sequence[Season]) -> tuple[str, ...]:
    """Weights by what they were picked for, where anybody said so."""
    sums: dict[str, float] = {}
    for entry in (e for season in seasons for e in season.picks if e.unit == "kg"):
        use = str(entry.payload.get("use") or "")
        sums[use] = sums.get(use, 0.0) + (entry.quantity or 0.0)
    named = [f"{use} {weight_range(view, kg, kg)}" for use, kg in sorted(sums.items()) if use]
    rest = [f"nothing said {weight_range(view, sums[''], sums[''])}"] if named and sums.get("") else []
    return (f"By use: {listing([*named, *rest])}.",) if named else ()


def _absurd(view: SeasonView, season: Season) -> bool:
    found = range_of(view, season)
    return found is not None and absurd(season, found)


def _row(view: SeasonView, season: Season) -> WeighedPlanting:
    planting, kg = season.planting, season.weighed_kg
    rows = row_m(planting, view.bed(planting))
    weights = [e for e in season.picks if e.unit == "kg" and e.quantity and e.payload.get("minutes")]
    minutes = sum(float(e.payload["minutes"]) for e in weights)
    notes = []
    if season.unweighed:
        notes.append(f"{season.unweighed} of {len(season.picks)} pickings without a weight")
    if not season.ended:
        notes.append("still bearing")
    return WeighedPlanting(
        planting=planting.id,
        cultivar=planting.cultivar,
        use="" if season.use == usual(view.handbook, planting.crop) else season.use,
        started=planting.start,
        begun=_begun(view, season),
        year=season.year,
        kg=kg,
        per_m2=kg / season.area_m2,
        per_row_m=kg / rows if rows else None,
        per_plant=kg / planting.count if planting.count > 1 or planting.start != "sown" else None,
        per_hour=60.0 * sum(e.quantity or 0.0 for e in weights) / minutes if minutes else None,
        note="; ".join(notes),
    )


def _begun(view: SeasonView, season: Season) -> date | None:
    seen = view.lives[season.planting.id].sightings
    return seen.sown or seen.set_out or seen.planted or season.planting.since


def comparisons(of: Sequence[One], units: Units) -> tuple[str, ...]:
    """What cultivar, start and sowing day seem to make, of plantings weighed through; none of fewer than two."""
    out = []
    by_cultivar = _groups(of, lambda one: f"‘{one.cultivar}’" if one.cultivar else "")
    by_start = _groups(of, lambda one: f"what was {_STARTED.get(one.started, one.started)}")
    for groups, own in ((by_cultivar, "cultivar"), (by_start, "start")):
        if len(groups) > 1:
            out.append(_compared(groups, own, units))
    dated = sorted((one for one in of if one.begun is not None), key=_yearday)
    if len(dated) > 1 and _yearday(dated[-1]) - _yearday(dated[0]) > ALIKE_DAYS:
        half = _yearday(dated[0]) + (_yearday(dated[-1]) - _yearday(dated[0])) / 2
        cut = (date(2001, 1, 1) + timedelta(days=int(half) - 1)) if half > 0 else date(2001, 1, 1)
        early, late = ([one for one in dated if (_yearday(one) <= half) == first] for first in (True, False))
        named = {f"what was begun by {day_words(cut)}": early, f"what was begun after {day_words(cut)}": late}
        out.append(_compared(named, "day", units))
    return tuple(out)


def _groups(of: Iterable[One], name: Callable[[One], str]) -> dict[str, list[One]]:
    groups: dict[str, list[One]] = {}
    for one in of:
        called = name(one)
        if called:
            groups.setdefault(called, []).append(one)
    return groups


def _compared(groups: dict[str, list[One]], own: str, units: Units) -> str:
    """'‘A’ gave 1.2 kg/m² (2 plantings), ‘B’ 0.8 (1): ...', and what else differed."""
    means = {name: sum(one.per_m2 for one in ones) / len(ones) for name, ones in groups.items()}
    order = sorted(means, key=lambda name: -means[name])
    best, least = means[order[0]], means[order[-1]]
    first, *rest = (f"{_per_area(means[name], units)} ({_count(len(groups[name]))})" for name in order)
    said = ", ".join((f"{order[0]} gave {first}", *(f"{n} {m}" for n, m in zip(order[1:], rest, strict=True))))
    said = f"{said[0].upper()}{said[1:]}"
    if best - least < APART * (best + least) / 2:
        return f"{said}: alike."
    others = [what for what, differ in _differences(groups) if what != own and differ]
    named = {
        "cultivar": "the cultivar",
        "start": "how they were started",
        "day": "the day they were begun",
        "year": "the year",
    }
    few = min(len(ones) for ones in groups.values()) < 2
    if others:
        any_of = "either" if len(others) == 1 else "any of them"
        return f"{said}. They differ in {listing([named[o] for o in others])} too: {any_of} may be the reason."
    tail = " One planting is little to go by." if few else ""
    return f"{said}. Bed and soil may be the reason as well.{tail}"


def _per_area(kg_m2: float, units: Units) -> str:
    value, unit = convert(kg_m2, "kg/m²", units)
    return f"{round_two(value):g} {unit}"


def _count(n: int) -> str:
    return "1 planting" if n == 1 else f"{n} plantings"


def _differences(groups: dict[str, list[One]]) -> tuple[tuple[str, bool], ...]:
    """In what else the groups differ: where not every group has the same of it."""
    ones = list(groups.values())

    def sets(of: Callable[[One], object]) -> bool:
        kinds = [frozenset(of(one) for one in group) for group in ones]
        return len(set(kinds)) > 1

    days = [[_yearday(one) for one in group if one.begun] for group in ones]
    middles = [sum(d) / len(d) for d in days if d]
    return (
        ("cultivar", sets(lambda one: one.cultivar)),
        ("start", sets(lambda one: one.started)),
        ("day", bool(middles) and max(middles) - min(middles) > ALIKE_DAYS),
        ("year", sets(lambda one: one.season.year)),
    )


def _yearday(one: One) -> float:
    """The day of its year on which it was begun; NaN where nobody said."""
    return float(one.begun.timetuple().tm_yday) if one.begun else math.nan
