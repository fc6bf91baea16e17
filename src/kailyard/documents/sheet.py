"""The sheet: what the garden asks for in a stretch of days, on one side of paper."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date
from typing import ClassVar, Literal

from kailyard.documents._parts import DayOdds, Reason


@dataclass(frozen=True, slots=True)
class WeatherDay:
    """One day of the strip at the head: the likely span and how far off it may be. [°C, mm]"""

    day: date
    kind: Literal["observed", "forecast", "usual"]
    """`usual`: no forecast reaches this day; the spans are those of the possible seasons."""
    tmin_low_c: float
    tmin_c: float
    tmin_high_c: float
    tmax_low_c: float
    tmax_c: float
    tmax_high_c: float
    rain_mm: float
    """Mean over the possible seasons, or what was observed."""
    rain_chance: float
    """Chance of 1 mm or more."""
    endangers: bool = False
    """Something on the sheet is endangered by this day's weather."""


@dataclass(frozen=True, slots=True)
class Line:
    """Anything on the sheet that is said and can be asked why. `name` stays the same from day to day."""

    name: str
    says: str
    """The thing to do or know, crop first: 'Pick snap beans'."""
    where: str
    """'bed 6', or '' where it concerns the whole garden."""
    detail: str
    """One thought more: how, by which sign, since when."""
    reasons: tuple[Reason, ...]
    of: tuple[str, ...] = field(default=(), kw_only=True)
    """Plantings that it speaks of, so that an answer to the line reaches each; () where its name says all."""


@dataclass(frozen=True, slots=True)
class WorkLine(Line):
    """A window that is open, opens or shuts in the sheet's days."""

    minutes: float
    lost: str
    """What waiting costs, in words: 'starchy in 2-3 days: most of the next pick'."""
    soon: bool
    """It shuts soon: what is lost before the next sheet is more than little."""
    late: bool
    """The window is past its best: late, still worth doing."""
    window: DayOdds
    regret: float
    """Share of the planting expected to be lost by leaving it to the next visit. 0 to 1."""
    left_out: bool = field(default=False, kw_only=True)
    """The visits of these days have no time for it."""


@dataclass(frozen=True, slots=True)
class Visit:
    """Someone will be in the garden."""

    day: date
    hands: int
    minutes: int | None
    """Of work, hands times hours; None where nobody said."""
    what: str
    """A class, an open day, or ''."""


@dataclass(frozen=True, slots=True)
class NextLine(Line):
    """Something foreseen beyond these days: a stage or a window that opens later."""

    odds: DayOdds
    odds_words: str
    """'30 June to 9 July, 8 in 10'."""


@dataclass(frozen=True, slots=True)
class Sheet:
    """`kailyard.sheet/1`"""

    schema: ClassVar[str] = "kailyard.sheet/1"

    garden: str
    number: int
    """Week of the year, as ISO 8601 counts."""
    first: date
    last: date
    as_known: date | None
    units: Literal["metric", "us"]
    weather: tuple[WeatherDay, ...]
    holds: tuple[Line, ...]
    near: tuple[Line, ...]
    """Weather that endangers something within three days."""
    work: tuple[WorkLine, ...]
    more_work: int
    """Lines of work that may wait and found no room; 0 where all are shown."""
    look: tuple[Line, ...]
    leave: tuple[Line, ...]
    changed: tuple[Line, ...]
    """What is new against the sheet of a week before."""
    next: tuple[NextLine, ...]
    minutes: int
    """Sum over `work`, for one person."""
    rests: tuple[Reason, ...]
    """What the whole sheet rests on: record, possible seasons, trend, forecast, entries, doubtful input."""
    cautions: tuple[str, ...]
    visits: tuple[Visit, ...] = ()
    """Planned in these days, and the next one; () where none is planned."""
    time: int | None = None
    """Minutes that these visits have; None where nobody said."""


DOCUMENT = Sheet
