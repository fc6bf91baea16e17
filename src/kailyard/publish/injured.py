"""Sentences of the record of an injury that every form says alike."""

from __future__ import annotations

from kailyard.documents.injury import Brought, Injury, Plants, ToDo, WeatherBefore
from kailyard.publish import words
from kailyard.publish.units import figure
from kailyard.publish.words import clean, sentence

TITLE = "Record of injury to plants"
ACCUSES_NOBODY = (
    "What hurt them is not known: a herbicide is one cause among others. This record says what was seen and what the "
    "weather record has. It accuses nobody."
)
HELD = (
    "Nothing of them is picked or eaten, no seed or seed tuber is kept, no clippings, compost or soil are moved, until "
    "a release is entered: who says so, when, and what was found."
)
FREE = "All of it has been released."
YOUNGER = "Plants set out later, and kinds beside them that stay sound, are evidence too: write them down as not hit."
NEVER_SAFE = "What is released is released by whoever said so; Kailyard never says that something is safe to eat."


def under(document: Injury) -> str:
    """'First seen 8 June 2026. Entered on 12 June by Idony.'"""
    return f"First seen on {words.full_day(document.first_seen)}. {sentence(document.written)}"


def plants_line(one: Plants) -> str:
    """'Tomatoes ‘Lanthorn Red’, bed 1 (tomato-1): set out 20 May'."""
    says = clean(one.says)
    how = f": {clean(one.how)}" if clean(one.how) else ""
    return f"{words.named(says[:1].upper() + says[1:], one.where)} ({clean(one.planting)}){how}"


def brought_line(one: Brought, document: Injury) -> str:
    """'2 April, bed 1: horse manure, lot: second load. Plants here are hit.'"""
    here = "Plants here are hit." if one.hit else "Nothing here is entered as hit."
    return f"{words.day(one.day, document.on)}, {clean(one.where)}: {sentence(one.what)} {here}"


def weather_table(document: Injury) -> tuple[tuple[str, ...], list[tuple[str, ...]]]:
    """Columns and rows of the weather before; what nobody recorded is left blank, wind left out where it has none.

    No rows where the record has nothing of these days.
    """
    if not any(_recorded(day) for day in document.weather):
        return (), []
    columns: tuple[str, ...] = ("day", "lowest", "highest", "rain")
    windy = _has_wind(document)
    return (*columns, "strongest wind of an hour") if windy else columns, [
        _weather_row(day, document, windy=windy) for day in document.weather
    ]


def _recorded(day: WeatherBefore) -> bool:
    return any(value is not None for value in (day.tmin_c, day.tmax_c, day.rain_mm, day.wind_m_s))


def _has_wind(document: Injury) -> bool:
    return any(day.wind_m_s is not None for day in document.weather)


def _weather_row(day: WeatherBefore, document: Injury, *, windy: bool) -> tuple[str, ...]:
    cells = ((day.tmin_c, "°C"), (day.tmax_c, "°C"), (day.rain_mm, "mm"), *([(day.wind_m_s, "m/s")] if windy else []))
    return (
        words.day_of_week(day.day),
        *("" if value is None else figure(value, unit, document.units) for value, unit in cells),
    )


def weather_said(document: Injury) -> str:
    """Where the days come from, and what they do not prove."""
    if not any(_recorded(day) for day in document.weather):
        return f"{sentence(document.weather_source)} Nothing is recorded of these days. {sentence(document.no_proof)}"
    wind = "" if _has_wind(document) else " It has no wind for these days."
    return f"{sentence(document.weather_source)}{wind} {sentence(document.no_proof)}"


def to_do_line(one: ToDo, document: Injury) -> str:
    """'By 8 July: report it ...', or when it was done."""
    what = clean(one.what)
    if one.done is not None:
        return f"Done on {words.day(one.done, document.on)}: {sentence(what)}"
    late = " That day is past: ask whether it is still worth it." if one.late else ""
    return f"By {words.day(one.last, document.on)}: {sentence(what)}{late}"
