"""The question that a reading of the garden's rain gauge raises as it is entered."""

from __future__ import annotations

from datetime import date, timedelta

from kailyard.desk.desk import Desk
from kailyard.desk.weather_aside import in_use, own_gauge
from kailyard.units import in_running_text
from kailyard.weather.gauge_reading import reading_question
from kailyard.weather.record import merge


def gauge_question(desk: Desk, day: date) -> str:
    """What to ask about the reading of `day`, and what can be done; '' where there is nothing to ask.

    It is kept and used whatever the answer.
    """
    garden = desk.garden()
    records = in_use(desk, garden.entries)
    if not records:
        return ""
    asks = reading_question(merge(records), own_gauge(garden.entries, day + timedelta(days=1)), day)
    if not asks:
        return ""
    return in_running_text(
        f"{asks} If the storm was yours alone there is nothing to do. Was it another unit, or days of rain together, "
        "or does the gauge stand under leaves? Then put the entry right. Until then it is kept and used.",
        garden.units,
    )
