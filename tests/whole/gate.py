"""A gardener at a real station: a folder, a clock that moves when told, and nothing but commands."""

from __future__ import annotations

import io
from contextlib import redirect_stderr, redirect_stdout
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest

from kailyard.cli import main as door
from kailyard.desk.desk import Desk
from kailyard.desk.view import season_view
from kailyard.season.view import SeasonView

MILWAUKEE = (
    "ghcnd_USW00014839_milwaukee_1938_2026.csv.gz",
    "date=date; tmin=tmin_c; tmax=tmax_c; rain=prcp_mm",
    "--lat=42.95 --lon=-87.90 --elevation=205 --zone=America/Chicago",
)
"""NOAA NCEI, GHCN-Daily, USW00014839; public domain."""
DE_BILT = (
    "knmi_260_de_bilt_1980_2019.csv.gz",
    "date=date; tmin=tmin_c; tmax=tmax_c; rain=rain_mm",
    "--lat=52.10 --lon=5.18 --elevation=1.9 --zone=Europe/Amsterdam",
)
"""KNMI, station 260."""


class Gardener:
    """Types commands at one garden; each takes a second of the clock. It is evening of a day: 22 h UTC."""

    def __init__(self, folder: Path, day: date, patch: pytest.MonkeyPatch) -> None:
        self.folder = folder
        self.at(day)
        patch.setattr("kailyard.desk.desk._clock", lambda: self.now)

    def at(self, day: date) -> None:
        """The clock is set to a day's evening."""
        self.now = datetime(day.year, day.month, day.day, 22, tzinfo=UTC)

    def __call__(self, line: str, *more: str) -> str:
        """One command, which must succeed: what it prints."""
        self.now += timedelta(seconds=1)
        out, err = io.StringIO(), io.StringIO()
        with redirect_stdout(out), redirect_stderr(err):
            code = door.main(["--garden", str(self.folder), *line.split(), *more])
        assert code == 0, f"{line}: {err.getvalue()}"
        return out.getvalue()

    def view(self, day: date) -> SeasonView:
        """The season as foreseen on a day."""
        desk = Desk(self.folder)
        try:
            return season_view(desk, on=day)
        finally:
            desk.close()


def new_garden(
    folder: Path, day: date, patch: pytest.MonkeyPatch, station: tuple[str, str, str], shared: Path, *options: str
) -> Gardener:
    """A garden with a station's whole record and one bed, made on a day."""
    file, columns, place = station
    gardener = Gardener(folder, day, patch)
    gardener(f"new Garth {place}", *options)
    gardener(f"weather {shared / 'data' / 'weather' / file} --columns", columns)
    gardener("bed bed-1 --length 6 --width 1.2")
    return gardener
