"""The same temperature hour after hour."""

from __future__ import annotations

from collections.abc import Iterator

from kailyard.weather.hours import HourlyRecord
from kailyard.weather.judging import Found, equal_runs

NAME = "stuck for hours"
HELP = "the same temperature for 18 hours in a row is asked about, for 36 set aside"

ASKED_HOURS, SURE_HOURS = 18, 36
"""Clean records in whole degrees Fahrenheit stand still for 14 hours at most, in fog and rain."""


def finds(record: HourlyRecord) -> Iterator[Found]:
    """Runs of equal values; a missing hour ends one."""
    for at, n in equal_runs(record.temp_c):
        if n >= ASKED_HOURS:
            yield Found(at, n, ("temp_c",), n >= SURE_HOURS, f"{record.temp_c[at]:.1f} °C every hour")
