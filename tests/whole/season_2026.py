"""Entries of a spring and summer, as a gardener at Milwaukee might have typed them in 2026: invented."""

from __future__ import annotations

from datetime import date

START = date(2026, 3, 2)
"""The garden is made, and its first sheet printed."""
LAST = date(2026, 8, 19)
"""Last day of the station's record."""

BEDS = (
    "bed bed-1 --length 12ft --width 4ft",
    "bed bed-2 --length 12ft --width 4ft",
    "bed bed-3 --length 20ft --width 4ft --soil loam",
    "bed bed-4 --length 20ft --width 4ft",
)
CULTIVARS = (
    "cultivar bean-bush Lantern --days 55 --from sown --habit bush",
    "cultivar tomato-indeterminate Harbor --days 75 --from set-out",
    "cultivar sweet-corn Harrow --days 78 --from sown",
    "cultivar pea Greenway --days 62 --from sown --habit climbing",
)
PLANTINGS = (
    "planting garlic-1 --crop garlic --bed bed-1 --start planted --count 60 --rows 4 --spacing 6in --length 6ft",
    "planting pea-1 --crop pea --bed bed-2 --start sown --cultivar Greenway --count 150 --rows 2 --length 6ft",
    "planting lettuce-1 --crop lettuce-leaf --bed bed-2 --start sown --count 40 --rows 3 --place 6ft --length 6ft",
    "planting potato-1 --crop potato --bed bed-3 --start planted --count 30 --rows 2 --length 10ft",
    "planting tomato-1 --crop tomato-indeterminate --bed bed-4 --start raised --cultivar Harbor --count 6 --length 9ft",
    "planting bean-1 --crop bean-bush --bed bed-3 --start sown --cultivar Lantern --count 60 --rows 2 --place 10ft "
    "--length 10ft",
    "planting corn-1 --crop sweet-corn --bed bed-4 --start sown --cultivar Harrow --count 30 --place 9ft --length 8ft",
    "planting zucchini-1 --crop zucchini --bed bed-1 --start sown --count 2 --place 8ft --length 4ft",
)

ENTRIES = """
2025-10-20 plant garlic-1
2026-03-28 stage garlic-1 emerged
2026-03-30 sow tomato-1 true
2026-04-11 sow pea-1
2026-04-18 sow lettuce-1
2026-04-25 plant potato-1
2026-04-26 stage pea-1 emerged
2026-04-30 stage lettuce-1 emerged
2026-05-13 harden tomato-1
2026-05-16 stage potato-1 emerged
2026-05-17 sow corn-1
2026-05-20 air-temperature 38F 61F
2026-05-23 sow bean-1
2026-05-24 set-out tomato-1
2026-05-26 stage corn-1 emerged
2026-05-28 pick lettuce-1 1lb
2026-05-30 sow zucchini-1
2026-05-30 support tomato-1
2026-06-01 stage bean-1 emerged
2026-06-06 pick lettuce-1 2lb
2026-06-07 stage pea-1 first-flower
2026-06-08 stage zucchini-1 emerged
2026-06-14 rain 0.8in
2026-06-15 pick lettuce-1 1lb last
2026-06-21 pick pea-1 2lb
2026-06-21 stage tomato-1 first-flower
2026-06-25 pick pea-1 3lb
2026-06-30 pick pea-1 2lb
2026-07-03 stage bean-1 first-flower
2026-07-05 clear pea-1
2026-07-06 stage garlic-1 mature 40%
2026-07-12 pick garlic-1 55 heads last
2026-07-14 pick zucchini-1 3lb
2026-07-17 pick zucchini-1 4lb
2026-07-18 stage corn-1 first-flower
2026-07-19 pick bean-1 2lb
2026-07-23 pick bean-1 4lb
2026-07-24 pick zucchini-1 5lb
2026-07-29 pick bean-1 3lb
2026-08-02 pick zucchini-1 5lb
2026-08-06 pick tomato-1 2lb
2026-08-10 pick corn-1 12 ears
2026-08-14 pick tomato-1 6lb
"""
"""Day, kind and words of each; typed on its day, but for what happened before the garden was made."""


def entries() -> list[tuple[date, str]]:
    """Day and words."""
    lines = (line.partition(" ") for line in ENTRIES.strip().splitlines())
    return [(date.fromisoformat(day), words) for day, _, words in lines]
