"""What will be picked, as a document: crop by crop, week by week, and what was weighed."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from kailyard.care.amounts import ANYTHING, Ahead, ahead, balance, together, wants
from kailyard.care.bearing import FloatArray, grounds
from kailyard.care.picking import part_words
from kailyard.care.weighed import called, questions, weighed
from kailyard.care.yields import SEASONS_CARRY, Standing, current, published, range_kg, standing_of, weight_range
from kailyard.care.yields import grounds as yield_grounds
from kailyard.documents._parts import Reason
from kailyard.documents.picking import Band, CropAhead, Picking, PlantingAhead, Week, Word
from kailyard.season.life import Life
from kailyard.season.measures import days_from, listing, odds_words
from kailyard.season.reasons import from_fact
from kailyard.season.view import SeasonView

LITTLE, PLENTY = 1 / 3, 2 / 3
"""Parts of the crop's best week below which a week gives little, and from which it gives plenty."""

LEAST_CHANCE = 0.05
"""A planting with a smaller chance of giving anything in the weeks ahead is not told of."""


def pickings(view: SeasonView, crop: str = "") -> Picking:
    """All that is to be picked in the weeks ahead, and all that was weighed; of one crop where it is named."""
    by_crop: dict[str, list[Life]] = {}
    for life in view.lives.values():
        if life.sightings.ended is None and not life.over and (not crop or life.planting.crop == crop):
            by_crop.setdefault(life.planting.crop, []).append(life)
    wanted, found, unknown = wants(view.garden, view.today), [], []
    for key, lives in by_crop.items():
        garden = standing_of(view, key)
        of = [(life, ahead(view, life, garden)) for life in lives]
        if view.handbook.number(key, "harvest_duration_days_min") is not None:
            unknown += [
                f"{view.with_cultivar(life.planting)}, {view.where(life.planting)}" for life, a in of if a is None
            ]
        bearing = [one for _, one in of if one is not None and _bears(one)]
        if bearing:
            found.append(_crop(view, key, garden, bearing, wanted.get(key)))
    told = weighed(view, crop)
    lost = tuple(f"'{key}' is wanted, but no crop of the handbook." for key in wanted if key not in view.handbook.facts)
    return Picking(
        garden=view.garden.name,
        on=view.today,
        units=view.garden.units,
        crops=tuple(sorted(found, key=lambda one: (_soonest(one), one.produce))),
        unknown=tuple(sorted(unknown)),
        weighed=told,
        questions=(*questions(view), *lost),
    )


def _bears(one: Ahead) -> bool:
    return float((one.shares.sum(axis=0) > ANYTHING).mean()) >= LEAST_CHANCE


def _soonest(one: CropAhead) -> int:
    return next((n for n, week in enumerate(one.weeks) if week.word), len(one.weeks))


def _crop(view: SeasonView, crop: str, garden: Standing, of: Sequence[Ahead], wanted_kg: float | None) -> CropAhead:
    planting = of[0].life.planting
    kg = together(view, of)
    shares = np.sum([np.broadcast_to(one.shares, (len(one.shares), *view.shape)) for one in of], axis=0)
    carried = garden.carries and kg is not None
    weeks = _weeks(view, shares, kg, carried=carried)
    spans: tuple[str, ...] = ()
    repeated = view.fact(planting, "picking_interval_days_min") is not None
    if wanted_kg is not None and kg is not None:
        spans = tuple(span.words for span in balance(view, kg, wanted_kg)) if repeated else ()
    return CropAhead(
        crop=crop,
        produce=called(view, planting),
        how=_how(view, of[0].life),
        uses=tuple(part.strip() for part in view.said(planting, "pick_uses").split(";") if part.strip()),
        weeks=weeks,
        carried=carried,
        carried_words=_carried_words(garden, known=kg is not None),
        published=_published(view, of),
        wanted_kg=wanted_kg,
        balance=spans,
        plantings=tuple(_planting(view, one) for one in of),
        reasons=(*_how_reasons(view, of[0].life), *yield_grounds(view, of[0].life, garden)),
    )


def _weeks(view: SeasonView, shares: FloatArray, kg: FloatArray | None, *, carried: bool) -> tuple[Week, ...]:
    """The weeks up to the last with anything to pick."""
    weight = shares if kg is None else kg
    low, middle, high = np.quantile(weight, (0.1, 0.5, 0.9), axis=(1, 2))
    mean, top = weight.mean(axis=(1, 2)), max(float(high.max()), 1e-9)
    best = max(float(mean.max()), 1e-9)
    chances = (shares > ANYTHING).mean(axis=(1, 2))
    told = np.flatnonzero((chances >= LEAST_CHANCE) & (mean / best >= ANYTHING))
    last = int(told[-1]) if told.size else -1
    return tuple(
        Week(
            first=days_from(view.today, 7 * n),
            chance=float(chances[n]),
            word=_word(float(mean[n]) / best, float(chances[n])),
            ink=Band(float(low[n]) / top, float(middle[n]) / top, float(high[n]) / top),
            kg=Band(float(low[n]), float(middle[n]), float(high[n])) if carried else None,
        )
        for n in range(last + 1)
    )


def _word(part: float, chance: float) -> Word:
    if chance < LEAST_CHANCE or part < ANYTHING:
        return ""
    return "little" if part < LITTLE else "some" if part < PLENTY else "plenty"


def _carried_words(garden: Standing, *, known: bool) -> str:
    if not known:
        return "No yield of it is published: only when it bears is told."
    years = listing([str(year) for year in sorted({season.year for season in garden.seasons})])
    if garden.carries:
        n = len(garden.seasons)
        return f"Kilograms rest on {n} plantings of this garden that were weighed through, in {years}."
    have = f" So far it was in {years}." if years else ""
    return (
        f"In words until it was weighed through in {SEASONS_CARRY} seasons: published yields spread too widely.{have}"
    )


def _published(view: SeasonView, of: Sequence[Ahead]) -> str:
    ways = [published(one.life.planting, view.bed(one.life.planting), view.handbook) for one in of]
    known = [found for way in ways if (found := range_kg(way)) is not None]
    if not known:
        return ""
    said = weight_range(view, sum(low for low, _ in known), sum(high for _, high in known))
    facts = {fact.status for way in ways for basis in way for fact in basis.facts}
    marks = listing([mark for mark in ("published", "common practice", "memory") if mark in facts])
    many = "these plantings" if len(known) > 1 else "this planting"
    return f"By the handbook's yields {many} would give {said} in a whole season ({marks})."


def _planting(view: SeasonView, one: Ahead) -> PlantingAhead:
    life, b = one.life, one.bearing
    left = float((one.ledger.waiting + one.ledger.coming).mean()) / max(float(b.borne.mean()), 1e-9)
    return PlantingAhead(
        planting=life.planting.id,
        says=view.with_cultivar(life.planting),
        where=view.where(life.planting),
        when=_when(view, life),
        so_far=_so_far(view, life),
        left=f"{part_words(left)} of it is still to come",
        standing=b.standing,
        reasons=(*grounds(view, life), *yield_grounds(view, life, one.garden)),
    )


def _when(view: SeasonView, life: Life) -> str:
    way = life.timeline
    first = life.stage("first-harvest") or (life.stage(way.harvest) if way is not None else None)
    last = life.stage("last-harvest")
    begun = bool(life.sightings.of("pick"))
    parts = [] if first is None or begun else [f"from {odds_words(first)}"]
    if last is not None:
        parts.append(f"until {odds_words(last)}")
    return ", ".join(parts)


def _so_far(view: SeasonView, life: Life) -> str:
    season = current(view, life)
    if season is None:
        return ""
    n = len(season.picks)
    times = "1 picking" if n == 1 else f"{n} pickings"
    if not season.weighed_kg:
        return f"{times}, none weighed"
    unweighed = f", {season.unweighed} without a weight" if season.unweighed else ""
    return f"{weight_range(view, season.weighed_kg, season.weighed_kg)} in {times}{unweighed}"


def _how(view: SeasonView, life: Life) -> str:
    """'Every 2 to 3 days, when it snaps cleanly, 10–15 cm long, once the leaves are dry.'"""
    planting = life.planting
    least, most = (view.fact(planting, f"picking_interval_days_{end}") for end in ("min", "max"))
    parts = []
    if least is not None and most is not None:
        low, high = round(least.number), round(most.number)
        every = "every day" if high == 1 else f"every {low} to {high} days" if low != high else f"every {low} days"
        parts.append(every)
    size = view.said(planting, "pick_size")
    sign = view.said(planting, "pick_sign") or view.said(planting, "maturity_signs")
    parts += [f"sign: {sign}"] if sign else []
    parts += [f"size: {size}"] if size and size not in sign and not size.startswith("by cultivar") else []
    hour = view.said(planting, "pick_hour")
    parts += [hour] if hour else []
    return "; ".join(parts)


def _how_reasons(view: SeasonView, life: Life) -> tuple[Reason, ...]:
    named = {
        "picking_interval_days_min": "Shortest time between pickings.",
        "picking_interval_days_max": "Longest time between pickings.",
        "pick_sign": "The sign to go by",
        "pick_size": "Size to pick at",
        "pick_uses": "Sizes for each use",
        "pick_hour": "Hour of the day",
    }
    found = ((view.fact(life.planting, q), says) for q, says in named.items())
    return tuple(from_fact(fact, view.handbook, says) for fact, says in found if fact is not None)
