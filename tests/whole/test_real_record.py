"""A season at Milwaukee by commands alone: 88 years of a real record, eight plantings, a sheet every week.

The record is NOAA's (GHCN-Daily, USW00014839), to 19 August 2026; what was done in the garden is invented.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest
from gate import MILWAUKEE, Gardener
from season_2026 import BEDS, CULTIVARS, LAST, PLANTINGS, START, entries


@dataclass(frozen=True)
class Season:
    """The garden at the end, and each Monday's sheet as it was issued, in text and as JSON."""

    gardener: Gardener
    text: dict[date, str]
    json: dict[date, dict[str, Any]]
    reading: str
    """What reading the station's file said."""

    def line(self, monday: date, name: str) -> dict[str, Any] | None:
        """A line of work by its name."""
        return next((line for line in self.json[monday]["work"] if line["name"] == name), None)

    def foreseen(self, monday: date, name: str) -> dict[str, Any] | None:
        """The odds of a window that the sheet asks for now or names as coming."""
        later = (line["odds"] for line in self.json[monday]["next"] if line["name"] == name)
        now = self.line(monday, name)
        return now["window"] if now is not None else next(later, None)

    def lines(self, name: str) -> dict[date, dict[str, Any]]:
        """Every sheet's line of work of that name."""
        return {day: line for day in self.json if (line := self.line(day, name)) is not None}


@pytest.fixture(scope="module")
def season(tmp_path_factory: pytest.TempPathFactory, shared: Path) -> Iterator[Season]:
    """The season walked through from 2 March to the record's last day."""
    with pytest.MonkeyPatch.context() as patch:
        gardener = Gardener(tmp_path_factory.mktemp("milwaukee") / "garden", START, patch)
        file, columns, place = MILWAUKEE
        gardener(f"new Garth {place} --units us")
        reading = gardener(f"weather {shared / 'data' / 'weather' / file} --columns", columns)
        for line in (*BEDS, *CULTIVARS, *PLANTINGS):
            gardener(line)
        text, as_json = {}, {}
        todo = entries()
        monday = START
        while monday <= LAST + timedelta(days=1):
            while todo and todo[0][0] < monday:
                day, words = todo.pop(0)
                gardener.at(max(day, START))
                gardener(f"enter {words} --on {day}")
            gardener.at(monday)
            text[monday] = gardener("sheet")
            as_json[monday] = json.loads(gardener("sheet --json"))
            monday += timedelta(days=7)
        gardener.at(LAST + timedelta(days=1))
        yield Season(gardener, text, as_json, reading)


def test_the_whole_record_is_read_and_nothing_of_it_is_lost(season: Season) -> None:
    # The reference folder's README: 32,283 rows, no day absent; one maximum and 138 days of rain missing.
    assert "1938-04-01  2026-08-19  32283         32282  32145          0" in season.reading
    assert "That is 88 years." in season.reading


def test_there_is_a_sheet_for_every_week_and_each_fits_its_paper(season: Season) -> None:
    assert len(season.text) == 25
    for monday, text in season.text.items():
        assert all(len(line) <= 80 for line in text.splitlines()), monday
        assert len(season.json[monday]["work"]) <= 10, monday
        assert text.isascii() is False  # the bands are drawn


def test_no_sheet_knows_of_weather_to_come(season: Season) -> None:
    for monday, text in season.text.items():
        yesterday = monday - timedelta(days=1)
        assert f"Weather record to {yesterday.day} {yesterday:%B}:" in " ".join(text.split()), monday


def test_every_line_of_every_sheet_can_be_asked_why(season: Season) -> None:
    for monday, document in season.json.items():
        for part in ("work", "look", "leave", "holds", "near", "next", "changed"):
            for line in document[part]:
                if monday.day > 7:  # one sheet a month is enough of asking
                    continue
                # Entries of a Monday were typed after its sheet.
                said = season.gardener(
                    f"why {line['name']} --on {monday} --as-known {max(monday - timedelta(days=1), START)}"
                )
                assert line["says"] in said, (monday, line["name"])


def test_work_is_asked_for_in_the_order_of_the_season(season: Season) -> None:
    first = {}
    for monday, document in season.json.items():
        for line in document["work"]:
            first.setdefault(line["name"], monday)
    order = ["sow/lettuce-1", "sow/potato-1", "sow/bean-1", "pick/pea-1", "pick/bean-1", "pick/corn-1"]
    days = [first[name] for name in order]
    assert days == sorted(days)
    # Wisconsin's guides: potatoes late April, snap beans not before May, tomatoes out in late May.
    assert date(2026, 4, 6) <= first["sow/potato-1"] <= date(2026, 4, 27)
    assert date(2026, 5, 4) <= first["sow/bean-1"] <= date(2026, 5, 25)
    assert date(2026, 5, 11) <= first["set-out/tomato-1"] <= date(2026, 5, 25)


def test_what_was_done_is_not_asked_for_again(season: Season) -> None:
    done = {"sow/pea-1": date(2026, 4, 11), "set-out/tomato-1": date(2026, 5, 24), "pick/garlic-1": date(2026, 7, 12)}
    for name, day in done.items():
        assert not [monday for monday in season.lines(name) if monday > day], name


def test_the_first_picks_fell_within_what_was_foreseen_when_the_flower_was_seen(season: Season) -> None:
    # Invented picks; what is held is that a stage seen brings the odds to a fortnight about what then came.
    for planting, monday, picked in (("pea-1", date(2026, 6, 8), date(2026, 6, 21)),):
        odds = season.foreseen(monday, f"pick/{planting}")
        assert odds is not None
        low = date.fromisoformat(odds["low"])
        assert abs((picked - low).days) <= 7


def test_a_garden_in_inches_reads_no_depth_in_centimetres(season: Season) -> None:
    for monday, text in season.text.items():
        assert " cm deep" not in text, monday
    assert "1 in deep" in season.text[date(2026, 5, 18)]


def test_a_crop_that_is_ripe_and_not_picked_stays_on_the_sheet(season: Season) -> None:
    # Beans were picked first on 19 July, a fortnight after they were ripe by all odds.
    for monday in (date(2026, 7, 6), date(2026, 7, 13)):
        assert season.line(monday, "pick/bean-1") is not None, monday


def test_a_picking_that_is_overdue_is_not_said_to_bear_waiting(season: Season) -> None:
    # Last picked on 2 August, every one or two days in season.
    for monday in (date(2026, 8, 10), date(2026, 8, 17)):
        line = season.line(monday, "pick/zucchini-1")
        assert line is not None
        assert line["soon"], monday


def test_a_crop_that_is_over_is_not_asked_for_any_more(season: Season) -> None:
    # Beans bear for two or three weeks (handbook); these were picked from 19 July, last on 29 July.
    for monday in (date(2026, 8, 10), date(2026, 8, 17)):
        assert season.line(monday, "pick/bean-1") is None, monday
        assert "Not open in these weeks" not in season.text[monday], monday


def test_plants_that_cannot_stand_out_yet_are_said_so_plainly(season: Season) -> None:
    assert not [monday for monday, text in season.text.items() if "hardly safe" in " ".join(text.split())]


def test_an_old_sheet_comes_out_as_it_was_issued(season: Season) -> None:
    for monday in (date(2026, 4, 6), date(2026, 6, 8), date(2026, 8, 3)):
        known = monday - timedelta(days=1)
        document = json.loads(season.gardener(f"sheet --on {monday} --as-known {known} --json"))
        assert document["as_known"] == str(known)
        # A sheet of its own day says nothing of what was known; the rest is the same to the letter.
        assert {**document, "as_known": None} == season.json[monday]


def test_the_garden_is_sound_and_can_be_carried_away(season: Season, tmp_path: Path) -> None:
    assert "sound" in season.gardener("verify")
    season.gardener(f"export {tmp_path / 'garth.json'}")
    season.gardener(f"import {tmp_path / 'garth.json'} {tmp_path / 'again'}")
    there = season.gardener("sheet --on 2026-08-17")
    season.gardener.folder, old = tmp_path / "again", season.gardener.folder
    try:
        assert season.gardener("sheet --on 2026-08-17") == there
    finally:
        season.gardener.folder = old


def test_climate_and_stages_answer_too(season: Season) -> None:
    # NOAA's thirty-year means of the last freeze at Milwaukee lie in late April (Climatography of the U.S. No. 20).
    assert "April" in season.gardener("climate --on 2026-06-01")
    assert "first picking" in season.gardener("stages tomato-1 --on 2026-06-22")
