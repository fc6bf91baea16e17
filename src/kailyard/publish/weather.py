"""The weather of a sheet's days in words: what the strip draws, said."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby

from kailyard.documents.sheet import WeatherDay
from kailyard.publish.units import Units, figure, temperature, temperature_unit
from kailyard.publish.words import day_of_week, in_ten

RAIN_WORTH_SAYING = 0.15
"""Chance of 1 mm from which on rain is spoken of."""
_KINDS = {"observed": "observed", "forecast": "forecast", "usual": "as in past years"}


def rain_words(day: WeatherDay, units: Units) -> str:
    """'4 mm, 6 in 10', '12 mm' where observed, '' where hardly any."""
    if day.kind == "observed":
        return figure(day.rain_mm, "mm", units) if day.rain_mm > 0 else ""
    if day.rain_chance < RAIN_WORTH_SAYING:
        return ""
    return f"{figure(day.rain_mm, 'mm', units)}, {in_ten(day.rain_chance)}"


def day_words(day: WeatherDay, units: Units) -> str:
    """'Fri 12 June 13 to 27 °C (11 to 30 possible), rain 4 mm, 6 in 10'."""
    low, high = temperature(day.tmin_c, units), temperature(day.tmax_c, units)
    said = f"{day_of_week(day.day)} {low} to {high} {temperature_unit(units)}"
    least, most = temperature(day.tmin_low_c, units), temperature(day.tmax_high_c, units)
    if (least, most) != (low, high):
        said += f" ({least} to {most} possible)"
    rain = rain_words(day, units)
    said += f", rain {rain}" if rain else ""
    return f"{said}; endangers something below" if day.endangers else said


def strip_words(days: Sequence[WeatherDay], units: Units) -> str:
    """The whole strip in sentences."""
    return "Weather. " + " ".join(f"{day_words(day, units)}." for day in days)


def kinds_words(days: Sequence[WeatherDay]) -> str:
    """'forecast until Tue 16 June; from Wed 17 June as in past years'."""
    runs: list[tuple[str, list[WeatherDay]]] = [
        (kind, list(run)) for kind, run in groupby(days, key=lambda day: day.kind)
    ]
    if len(runs) == 1:
        return _KINDS[runs[0][0]]
    said = [f"{_KINDS[runs[0][0]]} until {day_of_week(runs[0][1][-1].day)}"]
    said += [f"from {day_of_week(run[0].day)} {_KINDS[kind]}" for kind, run in runs[1:]]
    return "; ".join(said)
