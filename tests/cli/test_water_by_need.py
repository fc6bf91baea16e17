"""docs/how-to/water-by-need.md, typed as it stands, and the water of the demo garden read in a terminal."""

from __future__ import annotations

import re
import shlex
from pathlib import Path

from keyboard import Keyboard

PAGE = Path(__file__).parents[2] / "docs/how-to/water-by-need.md"


def commands() -> list[str]:
    text = PAGE.read_text(encoding="utf-8")
    blocks = re.findall(r"^ *```\n(.*?)^ *```", text, re.M | re.S)
    return [line.strip() for block in blocks for line in block.splitlines()]


def test_every_command_of_the_page_is_taken_and_believed(at_demo: Keyboard) -> None:
    before = at_demo("water")
    assert "the drip line" not in before
    lines = commands()
    assert len(lines) == 8
    for line in [*lines, 'kailyard enter water-days "Monday, Thursday"', 'kailyard bed bed-3 --soil "sandy loam"']:
        assert re.search("Entered|Bed", at_demo(*shlex.split(line)[1:])), line
    after = at_demo("water")
    assert "the drip line" in re.sub(r"\s+", " ", after)
    assert "Water may be given on Monday and Thursday." in after
    assert re.search(r"on (Monday|Thursday) \d+ June", re.sub(r"\s+", " ", after))


def test_water_is_read_in_litres_or_gallons_at_any_width(at_demo: Keyboard) -> None:
    said = at_demo("water")
    assert "inch a week" in said
    assert re.search(r"Bed 3, snap beans", said)
    assert max(map(len, said.splitlines())) <= 80
    at_demo("garden", "--units", "us")
    gallons = at_demo("water")
    assert " gal" in gallons
    assert " mm" not in re.sub(r"FAO-56", "", gallons)


def test_a_line_of_water_says_why_down_to_the_table(at_demo: Keyboard) -> None:
    names = re.findall(r"water/bed-\d+", at_demo("sheet"))
    assert names
    opened = re.sub(r"\s+", " ", at_demo("why", names[0]))
    assert "FAO Irrigation and Drainage Paper 56" in opened
    assert "gone from the root zone" in opened


def test_a_gauge_fourfold_off_the_station_is_asked_about_as_it_is_entered_and_kept(at_demo: Keyboard) -> None:
    likely = at_demo("enter", "rain", "0mm", "--on", "2026-06-04")
    assert "right?" not in likely
    for day in (6, 7, 8, 9, 10, 11):
        said = re.sub(r"\s+", " ", at_demo("enter", "rain", "24mm", "--on", f"2026-06-{day:02d}"))
    asked = re.search(r"Is (the gauge|24.0 mm) right\? .* Until then it is kept and used.", said)
    assert asked, said
    # Kept, and believed before the station all the same.
    told = re.search(r"garden's own gauge: ([\d.]+) mm, the station's", re.sub(r"\s+", " ", at_demo("sheet")))
    assert told
    assert len(re.findall("24 mm", at_demo("daybook", "--kind", "rain"))) == 6
