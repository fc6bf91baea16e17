"""A watering in words: how much, how long, in how many goes, when and at what hour; and what it rests on."""

from __future__ import annotations

import math
from datetime import date
from functools import lru_cache

import numpy as np

from kailyard.care.asked import Stand
from kailyard.care.course import OPEN_SHARE
from kailyard.care.outlets import PONDS_MM, USUAL_L_MIN
from kailyard.care.water import RAIN_DAYS, Water, Watering
from kailyard.documents._parts import Reason, RestsOn
from kailyard.handbook.quantities import quantities
from kailyard.handbook.types import Fact
from kailyard.season.life import Life
from kailyard.season.measures import day_words, in_ten, listing
from kailyard.season.odds import middle
from kailyard.season.reasons import from_entry, from_fact
from kailyard.season.view import SeasonView
from kailyard.units import convert
from kailyard.weather.record import FloatArray

YOUNG_BEFORE_DAYS = 14
"""So long before the first flower a dry spell is said to check growth, and no more."""

LIKELY_RAIN = 0.6
"""From this chance on rain is worth waiting for."""
LONGEST_REST_MINUTES = 90.0
"""Nobody waits longer beside a bed: then a go each morning."""
DAWN_HOUR, DONE_BY_HOUR = 4, 9
"""Common practice: sprinkle between first light and about nine, by the clock."""
BALL_DAYS = 10
"""So long after setting out roots are mostly in the ball of earth that they came in."""

FLOWER_SHARE = 0.4
"""Of the time from first flower to the last picking, what counts as flower and setting."""
WEEK_DAYS = 7

_STAGES = {"growth": "In growth", "flower": "In flower", "fill": "As heads or fruit fill"}

PAGE = "docs/explanation/how-water-is-reckoned.md"
OURS = RestsOn("memory", "judgement of Kailyard's makers", PAGE)


def plants_words(view: SeasonView, water: Water, watering: Watering) -> str:
    """'snap beans and peas'; by cultivar where another row of the same plants in the bed wants none."""
    plantings = [water.stand.lives[n].planting for n in watering.at]
    mine = {p.id for p in plantings}
    dry = {
        view.plants(life.planting)
        for life in view.lives.values()
        if life.standing and life.planting.bed == watering.bed and life.planting.id not in mine
    }
    names = (view.with_cultivar(p) if view.plants(p) in dry else view.plants(p) for p in plantings)
    return listing(list(dict.fromkeys(names)))


def row_words(view: SeasonView, life: Life) -> str:
    """'snap beans ‘Lantern’'; with its day where another row of the same stands in the bed."""
    name = view.with_cultivar(life.planting)
    alike = [
        other
        for other in view.lives.values()
        if other.standing and other.planting.bed == life.planting.bed and view.with_cultivar(other.planting) == name
    ]
    if len(alike) < 2:
        return name
    begun = {"sown": "sown", "planted": "planted"}.get(life.planting.start, "set out")
    return f"{name}, {begun} {day_words(date.fromordinal(int(np.median(life.begun))))}"


@lru_cache(maxsize=2)  # asked for each planting of each bed, and again for the page
def _middles(stand: Stand) -> FloatArray:
    """The middle day, over the possible seasons, of full cover, of the end and of coming up. (3, plantings)"""
    return np.stack([np.median(days, axis=0) for days in (stand.covered, stand.over, stand.up)])


def in_seed(view: SeasonView, water: Water, n: int) -> bool:
    """Whether it is shallow-sown seed that is likelier not up than up."""
    return bool(_middles(water.stand)[2, n] > view.today.toordinal())


def newly_set(view: SeasonView, life: Life) -> bool:
    """Whether its roots are still in the ball of earth that they came in."""
    set_out = life.planting.start in ("raised", "bought")
    return set_out and view.today.toordinal() - int(np.median(life.begun)) < BALL_DAYS


def amount_words(mm: float, litres: float, view: SeasonView) -> str:
    """'12 mm, 140 L', rounded as one can measure."""
    depth, deep = convert(mm, "mm", view.garden.units)
    volume, unit = convert(litres, "L", view.garden.units)
    step = 10 ** max(math.floor(math.log10(max(volume, 1.0))) - 1, 0)
    return (
        f"{depth:.1f} {deep}, {round(volume / step) * step:g} {unit}"
        if deep == "in"
        else (f"{depth:.0f} {deep}, {round(volume / step) * step:g} {unit}")
    )


def how_words(view: SeasonView, watering: Watering) -> str:
    """'35 minutes with the drip line, in 2 goes an hour apart'."""
    goes, outlet = watering.goes, watering.outlet
    if goes.cans:
        cans = "1 can" if goes.cans == 1 else f"{goes.cans} cans"
        said = f"{cans} at the foot of the plants"
    else:
        minutes = goes.minutes or 0.0
        whole = max(round(minutes), 1) if minutes < 20 else 5 * round(minutes / 5)
        time = f"{whole} minute{'s' * (whole > 1)}" if minutes < 90 else f"{minutes / 60:.1f} hours".replace(".0 ", " ")
        unmeasured = f" of {usual_flow(view)}" if outlet.entry is None else ""
        said = f"about {time} with {'a' if outlet.entry is None else 'the'} {outlet.words}{unmeasured}"
    if watering.whole:
        said += ", which waters all of the bed"
    if goes.goes == 1:
        return said
    if goes.rest_minutes > LONGEST_REST_MINUTES:
        return f"{said}, in {goes.goes} goes, one a morning: this soil takes no more at once"
    if outlet.by_hand:
        return f"{said}, in {goes.goes} rounds to soak in"
    return f"{said}, in {goes.goes} goes with {5 * math.ceil(goes.rest_minutes / 5)} minutes between"


def usual_flow(view: SeasonView) -> str:
    """'10 L a minute': of a hose that nobody has measured."""
    flow, unit = convert(USUAL_L_MIN, "L", view.garden.units)
    return f"{flow:.0f} {unit} a minute"


def hour_words(watering: Watering) -> str:
    """At which hours: early, so that little is lost to sun and wind and leaves are dry by noon."""
    goes = watering.goes
    if not watering.outlet.wets_leaves:
        return "early, leaves kept dry"
    days = goes.goes if goes.rest_minutes > LONGEST_REST_MINUTES else 1
    whole = (goes.minutes or 0.0) / days + (goes.rest_minutes * (goes.goes - 1) if days == 1 else 0.0)
    begin = 10 * int((60 * DONE_BY_HOUR - whole) // 10)
    if begin < 60 * DAWN_HOUR:
        return f"from first light, so that leaves are dry by noon; what is not done by {DONE_BY_HOUR} the next morning"
    return f"begin by {begin // 60}:{begin % 60:02d}, done by {DONE_BY_HOUR}, so that leaves dry soon"


def when_words(watering: Watering, today: date) -> str:
    """'today', 'on Saturday 13 June'."""
    if watering.day is None:
        return ""
    return "today" if watering.day == today else f"on {watering.day:%A} {day_words(watering.day)}"


def detail_words(view: SeasonView, water: Water, watering: Watering) -> str:
    """What the sheet says under a watering."""
    if watering.day is None:
        return ""
    amount = amount_words(watering.mm, watering.goes.litres, view)
    seed = [n for n in watering.at if in_seed(view, water, n)]
    young = [n for n in watering.at if newly_set(view, water.stand.lives[n])]
    how, hour = how_words(view, watering), hour_words(watering)
    if len(seed) == len(watering.at):
        how = "by hand with a fine rose, so that the rows stay moist until the seed is up"
        hour = "early in the morning"
    elif seed:
        how += "; what is sown and not up yet with a fine rose"
    elif len(young) == len(watering.at):
        how += "; at the foot of each plant, where its roots still are in the ball they came in"
    elif young:
        how += "; what is newly set out at the foot of each plant, where its roots are"
    said = f"{when_words(watering, view.today)} {amount}: {how}; {hour}"
    if watering.rain >= LIKELY_RAIN:
        rest = "give half of it" if watering.short else "wait for it while a handful still holds"
        said += f"; rain within {RAIN_DAYS} days brings most of it {in_ten(watering.rain)}: {rest}"
    return said if told(water, watering) else f"if nobody has watered (nothing is entered), {said}; feel the soil first"


def told(water: Water, watering: Watering) -> bool:
    """Whether the daybook says anything of water under one of these plantings."""
    entered = {g.at for g in water.course.given} | {r.at for r in water.course.found}
    return any(n in entered for n in watering.at)


def dry_words(view: SeasonView, water: Water, watering: Watering) -> str:
    """What a dry spell does to the planting that it costs most, at the stage there is."""
    if any(in_seed(view, water, n) for n in watering.at):
        return "seed that has begun to swell dies when it dries out: gaps in the row"
    first = max(watering.at, key=lambda n: answers_to_water(view, water, n))
    life = water.stand.lives[first]
    said, flower = view.said(life.planting, "dry_hurts"), life.stage("first-flower")
    early = (
        middle(flower.days) > view.today.toordinal() + YOUNG_BEFORE_DAYS
        if flower is not None
        else _stage_now(view, water, first) == "growth"
    )
    if early and not said.startswith("any time"):
        return "growth is checked"  # what is said of flower, fruit, head and bulb is not at stake yet
    return said.partition(": ")[2] or said or "growth stops; leaves age"


def answers_to_water(view: SeasonView, water: Water, n: int) -> float:
    """Share of the crop lost for each share of its water that it lacks at this stage; over the season else."""
    life = water.stand.lives[n]
    own = {stage: ky for stage, ky, _, _ in stage_costs(view, water, n)}
    return own.get(_stage_now(view, water, n), view.number(life.planting, "ky", 1.0))


def stage_costs(view: SeasonView, water: Water, n: int) -> tuple[tuple[str, float, float, Fact], ...]:
    """(stage, share lost for each share of water lacked in it, its length in days, the fact) where known.

    Growth reaches to full cover, which comes with the first flower; flower takes the first part of what follows.
    """
    stand, planting = water.stand, water.stand.lives[n].planting
    begun = float(stand.begun[n])
    covered, over, _ = _middles(stand)[:, n]
    flowers = view.fact(planting, "ky_flower") is not None
    faded = covered + (FLOWER_SHARE * (over - covered) if flowers else 0.0)
    spans = {"growth": covered - begun, "flower": faded - covered, "fill": over - faded}
    found = ((stage, view.fact(planting, f"ky_{stage}")) for stage in spans)
    return tuple((stage, fact.number, max(spans[stage], WEEK_DAYS), fact) for stage, fact in found if fact is not None)


def _stage_now(view: SeasonView, water: Water, n: int) -> str:
    today, stand = view.today.toordinal(), water.stand
    covered, over, _ = _middles(stand)[:, n]
    if today < covered:
        return "growth"
    flowers = view.fact(stand.lives[n].planting, "ky_flower") is not None
    return "flower" if flowers and today < covered + FLOWER_SHARE * (over - covered) else "fill"


def week_costs(view: SeasonView, water: Water, n: int) -> str:
    """'A week with half of its water costs about 1 in 100 of the crop before flower (now) and 30 in flower.'; ''.

    Formula: FAO-33, 1 - Ya/Ym = Ky (1 - ETa/ETm), over the stage.
    """
    costs = stage_costs(view, water, n)
    if not costs:
        return ""
    now, called = _stage_now(view, water, n), {"growth": "before flower", "flower": "in flower", "fill": "as it fills"}
    if all(stage != "flower" for stage, *_ in costs):
        called["growth"] = "before it fills"
    said: list[str] = []
    for stage, ky, days, _ in costs:
        share = _coarse(100 * ky * 0.5 * WEEK_DAYS / days)
        of_crop = "" if said else " in 100 of the crop"
        said.append(f"{share}{of_crop} {called[stage]}{' (now)' if stage == now else ''}")
    return f"A week with half of its water costs about {listing(said)}."


def _coarse(percent: float) -> int:
    """As fine as it is known: whole below 5, then fives."""
    return max(round(percent), 1) if percent < 5 else 5 * round(percent / 5)


def reasons_for(view: SeasonView, water: Water, watering: Watering) -> tuple[Reason, ...]:
    """Depletion against easy water for each planting, down to soil, coefficients, weather and entries."""
    return tuple(reasons_for_planting(view, water, n) for n in watering.at) + _how(view, watering)


def reasons_for_planting(view: SeasonView, water: Water, n: int) -> Reason:
    """Of one planting."""
    stand, course, to_come = water.stand, water.course, water.ahead
    life, soil, taker = stand.lives[n], stand.soils[n], stand.takers[n]
    book = view.handbook
    easy = float(np.median(to_come.easy_mm[0][..., n]))
    here = to_come.available_mm[0]
    available = float(here[n] if here.ndim == 1 else here[0, n])
    plants = row_words(view, life)
    off, unit = convert(float(course.now_spread_mm[n]), "mm", view.garden.units)
    entries = [from_entry(g.entry, f"Watered on {day_words(g.entry.happened)}.") for g in course.given if g.at == n][
        -3:
    ]
    entries += [from_entry(r.entry, f"Found on {day_words(r.entry.happened)}.") for r in course.found if r.at == n][-2:]
    coefficients = f"Coefficients of the group {taker.stands_in} stand in." if taker.stands_in else "Its coefficients."
    single = "" if taker.dual else " The single coefficient is used: the group has no basal one."
    return Reason(
        f"{plants[:1].upper()}{plants[1:]}: gone from the root zone, give or take {off:.{int(unit == 'in')}f} {unit}.",
        round(float(course.now_mm[n]), 1),
        "mm",
        RestsOn("computed", "FAO-56 water balance, two coefficients", PAGE),
        (
            Reason(
                f"Easy water; watering is worth it from {OPEN_SHARE * 100:.0f} in 100 of it.",
                round(easy, 1),
                "mm",
                OURS,
            ),
            Reason(
                f"All that its roots reach in this soil ({soil.name}"
                + (f"; {soil.stands_in}" if soil.stands_in else "")
                + ").",
                round(available, 1),
                "mm",
                RestsOn("computed", "field capacity less wilting point, times root depth", PAGE),
                tuple(from_fact(f, book, _meaning("water", f)) for f in soil.facts),
            ),
            Reason(
                coefficients + single,
                because=tuple(from_fact(f, book, _meaning("crops", f)) for f in taker.facts),
            ),
            Reason(
                "Weather: lows, highs and rain; humidity, sun and wind are estimated the FAO-56 way.",
                rests_on=RestsOn("observed", view.ensemble.source, ""),
            ),
            *_dry_reasons(view, water, n),
            *entries,
        ),
    )


def _meaning(table: str, fact: Fact) -> str:
    """What a quantity is, as the handbook declares it; a group's stands among those of water."""
    declared = quantities()
    found = declared[table].get(fact.quantity) or declared["water"][fact.quantity]
    end = {"min": ": lower end", "max": ": upper end"}.get(fact.quantity.rpartition("_")[2], "")
    return f"{found.meaning[:1].upper()}{found.meaning[1:].partition(':')[0]}{end}."


def _dry_reasons(view: SeasonView, water: Water, n: int) -> tuple[Reason, ...]:
    """What a dry spell costs, by stage."""
    found = view.fact(water.stand.lives[n].planting, "dry_costs")
    words = week_costs(view, water, n)
    made = (
        Reason(
            words,
            rests_on=RestsOn("computed", "FAO-33: yield lost is Ky times water lacked, over a stage", PAGE),
            because=tuple(
                from_fact(f, view.handbook, f"{_STAGES[stage]}.") for stage, _, _, f in stage_costs(view, water, n)
            ),
        ),
    )
    return (*(made if words else ()), *((from_fact(found, view.handbook, "Found in trials."),) if found else ()))


def _how(view: SeasonView, watering: Watering) -> tuple[Reason, ...]:
    outlet = watering.outlet
    ground = (
        from_entry(outlet.entry, f"Measured on {day_words(outlet.entry.happened)}: {outlet.words}.")
        if outlet.entry
        else Reason("Nobody has measured an outlet: a usual hose stands in.", USUAL_L_MIN, "L/min", OURS)
    )
    facts = tuple(from_fact(f, view.handbook, _meaning("water", f)) for f in outlet.facts)
    ponds = Reason("So much may stand on level ground before it runs off.", PONDS_MM, "mm", OURS)
    return (ground, *facts, *((ponds,) if watering.goes.goes > 1 else ()))
