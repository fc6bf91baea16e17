"""Drawings of the place: the season's warmth against the band of the years, and the odds of frost."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import date
from itertools import pairwise

from kailyard.documents.climate import FrostLevel, WarmthSoFar
from kailyard.publish.axis import LONGEST_DAYS, Axis, axis_from
from kailyard.publish.draw import strokes, svg
from kailyard.publish.markup import Markup, el
from kailyard.publish.units import Units, convert, number

_LEFT = 44.0
"""Room for the scale's figures. [px]"""
_HEIGHT = 170.0
_STROKE_EVERY = 2.6


def warmth(of: WarmthSoFar, on: date, units: Units, label: str, width: float) -> Markup:
    """The years from 1 in 10 to 9 in 10 as a band of fine strokes, the middle year a thin line, this season thick."""
    count = min(len(of.days), len(of.low_curve), len(of.middle_curve), len(of.high_curve), LONGEST_DAYS)
    if count < 2:
        return Markup()
    axis = axis_from(of.days[0], days=count, today=on)
    low, middle, high, season = (
        [convert(one, "°C·d", units)[0] for one in curve[:count]]
        for curve in (of.low_curve, of.middle_curve, of.high_curve, of.curve)
    )
    top = max([1.0, *high, *season])
    step = _step(top)
    pitch = (width - _LEFT) / count

    def x(i: float) -> float:
        return _LEFT + (i + 0.5) * pitch

    def y(shown: float) -> float:
        return _HEIGHT - shown / top * (_HEIGHT - 14)

    parts = _scale(top, step, y, width, convert(0.0, "°C·d", units)[1])
    every = max(1, round(_STROKE_EVERY / pitch))
    band = [(x(i), y(high[i]), y(low[i]), 0.7) for i in range(0, count, every)]
    parts += [strokes(band, "soft"), _line([(x(i), y(one)) for i, one in enumerate(middle)], 0.9)]
    parts.append(_line([(x(i), y(one)) for i, one in enumerate(season)], 2.2))
    parts += _dates(axis, x, _HEIGHT, width)
    return svg(width, _HEIGHT + 20, label, *parts)


def frost(levels: Sequence[FrostLevel], on: date, label: str, width: float) -> Markup:
    """The chance that each level's frost is still to come, then that it has come: darker is likelier, blank is free."""
    known = [day for level in levels for day in _known(level)]
    if not known:
        return Markup()
    start = min(known).toordinal() - 20
    axis = axis_from(
        date.fromordinal(max(1, start)), days=min(LONGEST_DAYS, max(known).toordinal() + 20 - start), today=on
    )
    pitch = width / axis.days

    def x(i: float) -> float:
        return (i + 0.5) * pitch

    parts: list[Markup] = []
    every = max(1, round(_STROKE_EVERY / pitch))
    bottom = 0.0
    for row, level in enumerate(levels):
        top, bottom = row * 42.0 + 17, row * 42.0 + 31
        shares = [_share(level, axis.start + i) for i in range(axis.days)]
        drawn = [(x(i), top, bottom, shares[i] * every * pitch) for i in range(0, axis.days, every)]
        parts += [el("text", level.words, x=0, y=top - 5), strokes(drawn)]
        parts.append(el("path", d=f"M0 {bottom + 1.5:g}H{width:g}", class_="rule"))
    place = axis.at(on)
    if place is not None:
        parts.append(el("path", d=f"M{x(place):.2f} 12V{bottom + 2:g}", class_="mark today"))
    parts += _dates(axis, x, bottom + 2, width)
    return svg(width, bottom + 22, label, *parts)


def _known(level: FrostLevel) -> list[date]:
    days = (
        level.last_late,
        level.last_middle,
        level.last_early,
        level.first_early,
        level.first_middle,
        level.first_late,
    )
    return [day for day in days if day is not None]


def _share(level: FrostLevel, day: int) -> float:
    """Chance on `day` that the last frost is still to come or the first has come; straight between the known days."""
    last_days = (level.last_early, level.last_middle, level.last_late)
    first_days = (level.first_early, level.first_middle, level.first_late)
    last = [(one.toordinal(), share) for one, share in zip(last_days, (0.9, 0.5, 0.1), strict=True) if one]
    first = [(one.toordinal(), share) for one, share in zip(first_days, (0.1, 0.5, 0.9), strict=True) if one]
    spring = _between(last, day) if last and day <= last[-1][0] else 0.0
    autumn = _between(first, day) if first and day >= first[0][0] else 0.0
    return max(spring, autumn)


def _between(known: Sequence[tuple[int, float]], day: int) -> float:
    if day <= known[0][0]:
        return known[0][1]
    for (day_a, share_a), (day_b, share_b) in pairwise(known):
        if day <= day_b:
            return share_a + (share_b - share_a) * (day - day_a) / max(1, day_b - day_a)
    return known[-1][1]


def _step(top: float) -> int:
    """A round step that gives at most five lines."""
    size = 1
    while True:
        for one in (size, 2 * size, 5 * size):
            if top / one <= 5:
                return one
        size *= 10


def _scale(top: float, step: int, y: Callable[[float], float], width: float, unit: str) -> list[Markup]:
    parts: list[Markup] = []
    for shown in range(0, int(top) + 1, step):
        parts.append(el("path", d=f"M{_LEFT:g} {y(shown):.2f}H{width:g}", class_="rule"))
        parts.append(el("text", number(shown, 0), x=_LEFT - 5, y=y(shown) + 4, text_anchor="end"))
    parts.append(el("text", unit, x=_LEFT, y=9))
    return parts


def _line(points: Sequence[tuple[float, float]], wide: float) -> Markup:
    if len(points) < 2:
        return Markup()
    moves = "L".join(f"{x:.1f} {y:.1f}" for x, y in points)
    return el("path", d=f"M{moves}", class_="ink", stroke_width=wide)


def _dates(axis: Axis, x: Callable[[float], float], y: float, width: float) -> list[Markup]:
    parts: list[Markup] = []
    taken = -1.0
    for place, label in axis.ticks():
        at = x(place)
        parts.append(el("path", d=f"M{at:.2f} {y:g}v4", class_="rule"))
        if at >= taken and at + 6.2 * len(label) <= width + 2:
            parts.append(el("text", label, x=at, y=y + 16))
            taken = at + 6.2 * len(label) + 3
    return parts
