"""Are the leaves dry when it is put on?"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta

from kailyard.documents._parts import RestsOn
from kailyard.troubles.case import Case, asked, by_fact, by_rule, by_weather
from kailyard.troubles.verdict import Finding

NAME = "wet leaves"
WET_PCT = 90.0
"""Leaves are taken for wet from this humidity on. (Sentelhas and others; rule of thumb of wetness by humidity)"""
SLOW_PCT = 80.0
"""Copper and oils dry too slowly from here on: they burn while the leaf is wet. (S42; the figure is ours)"""
RAIN_MM = 0.1
DRYING_H = 2
"""A spray must dry within so many hours, that of spraying among them. (ours; thin films dry in one to two hours)"""
WET_AFTER_RAIN_H = 2
"""So long after rain leaves are taken for wet, whatever the air. (ours)"""
_SLOW = frozenset({"copper", "oil"})
"""What burns where it dries slowly. (S42 of copper; of oils the handbook: not where humidity stops drying)"""


def check(case: Case) -> Iterator[Finding]:
    """Seen on the spot; humid hours and fresh rain speak against it beforehand."""
    says = "Wet leaves: the spray runs off, and burns where it gathers."
    yield asked(case, NAME, "leaf-dry", says)
    hour = case.at
    if hour is None or hour.humidity_pct is None:
        yield Finding(NAME, "unknown", "Whether leaves are dry then is unknown: no humidity.", by_weather(case))
    elif hour.humidity_pct >= WET_PCT:
        yield Finding(NAME, "not now", f"Leaves are wet at {hour.humidity_pct:.0f} % humidity.", by_rule("S21"))
    elif (slow := _SLOW & case.record.classes) and hour.humidity_pct >= SLOW_PCT:
        what = sorted(slow)[0].capitalize()
        says = f"{what} burns on leaves that dry slowly ({hour.humidity_pct:.0f} % humidity)."
        yield Finding(NAME, "not now", says, _slow_ground(case))
    elif hour.rain_mm is not None and hour.rain_mm >= RAIN_MM:
        yield Finding(NAME, "not now", "It rains in that hour.", by_rule("S21"))
    else:
        yield Finding(NAME, "may", f"{hour.humidity_pct:.0f} % humidity: leaves should be dry.", by_rule("S21"))
    yield from _rained_before(case)
    yield from _drying(case)


def _rained_before(case: Case) -> Iterator[Finding]:
    """Rain shortly before wets the leaf; an hour to come of which nothing is known may bring some."""
    if case.hour is None:
        return
    for begins, hour in case.weather.before(case.hour, WET_AFTER_RAIN_H):
        if hour is not None and hour.rain_mm is not None:
            if hour.rain_mm >= RAIN_MM:
                over = begins + timedelta(hours=1)
                says = f"Rain until about {over:%H:%M}: leaves are wet for {WET_AFTER_RAIN_H} hours."
                dry = begins + timedelta(hours=1 + WET_AFTER_RAIN_H)
                yield Finding(NAME, "not now", says, by_rule("S21"), until=dry)
                return
        elif begins + timedelta(hours=1) > case.now:
            yield Finding(NAME, "unknown", "Whether it rains shortly before is unknown.", by_weather(case))
            return


def _drying(case: Case) -> Iterator[Finding]:
    """It must dry: the hours behind the spraying count too, and an unknown one is no dry one."""
    if case.hour is None:
        return
    most = SLOW_PCT if _SLOW & case.record.classes else WET_PCT
    for hour in case.weather.after(case.hour, DRYING_H)[1:]:
        if hour is None or hour.humidity_pct is None:
            says = f"Whether it dries within {DRYING_H} hours is unknown: no humidity is forecast."
            yield Finding(NAME, "unknown", says, by_weather(case))
            return
        if hour.humidity_pct >= most:
            says = f"It would not dry in time: {hour.humidity_pct:.0f} % humidity at {hour.begins:%H:%M}."
            yield Finding(NAME, "not now", says, _slow_ground(case) if most < WET_PCT else by_rule("S21"))
            return


def _slow_ground(case: Case) -> RestsOn:
    remedy = case.remedy
    if "copper" in case.record.classes or remedy is None:
        return by_rule("S42")
    return by_fact(remedy.facts.get("incompatible"), remedy)
