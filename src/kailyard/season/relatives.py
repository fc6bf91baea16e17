"""Whose answer to temperature stands in where a crop's own is not known."""

from __future__ import annotations

from kailyard.handbook.types import Fact, Handbook, Leg

_RESPONSE = ("response", "base_c", "opt_low_c", "opt_high_c", "ceiling_c")
_HARVEST = ("first-harvest", "mature")


def stand_in(crop: str, handbook: Handbook) -> tuple[Leg, Fact] | None:
    """The leg whose response is borrowed and the fact that names its crop; None where the handbook names none.

    Among the relative's legs driven by air and with a base: one that reaches the harvest, then one that says how long,
    then the handbook's first choice.
    """
    named = handbook.get(crop, "responds_as")
    if named is None:
        return None
    fit = [
        leg
        for leg in handbook.legs.get(str(named.value), ())
        if leg.response not in ("none", "max-foldback") and leg.base_c is not None and not leg.soil
    ]
    if not fit:
        return None
    best = min(
        fit,
        key=lambda leg: (leg.to_stage not in _HARVEST, leg.degree_days is None and leg.days is None, leg.order),
    )
    return best, named


def response_facts(leg: Leg) -> tuple[Fact, ...]:
    """What of a borrowed leg is used: its response, not its days."""
    return tuple(leg.facts[name] for name in _RESPONSE if name in leg.facts)
