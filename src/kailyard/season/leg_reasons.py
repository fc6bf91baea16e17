"""A leg of development as reasons: its printed range and its response to temperature."""

from __future__ import annotations

import math

from kailyard.documents._parts import Reason, RestsOn
from kailyard.garden.model import Cultivar
from kailyard.handbook.types import Handbook, Leg
from kailyard.season.reasons import from_fact, rests_on_fact
from kailyard.season.stage_words import words


def middle(span: tuple[float, float]) -> float:
    """Geometric middle of a low and a high."""
    return math.sqrt(max(span[0], 0.5) * max(span[1], 0.5))


def span_reason(leg: Leg, handbook: Handbook, low: str, high: str, unit: str, what: str) -> Reason:
    """The printed range of a leg, its note opened under it."""
    a, b = leg.facts.get(low), leg.facts.get(high)
    one = a or b
    assert one is not None
    low_value, high_value = (a or one).number, (b or one).number
    span = f"{low_value:g}" if low_value == high_value else f"{low_value:g}–{high_value:g}"
    note = (Reason(leg.note),) if leg.note else ()
    return Reason(
        f"{what}: {span} {unit} from {words(leg.from_stage)} to {words(leg.to_stage)}.",
        middle((low_value, high_value)),
        unit,
        rests_on_fact(one, handbook),
        note,
    )


def response_reasons(leg: Leg, handbook: Handbook) -> tuple[Reason, ...]:
    """How a leg answers to temperature, value by value."""
    named = {
        "base_c": "No development at or below",
        "opt_low_c": "It speeds up to",
        "opt_high_c": "It slows down above",
        "ceiling_c": "It stands still at",
    }
    if leg.response == "capped":
        named["opt_high_c"] = "It is no faster above"
    return tuple(
        from_fact(leg.facts[q], handbook, f"{says} this daily mean.") for q, says in named.items() if q in leg.facts
    )


def packet_reason(cultivar: Cultivar) -> Reason:
    """A packet's days as the gardener entered them."""
    said = "counted in this garden" if cultivar.counted_here else "on its packet"
    return Reason(
        f"{cultivar.name}: {cultivar.days_to_maturity:g} days from {words(cultivar.days_from)}, {said}.",
        cultivar.days_to_maturity,
        "days",
        RestsOn("yours", "cultivar as entered", f"{cultivar.crop} {cultivar.name}"),
    )
