"""Could cool air lie trapped at the ground? About dusk and dawn fine drops hang in it and travel."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta

from kailyard.troubles.case import Case, asked, by_rule, by_weather
from kailyard.troubles.verdict import Finding

NAME = "still air"
BEFORE_SUNSET_H, AFTER_SUNRISE_H = 2, 2
"""Inversions are usual so long before sunset and after sunrise. (S7; of two sources for the morning the longer)"""
EARLIEST_H = 4
"""They may begin so long before sunset. (S7, the second source)"""


def check(case: Case) -> Iterator[Finding]:
    """At night never now; near dusk only where somebody on the spot finds no sign of it and a breeze is blowing."""
    sun = case.weather.sun.get(case.day)
    if case.hour is None or sun is None:
        yield Finding(
            NAME, "unknown", "The hour is not known, so neither is whether the air lies still.", by_weather(case)
        )
        return
    begins, ends = case.hour, case.hour + timedelta(hours=1)
    morning = sun.rises + timedelta(hours=AFTER_SUNRISE_H)
    if begins < morning:
        says = "Until two hours after sunrise cool air may lie trapped at the ground."
        yield Finding(NAME, "not now", says, by_rule("S7"), until=morning)
    elif ends > sun.sets:
        tomorrow = morning + timedelta(days=1)
        yield Finding(NAME, "not now", "It is dark: cool air lies at the ground.", by_rule("S7"), until=tomorrow)
    elif ends > sun.sets - timedelta(hours=BEFORE_SUNSET_H) and case.seen("no-inversion") is None:
        says = "Within two hours of sunset only if somebody there finds no sign of still air."
        yield Finding(NAME, "not now", says, by_rule("S41"), until=morning + timedelta(days=1), ask="no-inversion")
    else:
        yield asked(case, NAME, "no-inversion", "Still, layered air: what is sprayed hangs and travels.")
        if ends > sun.sets - timedelta(hours=EARLIEST_H):
            says = "In clear dry weather still air may begin four hours before sunset: look again while at work."
            yield Finding(NAME, "may", says, by_rule("S7"), beside=True)
