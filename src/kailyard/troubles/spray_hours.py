"""Hour by hour, as far as an hourly forecast reaches: fit to spray, not, or unknown; beyond it, unknown."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date, datetime
from types import MappingProxyType

from kailyard.handbook.remedies import bloom_of
from kailyard.troubles.case import QUESTIONS, Case
from kailyard.troubles.checking import check
from kailyard.troubles.verdict import Answer, Verdict

ASSUMED = tuple(key for key in QUESTIONS if key != "no-inversion")
"""Of these a plan takes for granted that they will be found in order; they are asked again on the spot."""


@dataclass(frozen=True, slots=True)
class SprayHour:
    """One hour."""

    begins: datetime
    answer: Answer
    """'may': fit as far as can be told beforehand; what is to be seen on the spot is still to be asked."""
    why: str
    """The first reason against; ''."""
    hindrances: int
    """How many reasons stand against it."""
    state: str
    """How its weather is known: 'forecast', 'observed', 'made from days', 'unknown'."""


def spray_hours(case: Case, hours: Iterable[datetime]) -> tuple[SprayHour, ...]:
    """Each hour's fitness. An hour of which any weather that a check needs is unknown is itself unknown, never fit."""
    return tuple(_hour(case, each) for each in sorted(hours))


def planned(case: Case, hour: datetime) -> Verdict:
    """The verdict of an hour ahead, with what can only be seen on the spot taken for granted.

    Near dusk even that is not enough: there somebody has to look for still air first.
    """
    taken = [key for key in ASSUMED if key != "no-open-flowers" or shut_by_then(case)]
    hoped = dict.fromkeys(taken, True)
    if case.tells_of(hour):
        hoped |= case.spot
    sun = case.weather.sun.get(hour.date())
    at = replace(case, day=hour.date(), hour=hour, spot=MappingProxyType(hoped), planned=True)
    if hour.date() > case.now.date():  # by then it is watered; how the plants stand is asked again on the spot
        at = replace(at, thirsty=None, wilted=None)
    found = check(at)
    if sun is not None and set(found.asks) == {"no-inversion"} and found.answer == "unknown":
        found = check(replace(at, spot=MappingProxyType({**hoped, "no-inversion": True})))
    return found


def shut_by_then(case: Case) -> bool:
    """Whether a plan may take for granted that no flower is open: out of flower, or of a kind whose hours are known.

    Beans or tomatoes in flower have flowers open at any hour: there somebody has to look.
    """
    own = case.in_bloom is False or bloom_of(case.crop) is not None
    return own and not case.flowers_all_day


def next_fit(case: Case, hours: Iterable[datetime]) -> datetime | None:
    """The first hour that is fit as far as can be told; None where no hour is known to be."""
    return next((h.begins for h in spray_hours(case, hours) if h.answer == "may"), None)


def by_day(hours: Iterable[SprayHour]) -> dict[date, tuple[SprayHour, ...]]:
    """Hours by their day, in order."""
    found: dict[date, list[SprayHour]] = {}
    for each in hours:
        found.setdefault(each.begins.date(), []).append(each)
    return {day: tuple(those) for day, those in found.items()}


def _hour(case: Case, begins: datetime) -> SprayHour:
    found = planned(case, begins)
    weather = case.weather.hours.get(begins)
    state = weather.state if weather is not None else "unknown"
    first = found.against[0].says if found.against else ""
    return SprayHour(begins, found.answer, first, len(found.against), state)
