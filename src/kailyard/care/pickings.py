"""What will be picked, as a document: crop by crop, week by week, and what was weighed."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from datetime import date

import numpy as np

from kailyard.care.amounts import ANYTHING, Ahead, ahead, balance, together, wants
from kailyard.care.bearing import FloatArray, grounds
from kailyard.care.picking import part_words
from kailyard.care.weighed import called, questions, weighed
from kailyard.care.yields import SEASONS_CARRY, Standing, current, published, range_kg, standing_of, weight_range
from kailyard.care.yields import grounds as yield_grounds
from kailyard.documents._parts import Reason
from kailyard.documents.picking import Band, CropAhead, Picking, PlantingAhead, Week, Word
from kailyard.garden.model import Entry
from kailyard.season.answers import answers
from kailyard.season.life import Life
from kailyard.season.measures import day_words, days_from, in_ten, listing, span_words
from kailyard.season.reasons import from_fact
from kailyard.season.use_words import fact_for, produce_for, said_for
from kailyard.season.uses import meant, moves, recognised, use_fact, uses_of
from kailyard.season.view import SeasonView
from kailyard.season.windows import Hold
from kailyard.season.work import injury_hold, treated
from kailyard.units import in_running_text

LITTLE, PLENTY = 1 / 3, 2 / 3
"""Parts of the crop's best week below which a week gives little, and from which it gives plenty."""

LEAST_CHANCE = 0.05
"""A planting with a smaller chance of giving anything in the weeks ahead is not told of."""


def pickings(view: SeasonView, crop: str = "") -> Picking:
    """All that is to be picked in the weeks ahead, and all that was weighed; of one crop where it is named."""
    by_use: dict[tuple[str, str], list[Life]] = {}
    for life in view.lives.values():
        if life.sightings.ended is None and not life.over and (not crop or life.planting.crop == crop):
            use = meant(view.handbook, life.planting.crop, life.use)
            by_use.setdefault((life.planting.crop, use), []).append(life)
    found: list[CropAhead] = []
    groups: dict[tuple[str, str], tuple[Standing, list[Ahead]]] = {}
    unknown: list[str] = []
    for (key, use), lives in by_use.items():
        garden = standing_of(view, key, use)
        of = [(life, ahead(view, life, garden)) for life in lives]
        if view.handbook.number(key, "harvest_duration_days_min") is not None:
            unknown += [
                f"{view.with_cultivar(life.planting)}, {view.where(life.planting)}"
                for life, a in of
                if a is None and not _rests(view, life)
            ]
        bearing = [one for _, one in of if one is not None and _bears(one)]
        if bearing:
            groups[key, use] = garden, bearing
    wanted = wants(view.garden, view.today)
    for (key, use), (garden, bearing) in groups.items():
        together_of = [one for (k, _), (_, those) in groups.items() if k == key for one in those]
        found.append(_crop(view, use, garden, bearing, together_of, wanted))
    lost = tuple(
        f"'{key}' is wanted, but no crop of the handbook." for key, _ in wanted if key not in view.handbook.crops
    )
    return Picking(
        garden=view.garden.name,
        on=view.today,
        units=view.garden.units,
        crops=tuple(sorted(found, key=lambda one: (_soonest(one), one.produce))),
        unknown=tuple(sorted(unknown)),
        weighed=weighed(view, crop),
        questions=(*questions(view), *lost),
        held=tuple(_held(view, crop)),
    )


def _held(view: SeasonView, crop: str) -> Iterator[str]:
    """What an injury or a label holds back: it stands before everything that is ripe."""
    for said in answers(view, of=(injury_hold, treated)):
        if isinstance(said, Hold) and "pick" in said.forbids:
            crops = {view.garden.plantings[of].crop for of in said.of if of in view.garden.plantings}
            if not crop or crop in crops:
                yield f"{said.says}, {said.where}: {said.detail}"


def _bears(one: Ahead) -> bool:
    return float((one.shares.sum(axis=0) > ANYTHING).mean()) >= LEAST_CHANCE


def _rests(view: SeasonView, life: Life) -> bool:
    """Young crowns, of which nothing is cut this year: that is known well enough."""
    return view.fact(life.planting, "cut_weeks_year_1_max") is not None


def _soonest(one: CropAhead) -> int:
    return next((n for n, week in enumerate(one.weeks) if week.word), len(one.weeks))


def _crop(
    view: SeasonView,
    use: str,
    garden: Standing,
    of: Sequence[Ahead],
    all_uses: Sequence[Ahead],
    wanted: Mapping[tuple[str, str], Entry],
) -> CropAhead:
    life = of[0].life
    crop, kg = life.planting.crop, together(view, of)
    shares = np.sum([np.broadcast_to(one.shares, (len(one.shares), *view.shape)) for one in of], axis=0)
    carried = garden.carries and kg is not None
    mine = next((e for (key, word), e in wanted.items() if key == crop and word and _same(view, crop, word, use)), None)
    whole = wanted.get((crop, ""))
    want, weighed_against = (mine, kg) if mine is not None else (whole, together(view, all_uses))
    repeated = fact_for(view, life, "picking_interval_days_min") is not None
    spans: tuple[str, ...] = ()
    if want is not None and weighed_against is not None and repeated:
        spans = tuple(span.words for span in balance(view, weighed_against, float(want.quantity or 0.0)))
    return CropAhead(
        crop=crop,
        use=use,
        produce=produce_for(view, life) if life.use else called(view, life.planting),
        how=_how(view, life),
        uses=_other_uses(view, crop, use),
        weeks=_weeks(view, shares, kg, carried=carried),
        carried=carried,
        carried_words=_carried_words(garden, known=kg is not None),
        published=_published(view, of),
        wanted_kg=None if want is None else want.quantity,
        wanted_of="of all uses together" if mine is None and len(all_uses) > len(of) else "",
        balance=spans,
        plantings=tuple(_planting(view, one) for one in of),
        reasons=(*_how_reasons(view, life), *yield_grounds(view, life, garden)),
    )


def _same(view: SeasonView, crop: str, word: str, use: str) -> bool:
    return recognised(view.handbook, crop, word) == use


def _weeks(view: SeasonView, shares: FloatArray, kg: FloatArray | None, *, carried: bool) -> tuple[Week, ...]:
    """The weeks up to the last with anything to pick; amounts are of the samples that have something."""
    weight = shares if kg is None else kg
    low, middle, high = np.quantile(weight, (0.1, 0.5, 0.9), axis=(1, 2))
    top, some = max(float(high.max()), 1e-9), shares > ANYTHING
    chances = some.mean(axis=(1, 2))
    told = np.flatnonzero(chances >= LEAST_CHANCE)
    if not told.size:
        return ()
    there = [weight[n][some[n]] if some[n].any() else np.zeros(1) for n in range(int(told[-1]) + 1)]
    likely = [float(those.mean()) for n, those in enumerate(there) if 2 * chances[n] >= chances.max()]
    best = max(*likely, 1e-9)
    return tuple(
        Week(
            first=days_from(view.today, 7 * n),
            chance=float(chances[n]),
            word=_word(float(those.mean()) / best, float(chances[n])),
            ink=Band(float(low[n]) / top, float(middle[n]) / top, float(high[n]) / top),
            kg=Band(*(float(q) for q in np.quantile(those, (0.1, 0.5, 0.9)))) if carried else None,
        )
        for n, those in enumerate(there)
    )


def _word(part: float, chance: float) -> Word:
    if chance < LEAST_CHANCE:
        return ""
    return "little" if part < LITTLE else "some" if part < PLENTY else "plenty"


def _carried_words(garden: Standing, *, known: bool) -> str:
    if not known:
        return "No yield of it is published: only when it bears is told."
    years = listing([str(year) for year in sorted({season.year for season in garden.seasons})])
    if garden.carries:
        n = len(garden.seasons)
        return f"Weights rest on {n} plantings of this garden that were weighed through, in {years}."
    have = f" So far it was in {years}." if years else ""
    return (
        f"In words until it was weighed through in {SEASONS_CARRY} seasons: published yields spread too widely.{have}"
    )


def _published(view: SeasonView, of: Sequence[Ahead]) -> str:
    ways = [published(one.life.planting, view.bed(one.life.planting), view.handbook, one.life.use) for one in of]
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
    begun = bool(b.picks)
    return PlantingAhead(
        planting=life.planting.id,
        says=view.with_cultivar(life.planting),
        where=view.where(life.planting),
        when=_when(view, one),
        so_far=_so_far(view, life) if begun else "",
        left=f"{part_words(left)} of it is still to come" if begun else "",
        standing=b.standing,
        reasons=(*grounds(view, life), *yield_grounds(view, life, one.garden)),
    )


def _when(view: SeasonView, one: Ahead) -> str:
    """'first picking 23 June to 5 July, last 8–25 July, 8 in 10; 1 in 10 that none comes'."""
    b = one.bearing
    comes = b.borne > 0
    first, last = (np.where(comes, days, np.inf) for days in (b.first, np.minimum(b.last, b.cut)))
    at_once, parts = bool((b.first >= b.last)[comes].all()), []
    if not b.picks:
        parts.append(f"{'all at once' if at_once else 'first picking'} {_days_of(first)}")
    if not at_once:
        parts.append(f"last {_days_of(last)}")
    none = 1.0 - float(comes.mean())
    tail = f"; {in_ten(none)} that none comes" if none >= LEAST_CHANCE else ""
    return f"{', '.join(parts)}, 8 in 10{tail}" if parts else ""


def _days_of(days: FloatArray) -> str:
    """The middle eight tenths of days, in words; those that never come count as late."""
    low, high = np.quantile(days, (0.1, 0.9), method="inverted_cdf")
    if np.isinf(low):
        return "hardly at all"
    first = date.fromordinal(int(low))
    return f"from {day_words(first)} on" if np.isinf(high) else span_words(first, date.fromordinal(int(high)))


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


def _how(view: SeasonView, life: Life) -> tuple[str, ...]:
    """('Every 2 to 3 days', 'sign: snaps cleanly', 'size: 10–15 cm long', 'once the leaves are dry')."""
    least, most = (fact_for(view, life, f"picking_interval_days_{end}") for end in ("min", "max"))
    parts = []
    if least is not None and most is not None:
        low, high = round(least.number), round(most.number)
        parts.append(
            "every day" if high == 1 else f"every {low} to {high} days" if low != high else f"every {low} days"
        )
    size = _size(view, life)
    sign = said_for(view, life, "pick_sign") or said_for(view, life, "maturity_signs")
    parts += [f"sign: {sign}"] if sign else []
    first_figures = re.findall(r"[0-9.]+", size)[:2]
    again = size.startswith("by cultivar") or (first_figures and first_figures == re.findall(r"[0-9.]+", sign)[:2])
    parts += [f"size: {size}"] if size and not again else []
    hour = said_for(view, life, "pick_hour")
    return (*parts, *([hour] if hour else []))


def _size(view: SeasonView, life: Life) -> str:
    """The size for what it is picked for; '' where a use that is picked at another age has none of its own."""
    handbook, crop = view.handbook, life.planting.crop
    if moves(handbook, crop, life.use) is not None:
        fact = handbook.get(f"{crop}/{life.use}", "pick_size")
    else:
        fact = use_fact(handbook, crop, meant(handbook, crop, life.use), "pick_size")
    said = "" if fact is None else in_running_text(str(fact.value), view.garden.units)
    return re.sub(r"(?<=[0-9])-(?=[0-9])", "–", said)


def _other_uses(view: SeasonView, crop: str, use: str) -> tuple[str, ...]:
    """'gherkin, 1 to 3 days sooner: 3 to 5 cm long, the flower just dry', beside the use at hand."""
    middle = _after(view, crop, use)
    out = []
    for other in uses_of(view.handbook, crop):
        if other == use:
            continue
        moved = sorted(round(end - middle) for end in _ends(view, crop, other))
        low, high = sorted(abs(n) for n in moved)
        span = f"{low}" if low == high else f"{low} to {high}"
        days = f"{span} days {'sooner' if sum(moved) < 0 else 'later'}"
        if moved[0] <= 0 <= moved[1]:
            days = f"up to {-moved[0]} days sooner or {moved[1]} later" if any(moved) else "at the same time"
        sign = view.handbook.text(f"{crop}/{other}", "pick_sign")
        out.append(in_running_text(f"{other}, {days}: {sign}", view.garden.units))
    return tuple(out)


def _ends(view: SeasonView, crop: str, use: str) -> tuple[float, float]:
    low, high = (view.handbook.number(f"{crop}/{use}", f"use_after_days_{end}", 0.0) or 0.0 for end in ("min", "max"))
    return low, high


def _after(view: SeasonView, crop: str, use: str) -> float:
    return sum(_ends(view, crop, use)) / 2


def _how_reasons(view: SeasonView, life: Life) -> tuple[Reason, ...]:
    named = {
        "picking_interval_days_min": "Shortest time between pickings.",
        "picking_interval_days_max": "Longest time between pickings.",
        "pick_sign": "The sign to go by",
        "pick_size": "Size to pick at",
        "pick_hour": "Hour of the day",
    }
    found = ((fact_for(view, life, q), says) for q, says in named.items())
    return tuple(from_fact(fact, view.handbook, says) for fact, says in found if fact is not None)
