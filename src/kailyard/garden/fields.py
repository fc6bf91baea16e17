"""Types that several payloads share: a number with its range. The ranges are ours unless said otherwise."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated

from msgspec import Meta

Share = Annotated[float, Meta(ge=0.0, le=1.0)]
"""Part of the plants. [0 to 1]"""
AirTemperature = Annotated[float, Meta(ge=-90.0, le=60.0)]
"""[°C]"""
Millimetres = Annotated[float, Meta(ge=0.0, le=2000.0)]
"""Rain of a day. [mm]"""
Count = Annotated[int, Meta(ge=1, le=100_000)]


@dataclass(frozen=True, slots=True)
class Quantity:
    """What the quantity of a kind of entry may be. The first of `units` is the usual one; all are SI or counts."""

    units: tuple[str, ...]
    low: float
    high: float
    needed: bool = False
    """False: the entry may say nothing of it."""
