"""What stands in the beds this year, stood there over winter, or is meant to."""

from __future__ import annotations

from datetime import date
from typing import Final

from kailyard.demo._daybook import IDONY, Line, on, said
from kailyard.demo.place import BEGUN
from kailyard.garden.model import Planting

GARLIC_DAY: Final = on(10, 12, 2025)
PLANNING: Final = on(1, 24)
"""The winter evening on which the year was laid out bed by bed."""

BEANS: Final = "snap beans 2026"
CARROTS: Final = "carrots 2026"
CORN: Final = "sweet corn 2026"
HEAD: Final = "head lettuce 2026"
LEAF: Final = "leaf lettuce 2026"
PEAS: Final = "peas 2026"

# Columns: id, crop, bed, start, cultivar, count, rows, spacing cm, row cm, place m, length m, planned.

ASPARAGUS: Final = Planting(
    "asparagus-1", "asparagus", "bed-10", "planted", "Spindrift", 44, 2, 45, 60, 0.0, 10.0, date(2021, 4, 17)
)

OVER_WINTER: Final = (
    Planting("cabbage-25", "cabbage", "bed-9", "raised", "Boulder Bank", 14, 2, 50, 75, 0.0, 3.5, on(7, 20, 2025)),
    Planting("carrot-25", "carrot", "bed-7", "sown", "Quay Blunt", 150, 4, 6, 35, 0.0, 2.5, on(7, 5, 2025)),
    Planting("lettuce-25", "lettuce-leaf", "bed-12", "sown", "Foam Edge", 100, 5, 15, 35, 0.0, 3.0, on(9, 20, 2025)),
    Planting("head-25", "lettuce-head", "bed-12", "raised", "Haven Heart", 28, 4, 28, 40, 5.0, 2.0, on(10, 11, 2025)),
)  # fmt: skip

GARLIC: Final = (
    Planting("garlic-1", "garlic", "bed-6", "planted", "Selkie", 100, 5, 12, 20, 0.0, 2.5, GARLIC_DAY),
    Planting("garlic-2", "garlic", "bed-6", "planted", "Nightwatch", 80, 4, 12, 25, 2.5, 2.5, GARLIC_DAY),
)

THIS_YEAR: Final = (
    Planting("tomato-1", "tomato-indeterminate", "bed-1", "raised", "Lanthorn Red", 12, 2, 60, 65, 0.0, 4.0, on(5, 23)),
    Planting("tomato-2", "tomato-indeterminate", "bed-1", "raised", "Ruddock", 12, 2, 60, 65, 4.0, 4.0, on(5, 23)),
    Planting("tomato-3", "tomato-determinate", "bed-1", "raised", "Low Lamp", 12, 2, 60, 65, 8.0, 4.0, on(5, 24)),
    Planting("tomato-4", "tomato-indeterminate", "bed-12", "raised", "Skerry Bead", 12, 2, 60, 80, 0.0, 4.0, on(5, 2)),
    Planting("pepper-1", "pepper-sweet", "bed-2", "raised", "Garth Bell", 14, 2, 40, 50, 0.0, 3.0, on(5, 30)),
    Planting("pepper-2", "pepper-sweet", "bed-2", "raised", "Long Candle", 10, 2, 40, 50, 3.0, 2.0, on(5, 30)),
    Planting("pepper-3", "pepper-hot", "bed-2", "raised", "Wick", 10, 2, 40, 50, 5.0, 2.0, on(5, 30)),
    Planting("cucumber-1", "cucumber-slicing", "bed-12", "raised", "Long Tide", 8, 2, 45, 100, 5.0, 2.0, on(5, 18)),
    Planting("cucumber-2", "cucumber-slicing", "bed-12", "raised", "Long Tide", 4, 2, 45, 100, 7.0, 1.0, on(6, 16)),
    Planting("cucumber-3", "cucumber-pickling", "bed-2", "raised", "Brine Pip", 6, 1, 25, None, 7.0, 1.5, on(6, 13)),
    Planting("cucumber-4", "cucumber-pickling", "bed-2", "sown", "Brine Pip", 6, 1, 25, None, 8.5, 1.5, on(6, 3)),
    Planting("zucchini-1", "zucchini", "bed-9", "raised", "Ferry Green", 2, 2, 60, 120, 9.5, 1.2, on(5, 26)),
    Planting("zucchini-2", "zucchini", "bed-9", "sown", "Ferry Lamp", 2, 2, 60, 120, 10.7, 1.2, on(5, 20)),
    Planting(
        "squash-1", "winter-squash-maxima", "bed-9", "raised", "Harbour Lamp", 4, 1, 120, None, 0.0, 5.0, on(5, 28)
    ),
    Planting(
        "squash-2", "winter-squash-moschata", "bed-9", "raised", "Tallowneck", 4, 1, 110, None, 5.0, 4.5, on(5, 28)
    ),
    Planting("corn-1", "sweet-corn", "bed-8", "sown", "Gannet Gold", 60, 5, 25, 75, 0.0, 3.0, on(5, 6), wave=CORN),
    Planting("corn-2", "sweet-corn", "bed-8", "sown", "Gannet Gold", 60, 5, 25, 75, 3.0, 3.0, on(5, 23), wave=CORN),
    Planting("corn-3", "sweet-corn", "bed-8", "sown", "Late Gannet", 60, 5, 25, 75, 6.0, 3.0, on(6, 6), wave=CORN),
    Planting("bean-1", "bean-bush", "bed-3", "sown", "Slack Water", 40, 2, 8, 60, 0.0, 1.6, on(4, 27), wave=BEANS),
    Planting("bean-2", "bean-bush", "bed-3", "sown", "Merrow Snap", 40, 2, 8, 60, 3.2, 1.6, on(5, 28), wave=BEANS),
    Planting("bean-3", "bean-bush", "bed-3", "sown", "Merrow Snap", 40, 2, 8, 60, 4.8, 1.6, on(6, 13), wave=BEANS),
    Planting("bean-4", "bean-bush", "bed-3", "sown", "Merrow Snap", 40, 2, 8, 60, 6.4, 1.6, on(6, 28), wave=BEANS),
    Planting("bean-5", "bean-bush", "bed-3", "sown", "Slack Water", 40, 2, 8, 60, 8.0, 1.6, wave=BEANS),
    Planting("pea-1", "pea", "bed-4", "sown", "First Packet", 100, 2, 5, 60, 0.0, 2.5, on(4, 4), wave=PEAS),
    Planting("pea-2", "pea", "bed-4", "sown", "Green Lantern", 100, 2, 5, 60, 2.5, 2.5, on(4, 20), wave=PEAS),
    Planting("carrot-1", "carrot", "bed-4", "sown", "Quay Blunt", 100, 4, 6, 30, 5.0, 1.5, on(4, 11), wave=CARROTS),
    Planting("carrot-2", "carrot", "bed-4", "sown", "Quay Blunt", 100, 4, 6, 30, 6.5, 1.5, on(5, 9), wave=CARROTS),
    Planting("carrot-3", "carrot", "bed-4", "sown", "Winter Keel", 100, 4, 6, 30, 8.0, 1.5, on(6, 20), wave=CARROTS),
    Planting("cabbage-1", "cabbage", "bed-4", "raised", "Cannonry", 10, 2, 45, 60, 9.5, 2.5, on(4, 25)),
    Planting(
        "cabbage-2", "cabbage", "bed-6", "raised", "Boulder Bank", 18, 2, 50, 60, 0.0, 5.0, on(6, 20),
        note="after the garlic",
    ),
    Planting(
        "garlic-3", "garlic", "bed-3", "planted", "Nightwatch", 100, 5, 12, 20, 0.0, 2.5, on(10, 12),
        note="after the beans",
    ),
    Planting("onion-1", "onion-long-day", "bed-6", "raised", "Ballast", 120, 4, 10, 28, 5.0, 3.0, on(4, 18)),
    Planting("onion-2", "onion-long-day", "bed-6", "planted", "Dunnage", 80, 4, 10, 28, 8.0, 2.0, on(4, 6)),
    Planting("potato-1", "potato", "bed-7", "planted", "Garth Early", 22, 2, 30, 75, 0.0, 3.5, on(4, 20)),
    Planting("potato-2", "potato", "bed-7", "planted", "Keelstone", 22, 2, 30, 75, 3.5, 3.5, on(4, 20)),
    Planting("potato-3", "potato", "bed-7", "planted", "Winter Ration", 32, 2, 30, 75, 7.0, 5.0, on(4, 25)),
    Planting("asparagus-2", "asparagus", "bed-11", "planted", "Spindrift", 44, 2, 45, 60, 0.0, 10.0, on(4, 18)),
    Planting("lettuce-0", "lettuce-leaf", "bed-12", "sown", "Foam Edge", 30, 5, 15, 35, 4.0, 1.0, on(3, 2), wave=LEAF),
    Planting("lettuce-1", "lettuce-leaf", "bed-5", "sown", "Foam Edge", 24, 2, 15, 20, 0.5, 0.5, on(4, 10), wave=LEAF),
    Planting("lettuce-2", "lettuce-leaf", "bed-5", "sown", "Foam Edge", 24, 2, 15, 20, 1.0, 0.4, on(5, 2), wave=LEAF),
    Planting("lettuce-3", "lettuce-leaf", "bed-5", "sown", "Foam Edge", 24, 2, 15, 20, 1.4, 0.4, on(5, 24), wave=LEAF),
    Planting("lettuce-4", "lettuce-leaf", "bed-5", "sown", "Foam Edge", 24, 2, 15, 20, 1.8, 0.4, on(6, 22), wave=LEAF),
    Planting("head-1", "lettuce-head", "bed-5", "raised", "Haven Heart", 9, 1, 28, 30, 2.2, 0.3, on(4, 10), wave=HEAD),
    Planting("head-2", "lettuce-head", "bed-5", "raised", "Haven Heart", 8, 1, 28, 30, 2.5, 0.3, on(5, 5), wave=HEAD),
    Planting("head-3", "lettuce-head", "bed-5", "raised", "Haven Heart", 6, 1, 28, 30, 2.8, 0.3, on(6, 8), wave=HEAD),
    Planting(
        "head-4", "lettuce-head", "bed-4", "raised", "Long Night", 16, 2, 28, 40, 0.0, 2.3, on(7, 24),
        note="for autumn, after the peas",
    ),
)  # fmt: skip

INSURANCE: Final = Planting(
    "bean-1b", "bean-bush", "bed-3", "sown", "Slack Water", 40, 2, 8, 60, 1.6, 1.6, on(5, 18), wave=BEANS,
    note="insurance for bean-1",
)  # fmt: skip
CORN_MOVED: Final = Planting(
    "corn-3", "sweet-corn", "bed-8", "sown", "Late Gannet", 60, 5, 25, 75, 6.0, 3.0, on(6, 12), wave=CORN,
    note="put off from 6 June: ground too wet after the hail",
)  # fmt: skip


def lines() -> list[Line]:
    """Each planting on the evening it was laid out; the corn's last block a second time, with a new day."""
    told = [(BEGUN, ASPARAGUS)]
    told += [(on(1, 25, 2025), p) for p in OVER_WINTER]
    told += [(on(10, 11, 2025), p) for p in GARLIC]
    told += [(PLANNING, p) for p in THIS_YEAR]
    told += [(on(5, 17), INSURANCE), (on(6, 5), CORN_MOVED)]
    return [Line(day, "planting", p.id, who=IDONY, payload=said(p)) for day, p in told]
