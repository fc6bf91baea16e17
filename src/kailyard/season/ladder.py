"""What a planting needs from stage to stage: the ladder of development facts, from the firmest rung that bears.

1 published degree-days; 2 a packet's or table's days with a base; 3 a relative's response; 4 plain calendar days.
A packet's days become a requirement at the reference mean of the crop's facts, not at this garden's own climate.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import lru_cache

from kailyard.documents._parts import Reason, RestsOn
from kailyard.garden.model import Cultivar, Planting
from kailyard.handbook.types import Fact, Handbook, Leg
from kailyard.season.clock import CALENDAR, ResponseKey
from kailyard.season.leg_reasons import middle, packet_reason, response_reasons, span_reason
from kailyard.season.reasons import from_fact, from_judgement
from kailyard.season.relatives import response_facts, stand_in

RUNGS = {
    1: "published degree-days",
    2: "days at a reference temperature, and a base",
    3: "the response of a relative",
    4: "calendar days",
}

BAND = 2 * 1.2816
"""A printed low–high is read as the middle 80 % of a log-normal: this many standard deviations wide."""

LEAST_SPREAD = {1: 0.06, 2: 0.08, 3: 0.12, 4: 0.10}
CROP_SPREAD = {1: 0.05, 2: 0.06, 3: 0.10, 4: 0.08}
PLANTING_SPREAD = {1: 0.06, 2: 0.06, 3: 0.08, 4: 0.08}
PACKET_SPREAD = 0.06
STAGE_SPREAD = 0.05
OWN_SPREAD = 0.03
"""Least spread of a stage's own, so that a day seen can be met."""
MOST_FRUIT_SHARE = 0.85
"""The flower comes after at least the rest of the whole requirement."""
EMERGENCE_SPREAD = 0.20
LEAST_LEFT_SHARE = 0.4
WARM_REFERENCE_C, COOL_REFERENCE_C = 20.0, 16.5
NURSERY_SHARE = 0.7
"""Of the warmth under cover, this share counts towards harvest: transplanting checks growth."""

START_STAGES: Mapping[str, tuple[str, ...]] = {
    "sown": ("sown", "emerged", "set-out", "planted"),
    "raised": ("set-out", "sown", "emerged", "planted"),
    "bought": ("set-out", "sown", "emerged", "planted"),
    "planted": ("planted", "set-out", "sown"),
}


@dataclass(frozen=True, slots=True)
class Requirement:
    """Warmth (or days) needed from the stage before, or the anchor, to this one: median `amount`, how it came about."""

    stage: str
    amount: float
    spread: float
    """Standard deviation of the logarithm that is this stage's own; what is shared stands in the timeline."""
    reasons: tuple[Reason, ...] = ()


@dataclass(frozen=True, slots=True)
class Timeline:
    """A planting's way through its stages on one main clock, after emergence on the soil's clock where it is sown."""

    anchor: str
    """Stage from which the main clock counts: emerged, set-out or planted."""
    emergence_key: ResponseKey | None
    emergence: Requirement | None
    key: ResponseKey
    stages: tuple[Requirement, ...]
    """In order of time, each counted from the one before; the last is the harvest."""
    harvest: str
    """'first-harvest' or 'mature'."""
    rung: int
    crop_spread: float
    cultivar_spread: float
    planting_spread: float
    harvest_days: tuple[float, float]
    """How long picking, or standing ready, lasts: low and high. [days]"""
    ripening_days: float | None = None
    """From the first plants that show the sign of ripeness to all of them, where it is known. [days]"""
    facts: tuple[Fact, ...] = ()
    reasons: tuple[Reason, ...] = ()

    @property
    def total(self) -> float:
        """Median from the anchor to the harvest. [°C·d or days]"""
        return sum(need.amount for need in self.stages)


@dataclass(slots=True)
class _Notes:
    facts: list[Fact] = field(default_factory=list)
    reasons: list[Reason] = field(default_factory=list)


def harvest_stage(crop: str, handbook: Handbook) -> str:
    """'mature' where the whole plant is lifted once (bulbs, tubers), else 'first-harvest'."""
    to_mature = any(leg.to_stage == "mature" for leg in handbook.legs.get(crop, ()))
    return "mature" if to_mature and handbook.text(crop, "verb").lower() == "lift" else "first-harvest"


def _usable(leg: Leg) -> bool:
    return leg.degree_days is not None or leg.days is not None


def best_leg(legs: tuple[Leg, ...], starts: tuple[str, ...], to_stage: str) -> Leg | None:
    """The first choice among legs to a stage, from the nearest of the start stages that has any."""
    for start in starts:
        fit = [leg for leg in legs if leg.from_stage == start and leg.to_stage == to_stage and _usable(leg)]
        if fit:
            return min(fit, key=lambda leg: leg.order)
    return None


def _spread(span: tuple[float, float], least: float) -> float:
    return max(math.log(max(span[1], 0.5) / max(span[0], 0.5)) / BAND, least)


def reference_mean_c(crop: str, handbook: Handbook, leg: Leg | None) -> tuple[float, Fact | None]:
    """Mean temperature at which a packet's days are taken to hold, and the fact it comes from."""
    rivals = (leg, *handbook.legs.get(crop, ())) if leg is not None else handbook.legs.get(crop, ())
    for one in rivals:
        if one is not None and one.reference_mean_c is not None and not one.soil and one.to_stage != "emerged":
            return one.reference_mean_c, one.facts.get("reference_mean_c")
    warm = handbook.text(crop, "season_class") == "warm"
    return (WARM_REFERENCE_C if warm else COOL_REFERENCE_C), None


@lru_cache(maxsize=2048)  # the same planting is asked about whenever the daybook grows
def timeline(
    planting: Planting,
    cultivar: Cultivar | None,
    handbook: Handbook,
    *,
    nursery_days: float | None = None,
    own_mean_c: float | None = None,
) -> Timeline | None:
    """The way of a planting, or None where the handbook knows nothing of its development.

    Parameters
    ----------
    nursery_days
        Days under cover from sowing to setting out where both are known.
    own_mean_c
        Mean temperature of this garden's growing season, for days that were counted here. [°C]
    """
    crop, legs, notes = planting.crop, handbook.legs.get(planting.crop, ()), _Notes()
    harvest = harvest_stage(crop, handbook)
    starts = START_STAGES[planting.start]
    if handbook.get(crop, "warmth_from_day_length_h") is not None:
        starts = ("bulb-start", *starts)  # the clock is started by the length of the day
    leg = best_leg(legs, starts, harvest) or _from_printed_days(crop, harvest, handbook)
    packet = cultivar if cultivar is not None and cultivar.days_to_maturity is not None else None
    # Days from first flower say nothing of the way to it: that is the crop's.
    own = None if packet is not None and packet.days_from == "first-flower" else packet
    if leg is None and own is None:
        return None
    reference_c, reference_fact = reference_mean_c(crop, handbook, leg)
    if packet is not None and packet.counted_here and own_mean_c is not None:
        reference_c, reference_fact = own_mean_c, None
    key, response_leg, kin = _main_response(crop, leg, handbook)
    degrees = max(key.degrees(reference_c), 0.5)
    rung, amount, spread, start = _requirement(
        own, leg, response_leg, kin, key, degrees, reference_c, reference_fact, handbook, notes
    )
    emergence = _emergence(legs) if planting.start in ("sown", "planted") else None
    e_key = ResponseKey.of(emergence) if emergence else None
    e_need = _emergence_need(emergence, handbook) if emergence else None
    if emergence:
        notes.facts += emergence.facts.values()
    amount, anchor = _from_anchor(
        planting, start, amount, key, degrees, reference_c, e_key, e_need, handbook, notes, nursery_days
    )
    stages = _split_at_flower(crop, harvest, handbook, key, reference_c, amount, notes)
    if packet is not own and packet is not None and harvest != "mature":
        stages = _with_own_fruit(stages, packet, degrees)
    return Timeline(
        anchor=anchor,
        emergence_key=e_key,
        emergence=e_need,
        key=key,
        stages=stages,
        harvest=harvest,
        rung=rung,
        crop_spread=CROP_SPREAD[rung],
        cultivar_spread=spread,
        planting_spread=PLANTING_SPREAD[rung],
        harvest_days=_harvest_days(crop, harvest, handbook, notes),
        ripening_days=handbook.number(crop, "ripening_days"),
        facts=tuple(notes.facts),
        reasons=tuple(notes.reasons),
    )


def _from_printed_days(crop: str, harvest: str, handbook: Handbook) -> Leg | None:
    """A plain leg from the crop's printed days to harvest, where no development row reaches that far."""
    low, high = handbook.get(crop, "days_to_first_harvest_min"), handbook.get(crop, "days_to_first_harvest_max")
    event = {"transplant": "set-out", "sowing": "sown", "planting": "planted", "slip": "planted"}
    start = event.get(handbook.text(crop, "start_event"))
    if low is None or high is None or start is None or high.number > 300:
        return None
    return Leg(
        crop, start, harvest, 99, "none", None, None, None, None, None, (low.number, high.number), None, False,
        {"days_low": low, "days_high": high}, "",
    )  # fmt: skip


def _main_response(crop: str, leg: Leg | None, handbook: Handbook) -> tuple[ResponseKey, Leg | None, Fact | None]:
    """The main clock, the leg it is taken from, and where that is a relative's the fact that names it."""
    if leg is not None and leg.response != "none":
        return ResponseKey.of(leg), leg, None
    found = stand_in(crop, handbook)
    return (CALENDAR, None, None) if found is None else (ResponseKey.of(found[0]), *found)


def _requirement(
    cultivar: Cultivar | None,
    leg: Leg | None,
    response_leg: Leg | None,
    kin: Fact | None,
    key: ResponseKey,
    degrees: float,
    reference_c: float,
    reference_fact: Fact | None,
    handbook: Handbook,
    notes: _Notes,
) -> tuple[int, float, float, str]:
    """Rung, amount, cultivar spread and the stage it counts from."""
    if response_leg is not None:
        notes.facts += response_leg.facts.values() if kin is None else (*response_facts(response_leg), kin)
    if leg is not None and leg is not response_leg:
        notes.facts += leg.facts.values()
    at = (
        from_fact(reference_fact, handbook, "The days are taken to hold at this mean temperature.")
        if reference_fact
        else from_judgement("The days are taken to hold at this mean temperature.", reference_c, "°C")
    )
    response = response_reasons(response_leg, handbook) if response_leg else ()
    by_days = 4 if response_leg is None else 2
    if kin is not None:
        by_days = 3
        response = (
            from_fact(kin, handbook, "Its own answer to warmth is not known; another crop's stands in."),
            *response,
        )
    if cultivar is not None and cultivar.days_to_maturity is not None:
        days = cultivar.days_to_maturity
        rung = by_days
        amount = days * degrees
        because = (
            packet_reason(cultivar),
            *((at, *response) if response_leg is not None else ()),
        )
        notes.reasons.append(_rung_reason(rung, amount, key, because))
        return rung, amount, PACKET_SPREAD, cultivar.days_from
    assert leg is not None
    if leg.degree_days is not None and response_leg is not None:
        amount, spread = middle(leg.degree_days), _spread(leg.degree_days, LEAST_SPREAD[1])
        because = (
            span_reason(leg, handbook, "degree_days_low", "degree_days_high", "°C·d", "Warmth needed"),
            *response,
        )
        notes.reasons.append(_rung_reason(1, amount, key, because))
        return 1, amount, spread, leg.from_stage
    assert leg.days is not None
    rung = by_days
    amount, spread = middle(leg.days) * degrees, _spread(leg.days, LEAST_SPREAD[rung])
    because = (
        span_reason(leg, handbook, "days_low", "days_high", "days", "Time needed"),
        *((at, *response) if response_leg is not None else ()),
    )
    notes.reasons.append(_rung_reason(rung, amount, key, because))
    return rung, amount, spread, leg.from_stage


def _with_own_fruit(stages: tuple[Requirement, ...], packet: Cultivar, degrees: float) -> tuple[Requirement, ...]:
    """The same way to first flower, then the packet's days from there."""
    fruit = (packet.days_to_maturity or 0.0) * degrees
    total = sum(need.amount for need in stages)
    flower = stages[0].amount if len(stages) > 1 else max(total - fruit, (1 - MOST_FRUIT_SHARE) * total)
    return (
        Requirement("first-flower", flower, STAGE_SPREAD, stages[0].reasons),
        Requirement(stages[-1].stage, fruit, STAGE_SPREAD, (packet_reason(packet),)),
    )


def _rung_reason(rung: int, amount: float, key: ResponseKey, because: tuple[Reason, ...]) -> Reason:
    unit = "days" if key == CALENDAR else "°C·d"
    return Reason(
        f"Foreseen from {RUNGS[rung]} (rung {rung} of 4): about {amount:.0f} {unit} to the harvest.",
        round(amount, 1),
        unit,
        RestsOn("computed", "ladder of development facts", "docs/explanation/how-a-season-is-foreseen.md"),
        because,
    )


def _emergence(legs: tuple[Leg, ...]) -> Leg | None:
    return best_leg(legs, ("sown", "planted"), "emerged")


def _emergence_need(leg: Leg, handbook: Handbook) -> Requirement:
    if leg.degree_days is not None and leg.response != "none":
        amount, spread = middle(leg.degree_days), _spread(leg.degree_days, EMERGENCE_SPREAD)
        because = span_reason(leg, handbook, "degree_days_low", "degree_days_high", "°C·d", "Warmth of the soil")
    else:
        assert leg.days is not None
        amount, spread = middle(leg.days), _spread(leg.days, EMERGENCE_SPREAD)
        because = span_reason(leg, handbook, "days_low", "days_high", "days", "Time needed")
    reason = Reason(
        "It comes up by the estimated temperature of the soil at seed depth, good to about 2 °C.",
        rests_on=RestsOn("computed", "emergence from soil temperature", "docs/validation.md"),
        because=(because, *response_reasons(leg, handbook)),
    )
    return Requirement("emerged", amount, spread, (reason,))


def _from_anchor(
    planting: Planting,
    start: str,
    amount: float,
    key: ResponseKey,
    degrees: float,
    reference_c: float,
    e_key: ResponseKey | None,
    e_need: Requirement | None,
    handbook: Handbook,
    notes: _Notes,
    nursery_days: float | None,
) -> tuple[float, str]:
    """The amount as counted from this planting's anchor: from emergence where sown, else from setting out."""
    least = LEAST_LEFT_SHARE * amount
    nursery = nursery_days if nursery_days is not None else usual_nursery_days(planting.crop, handbook)
    if planting.start in ("raised", "bought"):
        if start in ("sown", "emerged"):
            amount = max(amount - NURSERY_SHARE * nursery * degrees, least)
            notes.reasons.append(
                from_judgement("Of the warmth under cover this share counts: setting out checks growth.", NURSERY_SHARE)
            )
        return amount, "set-out"
    if start == "set-out" and planting.start == "sown":
        amount += NURSERY_SHARE * nursery * degrees
        start = "sown"
    if e_key is None or e_need is None:
        return amount, "sown" if planting.start == "sown" else "planted"
    if start in ("sown", "planted"):
        up_days = e_need.amount / max(e_key.degrees(reference_c), 0.5)
        amount = max(amount - up_days * degrees, least)
    return amount, "emerged"


def usual_nursery_days(crop: str, handbook: Handbook) -> float:
    """Days under cover before setting out, middle of the handbook's weeks. [days]"""
    low = handbook.number(crop, "weeks_indoors_min", 4.0) or 4.0
    high = handbook.number(crop, "weeks_indoors_max", low) or low
    return 3.5 * (low + high)


def _split_at_flower(
    crop: str, harvest: str, handbook: Handbook, key: ResponseKey, reference_c: float, amount: float, notes: _Notes
) -> tuple[Requirement, ...]:
    """The way to the harvest, by first flower where the time of the fruit is known.

    The fruit takes what it takes; the rest of a cultivar's days lie before the flower.
    """
    leg = best_leg(handbook.legs.get(crop, ()), ("first-flower",), harvest)
    if leg is None or harvest == "mature":
        return (Requirement(harvest, amount, OWN_SPREAD),)
    notes.facts += leg.facts.values()
    own_reference = leg.reference_mean_c or reference_c
    if leg.degree_days is not None and leg.response != "none":
        # Where both are printed the days are those of a cool and a warm place: warmth is the firmer fact.
        fruit_days = middle(leg.degree_days) / max(ResponseKey.of(leg).degrees(own_reference), 0.5)
        spread = _spread(leg.degree_days, STAGE_SPREAD)
        because = span_reason(leg, handbook, "degree_days_low", "degree_days_high", "°C·d", "From flower to fruit")
    else:
        assert leg.days is not None
        fruit_days, spread = middle(leg.days), _spread(leg.days, STAGE_SPREAD)
        because = span_reason(leg, handbook, "days_low", "days_high", "days", "From flower to fruit")
    fruit = min(fruit_days * key.degrees(own_reference), MOST_FRUIT_SHARE * amount)
    return (
        Requirement("first-flower", amount - fruit, STAGE_SPREAD, (because,)),
        Requirement(harvest, fruit, min(spread, 0.3), (because,)),
    )


def _harvest_days(crop: str, harvest: str, handbook: Handbook, notes: _Notes) -> tuple[float, float]:
    names = ("pick_keeps_days_min", "pick_keeps_days_max")
    if harvest != "mature" and handbook.get(crop, "harvest_duration_days_min") is not None:
        names = ("harvest_duration_days_min", "harvest_duration_days_max")
    found = [fact for name in names if (fact := handbook.get(crop, name)) is not None]
    notes.facts += found
    numbers = sorted(fact.number for fact in found) or [10.0, 21.0]
    return numbers[0], numbers[-1]
