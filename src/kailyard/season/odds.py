"""Odds over days: one sample a possible season and draw."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

import numpy as np
from numpy.typing import NDArray

from kailyard.documents._parts import DayOdds

DayArray = NDArray[np.int32]

BEYOND = np.int32(2_000_000_000)
"""Later than the horizon of the possible seasons."""
NEVER = np.int32(2_000_000_001)
"""It does not happen: the plants are dead or the season ends first."""


def later(days: DayArray, n: DayArray | int) -> DayArray:
    """Ordinals moved by `n` days (back where negative); what lies beyond the horizon or never comes stays so."""
    return np.where(days >= BEYOND, days, days + np.asarray(n, dtype=np.int32)).astype(np.int32)


def middle(days: DayArray) -> int:
    """The lower middle of all samples, an ordinal; no mean of two, so that 'beyond' and 'never' stay what they are."""
    return int(np.partition(days, (days.size - 1) // 2, axis=None)[(days.size - 1) // 2])


@dataclass(frozen=True, slots=True, eq=False)
class Odds:
    """Days as proleptic ordinals (`date.toordinal`), int32, shape (traces, draws); BEYOND and NEVER are values too."""

    days: DayArray

    @staticmethod
    def certain(day: date, shape: tuple[int, int]) -> Odds:
        """The day is known."""
        return Odds(np.full(shape, day.toordinal(), dtype=np.int32))

    def by(self, day: date) -> float:
        """Chance that it has happened by the end of `day`."""
        return float(np.mean(self.days <= day.toordinal()))

    @property
    def never(self) -> float:
        """Chance that it never happens."""
        return float(np.mean(self.days == NEVER))

    @property
    def beyond(self) -> float:
        """Chance that it lies beyond the horizon."""
        return float(np.mean(self.days == BEYOND))

    def quantile(self, share: float) -> date | None:
        """First day by which at least `share` of all samples have happened; None where it never comes to that."""
        flat = np.sort(self.days, axis=None)
        day = flat[min(len(flat) - 1, max(0, int(np.ceil(share * len(flat) - 1e-9)) - 1))]
        return None if day >= BEYOND else date.fromordinal(int(day))

    def chances(self, first: date, last: date) -> tuple[float, ...]:
        """Chance of each day from `first` to `last`, both included."""
        start, n = first.toordinal(), last.toordinal() - first.toordinal() + 1
        at = self.days[(self.days >= start) & (self.days < start + n)] - start
        return tuple((np.bincount(at, minlength=n) / self.days.size).tolist())

    def summary(self) -> DayOdds:
        """Ten, fifty and ninety in a hundred, and the chance of each day between the extremes."""
        within = self.days[self.days < BEYOND]
        if within.size == 0:
            day = date.min
            return DayOdds(None, None, None, self.never, self.beyond, day, ())
        first, last = date.fromordinal(int(within.min())), date.fromordinal(int(within.max()))
        return DayOdds(
            low=self.quantile(0.1),
            middle=self.quantile(0.5),
            high=self.quantile(0.9),
            never=self.never,
            beyond=self.beyond,
            first=first,
            chances=self.chances(first, last),
        )
