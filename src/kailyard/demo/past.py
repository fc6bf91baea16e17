"""The garden's past: five seasons, each a file of its own, and the packets they were sown from.

Nightshades, squashes, onions and the rest move round the eight open beds in three years. The round bed and the tunnel
are the exception: lettuce stays with the classes, and the tunnel gets a new top of leaf mould every winter.
"""

from __future__ import annotations

from datetime import date
from typing import Any, Final

from kailyard.demo import season_2021, season_2022, season_2023, season_2024, season_2025
from kailyard.demo._daybook import IDONY, WENNA, Line, on, said
from kailyard.demo._past import Grown, planning
from kailyard.demo.place import BEGUN, CULTIVARS, SEED_ORDER

SEASONS: Final = {2021: season_2021, 2022: season_2022, 2023: season_2023, 2024: season_2024, 2025: season_2025}

_BOX: Final = (
    ("bean-bush", "Slack Water", {2022: (2021, 240), 2023: (2022, 180), 2024: (2023, 160), 2025: (2024, 200)}),
    ("cabbage", "Boulder Bank", {2022: (2021, 60), 2023: (2021, 42), 2024: (2021, 24), 2025: (2024, 90)}),
    ("carrot", "Quay Blunt", {2022: (2021, 1200), 2023: (2022, 1500), 2024: (2022, 900), 2025: (2024, 2200)}),
    ("lettuce-leaf", "Foam Edge", {2022: (2021, 900), 2023: (2021, 700), 2024: (2023, 3500), 2025: (2023, 3000)}),
    ("onion-long-day", "Ballast", {2022: (2020, 420), 2023: (2020, 300), 2024: (2023, 480), 2025: (2023, 370)}),
    ("pea", "First Packet", {2022: (2021, 300), 2023: (2022, 500), 2024: (2022, 320), 2025: (2022, 250)}),
)
"""Crop, cultivar, and what each January's count found of it: year packed, seeds left. 2026 counts them again."""

_BY_THE_YEAR: Final = (
    "Lanthorn Red",
    "Low Lamp",
    "Skerry Bead",
    "Garth Bell",
    "Long Tide",
    "Harbour Lamp",
    "Gannet Gold",
)
"""Bought anew every winter and sown out, or given away by November."""


def rows() -> tuple[Grown, ...]:
    """Every planting of the five seasons."""
    return tuple(row for season in SEASONS.values() for row in season.ROWS)


def lines() -> list[Line]:
    """Cultivars as they came to be known, what the seed box held each winter, and the seasons."""
    seasons = [line for season in SEASONS.values() for line in season.lines()]
    return [*_cultivars(), *_counts(), *_bought(), *seasons]


def _cultivars() -> list[Line]:
    first: dict[str, date] = {"Spindrift": BEGUN}
    for row in rows():
        name, day = row.planting.cultivar, planning(row)
        first[name] = min(first.get(name, day), day)
    return [
        Line(first.get(c.name, SEED_ORDER), "cultivar", who=IDONY, payload=said(c))
        for c in CULTIVARS
    ]  # fmt: skip


def _counts() -> list[Line]:
    counted = [
        _lot(on(1, 12, year), crop, name, seeds, packed=packed)
        for crop, name, years in _BOX
        for year, (packed, seeds) in years.items()
    ]
    tried = [
        _lot(on(1, 17, 2024), "cabbage", "Boulder Bank", None, packed=2021, tested=20, germinated=15),
        _lot(on(1, 17, 2025), "pea", "First Packet", None, packed=2022, tested=20, germinated=16),
    ]
    return counted + tried


def _bought() -> list[Line]:
    crops = {c.name: c.crop for c in CULTIVARS}
    out = []
    for year in SEASONS:
        sown = {row.planting.cultivar for row in SEASONS[year].ROWS}
        for name in _BY_THE_YEAR:
            if name in sown:
                seeds = 300 if name == "Gannet Gold" else 25
                came = max(on(1, 30, year), BEGUN)
                out.append(_lot(came, crops[name], name, seeds, lot=str(year), packed=year))
                out.append(_lot(on(11, 15, year), crops[name], name, 0, lot=str(year), state="used up", who=WENNA))
    return out


def _lot(day: date, crop: str, cultivar: str, seeds: float | None, *, who: str = IDONY, **more: Any) -> Line:
    payload = {"crop": crop, "cultivar": cultivar, **more}
    return Line(day, "seed", who=who, quantity=seeds, unit="" if seeds is None else "seeds", payload=payload)
