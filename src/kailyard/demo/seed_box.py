"""The seed box: counted on a winter evening, two old lots tried in a damp cloth, the rest ordered and come."""

from __future__ import annotations

from datetime import date
from typing import Any, Final

from kailyard.demo._daybook import IDONY, WENNA, Line, on
from kailyard.demo.place import SEED_ORDER

COUNTED: Final = on(1, 10)
TRIED: Final = on(1, 15)
CAME: Final = on(1, 30)

_BOX: Final = (
    ("bean-bush", "Slack Water", 2025, 300),
    ("cabbage", "Boulder Bank", 2024, 70),
    ("carrot", "Quay Blunt", 2024, 1600),
    ("lettuce-leaf", "Foam Edge", 2023, 2500),
    ("lettuce-head", "Haven Heart", 2024, 400),
    ("onion-long-day", "Ballast", 2023, 260),
    ("pea", "First Packet", 2022, 180),
    ("zucchini", "Ferry Green", 2024, 11),
)
"""Crop, cultivar, year packed, seeds left."""

_ORDER: Final = (
    ("bean-bush", "Merrow Snap", 300),
    ("cabbage", "Cannonry", 50),
    ("carrot", "Winter Keel", 800),
    ("cucumber-pickling", "Brine Pip", 30),
    ("cucumber-slicing", "Long Tide", 20),
    ("onion-long-day", "Ballast", 300),
    ("pea", "First Packet", 150),
    ("pea", "Green Lantern", 150),
    ("pepper-hot", "Wick", 20),
    ("pepper-sweet", "Garth Bell", 25),
    ("pepper-sweet", "Long Candle", 20),
    ("sweet-corn", "Gannet Gold", 300),
    ("sweet-corn", "Late Gannet", 160),
    ("tomato-determinate", "Low Lamp", 20),
    ("tomato-indeterminate", "Lanthorn Red", 20),
    ("tomato-indeterminate", "Ruddock", 20),
    ("tomato-indeterminate", "Skerry Bead", 20),
    ("winter-squash-maxima", "Harbour Lamp", 8),
    ("winter-squash-moschata", "Tallowneck", 8),
    ("zucchini", "Ferry Lamp", 8),
)
"""Crop, cultivar, seeds."""

_BOUGHT: Final = (
    ("asparagus", "Spindrift", 44),
    ("onion-long-day", "Dunnage", 90),
    ("potato", "Garth Early", 22),
    ("potato", "Keelstone", 22),
    ("potato", "Winter Ration", 32),
)
"""Crop, cultivar, pieces."""


def lines() -> list[Line]:
    """What stood in the box, what was tried, what was ordered."""
    box = [_lot(COUNTED, crop, name, seeds, packed=year) for crop, name, year, seeds in _BOX]
    tried = [
        _lot(TRIED, "onion-long-day", "Ballast", None, packed=2023, tested=20, germinated=4, who=WENNA),
        _lot(TRIED, "pea", "First Packet", None, packed=2022, tested=20, germinated=11, who=WENNA),
    ]
    order = [_lot(SEED_ORDER, crop, name, None, lot="2026", state="ordered") for crop, name, _ in _ORDER]
    came = [_lot(CAME, crop, name, seeds, lot="2026", packed=2026) for crop, name, seeds in _ORDER]
    bought = [
        _lot(SEED_ORDER, crop, name, pieces, "pieces", lot="2026", state="ordered") for crop, name, pieces in _BOUGHT
    ]
    return box + tried + order + came + bought


def _lot(
    day: date, crop: str, cultivar: str, amount: float | None, unit: str = "seeds", *, who: str = IDONY, **more: Any
) -> Line:
    payload = {"crop": crop, "cultivar": cultivar, **more}
    return Line(day, "seed", who=who, quantity=amount, unit=unit if amount is not None else "", payload=payload)
