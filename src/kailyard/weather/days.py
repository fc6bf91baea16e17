"""Days as numbers: proleptic ordinals (`date.toordinal`) to year, month and place in the year, on whole arrays."""

from __future__ import annotations

from datetime import date

import numpy as np
from numpy.typing import NDArray

from kailyard.weather.record import IntArray

SLOTS = 366
"""Calendar days of a year, 29 February among them: slot 0 is 1 January, slot 365 is 31 December, in every year."""

_EPOCH = date(1970, 1, 1).toordinal()
_FIRST_OF_MARCH = 59


def year_month_slot(days: IntArray) -> tuple[IntArray, IntArray, IntArray]:
    """Year, month (January is 0) and calendar slot of each day, same shape as `days`."""
    stamps = (days - _EPOCH).astype("datetime64[D]")
    months = stamps.astype("datetime64[M]").astype(np.int64)
    years = months // 12 + 1970
    in_year = (stamps - stamps.astype("datetime64[Y]").astype("datetime64[D]")).astype(np.int64)
    leap = is_leap(years)
    return years, months % 12, in_year + ((in_year >= _FIRST_OF_MARCH) & ~leap)


def is_leap(years: IntArray) -> NDArray[np.bool_]:
    """True for leap years of the Gregorian calendar."""
    return np.asarray(((years % 4 == 0) & (years % 100 != 0)) | (years % 400 == 0))


def same_day(day: date, year: int) -> date:
    """The same calendar day in `year`; 28 February for 29 February where there is none."""
    try:
        return day.replace(year=year)
    except ValueError:
        return date(year, 2, 28)
