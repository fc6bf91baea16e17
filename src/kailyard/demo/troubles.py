"""What ailed the plants: found, counted, treated once, mostly left alone. The product is as invented as the place."""

from __future__ import annotations

from datetime import date
from typing import Any, Final

from kailyard.demo._daybook import IDONY, PERRIN, WENNA, Line, look, note, on, work

LABEL: Final[dict[str, Any]] = {
    "name": "Chalk Veil",
    "active": "potassium bicarbonate",
    "registered_in": "Merrowsay",
    "number": "MS-0417",
    "crops": ["cucumber", "squash", "zucchini", "melon"],
    "sites": ["home vegetable gardens"],
    "troubles": ["powdery mildew"],
    "rate": 5.0,
    "rate_unit": "g/L",
    "days_to_picking": 0,
    "entry_hours": 4.0,
    "most_uses": 6,
    "least_interval_days": 7,
    "temp_max_c": 29.0,
    "rain_free_hours": 6.0,
    "wind_max_m_s": 4.0,
    "bees": "Not onto open flowers; not while bees are at work.",
    "group": "FRAC NC",
    "organic": True,
    "none_stated": ["gaps", "temp_min_c", "water_m"],
}
"""Typed off a packet that nobody ever printed."""


def lines() -> list[Line]:
    """A summer's mildew, scab on the potatoes, and this year's counts so far."""
    return [*_last_year(), *_this_year()]


def _last_year() -> list[Line]:
    return [
        _count(on(7, 12, 2025), "cucumber-25-1", "striped-cucumber-beetle", 4, total=1, what="beetles"),
        Line(on(7, 30, 2025), "label", who=IDONY, payload=LABEL),
        _found(on(8, 2, 2025), "zucchini-25-1", "powdery-mildew-cucurbit", "white-powder-upper=yes; web=no"),
        work(on(8, 2, 2025), "zucchini-25-1", "five white leaves taken off", "The oldest, at the ground, by hand."),
        Line(
            on(8, 5, 2025),
            "treat",
            "zucchini-25-1",
            "Tops and undersides, flowers shut and the bees gone.",
            PERRIN,
            4,
            "L",
            {
                "label": "Chalk Veil",
                "product": "20 g in 4 L",
                "hour": "19:40",
                "flowers_open": False,
                "trouble": "powdery-mildew-cucurbit",
            },
        ),
        look(on(8, 13, 2025), "zucchini-25-1", "new leaves clean, the old ones no worse", sound=True),
        _found(on(8, 12, 2025), "cucumber-25-2", "powdery-mildew-cucurbit", "white-powder-upper=yes"),
        note(on(8, 13, 2025), "cucumber-25-2", "A week of picking left: not worth a second mixing. Left alone."),
        _found(on(7, 31, 2025), "potato-25-2", "potato-scab", "scabby-tuber-skin=yes", settled=True),
    ]


def _this_year() -> list[Line]:
    return [
        _count(on(6, 7), "potato-1", "colorado-potato-beetle", 10, found_on=0),
        _count(on(6, 9), "cabbage-1", "imported-cabbageworm", 10, found_on=2),
        _count(on(6, 10), "zucchini-1", "squash-bug", 2, found_on=0, enemies="one lady beetle"),
    ]


def _count(day: date, planting: str, trouble: str, looked_at: int, *, who: str = WENNA, **more: Any) -> Line:
    return Line(day, "count", planting, who=who, payload={"trouble": trouble, "looked_at": looked_at, **more})


def _found(day: date, planting: str, trouble: str, signs: str, *, settled: bool = False) -> Line:
    payload = {"trouble": trouble, "signs": signs, **({"sure": "settled"} if settled else {})}
    return Line(day, "found", planting, who=IDONY, payload=payload)
