"""A crop's weeks as ink: eight possible seasons in ten lie in the strokes, half lie below the line."""

from __future__ import annotations

from kailyard.documents.picking import CropAhead, Picking
from kailyard.publish.axis import axis_from
from kailyard.publish.draw import strokes, svg
from kailyard.publish.markup import Markup, el
from kailyard.publish.picked import two
from kailyard.publish.units import convert

_LEFT = 44.0
"""Room for the scale's figures. [px]"""
_HEIGHT = 84.0
_TOP = 12.0
_STROKE_EVERY = 3.2
"""Strokes stand so far apart, however few weeks there are. [px]"""


def weeks(crop: CropAhead, document: Picking, label: str, width: float) -> Markup:
    """One column of strokes a week, as dense as there is likely to be anything, and a line at the middle season."""
    if not crop.weeks:
        return Markup()
    axis = axis_from(crop.weeks[0].first, days=7 * len(crop.weeks), today=document.on)
    left = _LEFT if crop.carried else 0.0
    pitch = (width - left) / len(crop.weeks)

    def y(part: float) -> float:
        return _HEIGHT - part * (_HEIGHT - _TOP)

    band, middles = [], []
    count = max(3, round(pitch * 0.84 / _STROKE_EVERY))
    step = pitch * 0.84 / count
    for n, week in enumerate(crop.weeks):
        start = left + n * pitch + pitch * 0.08
        if week.ink.high <= 0:
            continue
        ink = max(0.12, min(1.0, week.chance)) * step * 0.5
        band += [(start + (i + 0.5) * step, y(week.ink.high), y(week.ink.low), ink) for i in range(count)]
        if week.ink.middle > 0:
            at = y(week.ink.middle)
            middles.append((start + pitch * 0.42, at - 0.9, at + 0.9, pitch * 0.84))
    parts = [
        strokes(band, "soft"),
        strokes(middles),
        el("path", d=f"M{left:g} {_HEIGHT:g}H{width:g}", class_="ink thin"),
    ]
    if crop.carried:
        parts += _scale(crop, document, y(1.0), width)
    day = (width - left) / axis.days
    taken = -1.0
    for place, said in axis.ticks():
        x = left + (place + 0.5) * day
        parts.append(el("path", d=f"M{x:.2f} {_HEIGHT:g}v4", class_="rule"))
        room = 6.4 * len(said)
        at = max(0.0, min(width - room, x - 3))
        if at >= taken:
            parts.append(el("text", said, x=at, y=_HEIGHT + 16))
            taken = at + room + 4
    return svg(width, _HEIGHT + 20, label, *parts)


def _scale(crop: CropAhead, document: Picking, top: float, width: float) -> list[Markup]:
    """The tallest band's upper end, written on its rule."""
    most = max((week.kg.high for week in crop.weeks if week.kg is not None), default=0.0)
    value, unit = convert(most, "kg", document.units)
    rule = el("path", d=f"M{_LEFT:g} {top:.2f}H{width:g}", class_="rule")
    return [rule, el("text", f"{two(value)} {unit}", x=0.0, y=top + 4)]
