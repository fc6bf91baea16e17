"""The garden's name, place and habits of measure; a later one replaces the whole."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Annotated

from msgspec import Meta

from kailyard.garden.identifiers import require_name
from kailyard.garden.model import Units

_ZONE = re.compile(r"[A-Za-z][A-Za-z0-9_+-]*(/[A-Za-z0-9_+-]+){0,2}")


@dataclass(frozen=True, slots=True)
class Garden:
    """Whole settings."""

    name: str
    latitude: Annotated[float, Meta(ge=-66.0, le=66.0)]
    """[degrees north] Between the polar circles: beyond them day length has no sunrise to count from."""
    longitude: Annotated[float, Meta(ge=-180.0, le=180.0)]
    """[degrees east]"""
    elevation_m: Annotated[float, Meta(ge=-430.0, le=6000.0)] = 0.0
    timezone: str = "UTC"
    """Name of the IANA time zone database."""
    units: Units = "metric"
    """What doors show and take; entries hold SI."""
    minimum_offset_c: Annotated[float, Meta(ge=-15.0, le=15.0)] = 0.0
    """Garden minimum less station minimum on cold nights. [°C]"""

    def __post_init__(self) -> None:
        require_name("name", self.name)
        if not _ZONE.fullmatch(self.timezone):
            raise ValueError(f"timezone {self.timezone[:40]!a} is no name like 'Europe/Oslo' or 'UTC'")


NAME = "garden"
VERSION = 1
HELP = "Name, place and units of the garden"
TARGET = ("garden",)
PAYLOAD = Garden
QUANTITY = None
