"""Lowest and highest air temperature of a day, read in the garden."""

from __future__ import annotations

from dataclasses import dataclass

from kailyard.garden.fields import AirTemperature as Celsius


@dataclass(frozen=True, slots=True)
class AirTemperature:
    """One of the two may be missing."""

    tmin_c: Celsius | None = None
    tmax_c: Celsius | None = None

    def __post_init__(self) -> None:
        if self.tmin_c is None and self.tmax_c is None:
            raise ValueError("tmin_c or tmax_c is needed")
        if self.tmin_c is not None and self.tmax_c is not None and self.tmin_c > self.tmax_c:
            raise ValueError(f"tmin_c {self.tmin_c:g} lies above tmax_c {self.tmax_c:g}")


NAME = "air-temperature"
VERSION = 1
HELP = "Lowest and highest air temperature of the day, read in the garden [°C]"
TARGET = ("garden",)
PAYLOAD = AirTemperature
QUANTITY = None
