"""A daily weather record: columns, one cell a day, NaN where nothing usable was reported."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]

ELEMENTS = ("tmin", "tmax", "rain")
"""The columns of a record, in order."""


@dataclass(frozen=True, slots=True)
class SetAside:
    """A line that was read and not used: where, which value, which rule."""

    line: int
    """1 is the first line of the file; 0 where no line can be named (a gap)."""
    day: date | None
    value: str
    rule: str
    file: str = ""
    """Name of the file: a merged record comes from several."""

    def __str__(self) -> str:
        where = f"{self.file or 'record'}:{self.line}" if self.line else self.file or "record"
        when = f" {self.day.isoformat()}" if self.day else ""
        return f"{where}:{when} {self.value}: {self.rule}"


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


def read_only(values: FloatArray) -> FloatArray:
    """`values` as float64 that nobody can write into."""
    array = np.array(values, dtype=np.float64)
    array.setflags(write=False)
    return array


def merge(records: Sequence[DailyRecord]) -> DailyRecord:
    """One record from several: the later in the sequence wins, value by value, where it has one.

    A minimum from one record above the maximum from another is set aside with it, as in a single file.

    Raises
    ------
    ValueError
        If there is no record at all.
    """
    if not records:
        raise ValueError("merge needs at least one record")
    if len(records) == 1:
        return records[0]
    first = min(r.first for r in records)
    length = max(r.last for r in records).toordinal() - first.toordinal() + 1
    columns = [np.full(length, np.nan) for _ in ELEMENTS]
    for record in records:
        at = record.first.toordinal() - first.toordinal()
        for column, values in zip(columns, (record.tmin_c, record.tmax_c, record.rain_mm), strict=True):
            part = column[at : at + len(record)]
            part[...] = np.where(np.isnan(values), part, values)
    tmin_c, tmax_c, rain_mm = columns
    aside = [a for r in records for a in r.set_aside]
    for i in np.flatnonzero(tmin_c > tmax_c).tolist():
        day = date.fromordinal(first.toordinal() + i)
        value = f"minimum {tmin_c[i]:g} °C, maximum {tmax_c[i]:g} °C"
        aside.append(SetAside(0, day, value, "minimum above maximum after merging: both set aside"))
        tmin_c[i] = tmax_c[i] = np.nan
    sources = dict.fromkeys(r.source for r in records if r.source)
    return DailyRecord(
        first=first,
        tmin_c=read_only(tmin_c),
        tmax_c=read_only(tmax_c),
        rain_mm=read_only(rain_mm),
        source="; then ".join(sources),
        set_aside=tuple(aside),
    )
