"""Does great heat, or cold, fall on the fresh deposit? The day's highest counts, not the hour of spraying."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, timedelta

from kailyard.documents._parts import RestsOn
from kailyard.troubles.case import Case, by_fact, by_rule, by_weather, read_it, typed
from kailyard.troubles.label import silent
from kailyard.troubles.verdict import Finding

NAME = "heat and cold"
FRESH_DAYS = 1
"""Days after that of spraying on which the deposit is still fresh. (rule S14)"""
SULFUR_DAYS = 3
"""The same for sulfur, whose labels look farther ahead. (rule S40, common practice)"""
NEAR_C = 2.0
"""A highest temperature so near the limit is warned of: a forecast is seldom nearer than that."""
AHEAD_DAYS = 14
"""So far ahead the next cooler days are looked for."""


def check(case: Case) -> Iterator[Finding]:
    """The lower of the ceilings of label and handbook, on every day while the deposit is fresh; then the floor."""
    limit, ground = ceiling(case)
    if case.label.temp_max_c is None and not silent(case.label, "temp_max_c"):
        yield read_it(case, NAME, "the highest temperature it may be used at")
    if limit is None:
        if silent(case.label, "temp_max_c"):
            yield Finding(NAME, "may", "Neither label nor handbook names a highest temperature.", typed(case))
    else:
        yield from _hot(case, limit, ground)
    yield from _cold(case)


def ceiling(case: Case) -> tuple[float | None, RestsOn]:
    """The lower of what label and handbook name, and where it stands."""
    remedy, label = case.remedy, case.label
    named = None if remedy is None or remedy.limit_of == "effect" else remedy.number("temp_max_c")
    if named is not None and (label.temp_max_c is None or named < label.temp_max_c):
        assert remedy is not None
        return named, by_fact(remedy.ground("temp_max_c"), remedy)
    return label.temp_max_c, typed(case)


def fresh_days(case: Case) -> int:
    """Days after that of spraying while the deposit is fresh."""
    return SULFUR_DAYS if "sulfur" in case.record.classes else FRESH_DAYS


def _hot(case: Case, limit: float, ground: RestsOn) -> Iterator[Finding]:
    days = [case.day + timedelta(days=n) for n in range(fresh_days(case) + 1)]
    known = {d: case.weather.tmax_c[d] for d in days if d in case.weather.tmax_c}
    hot = {d: t for d, t in known.items() if t > limit}
    if hot:
        worst = max(hot, key=lambda d: hot[d])
        says = f"{hot[worst]:.0f} °C on {worst:%d %B}, and no more than {limit:g} °C while the spray is fresh."
        yield Finding(NAME, "not now", says.replace(" 0", " "), ground, until=_cooler(case, limit))
    elif len(known) < len(days):
        lacking = next(d for d in days if d not in known)
        says = f"How hot it gets on {lacking:%d %B} is unknown: no forecast reaches it.".replace(" 0", " ")
        yield Finding(NAME, "unknown", says, by_weather(case))
    else:
        top = max(known.values())
        yield Finding(NAME, "may", f"{top:.0f} °C at most while it is fresh; the limit is {limit:g} °C.", ground)
        if top > limit - NEAR_C:
            says = f"That is within {NEAR_C:g} °C of the limit, and a forecast may miss by as much."
            yield Finding(NAME, "may", says, by_rule("S14"), beside=True)


def _cooler(case: Case, limit: float) -> datetime | None:
    """The first day after this one from which it stays under the limit as long as the deposit is fresh."""
    for n in range(1, AHEAD_DAYS):
        first = case.day + timedelta(days=n)
        ahead = [case.weather.tmax_c.get(first + timedelta(days=k)) for k in range(fresh_days(case) + 1)]
        if all(t is not None and t <= limit for t in ahead):
            return case.morning(first)
    return None


def _cold(case: Case) -> Iterator[Finding]:
    remedy, label, hour = case.remedy, case.label, case.at
    named = [t for t in (label.temp_min_c, remedy.number("temp_min_c") if remedy else None) if t is not None]
    if label.temp_min_c is None and not silent(label, "temp_min_c"):
        yield read_it(case, NAME, "the lowest temperature it may be used at")
    if not named:
        if silent(label, "temp_min_c"):
            yield Finding(NAME, "may", "No lowest temperature is named.", typed(case))
        return
    floor = max(named)
    ground = (
        typed(case) if label.temp_min_c == floor else by_fact(remedy.ground("temp_min_c") if remedy else None, remedy)
    )
    if hour is None or hour.temp_c is None:
        yield Finding(NAME, "unknown", "How warm it is at that hour is unknown.", by_weather(case))
    elif hour.temp_c < floor:
        says = f"{hour.temp_c:.0f} °C at that hour; it asks for {floor:g} °C or more."
        yield Finding(NAME, "not now", says, ground, until=None)
    else:
        yield Finding(NAME, "may", f"{hour.temp_c:.0f} °C at that hour; the least is {floor:g} °C.", ground)
    if "oil" in case.record.classes:
        night = case.weather.tmin_c.get(case.day + timedelta(days=1))
        if night is None:
            yield Finding(NAME, "unknown", "Whether frost comes before it has dried is unknown.", by_rule("S17"))
        elif night <= 0.0:
            says = f"Frost is due before the oil has dried ({night:.0f} °C)."
            yield Finding(NAME, "not now", says, by_rule("S17"), until=case.morning(case.day + timedelta(days=2)))
