"""What is most worth finding: counted on the sheet of the day and on the sheets that went out before it."""

from __future__ import annotations

from datetime import UTC, date, datetime
from pathlib import Path

import pytest

from kailyard.desk.ask import sheet
from kailyard.desk.demo import write_demo
from kailyard.desk.desk import Desk
from kailyard.desk.facts import gaps, issued_sheets, lines_leaning
from kailyard.desk.view import season_view
from kailyard.season.sheet import compose

TODAY = date(2026, 6, 12)


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("gaps") / "garden"
    desk = at(folder, TODAY)
    write_demo(desk)
    desk.close()
    return folder


def at(folder: Path, day: date) -> Desk:
    return Desk(folder, clock=lambda: datetime(day.year, day.month, day.day, 12, tzinfo=UTC))


def test_a_fact_counts_the_lines_that_lean_on_it(folder: Path) -> None:
    desk = at(folder, TODAY)
    view = season_view(desk, on=TODAY)
    leaning = lines_leaning(view, compose(view))
    table = gaps(desk, on=TODAY)
    desk.close()
    assert sum(leaning.values()) > len(leaning) > 100
    worths = [float(row[-1]) for row in table.rows]
    assert worths == sorted(worths, reverse=True)
    assert worths[0] > 0
    assert {row[3].partition(":")[0] for row in table.rows} <= {"memory", "common practice", "published", "yours"}


def test_sheets_issued_from_the_same_facts_count_too_and_others_do_not(folder: Path) -> None:
    for day in (date(2026, 6, 5), date(2026, 6, 8)):
        earlier = at(folder, day)
        sheet(earlier)
        earlier.close()
    desk = at(folder, TODAY)
    assert [kept.first for kept in issued_sheets(desk, TODAY)] == [date(2026, 6, 5), date(2026, 6, 8)]
    before = gaps(desk, on=TODAY)
    assert "2 issued before it" in before.notes[0]
    desk.close()
    (folder / "facts.csv").write_text("subject,quantity,value,unit\npea,kill_c,-5,C\n", encoding="utf-8")
    desk = at(folder, TODAY)
    assert issued_sheets(desk, TODAY) == ()
    after = gaps(desk, on=TODAY)
    desk.close()
    (folder / "facts.csv").unlink()
    lines = [sum(int(row[4]) for row in table.rows) for table in (before, after)]
    assert lines[0] > lines[1]
