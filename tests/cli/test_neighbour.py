"""A neighbour's record fills the garden's own, by command."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from keyboard import COLUMNS, Keyboard, station_file


def test_a_neighbour_continues_the_record_and_is_marked(at_demo: Keyboard, tmp_path: Path) -> None:
    before = at_demo("weather")
    station_file(tmp_path / "next.csv", date(1980, 1, 1), date(2026, 6, 11))
    said = at_demo("neighbour", "next.csv", "--columns", COLUMNS)
    assert "January" in said
    assert "days are in both records" in said
    assert "days have something of the neighbour's" in said
    assert at_demo("weather") != before
    again = at_demo("neighbour", "next.csv", "--columns", COLUMNS)
    assert "0 days have something of the neighbour's" in again


def test_a_neighbour_without_a_common_day_keeps_nothing(at_demo: Keyboard, tmp_path: Path) -> None:
    before = at_demo("weather")
    station_file(tmp_path / "next.csv", date(2026, 6, 1), date(2026, 6, 11))
    refused = at_demo.type("neighbour", "next.csv", "--columns", COLUMNS)
    assert refused.code != 0
    assert "are needed to tell how they differ" in refused.err
    assert at_demo("weather") == before
