"""The whole daybook of Lanthorn Garth, from its opening on 6 March 2021 to the forecast of 12 June 2026."""

from __future__ import annotations

from functools import cache

from kailyard.demo import (
    DEMO_DATE,
    fruits_and_pods,
    leaves_and_roots,
    past,
    place,
    plantings,
    readings,
    seed_box,
    tending,
    troubles,
)
from kailyard.demo._daybook import written_up
from kailyard.garden.model import Entry


@cache
def demo_entries() -> tuple[Entry, ...]:
    """Every entry, superseded ones and both typed forecasts among them, in order of writing; identifiers are fixed."""
    return written_up(
        [
            *place.lines(),
            *past.lines(),
            *plantings.lines(),
            *seed_box.lines(),
            *leaves_and_roots.lines(),
            *fruits_and_pods.lines(),
            *tending.lines(),
            *troubles.lines(),
            *readings.lines(),
            *readings.forecast_lines(),
        ]
    )


def demo_forecast() -> tuple[Entry, ...]:
    """The forecast issued on the demo's date, seven days of it; `demo_entries` holds them too."""
    return tuple(e for e in demo_entries() if e.kind == "forecast" and e.happened == DEMO_DATE)
