"""An hourly weather record: columns, one cell an hour, NaN where nothing usable was reported."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, fields
from datetime import UTC, datetime, timedelta

import numpy as np

from kailyard.errors import DataError
from kailyard.weather.record import FloatArray, IntArray, SetAside, read_only

# Bounds of the possible. World records as kept by the WMO archive of weather and climate extremes, from memory: gust
# 113 m/s, highest pressure 108.5 kPa at sea level, most rain in an hour 305 mm. Pressure at a garden's height begins at
# that of 6000 m. Radiation: the solar constant for an hour is 4.9 MJ/m².
POSSIBLE_HOUR: Mapping[str, tuple[float, float, str]] = {
    "temp_c": (-70.0, 57.0, "°C"),
    "dew_point_c": (-80.0, 40.0, "°C"),
    "humidity_pct": (0.0, 100.0, "%"),
    "rain_mm": (0.0, 310.0, "mm"),
    "wind_m_s": (0.0, 115.0, "m/s"),
    "radiation_mj_m2": (0.0, 5.0, "MJ/m²"),
    "pressure_kpa": (45.0, 109.0, "kPa"),
}
"""Every column of an hourly record with the least and the most that it can be, and its unit."""
HOUR_WORDS: Mapping[str, str] = {
    "temp_c": "temperature",
    "dew_point_c": "dew point",
    "humidity_pct": "humidity",
    "rain_mm": "rain",
    "wind_m_s": "wind",
    "radiation_mj_m2": "radiation",
    "pressure_kpa": "pressure",
}
OVER_THE_HOUR = ("rain_mm", "radiation_mj_m2")
"""Summed over the hour that begins at the stamp; the others are readings at the stamp."""
HUMIDITY_OVER_FULL = 105.0
"""A hygrometer that drifts to this many per cent is read as 100; beyond it is broken (ours)."""
MOST_HOURS = 1_000_000
"""More hours than this are no record of one place."""
HOUR = timedelta(hours=1)
_EPOCH = datetime(1970, 1, 1, tzinfo=UTC)


@dataclass(frozen=True, slots=True, eq=False)
class HourlyRecord:
    """Hours without break from `first`; arrays of one length, float64, read-only, NaN for missing.

    Hour `i` begins at `first + i hours`, counted in UTC, so that no clock that is changed makes a gap or a double hour.
    """

    first: datetime
    """Beginning of the first hour, UTC, on the hour."""
    temp_c: FloatArray
    dew_point_c: FloatArray
    humidity_pct: FloatArray
    """Relative humidity."""
    rain_mm: FloatArray
    """Over the hour that begins then."""
    wind_m_s: FloatArray
    radiation_mj_m2: FloatArray
    """Over the hour that begins then."""
    pressure_kpa: FloatArray
    source: str = ""
    wind_height_m: float = 10.0
    set_aside: tuple[SetAside, ...] = ()

    def __len__(self) -> int:
        return len(self.temp_c)

    @property
    def last(self) -> datetime:
        """Beginning of the last hour."""
        return self.first + (len(self) - 1) * HOUR

    @property
    def columns(self) -> dict[str, FloatArray]:
        """Every column by name."""
        return {name: getattr(self, name) for name in HOUR_COLUMNS}


HOUR_COLUMNS = tuple(f.name for f in fields(HourlyRecord) if f.type == "FloatArray")


def hour_number(moment: datetime) -> int:
    """Whole hours from the beginning of 1970 in UTC to `moment`, rounded down."""
    return (moment - _EPOCH) // HOUR


def hour_begins(number: int) -> datetime:
    """The moment that `hour_number` counts, UTC."""
    return _EPOCH + int(number) * HOUR


def hourly(
    numbers: IntArray,
    columns: Mapping[str, FloatArray],
    *,
    source: str,
    wind_height_m: float = 10.0,
    set_aside: tuple[SetAside, ...] = (),
) -> HourlyRecord:
    """A record from hours in any order, each once; hours between that are not among them are missing.

    Parameters
    ----------
    numbers : ndarray
        Each hour as `hour_number` counts.
    columns : mapping
        By name, of the same length; a column that is not there is missing throughout.

    Raises
    ------
    DataError
        If there is no hour, or they span more than `MOST_HOURS`.
    """
    if not len(numbers):
        raise DataError(f"{source or 'hourly record'}: no usable hour.")
    first, last = int(numbers.min()), int(numbers.max())
    if last - first >= MOST_HOURS:
        raise DataError(
            f"{source or 'hourly record'}: from {hour_begins(first):%Y-%m-%d} to {hour_begins(last):%Y-%m-%d} is more "
            f"than {MOST_HOURS} hours. Check the dates."
        )
    whole = {name: np.full(last - first + 1, np.nan) for name in HOUR_COLUMNS}
    for name, values in columns.items():
        # A thousandth of any unit is finer than any instrument; it keeps what is stored small.
        whole[name][numbers - first] = np.round(values, 3) + 0.0
    return HourlyRecord(
        hour_begins(first),
        **{name: read_only(values) for name, values in whole.items()},
        source=source,
        wind_height_m=wind_height_m,
        set_aside=set_aside,
    )


def merge_hours(records: Sequence[HourlyRecord]) -> HourlyRecord:
    """One record from several: the later in the sequence wins, value by value, where it has one.

    Raises
    ------
    DataError
        If together they span more than `MOST_HOURS`.
    ValueError
        If there is no record at all.
    """
    if not records:
        raise ValueError("merge_hours needs at least one record")
    if len(records) == 1:
        return records[0]
    first = min(hour_number(r.first) for r in records)
    length = max(hour_number(r.last) for r in records) - first + 1
    if length > MOST_HOURS:
        raise DataError(f"The hourly records together span more than {MOST_HOURS} hours. Check their dates.")
    whole = {name: np.full(length, np.nan) for name in HOUR_COLUMNS}
    for record in records:
        at = hour_number(record.first) - first
        for name, values in record.columns.items():
            part = whole[name][at : at + len(record)]
            part[...] = np.where(np.isnan(values), part, values)
    return HourlyRecord(
        hour_begins(first),
        **{name: read_only(values) for name, values in whole.items()},
        source="; then ".join(dict.fromkeys(r.source for r in records if r.source)),
        wind_height_m=records[-1].wind_height_m,
        set_aside=tuple(a for r in records for a in r.set_aside),
    )
