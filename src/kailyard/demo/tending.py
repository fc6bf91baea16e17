"""What keeps a garden in hand this spring: hoeing, mulch, feeding, tying in, water; and who comes when."""

from __future__ import annotations

from datetime import date
from typing import Any, Final

from kailyard.demo._daybook import IDONY, PERRIN, WENNA, Line, on, work

_DONE: Final = (
    (on(4, 25), "bed-4", "weeded", "Between the pea rows, with the narrow hoe.", PERRIN),
    (on(5, 9), "bed-5", "weeded", "", WENNA),
    (on(5, 13), "potato-1", "fed", "With the earthing up.", PERRIN),
    (on(5, 13), "potato-2", "fed", "", PERRIN),
    (on(5, 22), "head-2", "mulched", "Half-rotted leaves, two fingers deep.", WENNA),
    (on(5, 23), "bed-10", "weeded", "By hand, between the spears.", WENNA),
    (on(5, 24), "head-2", "fed", "", WENNA),
    (on(5, 26), "lettuce-2", "mulched", "", WENNA),
    (on(5, 28), "lettuce-2", "fed", "", WENNA),
    (on(5, 30), "bed-12", "weeded", "", PERRIN),
    (on(5, 31), "bed-7", "weeded", "Then earthed up.", PERRIN),
    (on(5, 31), "potato-3", "fed", "", PERRIN),
    (on(6, 1), "bed-12", "mulched", "Straw, a hand from the stems.", PERRIN),
    (on(6, 2), "bed-4", "mulched", "Dry grass clippings, thin, once the soil was wet; the cabbages as well.", WENNA),
    (on(6, 10), "pea-1", "trained", "Every hanging stem lifted back against its stick.", PERRIN),
    (on(6, 5), "onion-2", "weeded", "", WENNA),
    (on(6, 6), "bed-2", "weeded", "And looked under every board.", PERRIN),
    (on(6, 6), "onion-1", "mulched", "A finger of leaf mould.", WENNA),
    (on(6, 6), "onion-2", "mulched", "", WENNA),
    (on(6, 9), "bed-8", "weeded", "Both blocks, shallow.", PERRIN),
    (on(6, 8), "bed-3", "weeded", "", PERRIN),
    (on(6, 8), "bean-1", "earthed up", "", PERRIN),
    (on(6, 8), "bed-5", "weeded", "", WENNA),
    (on(6, 8), "bed-7", "mulched", "Straw over the ridges, what was left of last year's bales.", PERRIN),
    (on(6, 9), "tomato-4", "trained", "Strings wound; side shoots out.", PERRIN),
    (on(6, 9), "tomato-4", "fed", "", PERRIN),
    (on(6, 9), "cucumber-1", "trained", "", PERRIN),
    (on(6, 10), "bed-1", "weeded", "", WENNA),
    (on(6, 10), "bed-10", "weeded", "", WENNA),
    (on(6, 10), "bed-11", "weeded", "", WENNA),
)
"""Day, planting or bed, what was done, words, who."""

_HOSE_L_MIN: Final = 16.0
_WATERED: Final[dict[str, tuple[tuple[date, float], ...]]] = {
    "bed-1": ((on(5, 24), 6.0), (on(5, 31), 8.0), (on(6, 6), 12.0), (on(6, 11), 24.0)),
    "bed-2": ((on(5, 30), 6.0), (on(6, 6), 12.0), (on(6, 11), 18.0)),
    "bed-3": ((on(6, 1), 8.0), (on(6, 8), 12.0), (on(6, 11), 14.0)),
    "bed-4": ((on(5, 18), 10.0), (on(6, 1), 12.0), (on(6, 8), 14.0), (on(6, 11), 16.0)),
    "bed-5": ((on(5, 18), 8.0), (on(5, 31), 10.0), (on(6, 7), 12.0), (on(6, 11), 14.0)),
    "bed-6": ((on(5, 18), 12.0), (on(6, 1), 12.0), (on(6, 8), 15.0), (on(6, 11), 12.0)),
    "bed-7": ((on(5, 24), 12.0), (on(6, 1), 15.0), (on(6, 8), 16.0), (on(6, 11), 18.0)),
    "bed-8": ((on(5, 24), 10.0), (on(6, 1), 10.0)),
    "bed-9": ((on(5, 28), 6.0), (on(6, 8), 15.0), (on(6, 11), 18.0)),
    "bed-11": ((on(5, 18), 15.0), (on(5, 31), 15.0), (on(6, 8), 20.0), (on(6, 11), 20.0)),
    "bed-12": tuple((on(5, day), 14.0) for day in (4, 8, 12, 16, 20, 24, 28))
    + tuple((on(6, day), 16.0) for day in (1, 4, 7, 10)),
}
"""Millimetres over the ground, as the watering was timed; on 11 June all that the hose reaches, before the heat."""

_VISITS: Final = (
    (on(6, 12), 2, 0.75, ""),
    (on(6, 13), 3, 0.5, "open day"),
    (on(6, 20), 2, 3.0, ""),
)
"""Day, hands, hours for work, what for."""


def lines() -> list[Line]:
    """All of this chapter."""
    return [
        *(work(day, target, what, text, who=who) for day, target, what, text, who in _DONE),
        Line(on(5, 2), "outlet", "", "Timed with a bucket.", WENNA, _HOSE_L_MIN, "L/min", {"what": "hose"}),
        *(
            Line(day, "water", bed, who=PERRIN if bed == "bed-12" else WENNA, quantity=mm, unit="mm")
            for bed, days in _WATERED.items()
            for day, mm in days
        ),
        *(_visit(*visit) for visit in _VISITS),
    ]


def _visit(day: date, hands: int, hours: float, what: str) -> Line:
    payload: dict[str, Any] = {"day": day.isoformat(), "hands": hands, "hours": hours, "what": what}
    return Line(on(6, 10), "visit", "", who=IDONY, payload=payload)
