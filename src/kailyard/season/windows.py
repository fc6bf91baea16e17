"""What kinds of work answer: windows with odds, holds, dangers, things to look at and things to leave alone."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

import numpy as np
from numpy.typing import NDArray

from kailyard.documents._parts import DayOdds, Reason
from kailyard.season.odds import BEYOND, DayArray

FloatArray = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Loss:
    """What is lost, as a share of the planting, by working too early or too late."""

    late_per_day: float
    late_most: float
    early_per_day: float = 0.05
    early_most: float = 0.5
    shut_ends_it: bool = False
    """Once the window has shut nothing more is lost, as with weeds that no longer cost yield. Else all is, at once."""


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Said:
    """Anything a kind of work has to say. `name` is stable: kind of work and target, never a position."""

    name: str
    says: str
    where: str
    detail: str = ""
    reasons: tuple[Reason, ...] = ()
    of: tuple[str, ...] = ()
    """Plantings that it speaks of, where its name does not say them."""


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Window(Said):
    """When a piece of work may be done: it opens, it shuts, by possible season and draw."""

    opens: DayArray
    """First good day, ordinals (traces, draws)."""
    shuts: DayArray
    """Last day on which it is still worth doing. (traces, draws)"""
    loss: Loss
    due: DayArray | None = None
    """Day from which waiting costs; None: from `shuts` on. (traces, draws)"""
    lost: str
    """In words, what waiting costs beyond the last good day."""
    minutes: float
    worth: float = 1.0
    """How much hangs on it beside other windows; the planting's share of the garden."""
    late: bool = False
    late_how: str = ""
    at_home: bool = False
    """Done where nobody stands in the garden: it takes no time of a visit."""
    tending: bool = False
    """Care of what stands, which comes again and again: it leaves room on the sheet for what is begun and gathered."""

    def open_chances(self, first: date, last: date) -> tuple[float, ...]:
        """Chance of each day that the window is open; samples that shut before they open count as never open."""
        days = np.arange(first.toordinal(), last.toordinal() + 1)
        good = self.opens <= self.shuts
        opened = np.searchsorted(np.sort(self.opens[good]), days, side="right")
        shut = np.searchsorted(np.sort(self.shuts[good]), days, side="left")
        return tuple(((opened - shut) / self.opens.size).tolist())

    def open_on(self, day: date) -> float:
        """Chance that it is open on a day."""
        return self.open_chances(day, day)[0]

    def expected_loss(self, day: date) -> float:
        """Share expected to be lost if the work is done on `day`."""
        d = np.float64(day.toordinal())
        opens, shuts = self.opens.astype(np.float64), self.shuts.astype(np.float64)
        early = np.minimum(np.maximum((opens - d) * self.loss.early_per_day, 0.0), self.loss.early_most)
        due = shuts if self.due is None else self.due.astype(np.float64)
        until = np.minimum(d, shuts) if self.loss.shut_ends_it else d
        late = np.minimum(np.maximum((until - due) * self.loss.late_per_day, 0.0), self.loss.late_most)
        if self.due is not None and not self.loss.shut_ends_it:
            late = np.where((d > shuts) & (shuts > due), self.loss.late_most, late)
        return float(np.mean(np.maximum(early, late)))

    def span(self, first: date, last: date) -> DayOdds:
        """The window as a reader needs it, drawn from `first` to `last`."""
        opens, shuts = np.sort(self.opens, axis=None), np.sort(self.shuts, axis=None)
        half = len(opens) // 2

        def day(value: np.int32) -> date | None:
            return None if value >= BEYOND else date.fromordinal(max(int(value), 1))

        return DayOdds(
            low=day(opens[half]),
            middle=None,
            high=day(shuts[half]),
            never=float(np.mean(self.opens > BEYOND)),
            beyond=float(np.mean(self.opens == BEYOND)),
            first=first,
            chances=self.open_chances(first, last),
        )


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Hold(Said):
    """Something that must not happen in a span of days."""

    first: date
    last: date | None
    """None: no end is foreseen."""
    forbids: tuple[str, ...] = ()
    """Lines that must not stand on a sheet beside it, by the first part of their names; '*' for all work on them."""

    @property
    def about(self) -> frozenset[str]:
        """The plantings it speaks of."""
        return frozenset(self.of or self.name.split("/")[1:2])

    def bars(self, said: Said, first: date, last: date) -> bool:
        """Whether it forbids what another line says on a sheet from `first` to `last`.

        Picking is barred as soon as the hold has not ended; all work, where it outlasts the sheet.
        """
        if self.first > last or (self.last is not None and self.last < first):
            return False
        kind, _, rest = said.name.partition("/")
        if not frozenset(said.of or (rest.split("/")[0],)) <= self.about:
            return False
        all_work = isinstance(said, Window) and "*" in self.forbids and (self.last is None or self.last >= last)
        return kind in self.forbids or all_work


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Danger(Said):
    """Weather that endangers something within three days."""

    days: tuple[date, ...]
    chance: float


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Look(Said):
    """Something worth looking at now; what is seen narrows the odds or ends a doubt."""

    urgency: float
    """0 to 1; the sheet has room for few."""


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Rest(Said):
    """Something to be left alone, or not to be done, and why that is right."""

    urgency: float = 0.3
    """0 to 1; the sheet has room for few."""


Answer = Window | Hold | Danger | Look | Rest
