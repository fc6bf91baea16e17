"""What stands on the label of a product that the gardener owns, typed off it.

A later one of the same name replaces it. A blank is 'not read yet', never 'no limit'; what was looked for on the label
and is not there is named in `none_stated`.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Annotated, Literal

from msgspec import Meta

from kailyard.garden.identifiers import require_name

Days = Annotated[int, Meta(ge=0, le=400)]
Hours = Annotated[float, Meta(ge=0.0, le=1000.0)]
Temperature = Annotated[float, Meta(ge=-40.0, le=60.0)]
MAY_BE_SILENT = (
    "bees", "gaps", "group", "least_interval_days", "most_uses", "rain_free_hours", "temp_max_c", "temp_min_c",
    "water_m", "wind_max_m_s",
)  # fmt: skip
"""Facts that a label may rightly not name. Days to picking, entry, crops and registration are not among them."""


@dataclass(frozen=True, slots=True)
class Gap:
    """Days to keep between this product and another active ingredient."""

    other: str
    after_other: Days | None = None
    """Days that must have gone by since the other was put on."""
    before_other: Days | None = None
    """Days to wait after this one before the other."""

    def __post_init__(self) -> None:
        require_name("other", self.other)
        if self.after_other is None and self.before_other is None:
            raise ValueError(f"the gap to {self.other!r} names no days in either direction")


@dataclass(frozen=True, slots=True)
class Label:
    """The facts of one label. None and () are 'not read yet'."""

    name: str
    """What the gardener calls it."""
    active: str = ""
    registered_in: str = ""
    """State or country whose registration it carries."""
    number: str = ""
    """Registration number; 'exempt' where the label says that it needs none."""
    crops: tuple[str, ...] = ()
    sites: tuple[str, ...] = ()
    troubles: tuple[str, ...] = ()
    rate: Annotated[float, Meta(gt=0.0, le=100_000.0)] | None = None
    rate_unit: Literal["", "mL/L", "g/L", "mL/m²", "g/m²", "spray to wet"] = ""
    days_to_picking: Days | None = None
    """For every crop that `days_by_crop` does not name. 0: up to the day of picking."""
    days_by_crop: dict[str, Days] = field(default_factory=dict)
    entry_hours: Hours | None = None
    until_dry: bool = False
    """Nobody goes in until the spray has dried."""
    most_uses: Annotated[int, Meta(ge=1, le=100)] | None = None
    """In one season on one crop."""
    least_interval_days: Days | None = None
    temp_max_c: Temperature | None = None
    temp_min_c: Temperature | None = None
    rain_free_hours: Hours | None = None
    wind_max_m_s: Annotated[float, Meta(gt=0.0, le=20.0)] | None = None
    water_m: Annotated[float, Meta(ge=0.0, le=500.0)] | None = None
    """Distance to open water."""
    gaps: tuple[Gap, ...] = ()
    bees: str = ""
    """What it says of bees, in its words."""
    group: str = ""
    """'FRAC M02', 'IRAC 11A', 'HRAC 4'; several parted by ';'."""
    photograph: str = ""
    organic: bool | None = None
    """Listed for organic growing."""
    none_stated: tuple[str, ...] = ()
    removed: bool = False

    def __post_init__(self) -> None:
        require_name("name", self.name)
        for each in ("active", "registered_in", "number", "group", "photograph"):
            require_name(each, getattr(self, each), empty=True)
        if strange := sorted(set(self.none_stated) - set(MAY_BE_SILENT)):
            raise ValueError(f"'{strange[0]}' cannot be left unstated by a label; read it again, or leave it blank")
        if both := sorted(n for n in self.none_stated if getattr(self, n) not in (None, "", ())):
            raise ValueError(f"'{both[0]}' is both given and said not to stand on the label")
        if (self.rate is None) != (self.rate_unit in ("", "spray to wet")):
            raise ValueError(
                "a rate needs its unit (mL/L, g/L, mL/m², g/m²), and 'spray to wet' stands without a number"
            )
        if self.temp_max_c is not None and self.temp_min_c is not None and self.temp_min_c > self.temp_max_c:
            raise ValueError(f"temp_min_c {self.temp_min_c:g} lies above temp_max_c {self.temp_max_c:g}")


NAME = "label"
VERSION = 1
HELP = "What stands on the label of a product that you own"
TARGET = ("garden",)
PAYLOAD = Label
QUANTITY = None
