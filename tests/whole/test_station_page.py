"""The page on one's own station, followed to the letter with an invented station's table."""

from __future__ import annotations

import math
import random
import shlex
from datetime import date, timedelta
from pathlib import Path

import pytest
from gate import Gardener

PAGE = Path(__file__).parents[2] / "docs" / "how-to" / "use-your-own-station.md"
TODAY = date(2026, 3, 20)


def commands() -> list[str]:
    """Every command of the page, in order."""
    return [line for line in PAGE.read_text(encoding="utf-8").splitlines() if line.startswith("kailyard ")]


def station(path: Path) -> None:
    """Eight invented years in the columns that the page speaks of, in °C and mm and in °F and inches."""
    rng, lines = random.Random(8), ["date,tmin_c,tmax_c,prcp_mm,Day,Low,High,Rain"]
    for n in range((TODAY - date(2018, 3, 1)).days):
        day = date(2018, 3, 1) + timedelta(days=n)
        low = 4 - 12 * math.cos(2 * math.pi * (day.timetuple().tm_yday - 20) / 365.25) + rng.gauss(0, 3)
        high, rain = low + rng.uniform(5, 12), max(rng.gauss(-2, 4), 0.0)
        us = f"{day:%m/%d/%Y},{low * 1.8 + 32:.1f},{high * 1.8 + 32:.1f},{rain / 25.4:.2f}"
        lines.append(f"{day},{low:.1f},{high:.1f},{rain:.1f},{us}")
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")


def test_every_command_of_the_page_does_what_it_says(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    station(tmp_path / "station.csv")
    gardener = Gardener(tmp_path / "our-garden", TODAY, monkeypatch)
    said = {}
    for line in commands():
        words = shlex.split(line)[1:]
        if words[-1].endswith(".dly"):
            continue  # NOAA's own form: tests/weather reads it
        said[line] = gardener("", *words)
    assert len(said) >= 8
    read = [answer for line, answer in said.items() if line.startswith("kailyard weather")]
    assert all("That is 8 years." in answer for answer in read)
    sheet = next(answer for line, answer in said.items() if line == "kailyard sheet")
    assert "sow/pea-1" in sheet
