"""One day of a forecast as issued; `happened` is the day of issue."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from kailyard.garden.fields import AirTemperature, Millimetres
from kailyard.garden.model import Entry


@dataclass(frozen=True, slots=True)
class Forecast:
    """`rain_mm` None: the forecast says nothing of rain."""

    day: date
    tmin_c: AirTemperature
    tmax_c: AirTemperature
    rain_mm: Millimetres | None = None

    def __post_init__(self) -> None:
        if self.tmin_c > self.tmax_c:
            raise ValueError(f"tmin_c {self.tmin_c:g} lies above tmax_c {self.tmax_c:g}")


NAME = "forecast"
VERSION = 1
HELP = "One day of a forecast, typed in; it happened on the day of issue [°C, mm]"
TARGET = ("garden",)
PAYLOAD = Forecast
QUANTITY = None


def problem(entry: Entry, payload: Forecast) -> str:
    """A forecast looks ahead."""
    if payload.day >= entry.happened:
        return ""
    return f"the day {payload.day} lies before the day of issue"
