"""Is there a light steady breeze, away from what is easily hurt? Dead calm is a fault."""

from __future__ import annotations

from collections.abc import Iterator

from kailyard.science.evapotranspiration import wind_at_2m_m_s
from kailyard.troubles.case import Case, asked, by_rule, by_weather, read_it, typed
from kailyard.troubles.label import silent
from kailyard.troubles.verdict import Finding

NAME = "wind"
MPH = 0.44704
LEAST_M_S, MOST_M_S = 3 * MPH, 8 * MPH
"""Wanted by the sterner of two published rules (S36): 3 to 8 miles an hour; the wider one (S1) goes from 2 to 10."""


def check(case: Case) -> Iterator[Finding]:
    """Too little is judged near the ground, too much as it was measured: the sterner way each time."""
    yield asked(
        case, NAME, "wind-away", "The wind does not blow steadily away from what is easily hurt: wait till it turns."
    )
    if case.rules.near:
        says = f"Near here: {case.rules.near}. Only while the wind blows away from all of it; stop when it turns."
        yield Finding(NAME, "may", says, by_rule("S5"), beside=True)
    hour, label = case.at, case.label
    if label.wind_max_m_s is None and not silent(label, "wind_max_m_s"):
        yield read_it(case, NAME, "the strongest wind it may be used in")
    if hour is None or hour.wind_m_s is None:
        yield Finding(NAME, "unknown", "The wind of that hour is unknown.", by_weather(case))
        return
    most = MOST_M_S if label.wind_max_m_s is None else min(MOST_M_S, label.wind_max_m_s)
    low = float(wind_at_2m_m_s(hour.wind_m_s, case.weather.wind_height_m))
    if low < LEAST_M_S:
        says = (
            f"Too still ({low * 3.6:.0f} km/h near the ground): dead calm is a fault, fine drops hang and travel far."
        )
        yield Finding(NAME, "not now", says, by_rule("S37" if low < 0.84 else "S36"))
    elif hour.wind_m_s > most:
        ground = typed(case) if most < MOST_M_S else by_rule("S36")
        yield Finding(NAME, "not now", f"Too windy: {hour.wind_m_s * 3.6:.0f} km/h.", ground)
    else:
        yield Finding(NAME, "may", f"A light breeze, {hour.wind_m_s * 3.6:.0f} km/h.", by_rule("S36"))
