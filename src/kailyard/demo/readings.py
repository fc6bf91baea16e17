"""The garden's own instruments, worked out from the station's record by plain rules, and two forecasts."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from typing import Any, Final

from kailyard.demo import DEMO_DATE
from kailyard.demo._daybook import IDONY, WENNA, Line, on
from kailyard.demo.weather import demo_record, on_day

CLEAR_OFFSET_C: Final = -1.3
CLOUDY_OFFSET_C: Final = -0.4
WARM_WALL_C: Final = 0.3
"""Garden maximum above the station's, which stands on the pier."""
GAUGE_CATCH: Final = 0.96
RAIN_FROM: Final = on(3, 27)
MISREAD: Final = on(5, 20)
"""The day whose rain was first written without its point."""

THERMOMETER_DAYS: Final = (
    on(4, 4), on(4, 12), on(4, 19), on(4, 25), on(5, 2), on(5, 8), on(5, 13), on(5, 14), on(5, 15), on(5, 16),
    on(5, 18), on(5, 22), on(5, 23), on(5, 24), on(5, 26), on(5, 28), on(5, 30), on(6, 2), on(6, 5), on(6, 7),
    on(6, 9), on(6, 11),
)  # fmt: skip
SOIL_DAYS: Final = (
    on(4, 4), on(4, 11), on(4, 20), on(4, 27), on(5, 6), on(5, 9), on(5, 15), on(5, 18), on(5, 23), on(5, 28), on(6, 3),
    on(6, 10),
)  # fmt: skip

PAST_YEARS: Final = range(2021, 2026)
COLD_C: Final = 2.0
"""Nights of spring and autumn as cold as this at the pier were read in the hollow too, in the past years."""
MOST_COLD_NIGHTS: Final = 6
SOAKING_MM: Final = 14.0
"""In the past years the gauge was read after soaking rain only."""
PAST_SOIL_DAYS: Final = ((4, 10), (4, 24), (5, 8), (5, 22))

LAST_WEEK: Final = (
    (11.0, 24.0, 0.0), (11.0, 25.0, 0.0), (12.0, 26.0, 0.0), (12.0, 26.0, 2.0), (13.0, 26.0, 1.0), (14.0, 27.0, 0.0),
    (13.0, 24.0, 3.0),
)  # fmt: skip
"""Issued on 5 June for 5 to 11 June: minimum, maximum [°C], rain [mm]."""
THIS_WEEK: Final = (
    (7.0, 21.0, 0.0), (1.6, 21.0, 0.0), (7.0, 25.0, 0.0), (11.0, 29.0, 0.0), (15.0, 32.0, 0.0), (17.0, 33.0, 1.0),
    (14.0, 24.0, 11.0),
)  # fmt: skip
"""Issued on 12 June for 12 to 18 June: a clear cold night, then heat, then a thundery break."""


def lines() -> list[Line]:
    """Rain gauge, garden thermometer, soil thermometer."""
    return [*_rain(), *_thermometer(), *_soil()]


def forecast_lines() -> list[Line]:
    """Two forecasts as they were typed on the day of issue."""
    return [*_issued(on(6, 5), LAST_WEEK), *_issued(DEMO_DATE, THIS_WEEK)]


def _rain() -> list[Line]:
    out = [
        Line(day, "rain", who=WENNA, quantity=round(on_day(day)[2] * GAUGE_CATCH, 1), unit="mm")
        for day in _past_days((4, 1), (10, 31))
        if on_day(day)[2] >= SOAKING_MM
    ]
    day = RAIN_FROM
    while day < DEMO_DATE:
        fallen = round(on_day(day)[2] * GAUGE_CATCH, 1)
        if day == MISREAD:
            out.append(Line(day, "rain", who=WENNA, quantity=round(fallen * 10), unit="mm"))
            out.append(
                Line(
                    day, "rain", text="The point was missing.", who=IDONY, quantity=fallen, unit="mm",
                    supersedes=f"{day.isoformat()}-rain", late=1,
                )
            )  # fmt: skip
        elif fallen > 0:
            out.append(Line(day, "rain", who=WENNA, quantity=fallen, unit="mm"))
        day += timedelta(days=1)
    return out


def _thermometer() -> list[Line]:
    out = []
    for day in (*_cold_nights(), *THERMOMETER_DAYS):
        tmin_c, tmax_c, rain_mm = on_day(day)
        drift_c = (day.toordinal() * 7 % 5 - 2) / 10  # glass thermometers are read to the nearest mark
        offset_c = (CLOUDY_OFFSET_C if rain_mm > 0 else CLEAR_OFFSET_C) + drift_c
        payload: dict[str, Any] = {"tmin_c": round(tmin_c + offset_c, 1), "tmax_c": round(tmax_c + WARM_WALL_C, 1)}
        out.append(Line(day, "air-temperature", who=WENNA, payload=payload))
    return out


def _cold_nights() -> list[date]:
    """The first cold nights of each spring and autumn of the past years on which the glass was read."""
    out: list[date] = []
    for first, last in (((4, 20), (5, 31)), ((9, 15), (10, 31))):
        for year in PAST_YEARS:
            cold = [day for day in _past_days(first, last) if day.year == year and on_day(day)[0] <= COLD_C]
            out += cold[:MOST_COLD_NIGHTS]
    return sorted(out)


def _past_days(first: tuple[int, int], last: tuple[int, int]) -> Iterator[date]:
    for year in PAST_YEARS:
        day = on(*first, year)
        while day <= on(*last, year):
            yield day
            day += timedelta(days=1)


def _soil() -> list[Line]:
    record = demo_record()
    mean_c = (record.tmin_c + record.tmax_c) / 2
    out = []
    for day in (*(on(month, day, year) for year in PAST_YEARS for month, day in PAST_SOIL_DAYS), *SOIL_DAYS):
        last = (day - record.first).days
        soil_c = round(float(mean_c[last - 3 : last + 1].mean()) * 2 + 1) / 2  # half a degree warmer, read to the half
        out.append(Line(day, "soil-temperature", who=WENNA, quantity=soil_c, unit="°C", payload={"depth_cm": 5.0}))
    return out


def _issued(issue: date, days: tuple[tuple[float, float, float], ...]) -> list[Line]:
    out = []
    for i, (tmin_c, tmax_c, rain_mm) in enumerate(days):
        day = (issue + timedelta(days=i)).isoformat()
        payload = {"day": day, "tmin_c": tmin_c, "tmax_c": tmax_c, "rain_mm": rain_mm}
        out.append(Line(issue, "forecast", who=IDONY, payload=payload, morning=True))
    return out
