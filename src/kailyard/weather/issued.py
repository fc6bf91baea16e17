"""A forecast as it was issued: its days, its hours, by whom and when. It is kept so and never changed."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, timedelta, tzinfo

from kailyard.errors import DataError
from kailyard.weather.forecast import ForecastDay
from kailyard.weather.hour_days import days_of_hours
from kailyard.weather.hours import HourlyRecord
from kailyard.weather.record import FloatArray, read_only


@dataclass(frozen=True, slots=True, eq=False)
class IssuedForecast:
    """Days from `first` on, one cell a day, NaN where nothing is said. [°C, mm]"""

    source: str
    """Name of the service that issued it."""
    issued: datetime
    """UTC, to the second. Where the service does not say it, the moment at which it was fetched."""
    on: date
    """Day of issue where the garden is: leads are counted from it."""
    first: date
    tmin_c: FloatArray
    tmax_c: FloatArray
    rain_mm: FloatArray
    credit: str = ""
    """Whose figures they are and under which licence, in words."""

    def days(self) -> tuple[ForecastDay, ...]:
        """The days of it that say anything, in order."""
        first = self.first.toordinal()
        columns = zip(self.tmin_c.tolist(), self.tmax_c.tolist(), self.rain_mm.tolist(), strict=True)
        return tuple(
            ForecastDay(self.on, date.fromordinal(first + i), low, high, rain, self.source)
            for i, (low, high, rain) in enumerate(columns)
            if not (low != low and high != high and rain != rain)  # all three NaN
        )


def issue(hours: HourlyRecord, *, source: str, issued: datetime, zone: tzinfo, credit: str) -> IssuedForecast:
    """The forecast of which these are the hours; its days run from midnight to midnight where the garden is.

    Days before the day of issue are left out, and so is a day of which more than two hours are not said.

    Raises
    ------
    DataError
        If no day from the day of issue on is whole.
    """
    days = days_of_hours(hours, zone)
    on = issued.astimezone(zone).date()
    cut = max(0, (on - days.first).days)
    if cut >= len(days):
        raise DataError(f"{source}: the forecast says nothing of {on.isoformat()} or later. Ask again later.")
    return IssuedForecast(
        source,
        issued,
        on,
        days.first + timedelta(days=cut),
        read_only(days.tmin_c[cut:]),
        read_only(days.tmax_c[cut:]),
        read_only(days.rain_mm[cut:]),
        credit,
    )
