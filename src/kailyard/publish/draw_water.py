"""A planting's water as a drawing: what is gone from full ground downwards, with a band, against the easy water."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

from kailyard.documents.water import Gone
from kailyard.publish.axis import LONGEST_DAYS, axis_from
from kailyard.publish.draw import strokes, svg
from kailyard.publish.markup import Markup, el
from kailyard.publish.units import Units, convert, number

_LEFT, _TOP, _HEIGHT = 34.0, 8.0, 104.0
_STROKE_EVERY = 3.0
_STEPS = (1, 2, 5, 10, 20, 25, 50, 100, 200)
_INCHES = (0.1, 0.2, 0.25, 0.5, 1.0, 2.0, 5.0)


def gone(of: Gone, on: date, units: Units, label: str, width: float) -> Markup:
    """The middle as a line, nine in ten to one in ten as fine strokes, the end of the easy water as a thin line.

    Full ground is the top edge: the deeper the line, the drier. The upright mark is today; right of it is foreseen.
    """
    count = min(len(of.low_mm), len(of.middle_mm), len(of.high_mm), len(of.easy_curve_mm), LONGEST_DAYS)
    if count < 2:
        return Markup()
    low, middle, high, easy = (
        [convert(one, "mm", units)[0] for one in curve[:count]]
        for curve in (of.low_mm, of.middle_mm, of.high_mm, of.easy_curve_mm)
    )
    deepest = max([0.1, *high, *easy]) * 1.05
    axis = axis_from(of.first, days=count, today=on)
    pitch = (width - _LEFT) / count

    def x(i: float) -> float:
        return _LEFT + (i + 0.5) * pitch

    def y(shown: float) -> float:
        return _TOP + max(shown, 0.0) / deepest * (_HEIGHT - _TOP)

    unit = convert(0.0, "mm", units)[1]
    steps = _INCHES if unit == "in" else _STEPS
    step = next((one for one in steps if deepest / one <= 4), steps[-1])
    parts: list[Markup] = []
    line = 0
    while line * step <= deepest and line < 12:
        at = y(line * step)
        said = f"{number(line * step, 2 if unit == 'in' else 0)}{f' {unit}' if line == 0 else ''}"
        parts.append(el("path", d=f"M{_LEFT:g} {at:.1f}H{width:g}", class_="rule"))
        parts.append(el("text", said, x=_LEFT - 4, y=round(at + 4, 1), text_anchor="end"))
        line += 1
    every = max(1, round(_STROKE_EVERY / pitch))
    band = [(x(i), y(min(low[i], high[i])), y(max(low[i], high[i])), 0.8) for i in range(0, count, every)]
    parts += [strokes(band, "soft"), _path(x, y, easy, "soft", 1.0), _path(x, y, middle, "ink", 2.0)]
    place = axis.at(on)
    if place is not None:
        parts.append(el("path", d=f"M{_LEFT + place * pitch:.1f} {_TOP:g}V{_HEIGHT:g}", class_="mark today"))
    for place, said in axis.ticks():
        if x(place) < width - 20:
            parts.append(el("text", said, x=round(x(place), 1), y=_HEIGHT + 13, text_anchor="middle"))
            parts.append(el("path", d=f"M{x(place):.1f} {_HEIGHT:g}v3", class_="rule"))
    return svg(width, _HEIGHT + 18, label, *parts)


def _path(
    x: Callable[[float], float], y: Callable[[float], float], values: list[float], kind: str, wide: float
) -> Markup:
    moves = "L".join(f"{x(i):.1f} {y(one):.1f}" for i, one in enumerate(values))
    return el("path", d=f"M{moves}", class_=kind, stroke_width=wide)
