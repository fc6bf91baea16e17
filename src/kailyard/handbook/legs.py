"""Legs of development, put together from their values and judged as wholes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from types import MappingProxyType
from typing import cast, get_args

from kailyard.handbook.rows import LegRow
from kailyard.handbook.types import Fact, Leg, Response

Stretch = tuple[str, str, str]
"""Crop, from stage, to stage."""

_NEEDS: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "none": (),
        "linear": ("base_c",),
        "capped": ("base_c", "opt_low_c"),
        "trapezoid": ("base_c", "opt_low_c", "opt_high_c", "ceiling_c"),
        "beta": ("base_c", "opt_low_c", "ceiling_c"),
        "max-foldback": ("base_c", "opt_high_c"),
    }
)
"""What each response to temperature cannot do without."""


def build_legs(rows: Iterable[LegRow]) -> dict[str, tuple[Leg, ...]]:
    """Crop -> its legs by (from, to, order). A leg whose response is missing counts as 'none'; the checker says so."""
    grouped: dict[tuple[str, str, str, int], dict[str, Fact]] = {}
    for row in rows:
        key = (row.fact.subject, row.from_stage, row.to_stage, row.order)
        grouped.setdefault(key, {}).setdefault(row.fact.quantity, row.fact)
    legs: dict[str, list[Leg]] = {}
    for key in sorted(grouped):
        legs.setdefault(key[0], []).append(_leg(*key, grouped[key]))
    return {crop: tuple(found) for crop, found in legs.items()}


def _leg(crop: str, from_stage: str, to_stage: str, order: int, facts: dict[str, Fact]) -> Leg:
    def number(quantity: str) -> float | None:
        return facts[quantity].number if quantity in facts else None

    def span(stem: str) -> tuple[float, float] | None:
        low, high = number(f"{stem}_low"), number(f"{stem}_high")
        return None if low is None or high is None else (low, high)

    response = facts.get("response")
    named = str(response.value) if response else "none"
    driver = facts.get("driver")
    return Leg(
        crop=crop,
        from_stage=from_stage,
        to_stage=to_stage,
        order=order,
        response=cast(Response, named if named in get_args(Response) else "none"),
        base_c=number("base_c"),
        opt_low_c=number("opt_low_c"),
        opt_high_c=number("opt_high_c"),
        ceiling_c=number("ceiling_c"),
        degree_days=span("degree_days"),
        days=span("days"),
        reference_mean_c=number("reference_mean_c"),
        soil=driver is not None and driver.value == "soil",
        facts=MappingProxyType(facts),
        note=response.note if response else "",
    )


def usable(leg: Leg) -> bool:
    """Whether the leg says how long: a sum that has its base, or days."""
    return leg.days is not None or (leg.degree_days is not None and leg.base_c is not None)


def check_legs(legs: Iterable[Leg]) -> Iterator[tuple[str, int, str]]:
    """What is wrong with legs as wholes: (file, line, message)."""
    rivals: dict[Stretch, list[Leg]] = {}
    for leg in legs:
        rivals.setdefault((leg.crop, leg.from_stage, leg.to_stage), []).append(leg)
        where = min(leg.facts.values(), key=lambda fact: fact.line)
        for message in _wrong(leg):
            yield where.file, where.line, f"{leg.crop} {leg.from_stage} to {leg.to_stage} ({leg.order}): {message}"
    for (crop, from_stage, to_stage), found in rivals.items():
        first = min((fact for leg in found for fact in leg.facts.values()), key=lambda fact: fact.line)
        orders = [leg.order for leg in found]
        name = f"{crop} {from_stage} to {to_stage}"
        if orders != list(range(1, len(orders) + 1)):
            yield first.file, first.line, f"{name}: orders are {orders}. Rivals count 1, 2, 3 without a gap."
        ranks = [usable(leg) for leg in found]
        if ranks != sorted(ranks, reverse=True):
            yield (
                first.file,
                first.line,
                f"{name}: a leg that has neither a sum nor days stands before one that has. Give it the highest order.",
            )


def _wrong(leg: Leg) -> Iterator[str]:
    if "response" not in leg.facts:
        yield "no row 'response'. Every leg says how it answers to temperature, or 'none'."
    if "driver" not in leg.facts:
        yield "no row 'driver'. Say whether soil or air temperature drives it."
    lacking = [quantity for quantity in _NEEDS[leg.response] if quantity not in leg.facts]
    if lacking:
        yield f"response {leg.response} needs {', '.join(lacking)}. Add the rows or take response 'none'."
    if leg.response == "none" and any(q.startswith("degree_days") for q in leg.facts):
        yield "degree-days without a response. A sum is useless without its base: keep it in the note."
    for stem in ("degree_days", "days"):
        if (f"{stem}_low" in leg.facts) != (f"{stem}_high" in leg.facts):
            yield f"{stem} has one end only. Write both, the same value twice where one is printed."
    if leg.from_stage == leg.to_stage:
        yield "from_stage and to_stage are the same."
