"""A person at the keyboard: a garden's folder, a clock that only moves when told, and what was printed."""

from __future__ import annotations

import csv
import math
import random
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest

from kailyard.cli import main as door


@dataclass(frozen=True)
class Said:
    """What one command answered."""

    code: int
    out: str
    err: str


class Keyboard:
    """Types commands at one garden. Each takes a second of the clock."""

    def __init__(
        self, folder: Path, now: datetime, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
    ) -> None:
        self.folder, self.now, self._capsys = folder, now, capsys
        monkeypatch.setattr("kailyard.desk.desk._clock", lambda: self.now)
        monkeypatch.setenv("KAILYARD_GARDEN", str(folder))
        monkeypatch.delenv("KAILYARD_WHO", raising=False)

    def type(self, *words: str) -> Said:
        """Run one command, whatever comes of it."""
        self.now += timedelta(seconds=1)
        self._capsys.readouterr()
        code = door.main(words)
        return Said(code, *self._capsys.readouterr())

    def __call__(self, *words: str) -> str:
        """Run one command that must succeed; what it printed."""
        said = self.type(*words)
        assert said.code == 0, said.err
        assert said.err == ""
        return said.out

    def line(self, line: str, *more: str) -> str:
        """The same, typed as one line."""
        return self(*line.split(), *more)

    def on(self, day: date) -> None:
        """It is noon of `day` (UTC)."""
        self.now = datetime(day.year, day.month, day.day, 12, tzinfo=UTC)


def station_file(path: Path, first: date, last: date, *, seed: int = 3) -> Path:
    """An invented station's days as a table in °C and mm: a yearly wave with lasting spells. The same for a seed."""
    rng, spell = random.Random(seed), 0.0
    with path.open("w", newline="", encoding="utf-8") as out:
        writer = csv.writer(out)
        writer.writerow(["day", "low", "high", "rain"])
        for n in range((last - date(2014, 1, 1)).days + 1):
            day = date(2014, 1, 1) + timedelta(days=n)
            spell = 0.7 * spell + rng.gauss(0.0, 2.2)
            mean = 9.5 - 11.0 * math.cos(2 * math.pi * (day.timetuple().tm_yday - 18) / 365.25) + spell
            half, rain = rng.uniform(3.0, 6.5), rng.expovariate(0.2) if rng.random() < 0.3 else 0.0
            if day >= first:
                writer.writerow([day.isoformat(), f"{mean - half:.1f}", f"{mean + half:.1f}", f"{rain:.1f}"])
    return path


COLUMNS = "date=day; tmin=low; tmax=high; rain=rain"
