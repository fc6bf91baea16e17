"""A neighbour's record fills the garden's own, by command."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from keyboard import COLUMNS, Keyboard, station_file


def test_a_neighbour_continues_the_record_and_is_marked(at_demo: Keyboard, tmp_path: Path) -> None:
    before = at_demo("weather")
    station_file(tmp_path / "next.csv", date(1980, 1, 1), date(2026, 6, 11))
    said = " ".join(at_demo("neighbour", "next.csv", "--columns", COLUMNS).split())
    assert "January" in said
    assert "days are in both records" in said
    assert "nothing was taken from it" in said  # the demo's record is whole
    assert at_demo("weather") != before
    again = at_demo("neighbour", "next.csv", "--columns", COLUMNS)
    assert "nothing was taken from it" in " ".join(again.split())


def test_a_neighbour_without_a_common_day_keeps_nothing(at_demo: Keyboard, tmp_path: Path) -> None:
    before = at_demo("weather")
    station_file(tmp_path / "next.csv", date(2026, 6, 1), date(2026, 6, 11))
    refused = at_demo.type("neighbour", "next.csv", "--columns", COLUMNS)
    assert refused.code != 0
    assert "are needed to tell how they differ" in refused.err
    assert at_demo("weather") == before


def test_a_doubtful_day_is_kept_and_asked_about_when_a_file_is_read(at_demo: Keyboard, tmp_path: Path) -> None:
    path = station_file(tmp_path / "own.csv", date(2014, 1, 1), date(2026, 6, 11))
    lines = path.read_text(encoding="utf-8").splitlines()
    at = next(i for i, line in enumerate(lines) if line.startswith("2020-07-10"))
    day, low, high, _ = lines[at].split(",")
    lines[at] = f"{day},{low},{high},900.0"
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")
    said = " ".join(at_demo("weather", "own.csv", "--columns", COLUMNS).split())
    assert "Please look at 2020-07-10: rain: 900 mm" in said
    assert "kept and used" in said
