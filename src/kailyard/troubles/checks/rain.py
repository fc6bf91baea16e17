"""Do enough hours without rain follow?"""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil

from kailyard.troubles.case import Case, by_fact, by_rule, by_weather, read_it, typed
from kailyard.troubles.label import silent
from kailyard.troubles.verdict import Finding

NAME = "rain"
LEAST_H = 4.0
"""Most fungicides and insecticides need so many hours without rain. (S18)"""
DRY_MM = 0.1
"""An hour with less than this is without rain: gauges cannot tell less."""


def needed_h(case: Case) -> float:
    """The most hours that label, handbook or the general rule ask for."""
    told = [case.label.rain_free_hours, case.remedy.number("rainfast_max_hours") if case.remedy else None, LEAST_H]
    return max(h for h in told if h is not None)


def check(case: Case) -> Iterator[Finding]:
    """Every hour must be known: an unknown hour is no dry one."""
    need = needed_h(case)
    if case.label.rain_free_hours is None and not silent(case.label, "rain_free_hours"):
        yield read_it(case, NAME, "the hours without rain that it asks for")
    if case.hour is None:
        yield Finding(NAME, "unknown", "Whether it stays dry is unknown: no hour is named.", by_weather(case))
        return
    hours = case.weather.after(case.hour, ceil(need) + 1)
    remedy = case.remedy
    ground = by_rule("S18")
    if case.label.rain_free_hours == need:
        ground = typed(case)
    elif remedy is not None and remedy.number("rainfast_max_hours") == need:
        ground = by_fact(remedy.ground("rainfast_max_hours"), remedy)
    wet = [h for h in hours if h is not None and h.rain_mm is not None and h.rain_mm >= DRY_MM]
    if wet:
        says = f"Rain at {wet[0].begins:%H:%M}, and it asks for {need:g} hours without."
        yield Finding(NAME, "not now", says, ground)
    elif any(h is None or h.rain_mm is None for h in hours):
        says = f"It asks for {need:g} hours without rain, and not all of them are forecast."
        yield Finding(NAME, "unknown", says, by_weather(case))
    else:
        yield Finding(NAME, "may", f"No rain is forecast for {need:g} hours.", ground)
