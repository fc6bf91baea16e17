"""What figures and steps of life are called: in a lookout and among its reasons."""

from __future__ import annotations

from typing import cast

from kailyard.documents._parts import Reason, RestsOn, Status
from kailyard.documents.scout import Figure, LifeStep
from kailyard.handbook.insects import Threshold
from kailyard.season.reasons import plain_day
from kailyard.troubles.counted import on_sight

_NO_FIGURE = {
    "no garden figure": "no figure for gardens is published",
    "none established": "no figure has been established",
    "prevent only: no rescue": "once it is in the plants nothing rescues them",
}


def figure_of(one: Threshold) -> Figure:
    """From how many on it is worth acting, in words."""
    note = f" ({one.note})" if one.note else ""
    stage = "at any stage" if one.stage == "any" else one.stage
    status = cast(Status, one.status)
    if one.measure in _NO_FIGURE:
        return Figure(_NO_FIGURE[one.measure] + (f"; {one.note}" if one.note else ""), False, status, one.source)
    if on_sight(one):
        return Figure(f"{one.measure.removesuffix(' seen')} on sight, {stage}{note}", True, status, one.source)
    if one.low is None:
        amount = f": {one.value} {one.unit}".rstrip() if one.value else ""
        return Figure(f"{one.measure}{amount}, {stage}{note}", True, status, one.source)
    unit = " %" if one.unit == "percent" else f" {one.unit}"
    stricter = f" ({one.value.replace('-', ' to ')} printed; the stricter holds)" if one.low != one.high else ""
    return Figure(f"{one.measure}: {one.low:g}{unit}, {stage}{stricter}{note}", True, status, one.source)


def figure_reason(figure: Figure) -> Reason:
    """The same as a reason."""
    said = f"Worth acting from: {figure.says}." if figure.known else f"{figure.says[0].upper()}{figure.says[1:]}."
    return Reason(said, rests_on=RestsOn(figure.status, figure.source, "thresholds"))


def step_reason(step: LifeStep) -> Reason:
    """When a step of life comes, as a reason."""
    span = f"{plain_day(step.low)} to {plain_day(step.high)}" if step.low and step.high else "beyond what is foreseen"
    return Reason(f"{step.event}: {span}.", rests_on=RestsOn(step.status, step.source, "handbook, insect events"))
