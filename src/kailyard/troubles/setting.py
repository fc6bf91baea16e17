"""What the record itself knows before anybody looks: the plant's age, the weather of the last days, this garden's past,
and patterns that its entries show.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from datetime import date, timedelta

import numpy as np

from kailyard.garden.model import Entry, Garden, Planting
from kailyard.handbook.insects import events_of, insects
from kailyard.handbook.troubles import LISTED, crop_words, host_weight, troubles
from kailyard.season.life import Life
from kailyard.season.measures import day_words
from kailyard.season.view import SeasonView
from kailyard.troubles.injury import ADDED, Added, brought, is_injury
from kailyard.troubles.leanings import Before, Counted, PlantStage, Setting
from kailyard.troubles.life_steps import step_days

SEEDLING_DAYS = 30
"""A planting is young for so many days after it was sown, or came up."""
SETTLING_DAYS = 14
"""And for so many after it was set out or planted."""
REACHED = 0.5
"""A stage counts as reached where its chance is this."""

WEATHER_DAYS = 10
"""So many of the last days are looked at."""
WET_MM, WET_DAYS = 25.0, 5
"""They were wet with so much rain, or with rain on so many of them."""
HOT_C, DRY_MM = 30.0, 5.0
"""Hot and dry: mean maximum from this on, rain up to this."""
COLD_C = 2.0
"""A cold night: the garden's minimum at or below this."""

HARDLY = 0.05
"""An animal has hardly come where no more of the possible seasons have brought it out by today."""

SAME_DAYS = 7
"""Troubles seen within so many days of each other count as one event."""
ADDED_DAYS = 90
"""Manure, compost, hay or clippings spread within so many days may be what a pattern follows."""

_WINTERS_HERE = frozenset({"asparagus_beetle", "cutworms", "flea_beetles"})
"""Adults or grubs of these winter at hand and feed before the first step that their sums date."""
_SPREAD = tuple(word for word in ADDED if word not in ("straw", "mulch"))


def setting(garden: Garden, planting: Planting, today: date, view: SeasonView | None = None) -> Setting:
    """All that leans before a sign is asked for. Without a season foreseen, the weather and the age are unknown."""
    life = None if view is None else view.lives.get(planting.id)
    return Setting(
        crop=planting.crop,
        stage=plant_stage(life, today) if life is not None else "",
        weather=weather_lately(view) if view is not None else {},
        mean_c=warmth_lately(view) if view is not None else None,
        not_yet=not_yet(view, planting.crop) if view is not None else frozenset(),
        before=tuple(_before(garden, planting, today)),
        counts=tuple(_counts(garden, planting, today)),
    )


def plant_stage(life: Life, today: date) -> PlantStage:
    """The plant's age as far as it matters for troubles; '' where it does not stand or nothing is known."""
    if not life.standing:
        return ""
    seen = life.sightings
    if seen.of("pick"):
        return "fruit"
    for stage, age in (("first-harvest", "fruit"), ("first-flower", "flower")):
        odds = life.stage(stage)
        if odds is not None and odds.by(today) >= REACHED:
            return "fruit" if age == "fruit" else "flower"
    if seen.set_out or seen.planted:
        begun, young = max(d for d in (seen.set_out, seen.planted) if d), SETTLING_DAYS
    elif seen.sown:
        begun, young = seen.sown, SEEDLING_DAYS
    else:
        return ""
    return "seedling" if (today - begun).days <= young else "growing"


def weather_lately(view: SeasonView) -> dict[str, bool]:
    """Whether the observed days just past were wet, hot and dry, or held a cold night in the garden."""
    last = view.ensemble.today_index
    first = max(last - WEATHER_DAYS, 0)
    if last - first < WEATHER_DAYS:
        return {}
    low = view.clocks.garden_tmin_c[0, first:last]
    high, rain = view.ensemble.tmax_c[0, first:last], view.ensemble.rain_mm[0, first:last]
    wet = float(np.sum(rain)) >= WET_MM or int(np.sum(rain >= 1.0)) >= WET_DAYS
    return {
        "after_wet": wet,
        "hot_dry": float(np.mean(high)) >= HOT_C and float(np.sum(rain)) <= DRY_MM,
        "after_cold": float(np.min(low)) <= COLD_C,
    }


def warmth_lately(view: SeasonView) -> float | None:
    """Mean air temperature of the observed days just past; None where there are too few. [°C]"""
    last = view.ensemble.today_index
    first = last - WEATHER_DAYS
    if first < 0:
        return None
    days = (view.ensemble.tmax_c[0, first:last] + view.ensemble.tmin_c[0, first:last]) / 2
    mean = float(np.mean(days))
    return mean if np.isfinite(mean) else None


def not_yet(view: SeasonView, crop: str) -> frozenset[str]:
    """Causes whose animals, each of them that this crop hosts, have hardly come by today in any possible season.

    Told only where the year's sum of warmth dates each of them; what came from eggs or moths seen is not told.
    """
    come: dict[str, list[bool]] = {}
    for id_ in insects():
        one = troubles()[id_]
        if not one.cause or host_weight(one, crop) < LISTED:
            continue
        events = () if id_ in _WINTERS_HERE else events_of(id_)
        dated = [days for event in events if (days := step_days(view, event, {})) is not None]
        first = np.min([days[:, 0] for days in dated], axis=0) if dated else None
        here = first is None or float(np.mean(first <= view.today.toordinal())) > HARDLY
        come.setdefault(one.cause, []).append(here)
    return frozenset(cause for cause, those in come.items() if not any(those))


def _before(garden: Garden, planting: Planting, today: date) -> Iterator[Before]:
    """What was found in this garden, on plants of the same family or anywhere in this bed."""
    family = crop_words(planting.crop).family
    for e in garden.entries:
        if e.kind != "found" or e.happened > today:
            continue
        other = garden.plantings.get(e.target)
        near = e.target in (planting.id, planting.bed) or (other is not None and other.bed == planting.bed)
        kin = other is not None and crop_words(other.crop).family == family != ""
        if near or kin:
            yield Before(str(e.payload.get("trouble")), e.payload.get("sure") == "settled")


def _counts(garden: Garden, planting: Planting, today: date) -> Iterator[Counted]:
    """Counts on these plants or their bed: an entry of kind 'count' with a trouble and what it came to."""
    for e in garden.entries:
        if e.kind == "count" and e.target in (planting.id, planting.bed) and e.happened <= today:
            total = total_of(e.payload)
            if total is not None:
                yield Counted(str(e.payload.get("trouble")), total, (today - e.happened).days)


def total_of(payload: Mapping[str, object]) -> float | None:
    """What a count came to: its total, or the sum of its counts; None where it says neither."""
    total, counts = payload.get("total"), payload.get("counts")
    if isinstance(total, int | float):
        return float(total)
    if isinstance(counts, list | tuple):
        return float(sum(c for c in counts if isinstance(c, int | float)))
    return None


def proposed(garden: Garden, planting: Planting, today: date) -> dict[str, str]:
    """Pattern signs that the entries show, each with the words for it. The gardener's own answer stands above."""
    out: dict[str, str] = {}
    event = tuple(_event(garden, planting, today))
    families = {crop_words(p.crop).family or p.crop: p for p in (planting, *event)}
    if len(families) >= 2:
        names = ", ".join(p.id for p in event)
        out["many_families"] = f"the daybook has {names} hit in the same days, of another family"
    spread = [
        e for e, bed in brought(garden, today - timedelta(days=ADDED_DAYS), today, _SPREAD) if bed == planting.bed
    ]
    if spread:
        last = Added(spread[-1], planting.bed, hit=False)
        out["after_manure_mulch"] = f"the daybook has on {day_words(last.entry.happened)}: {last.what}"
    put = [e for e in garden.entries_of(planting.id) if e.kind in ("set-out", "plant") and e.happened <= today]
    if put and (today - put[-1].happened).days <= SAME_DAYS:
        out["after_planting_out"] = f"the daybook has it set out on {day_words(put[-1].happened)}"
    return out


def _event(garden: Garden, planting: Planting, today: date) -> Iterator[Planting]:
    """Other plantings hit by what may be a herbicide within the same days."""
    near = timedelta(days=SAME_DAYS)
    mine = [e.happened for e in _hits(garden.entries_of(planting.id))] or [today]
    for other in garden.plantings.values():
        if other.id == planting.id:
            continue
        hits = [e.happened for e in (*_hits(garden.entries_of(other.id)), *_hits(garden.entries_of(other.bed)))]
        if any(abs(day - own) <= near for day in hits for own in mine):
            yield other


def _hits(entries: Iterable[Entry]) -> Iterator[Entry]:
    for e in entries:
        known = troubles().get(str(e.payload.get("trouble", "")).replace("-", "_")) if e.kind == "found" else None
        if is_injury(e) or (known is not None and known.category == "herbicide"):
            yield e
