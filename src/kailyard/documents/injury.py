"""The record of an injury by what may be a herbicide: what was entered, beside what the weather record has."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import ClassVar, Literal

from kailyard.documents._parts import Reason


@dataclass(frozen=True, slots=True)
class Plants:
    """One planting that was hit."""

    planting: str
    says: str
    """Plants and cultivar."""
    where: str
    how: str
    """'set out 20 May, first flower 11 June'."""
    released: str
    """'Released on 20 July by the clinic: no residue found'; '' while it is held back."""
    sensitive: str
    """What is published of its sensitivity; ''."""
    choice: str
    """Keep, watch, pull or replace; '' where it does not stand or nothing is foreseen."""


@dataclass(frozen=True, slots=True)
class Said:
    """One thing that was written down."""

    what: str
    """'Kinds hit'."""
    says: str


@dataclass(frozen=True, slots=True)
class Brought:
    """Something that was brought onto a bed, or sprayed in the own garden, by the daybook."""

    day: date
    where: str
    what: str
    hit: bool
    """Something in this bed is entered as hit."""


@dataclass(frozen=True, slots=True)
class Seen:
    """A look since."""

    day: date
    where: str
    what: str


@dataclass(frozen=True, slots=True)
class WeatherBefore:
    """One day of the weather record. None where it has nothing."""

    day: date
    tmin_c: float | None
    """[°C]"""
    tmax_c: float | None
    """[°C]"""
    rain_mm: float | None
    """[mm]"""
    wind_m_s: float | None
    """The strongest of an observed hour. [m/s]"""


@dataclass(frozen=True, slots=True)
class ToDo:
    """Reporting, or taking samples."""

    what: str
    last: date
    done: date | None
    late: bool
    """The last day is past and nothing is entered as done."""
    ground: Reason


@dataclass(frozen=True, slots=True)
class Injury:
    """`kailyard.injury/1`"""

    schema: ClassVar[str] = "kailyard.injury/1"

    garden: str
    place: str
    """Latitude, longitude, elevation."""
    on: date
    units: Literal["metric", "us"]
    entry: str
    """The last entry of it."""
    target: str
    """What that entry is said of; '' for the whole garden."""
    first_seen: date
    written: str
    """When and by whom it was entered, and when put right."""
    plants: tuple[Plants, ...]
    said: tuple[Said, ...]
    unsaid: tuple[str, ...]
    """What nobody wrote down."""
    words: tuple[str, ...]
    """The gardener's own."""
    brought: tuple[Brought, ...]
    sprayed: tuple[Brought, ...]
    seen: tuple[Seen, ...]
    weather: tuple[WeatherBefore, ...]
    weather_source: str
    no_proof: str
    """What the weather record does not prove."""
    to_do: tuple[ToDo, ...]
    first: tuple[str, ...]
    """What comes before anything is pulled or sown anew."""
    known: tuple[Reason, ...]
    """What is published of such injuries."""
    held: bool
    """Something is still held back."""


DOCUMENT = Injury
