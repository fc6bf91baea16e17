"""A planting planned, made, changed or struck out; a later one replaces the whole."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Annotated

from msgspec import Meta

from kailyard.garden.fields import Count
from kailyard.garden.identifiers import require_name, require_thing_id
from kailyard.garden.model import HowStarted

Centimetres = Annotated[float, Meta(gt=0.0, le=2000.0)]


@dataclass(frozen=True, slots=True)
class Planting:
    """The fields of `Planting` but its identifier, which is the target."""

    crop: str
    bed: str
    start: HowStarted
    cultivar: str = ""
    count: Count = 1
    rows: Annotated[int, Meta(ge=1, le=1000)] = 1
    spacing_cm: Centimetres | None = None
    row_cm: Centimetres | None = None
    place_m: Annotated[float, Meta(ge=0.0, le=500.0)] = 0.0
    length_m: Annotated[float, Meta(gt=0.0, le=500.0)] | None = None
    planned: date | None = None
    since: date | None = None
    wave: str = ""
    note: str = ""
    removed: bool = False

    def __post_init__(self) -> None:
        require_thing_id("crop", self.crop)
        require_thing_id("bed", self.bed)
        require_name("cultivar", self.cultivar, empty=True)
        require_name("wave", self.wave, empty=True)


NAME = "planting"
VERSION = 1
HELP = "A planting: crop, bed, how started, count, spacing, place"
TARGET = ("planting",)
PAYLOAD = Planting
QUANTITY = None
