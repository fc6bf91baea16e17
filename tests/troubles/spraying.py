"""An invented label, an invented bed of zucchini and weather made up so that nothing stands against spraying."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta

from kailyard.garden.entries.rules import Rules
from kailyard.troubles.case import QUESTIONS, Case, Hour, Sun, Weather
from kailyard.troubles.label import Label, Record, Treatment

TODAY = date(2026, 7, 14)
NOW = datetime(2026, 7, 14, 14, 30, tzinfo=UTC)
FIT = datetime(2026, 7, 14, 15, tzinfo=UTC)
"""Nine and a half hours after sunrise, five and a half before sunset."""
WHOLE = Label(
    name="Mealmute",
    active="sulfur",
    registered_in="Westmark",
    number="WM-1042",
    crops=("zucchini", "cucumber"),
    sites=("home garden",),
    troubles=("powdery mildew",),
    rate=3.0,
    rate_unit="g/L",
    days_to_picking=0,
    entry_hours=24.0,
    most_uses=4,
    least_interval_days=7,
    temp_max_c=32.0,
    group="FRAC M02",
    organic=True,
    none_stated=("bees", "gaps", "rain_free_hours", "temp_min_c", "water_m", "wind_max_m_s"),
)
"""A product of an invented country: no such label exists."""


def label(**changes: object) -> Label:
    """What is given is not said to be missing from the label."""
    if "none_stated" not in changes:
        given = {name for name, value in changes.items() if value not in (None, "", ())}
        changes["none_stated"] = tuple(n for n in WHOLE.none_stated if n not in given)
    return replace(WHOLE, **changes)  # type: ignore[arg-type]


def record(**changes: object) -> Record:
    made = label(**changes)
    return Record(made, f"label-{made.name}", date(2026, 4, 1))


def weather(
    *, tmax_c: float = 26.0, wind_m_s: float = 2.6, humidity_pct: float = 50.0, temp_c: float = 24.0,
    rain_mm: float = 0.0, days: int = 7,
) -> Weather:  # fmt: skip
    """Days that are all alike; the wind is measured at two metres, so that it needs no turning."""
    first = datetime(TODAY.year, TODAY.month, TODAY.day, tzinfo=UTC)
    hours = {
        h: Hour(h, temp_c, humidity_pct, wind_m_s, rain_mm)
        for n in range(24 * days)
        if (h := first + timedelta(hours=n))
    }
    all_days = [TODAY + timedelta(days=n) for n in range(days + 4)]
    sun = {d: Sun(at(d, 5.5), at(d, 20.5)) for d in all_days}
    known = dict.fromkeys(all_days, tmax_c)
    return Weather(known, dict.fromkeys(all_days, 14.0), hours, sun, wind_height_m=2.0)


def at(day: date, hour: float) -> datetime:
    return datetime(day.year, day.month, day.day, tzinfo=UTC) + timedelta(hours=hour)


def treated(day: date, by: Record | None, *, entry: str = "t1", says: str = "") -> Treatment:
    return Treatment(day, None, "zucchini-1", by, False, "", entry, says or (by.label.name if by else "something"))


def case(**changes: object) -> Case:
    """Zucchini out of flower, everything typed, everybody asked, weather as wanted: the answer is 'may'."""
    made = Case(
        record=record(),
        planting="zucchini-1",
        crop="zucchini",
        plants="zucchini",
        bed="bed 4",
        day=TODAY,
        now=NOW,
        hour=FIT,
        trouble="powdery_mildew_cucurbit",
        weather=weather(),
        in_bloom=False,
        edible=True,
        begun=True,
        settled=date(2026, 6, 10),
        thirsty=False,
        rules=Rules(organic=True, registered_in="Westmark"),
        spot=dict.fromkeys(QUESTIONS, True),
    )
    return replace(made, **changes)  # type: ignore[arg-type]
