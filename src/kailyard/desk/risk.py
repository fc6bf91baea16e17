"""Risk of diseases from the weather: hours as they are kept, laid over what is made from days."""

from __future__ import annotations

from datetime import date, datetime, time, timedelta

import numpy as np

from kailyard.desk.desk import Desk, zone
from kailyard.desk.hours import hours
from kailyard.desk.view import season_view
from kailyard.documents.risk import Risk
from kailyard.errors import DataError
from kailyard.garden.model import Garden
from kailyard.troubles.hours_made import KeptHours
from kailyard.troubles.risk import AHEAD_DAYS, LONGEST_SUM_DAYS, risk
from kailyard.weather.known_hours import MADE, UNKNOWN


def risks(desk: Desk, *, on: date | None = None) -> Risk:
    """What the weather of the last and coming days means for what stands."""
    garden = desk.garden()
    today = on or desk.today(garden)

    def make() -> Risk:
        return risk(season_view(desk, on=on), kept_hours(desk, garden, today))

    return desk.kept(("risk", today), make)


def kept_hours(desk: Desk, garden: Garden, today: date) -> KeptHours | None:
    """Observed and forecast hours on the clock of the place without summer time; None where none is kept."""
    first = today - timedelta(days=LONGEST_SUM_DAYS)
    standard = min(
        datetime(today.year, month, 1, tzinfo=zone(garden.site.timezone)).utcoffset() or timedelta() for month in (1, 7)
    )
    begin = datetime.combine(first, time()) - standard
    begin = begin.replace(tzinfo=zone("UTC"))
    count = (LONGEST_SUM_DAYS + AHEAD_DAYS + 1) * 24
    try:
        known = hours(
            desk, begin, begin + timedelta(hours=count - 1), as_known=today if today < desk.today(garden) else None
        )
    except DataError:
        return None
    states = np.minimum(known.states["temp_c"], known.states["humidity_pct"])
    states = np.where(states == MADE, UNKNOWN, states).astype(np.int8)
    if not states.any():
        return None
    record = known.record
    return KeptHours(first, record.temp_c, record.humidity_pct, record.rain_mm, states)
