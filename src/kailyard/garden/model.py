"""The garden as it stands: plain immutable objects. Knows no database, no file, no clock."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime
from typing import Any, Literal

Units = Literal["metric", "us"]
HowStarted = Literal["sown", "raised", "bought", "planted"]
"""`sown`: where it stays. `raised`: sown under cover, then set out. `bought`: set out as plants.
`planted`: sets, cloves, tubers or crowns put into the bed."""


@dataclass(frozen=True, slots=True)
class Site:
    """Where the garden is and how its thermometer stands to the station's."""

    latitude: float
    """[degrees north, -66 to 66]"""
    longitude: float
    """[degrees east, -180 to 180]"""
    elevation_m: float = 0.0
    timezone: str = "UTC"
    minimum_offset_c: float = 0.0
    """Garden minimum less station minimum on cold nights, as the gardener believes it; readings correct it. [°C]"""


@dataclass(frozen=True, slots=True)
class Bed:
    """One bed. Place and size are typed measurements."""

    id: str
    name: str
    length_m: float
    width_m: float
    shape: Literal["rectangle", "round"] = "rectangle"
    """A round bed has its diameter as length and width."""
    height_m: float = 0.0
    """Above the paths; 0 is a flat bed."""
    orientation_deg: float = 0.0
    """Bearing of the long side, clockwise from north. [0 to 180)"""
    east_m: float = 0.0
    north_m: float = 0.0
    """Place of the bed's middle, from the garden's own origin."""
    soil: str = ""
    cover: Literal["none", "fleece", "tunnel", "glass"] = "none"
    perennial: bool = False


@dataclass(frozen=True, slots=True)
class Cultivar:
    """A kind as the gardener knows it from the packet."""

    crop: str
    """Handbook key."""
    name: str
    days_to_maturity: float | None = None
    days_from: Literal["sown", "set-out", "planted", "first-flower"] = "sown"
    counted_here: bool = False
    """The days were counted in this garden, not printed on a packet."""
    resistance: tuple[str, ...] = ()
    habit: str = ""


@dataclass(frozen=True, slots=True)
class Planting:
    """One crop put into one bed at one time, planned or done."""

    id: str
    """Short, stable, chosen once: 'pea-6'. Unique in the garden."""
    crop: str
    bed: str
    start: HowStarted
    cultivar: str = ""
    count: int = 1
    """Plants that are meant to stand."""
    rows: int = 1
    spacing_cm: float | None = None
    row_cm: float | None = None
    place_m: float = 0.0
    """Where along the bed's long side it begins."""
    length_m: float | None = None
    """How much of the bed's long side it takes; None: all of it."""
    planned: date | None = None
    """The day the gardener means to sow, set out or plant; None: when the window opens."""
    since: date | None = None
    """For a perennial: the day its crowns or plants were put in, where that lies before the daybook."""
    wave: str = ""
    """Name shared by sowings in waves of one crop: 'snap beans 2026'."""
    note: str = ""


@dataclass(frozen=True, slots=True)
class Entry:
    """One line of the daybook, never altered. `supersedes` names the entry that this one puts right."""

    id: str
    """Made where it was written; the same identifier twice is one entry, with another body a conflict."""
    kind: str
    """A name of the register `kailyard.garden.entries`, or an unknown one, carried untouched."""
    version: int
    happened: date
    written: datetime
    """In UTC, to the second; what `as known` asks."""
    who: str = ""
    target: str = ""
    """Planting or bed identifier; '' for the whole garden."""
    quantity: float | None = None
    unit: str = ""
    text: str = ""
    supersedes: str = ""
    payload: Mapping[str, Any] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Garden:
    """What the daybook amounts to at one moment: `project` makes it from entries."""

    name: str
    site: Site
    units: Units
    beds: Mapping[str, Bed]
    cultivars: Mapping[tuple[str, str], Cultivar]
    """By (crop, name)."""
    plantings: Mapping[str, Planting]
    entries: tuple[Entry, ...]
    """Those that stand (superseded ones left out), by (happened, written, id)."""
    settings: Mapping[str, Any] = field(default_factory=dict)
    _of: dict[str, tuple[Entry, ...]] = field(default_factory=dict, init=False, repr=False, compare=False)
    """`entries` by target, made when first asked for: a page of one bed asks for each of its plantings."""

    def entries_of(self, target: str) -> tuple[Entry, ...]:
        """Entries whose target is `target`, in order."""
        if not self._of:
            of: dict[str, list[Entry]] = {}
            for e in self.entries:
                of.setdefault(e.target, []).append(e)
            self._of.update({name: tuple(entries) for name, entries in of.items()})
        return self._of.get(target, ())
