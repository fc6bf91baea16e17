"""Days of the weather that were looked at and found right: they stay in use, and no rule asks about them again."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from kailyard.garden.identifiers import require_name


@dataclass(frozen=True, slots=True)
class WeatherLeft:
    """`record`: the record's identifier. `first` and `last`: the days, both included."""

    record: str
    first: date
    last: date

    def __post_init__(self) -> None:
        require_name("record", self.record)
        if self.first > self.last:
            raise ValueError(f"first {self.first} lies after last {self.last}")


NAME = "weather-left"
VERSION = 1
HELP = "Days of the weather that were doubtful, looked at and left in use"
TARGET = ("garden",)
PAYLOAD = WeatherLeft
QUANTITY = None
