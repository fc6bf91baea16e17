"""The place for a terminal: frost by chance, the warmth so far, how the months have moved."""

from __future__ import annotations

from kailyard.documents.climate import Climate, WarmthSoFar
from kailyard.publish import plain, words
from kailyard.publish.say import (
    FROST_NOTE,
    TREND_COLUMNS,
    frost_columns,
    frost_row,
    rain_words,
    trend_row,
    warmth_words,
    years_words,
)
from kailyard.publish.text._reasons import reason_rows
from kailyard.publish.units import Units, convert, number


def render(document: Climate, *, width: int = 80, ascii_only: bool = False) -> str:
    """Frost, length of season, warmth and rain so far, the trend, and what all that rests on."""
    rows = plain.block(f"{words.clean(document.garden)}, {words.full_day(document.on)}", width)
    rows += plain.block(years_words(document), width)
    if document.frost:
        rows += ["", "Frost", *_frost(document, width)]
    if document.warmth:
        rows += ["", "Warmth so far"]
        for warmth in document.warmth:
            rows += plain.block(warmth_words(warmth, document), width, first="- ")
            rows += _curve(warmth, document.units, width)
    rows += ["", "Rain so far", *plain.block(rain_words(document), width)]
    if document.trend:
        rows += ["", "How the months have moved, in a decade", *_trend(document, width)]
    if document.reasons:
        rows += ["", "What this rests on", *reason_rows(document.reasons, document.units, width)]
    return plain.finish(rows, ascii_only=ascii_only)


def _frost(document: Climate, width: int) -> list[str]:
    rows = plain.table(frost_columns(document), [frost_row(level, document) for level in document.frost], width)
    return [*rows, *plain.block(FROST_NOTE, width)]


def _curve(warmth: WarmthSoFar, units: Units, width: int) -> list[str]:
    """The sum at five dates: this season, and the years."""
    count = min(len(warmth.days), len(warmth.low_curve), len(warmth.middle_curve), len(warmth.high_curve))
    if count < 2:
        return []
    places = sorted({round(i * (count - 1) / 4) for i in range(5)})

    def row(name: str, curve: tuple[float, ...]) -> tuple[str, ...]:
        sums = (convert(curve[i], "°C·d", units)[0] if i < len(curve) else None for i in places)
        return (name, *("–" if one is None else number(one, 0) for one in sums))

    heads = (f"{convert(0.0, '°C·d', units)[1]} by", *(words.short_day(warmth.days[i]) for i in places))
    rows = [
        row("this season", warmth.curve),
        row("1 in 10 below", warmth.low_curve),
        row("middle year", warmth.middle_curve),
        row("1 in 10 above", warmth.high_curve),
    ]
    return ["  " + line for line in plain.table(heads, rows, width - 2)]


def _trend(document: Climate, width: int) -> list[str]:
    return plain.table(TREND_COLUMNS, [trend_row(month, document.units) for month in document.trend], width)
