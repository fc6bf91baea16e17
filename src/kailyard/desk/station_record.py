"""The weather record in use: the station's, and the garden's own gauge over it."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from kailyard.desk.desk import Desk, end_of_day
from kailyard.desk.weather_aside import in_use, own_gauge
from kailyard.errors import DataError
from kailyard.garden.model import Entry, Garden
from kailyard.weather.garden import win_over_estimates
from kailyard.weather.record import DailyRecord, merge


def station_record(desk: Desk, garden: Garden, as_known: date | None) -> tuple[DailyRecord, str]:
    """The station's record as it was known, and a note where it was only read later."""
    cut = None if as_known is None else end_of_day(as_known, garden.site.timezone)
    imports = in_use(desk, garden.entries, cut)
    if imports:
        return merge(imports), ""
    later = in_use(desk, garden.entries)
    if not later:
        raise DataError(
            "The garden has no weather record yet, so nothing can be foreseen. Read one: `kailyard weather FILE`."
        )
    return later[0], "The weather record was read after the day asked for; it is used up to the day before it."


def with_own_rain(record: DailyRecord, entries: Iterable[Entry], today: date) -> tuple[DailyRecord, str]:
    """The garden's own rain gauge wins over the station on its days, but for those set aside."""
    gauge = own_gauge(entries, today)
    if not gauge:
        return record, ""
    changed, notes = win_over_estimates(record, gauge)
    return changed, " ".join(notes)
