"""Are the leaves dry when it is put on?"""

from __future__ import annotations

from collections.abc import Iterator

from kailyard.troubles.case import Case, asked, by_rule, by_weather
from kailyard.troubles.verdict import Finding

NAME = "wet leaves"
WET_PCT = 90.0
"""Leaves are taken for wet from this humidity on. (Sentelhas and others; rule of thumb of wetness by humidity)"""
SLOW_PCT = 80.0
"""Copper dries too slowly from here on: free copper burns while the leaf is wet. (S42; the figure is ours)"""
RAIN_MM = 0.1


def check(case: Case) -> Iterator[Finding]:
    """Seen on the spot; humid hours and fresh rain speak against it beforehand."""
    says = "Wet leaves: the spray runs off, and burns where it gathers."
    yield asked(case, NAME, "leaf-dry", says)
    hour = case.at
    if hour is None or hour.humidity_pct is None:
        yield Finding(NAME, "unknown", "Whether leaves are dry then is unknown: no humidity.", by_weather(case))
    elif hour.humidity_pct >= WET_PCT:
        yield Finding(NAME, "not now", f"Leaves are wet at {hour.humidity_pct:.0f} % humidity.", by_rule("S21"))
    elif "copper" in case.record.classes and hour.humidity_pct >= SLOW_PCT:
        says = f"Copper burns on leaves that dry slowly ({hour.humidity_pct:.0f} % humidity)."
        yield Finding(NAME, "not now", says, by_rule("S42"))
    elif hour.rain_mm is not None and hour.rain_mm >= RAIN_MM:
        yield Finding(NAME, "not now", "It rains in that hour.", by_rule("S21"))
    else:
        yield Finding(NAME, "may", f"{hour.humidity_pct:.0f} % humidity: leaves should be dry.", by_rule("S21"))
