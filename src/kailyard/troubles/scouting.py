"""Scouting: for every pest and disease of what stands, from when, how hard and where on the plant to look.

One round in walking order. Its grounds: sums of warmth on the possible seasons, the stage of the plants, the weather,
what this garden's counts and finds said before. A look that found nothing is an entry and counts.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping
from datetime import date
from functools import cache
from math import hypot
from types import MappingProxyType

import numpy as np

from kailyard.documents.scout import LifeStep, Lookout, Scout, Stop
from kailyard.garden.model import Bed
from kailyard.handbook.diseases import diseases
from kailyard.handbook.insects import insects
from kailyard.handbook.looks import HostLook, look_on
from kailyard.handbook.troubles import LISTED, crop_words, host_weight, trouble
from kailyard.season.life import Life
from kailyard.season.view import SeasonView
from kailyard.troubles.life_steps import WEEK, steps
from kailyard.troubles.lookouts import SOON, Grounds, Place, last_verdict, lookout
from kailyard.troubles.past import Past, daybook, rounds
from kailyard.troubles.standing import here

YOUNG_DAYS = 28
"""So long after coming up or setting out plants are 'young'."""

NOTE = (
    "Sums of warmth come from other places: what is seen here stands above them. A look "
    "that found none is worth entering. Before anything is done, read the label and the local rules; in doubt send a "
    "sample to a diagnostic laboratory or ask the local extension office."
)
_NONE: Mapping[str, str] = MappingProxyType({})
_LATER = {"growing": "once they grow", "flowering": "once they flower", "bearing": "once they bear"}
STAGES = ("young", *_LATER)
"""Stages of the plants in their order."""
_UNDER_COVER = "under cover"
"""Where a disease's list of hosts ends so it is one of tunnels and glass."""


def scout(view: SeasonView, *, weather: Mapping[str, str] = _NONE) -> Scout:
    """The round of today, and what is not to be looked for yet.

    Parameters
    ----------
    weather
        By trouble, why the weather of these days speaks for looking: 'late_blight': 'weather for it, 6 in 10 on ...'.
    """
    return _round(view, None, weather)


def closely(view: SeasonView) -> tuple[tuple[Stop, Lookout], ...]:
    """What is due today and to be looked for closely, in walking order: only what can be is asked about."""
    return tuple((stop, k) for stop, k in pressing(view) if k.due and k.effort == "closely")


def pressing(view: SeasonView) -> tuple[tuple[Stop, Lookout], ...]:
    """In walking order what may have to be looked for closely or acted on: a step of its life is near, or the daybook
    speaks of it."""
    year, past = date(view.today.year, 1, 1), daybook(view)
    stand = {life.planting.crop for life in view.lives.values() if here(view, life)}
    hosted = {id_ for crop in stand for id_ in troubles_of(crop)} & insects().keys()
    soon = {i for i in hosted if any(s.week >= SOON for s in steps(view, i, past.get(i, Past()).triggers(year)))}
    only = frozenset(soon | past.keys())
    stops = _round(view, only, _NONE).stops if only else ()
    return tuple((stop, k) for stop in stops for k in stop.lookouts)


def _round(view: SeasonView, only: frozenset[str] | None, weather: Mapping[str, str]) -> Scout:
    past, walked = daybook(view), rounds(view)
    mean_c, year = _week_mean_c(view), date(view.today.year, 1, 1)
    stops: list[Stop] = []
    not_yet: dict[str, str] = {}
    told: dict[str, tuple[LifeStep, ...]] = {}
    for bed, places in _places(view, only, past, not_yet):
        made = []
        for place in places:
            before = past.get(place.trouble, Past())
            if place.trouble in insects() and place.trouble not in told:
                told[place.trouble] = steps(view, place.trouble, before.triggers(year))
            known = told.get(place.trouble, ())
            one = lookout(view, place, Grounds(before, known, mean_c, walked, weather.get(place.trouble, "")))
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
    """Pests and diseases whose lists of hosts name a crop; what both tables have is named once."""
    pests = [id_ for id_ in insects() if host_weight(trouble(id_), crop) >= LISTED]
    same = {trouble(id_).cause for id_ in pests}
    return (*pests, *(id_ for id_ in diseases() if id_ not in same and host_weight(trouble(id_), crop) >= LISTED))


def _places(
    view: SeasonView, only: frozenset[str] | None, past: Mapping[str, Past], not_yet: dict[str, str]
) -> Iterator[tuple[Bed, list[Place]]]:
    """Bed by bed what is looked for; what is not yet for the stage of the plants goes into `not_yet`."""
    standing: dict[str, list[Life]] = {}
    for life in view.lives.values():
        if here(view, life) and view.bed(life.planting) is not None:
            standing.setdefault(life.planting.bed, []).append(life)
    for bed in walk(view.garden.beds[id_] for id_ in standing):
        found: dict[tuple[str, HostLook | None], Place] = {}
        for life in standing[bed.id]:
            stage, words = host_stage(view, life), crop_words(life.planting.crop)
            for id_ in troubles_of(life.planting.crop):
                if (only is not None and id_ not in only) or not _under(bed, id_):
                    continue
                look, insect = look_on(id_, words), insects().get(id_)
                wanted = (look.host_stages if look else ()) or (insect.host_stages if insect else ())
                if wanted and stage not in wanted and not _seen_here(view, life, past.get(id_, Past())):
                    later = [s for s in wanted if STAGES.index(s) > STAGES.index(stage)]
                    if later:
                        not_yet.setdefault(
                            id_, f"{trouble(id_).name}: {view.plants(life.planting)}, {_LATER[later[0]]}"
                        )
                    continue
                place = found.setdefault((id_, look), Place(id_, look))
                place.lives.append(life)
                place.stages.append(stage)
        yield bed, list(found.values())


def _under(bed: Bed, id_: str) -> bool:
    """Whether a bed is one in which a disease of tunnels and glass lives; any bed for any other trouble."""
    disease = diseases().get(id_)
    return disease is None or not disease.hosts.endswith(_UNDER_COVER) or bed.cover in ("tunnel", "glass")


def _seen_here(view: SeasonView, life: Life, past: Past) -> bool:
    """Whether the daybook of this year has it on the planting or its bed, whatever its stage."""
    at = (life.planting.id, life.planting.bed)
    return any(e.target in at and e.happened.year == view.today.year for e in (*past.counts, *past.found))


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
    came = None if up is None else up.quantile(0.5)
    started = begun if came is None or came > today else came  # of what comes again it may be that of next year
    return "young" if (today - started).days < YOUNG_DAYS else "growing"


def verdict_on(view: SeasonView, life: Life, ids: Collection[str]) -> str:
    """This year's last count of any of some troubles on a planting: 'above', 'below', 'undecided'; '' where none is.

    As the round has it: a count of the whole bed is set beside all that stands there.
    """
    bed = view.garden.beds.get(life.planting.bed)
    if bed is None or not here(view, life):
        return ""
    past = daybook(view)
    places = [p for at, found in _places(view, frozenset(ids), past, {}) if at.id == bed.id for p in found]
    told = [(place, past.get(place.trouble, Past())) for place in places if life in place.lives]
    return last_verdict(view, life, told)
