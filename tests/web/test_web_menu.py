"""The menu: rows that go into 360 px, the page one is on marked; and on a pretended day how far it is ahead."""

from __future__ import annotations

import re
import shutil
from collections.abc import Callable
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

from browsing import Browser
from starlette.testclient import TestClient

from kailyard.desk.clock import PretendedClock, ahead_s, pretend
from kailyard.desk.desk import Desk
from kailyard.web import register
from kailyard.web.app import create_app

MOST_SIGNS = 34
"""Of a row at 360 px: 328 px, 14 to 16 px between two words, 7 px a sign in the lower rows, 8 in the first."""


def test_every_row_goes_into_the_width_of_a_telephone() -> None:
    rows = [[page.title for page in row] for row in register.menu()]
    assert [row[0] for row in rows][:3] == ["Sheet", "Plantings", "Weather"]
    assert len(rows) == 4
    assert "What is it?" in rows[3]
    assert all(len("".join(row)) <= MOST_SIGNS and len(row) <= 4 for row in rows)


def test_the_page_one_is_on_is_marked_and_no_other(here: Browser) -> None:
    for row in register.menu():
        for page in row:
            marked = re.findall(r'<a href="([^"]+)" aria-current="page">', here.get(page.path).text)
            assert marked == [page.path]
    assert re.findall(r'href="([^"]+)" aria-current', here.get("/people").text) == ["/people"]


def test_a_pretended_day_is_told_with_how_far_it_is_ahead(gardens: Callable[[str], Path], tmp_path: Path) -> None:
    folder = Path(shutil.copytree(gardens("demo"), tmp_path / "garden"))
    desk = Desk(folder)
    assert ahead_s(desk) == 0
    clock = pretend(desk, date(2031, 5, 1))
    assert isinstance(clock, PretendedClock)
    with TestClient(create_app(folder, clock=clock), base_url="http://localhost") as client:
        told = re.search(r'<meta name="ahead" content="(-?\d+)">', client.get("/waiting").text)
    assert told
    assert (datetime.now(UTC) + timedelta(seconds=int(told[1]))).date() == date(2031, 5, 1)
    desk.close()


def test_on_a_real_day_nothing_is_ahead(here: Browser) -> None:
    assert 'name="ahead"' not in here.get("/waiting").text
