"""A weather record, or days of one, set aside by the gardener: kept, and not used."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from kailyard.garden.identifiers import require_name


@dataclass(frozen=True, slots=True)
class WeatherAside:
    """`record`: the record's identifier. `first` and `last`: the days, both included; None: the whole record."""

    record: str
    first: date | None = None
    last: date | None = None

    def __post_init__(self) -> None:
        require_name("record", self.record)
        if (self.first is None) != (self.last is None):
            raise ValueError("first and last go together")
        if self.first is not None and self.last is not None and self.first > self.last:
            raise ValueError(f"first {self.first} lies after last {self.last}")


NAME = "weather-aside"
VERSION = 1
HELP = "A weather record, or days of it, set aside: it stays kept and is not used"
TARGET = ("garden",)
PAYLOAD = WeatherAside
QUANTITY = None
