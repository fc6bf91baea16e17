"""A daily weather record: columns, one cell a day, NaN where nothing usable was reported."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class SetAside:
    """A line that was read and not used: where, which value, which rule."""

    line: int
    """1 is the first line of the file; 0 where no line can be named (a gap)."""
    day: date | None
    value: str
    rule: str


@dataclass(frozen=True, slots=True, eq=False)
class DailyRecord:
    """Days without break from `first`; arrays of one length, float64, read-only, NaN for missing.

    `tmin_c` and `tmax_c` in °C, `rain_mm` in mm. `set_aside` keeps what was refused and why.
    """

    first: date
    tmin_c: FloatArray
    tmax_c: FloatArray
    rain_mm: FloatArray
    source: str = ""
    """What the record is, in words: station, file."""
    set_aside: tuple[SetAside, ...] = ()

    @property
    def last(self) -> date:
        """Last day of the record."""
        return date.fromordinal(self.first.toordinal() + len(self.tmin_c) - 1)

    def __len__(self) -> int:
        return len(self.tmin_c)
