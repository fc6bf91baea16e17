"""A response as a curve: one input along, one result up. In the hand of the other drawings, fit to stand alone."""

from __future__ import annotations

import math
from collections.abc import Sequence

from kailyard.publish.draw import svg
from kailyard.publish.markup import Markup, el
from kailyard.publish.words import clean

WIDTH, HEIGHT = 460.0, 230.0
"""Of the whole drawing. [px]"""
_LEFT, _RIGHT, _TOP, _BOTTOM = 58.0, 12.0, 22.0, 40.0
_MOST_TICKS = 6

_ALONE = (
    "svg{background:#fbfaf6;font-family:Georgia,'Times New Roman',serif}"
    "text{font-size:12px;fill:#5d584c}path{fill:none}"
    ".ink{stroke:#1b1a17;stroke-width:1.6px}.rule{stroke:#b9b4a6;stroke-width:.6px}"
    ".mark{stroke:#a33b1f;stroke-width:1.2px}"
    "@media (prefers-color-scheme:dark){svg{background:#171613}text{fill:#a7a08f}"
    ".ink{stroke:#e9e4d6}.rule{stroke:#4b473d}.mark{stroke:#e0855f}}"
)
"""The page's own style, as far as a curve needs it."""


def curve(
    along: Sequence[float],
    up: Sequence[float | None],
    *,
    along_words: str,
    up_words: str,
    label: str,
    at: float | None = None,
    alone: bool = False,
) -> Markup:
    """`up` over `along`, broken where a value is missing; `at` marks the place of an example.

    `alone`: with its own style, for a file of its own. Nothing where fewer than two values are known.
    """
    known = [value for value in up if value is not None and math.isfinite(value)]
    if len(known) < 2 or len(along) != len(up) or not along[0] < along[-1]:
        return Markup()
    x_ticks, y_ticks = ticks(along[0], along[-1]), ticks(min(known), max(known))
    low, high = min(min(known), y_ticks[0]), max(max(known), y_ticks[-1])

    def x(value: float) -> float:
        return _LEFT + (value - along[0]) / (along[-1] - along[0]) * (WIDTH - _LEFT - _RIGHT)

    def y(value: float) -> float:
        return HEIGHT - _BOTTOM - (value - low) / (high - low) * (HEIGHT - _BOTTOM - _TOP)

    parts: list[Markup] = [el("style", Markup(_ALONE))] if alone else []
    for value in y_ticks:
        parts.append(el("path", d=f"M{_LEFT:g} {y(value):.1f}H{WIDTH - _RIGHT:g}", class_="rule"))
        parts.append(el("text", _figure(value), x=_LEFT - 6, y=round(y(value) + 4, 1), text_anchor="end"))
    for value in x_ticks:
        parts.append(el("path", d=f"M{x(value):.1f} {HEIGHT - _BOTTOM:g}v4", class_="rule"))
        parts.append(el("text", _figure(value), x=round(x(value), 1), y=HEIGHT - _BOTTOM + 17, text_anchor="middle"))
    if at is not None and along[0] <= at <= along[-1]:
        parts.append(el("path", d=f"M{x(at):.1f} {_TOP:g}V{HEIGHT - _BOTTOM:g}", class_="mark"))
    parts.append(
        el(
            "path",
            d=_moves([(x(a), None if u is None else y(u)) for a, u in zip(along, up, strict=True)]),
            class_="ink",
        )
    )
    parts.append(el("text", up_words, x=4, y=13))
    parts.append(el("text", along_words, x=WIDTH - _RIGHT, y=HEIGHT - 6, text_anchor="end"))
    drawn = svg(WIDTH, HEIGHT, clean(label), *parts)
    return Markup(drawn.replace("<svg ", '<svg xmlns="http://www.w3.org/2000/svg" ', 1)) if alone else drawn


def ticks(low: float, high: float) -> list[float]:
    """Round figures from `low` to `high`, six at most; level values get a span of their own."""
    if not high > low:
        wide = max(abs(low) * 0.1, 1.0)
        low, high = low - wide, high + wide
    size = 10.0 ** math.floor(math.log10((high - low) / _MOST_TICKS))
    step = next(size * m for m in (1, 2, 5, 10, 20) if (high - low) / (size * m) <= _MOST_TICKS - 1)
    first, last = math.ceil(low / step - 1e-9), math.floor(high / step + 1e-9)
    return [round(i * step, 12) for i in range(first, last + 1)]


def _figure(value: float) -> str:
    return f"{value:.6g}".replace("-", "−")


def _moves(points: Sequence[tuple[float, float | None]]) -> str:
    said, pen = [], "M"
    for x, y in points:
        if y is None:
            pen = "M"
            continue
        said.append(f"{pen}{x:.1f} {y:.1f}")
        pen = "L"
    return "".join(said)
