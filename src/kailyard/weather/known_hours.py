"""What is known of each hour: observed, forecast, made from days, or unknown. Nothing is invented beyond that."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime, timedelta, tzinfo

import numpy as np
from numpy.typing import NDArray

from kailyard.errors import DataError
from kailyard.science.air_moisture import relative_humidity_pct
from kailyard.science.checks import InputError
from kailyard.science.hourly_temperature import hours_of_days_c
from kailyard.science.humidity import vapour_pressure_from_dew_point_kpa
from kailyard.weather.days import year_month_slot
from kailyard.weather.hours import (
    HOUR_COLUMNS,
    MOST_HOURS,
    HourlyRecord,
    hour_number,
    hourly,
)
from kailyard.weather.record import FloatArray

UNKNOWN, MADE, FORECAST, OBSERVED = range(4)
STATES = ("unknown", "made from days", "forecast", "observed")
"""What is known of an hour, in words, by its number."""

States = NDArray[np.int8]


@dataclass(frozen=True, slots=True, eq=False)
class KnownHours:
    """Hours without break, and of each quantity how it is known. A cell is NaN just where its state is unknown."""

    record: HourlyRecord
    states: Mapping[str, States]
    """By column: one of `UNKNOWN`, `MADE`, `FORECAST`, `OBSERVED` for each hour."""

    def words(self, column: str = "temp_c") -> tuple[str, ...]:
        """How a column is known, hour by hour, in words."""
        return tuple(STATES[s] for s in self.states[column].tolist())

    def whole(self, *columns: str) -> NDArray[np.bool_]:
        """Hours of which all of `columns` are known in any way: of the others nothing may be said."""
        return np.asarray(np.all([self.states[c] != UNKNOWN for c in columns], axis=0))


@dataclass(frozen=True, slots=True, eq=False)
class KnownDays:
    """Lows and highs of days without break from `first`, observed or forecast; NaN where neither. [°C]"""

    first: date
    tmin_c: FloatArray
    tmax_c: FloatArray


def known_hours(
    first: datetime,
    last: datetime,
    *,
    observed: HourlyRecord | None,
    forecast: HourlyRecord | None,
    now: datetime,
    days: KnownDays | None,
    latitude: float,
    longitude: float,
) -> KnownHours:
    """The hours from `first` to `last`, each as well as it is known.

    Observed hours win over forecast ones, these over temperatures made from days' lows and highs. Only temperature is
    made from days; wind, rain and the rest of an hour that nobody observed or forecast are unknown. Humidity follows
    from temperature and dew point where it is not given itself.

    Parameters
    ----------
    first, last : datetime
        UTC; rounded down to the hour, both included.
    observed, forecast : HourlyRecord
        Either may be None.
    now : datetime
        Observed hours that begin after it are not looked at.
    days : KnownDays
        Days by the garden's calendar.
    latitude, longitude : float
        Degrees north and east: the sun's rising and setting shape the day.

    Raises
    ------
    DataError
        If `last` lies before `first`, or more than `MOST_HOURS` are asked for.
    """
    start, count = hour_number(first), hour_number(last) - hour_number(first) + 1
    if not 1 <= count <= MOST_HOURS:
        raise DataError(f"Hours from {first:%Y-%m-%d %H:%M} to {last:%Y-%m-%d %H:%M} cannot be told: check the span.")
    cells = {column: np.full(count, np.nan) for column in HOUR_COLUMNS}
    states = {column: np.zeros(count, dtype=np.int8) for column in HOUR_COLUMNS}
    for record, state in ((observed, OBSERVED), (forecast, FORECAST)):
        if record is None:
            continue
        at = hour_number(record.first) - start
        end = min(count, at + len(record))
        if state == OBSERVED:
            end = min(end, hour_number(now) - start + 1)
        begin = max(0, at)
        if begin >= end:
            continue
        for column, values in record.columns.items():
            part = values[begin - at : end - at]
            use = np.isnan(cells[column][begin:end]) & ~np.isnan(part)
            cells[column][begin:end][use] = part[use]
            states[column][begin:end][use] = state
    if days is not None and np.isnan(cells["temp_c"]).any():
        made = _from_days(days, start, count, latitude, longitude)
        use = np.isnan(cells["temp_c"]) & ~np.isnan(made)
        cells["temp_c"][use] = made[use]
        states["temp_c"][use] = MADE
    _humidity(cells, states)
    source = observed or forecast
    made_record = hourly(
        start + np.arange(count),
        cells,
        source="hours as they are known",
        wind_height_m=source.wind_height_m if source is not None else 10.0,
    )
    for each in states.values():
        each.setflags(write=False)
    return KnownHours(made_record, states)


def local_days(first: datetime, last: datetime, zone: tzinfo) -> tuple[date, date]:
    """The days that bear on the hours from `first` to `last`: one more on either side."""
    day = timedelta(days=1)
    return first.astimezone(zone).date() - day, last.astimezone(zone).date() + day


def _humidity(cells: dict[str, FloatArray], states: dict[str, States]) -> None:
    use = np.isnan(cells["humidity_pct"]) & ~np.isnan(cells["temp_c"]) & ~np.isnan(cells["dew_point_c"])
    use &= states["temp_c"] >= FORECAST
    if not use.any():
        return
    dew = np.minimum(cells["dew_point_c"][use], cells["temp_c"][use])
    vapour = vapour_pressure_from_dew_point_kpa(np.maximum(dew, -60))
    cells["humidity_pct"][use] = np.clip(
        relative_humidity_pct(np.maximum(cells["temp_c"][use], -60), vapour_pressure_kpa=vapour), 0, 100
    )
    states["humidity_pct"][use] = np.minimum(states["temp_c"], states["dew_point_c"])[use]


def _from_days(days: KnownDays, start: int, count: int, latitude: float, longitude: float) -> FloatArray:
    """Temperatures by the day's curve. Days of the calendar are taken for days of the sun's mean time at the garden.

    Where the sun hardly rises or sets there is no such curve: unknown.
    """
    ordinals = days.first.toordinal() + np.arange(len(days.tmin_c))
    _, _, slots = year_month_slot(ordinals)
    try:
        curve = hours_of_days_c(days.tmin_c, days.tmax_c, latitude_deg=latitude, day_of_year=slots + 1)
    except InputError:
        return np.full(count, np.nan)
    begin = (days.first.toordinal() - date(1970, 1, 1).toordinal()) * 24
    at = start + np.arange(count) + longitude / 15 - begin
    made = np.interp(at, np.arange(len(curve)), curve, left=np.nan, right=np.nan)
    return np.asarray(made, dtype=np.float64)
