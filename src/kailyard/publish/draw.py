"""Drawings as SVG: engraved windows, hills and a strip of weather. Each label says what the sentence beside it says.

Colours and the size of lettering come from the page's style (`style.css`): `ink`, `soft`, `mark`, `rule`.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from datetime import date

from kailyard.documents._parts import DayOdds
from kailyard.documents.sheet import WeatherDay
from kailyard.publish import words
from kailyard.publish.axis import Axis
from kailyard.publish.markup import Markup, el
from kailyard.publish.units import Units, convert, number
from kailyard.publish.weather import RAIN_WORTH_SAYING, strip_words

WIDTH = 236
"""Width of windows and hills. [px]"""
_STROKES_A_DAY = 3


def svg(width: float, height: float, label: str, *parts: str, stretch: bool = False) -> Markup:
    """A drawing with its text alternative; without one it is hidden from readers (an axis repeated).

    `stretch`: it holds no lettering, and the page may set it lower.
    """
    hidden = None if label else "true"
    return el(
        "svg",
        *parts,
        viewBox=f"0 0 {width:g} {height:g}",
        width=width,
        height=height,
        preserveAspectRatio="none" if stretch else None,
        role="img" if label else None,
        aria_label=label or None,
        aria_hidden=hidden,
    )


def _n(value: float) -> str:
    return f"{value:.2f}".rstrip("0").rstrip(".")


def _pitch(axis: Axis, width: float) -> float:
    return width / axis.days


def _today(axis: Axis, today: date, top: float, bottom: float, width: float) -> Markup:
    place = axis.at(today)
    if place is None:
        return Markup()
    x = (place + 0.5) * _pitch(axis, width)
    return el("path", d=f"M{_n(x)} {_n(top)}V{_n(bottom)}", class_="mark today")


def strokes(at: Iterable[tuple[float, float, float, float]], kind: str = "ink") -> Markup:
    """Upright strokes (x of the middle, top, bottom, width) as one filled path: printers widen lines, not areas."""
    moves = "".join(
        f"M{_n(x - wide / 2)} {_n(top)}h{_n(wide)}V{_n(bottom)}h{_n(-wide)}z"
        for x, top, bottom, wide in at
        if wide > 0 and bottom > top
    )
    return el("path", d=moves, class_=f"{kind} full") if moves else Markup()


def _ticks(axis: Axis, y: float, length: float, width: float) -> Markup:
    pitch = _pitch(axis, width)
    moves = "".join(f"M{_n((place + 0.5) * pitch)} {_n(y)}v{_n(length)}" for place, _ in axis.ticks())
    return el("path", d=moves, class_="rule") if moves else Markup()


def dates(axis: Axis, width: float = WIDTH) -> Markup:
    """The axis alone: its dates and a tick for each, to stand over a column of drawings."""
    pitch, taken, labels = _pitch(axis, width), -1.0, []
    for place, label in axis.ticks():
        x = (place + 0.5) * pitch
        half = 3.1 * len(label)
        left = max(0.0, min(width - 2 * half, x - (6.2 if label[1:2].isdigit() else 3.1)))
        if left < taken:
            continue
        taken = left + 2 * half + 3
        labels.append(el("text", label, x=left, y=10))
    return svg(width, 17, "", *labels, _ticks(axis, 13, 4, width))


def window(axis: Axis, odds: DayOdds, today: date, label: str, width: float = WIDTH) -> Markup:
    """Three strokes a day, as wide as the day's chance: sure days run together into black, doubtful ones thin out."""
    pitch = _pitch(axis, width) / _STROKES_A_DAY
    drawn = strokes(
        ((day * _STROKES_A_DAY + i + 0.5) * pitch, 2.5, 13.5, chance * pitch)
        for day, chance in enumerate(axis.chances(odds))
        for i in range(_STROKES_A_DAY)
        if chance >= 0.02
    )
    baseline = el("path", d=f"M0 15.5H{_n(width)}", class_="rule")
    ticks = _ticks(axis, 15.5, 2.5, width)
    return svg(width, 18, label, baseline, ticks, drawn, _today(axis, today, 0, 16, width), stretch=True)


def hill(axis: Axis, odds: DayOdds, today: date, top: float, label: str, width: float = WIDTH) -> Markup:
    """A hill of strokes on a baseline; `top` is the chance that reaches full height, one for all hills of a page.

    Heights go with the root of the chance, else a stage that is nearly known would press all others flat.
    """
    pitch = _pitch(axis, width) / _STROKES_A_DAY
    chances = axis.chances(odds)
    at = []
    for i in range(axis.days * _STROKES_A_DAY):
        place = (i + 0.5) / _STROKES_A_DAY - 0.5
        low = max(0, math.floor(place))
        high = min(axis.days - 1, low + 1)
        share = min(1.0, max(0.0, place - low))
        chance = chances[low] * (1 - share) + chances[high] * share
        if chance > 0.0005 and top > 0:
            at.append(((i + 0.5) * pitch, 20 - 18 * math.sqrt(min(1.0, chance / top)), 20.0, 0.42 * pitch))
    return _on_baseline(axis, strokes(at), today, label, width)


def _on_baseline(axis: Axis, drawn: Markup, today: date, label: str, width: float) -> Markup:
    baseline = el("path", d=f"M0 20H{_n(width)}", class_="ink thin")
    ticks = _ticks(axis, 20, 3, width)
    return svg(width, 23, label, baseline, ticks, drawn, _today(axis, today, 1, 21, width), stretch=True)


def seen(axis: Axis, on: date, today: date, label: str, width: float = WIDTH) -> Markup:
    """A stage that was seen: one full stroke on its day."""
    place = axis.at(on)
    x = None if place is None else (place + 0.5) * _pitch(axis, width)
    return _on_baseline(axis, strokes([(x, 4, 20, 2.2)] if x is not None else []), today, label, width)


def tallest(odds: Iterable[DayOdds]) -> float:
    """The greatest chance of a day among all: what reaches full height."""
    return max((chance for one in odds for chance in one.chances), default=0.0)


def weather(days: Sequence[WeatherDay], units: Units) -> Markup:
    """The strip: a day's span as a thick stroke, how far off it may be as a thin one, rain as short slanted strokes."""
    if not days:
        return Markup()
    pitch = min(46.0, 322.0 / len(days))
    left, width = 27.0, 27.0 + 322.0
    lows = [convert(min(day.tmin_low_c, day.tmin_c), "°C", units)[0] for day in days]
    highs = [convert(max(day.tmax_high_c, day.tmax_c), "°C", units)[0] for day in days]
    bottom, top = min(lows), max(highs)
    top = max(top, bottom + 1)
    step = next((one for one in (5, 10, 20, 40) if (top - bottom) / one < 5), 80)

    def y(shown: float) -> float:
        return 52.0 - (shown - bottom) / (top - bottom) * 49.0

    parts: list[Markup] = []
    lines = range(math.ceil(bottom / step) * step, math.floor(top / step) * step + 1, step)
    for degrees in lines:
        unit = "°" if degrees == lines[-1] else ""
        parts.append(el("path", d=f"M{_n(left)} {_n(y(degrees))}H{_n(width)}", class_="rule"))
        label = f"{number(degrees, 0)}{unit}"
        parts.append(el("text", label, x=left - (2 if unit else 6), y=y(degrees) + 4, text_anchor="end"))
    every = max(1, math.ceil(24 / pitch))
    for i, day in enumerate(days):
        x = left + (i + 0.5) * pitch
        parts += _day_strokes(day, x, pitch, units, y)
        if i % every == 0:
            label = f"{words.WEEKDAYS[day.day.weekday()][:3]} {day.day.day}" if pitch > 40 else str(day.day.day)
            kind = "mark-text" if day.endangers else None
            parts.append(el("text", label, x=x, y=78, text_anchor="middle", class_=kind))
    return svg(width, 82, strip_words(days, units), *parts)


def _day_strokes(day: WeatherDay, x: float, pitch: float, units: Units, y: Callable[[float], float]) -> list[Markup]:
    def at(temp_c: float) -> float:
        return y(convert(temp_c, "°C", units)[0])

    kind = "mark" if day.endangers else "soft" if day.kind == "usual" else "ink"
    parts = [
        strokes([(x, at(day.tmax_c), at(day.tmin_c), min(4.4, pitch * 0.3))], kind),
        strokes([(x, at(day.tmax_high_c), at(day.tmin_low_c), 0.9)], kind),
    ]
    chance = 1.0 if day.kind == "observed" and day.rain_mm > 0 else day.rain_chance
    if day.rain_mm <= 0 or chance < RAIN_WORTH_SAYING:
        return parts
    count = min(8, max(1, round(day.rain_mm / 2)))
    a_row = max(1, min(4, int(pitch / 8)))
    moves = "".join(f"M{_n(x + 5 + i % a_row * 3.4)} {_n(56 + i // a_row * 6)}l-1.8 5" for i in range(count))
    parts.append(el("path", d=moves, class_="ink", stroke_width=0.35 + 0.75 * chance))
    return parts
