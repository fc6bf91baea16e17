"""The list of plantings: those of this year, and all of them to who asks."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest

from kailyard.desk.beds import set_bed
from kailyard.desk.desk import Desk
from kailyard.desk.new import new_garden
from kailyard.desk.plantings import planting, set_planting
from kailyard.desk.record import enter
from kailyard.errors import UsageError


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[Desk]:
    """Peas of three years, each cleared but the last."""
    desk = Desk(tmp_path / "garden", clock=lambda: datetime(2026, 6, 12, 12, tzinfo=UTC), who="")
    new_garden(desk, name="Nether Wold", latitude="48", longitude="9")
    set_bed(desk, "bed-1", {"length": "3", "width": "1"})
    for number, cleared in enumerate(("2024-07-20", "2025-07-22", "2026-06-01", "")):
        id_ = f"pea-{number}"
        set_planting(desk, id_, {"crop": "pea", "bed": "bed-1", "start": "sown"}, on="2024-03-01")
        if cleared:
            enter(desk, "clear", [id_], on=cleared)
    yield desk
    desk.close()


def listed(desk: Desk, **given: object) -> list[str]:
    return [row[0] for row in planting(desk, None, given).rows]


def test_what_was_over_before_this_year_is_listed_to_who_asks(desk: Desk) -> None:
    assert listed(desk) == ["pea-2", "pea-3"]
    assert "2 of earlier years are over" in planting(desk, None, {}).notes[0]
    assert listed(desk, over=True, bed="bed-1") == ["pea-0", "pea-1", "pea-2", "pea-3"]


def test_one_that_is_over_is_shown_when_it_is_named(desk: Desk) -> None:
    assert planting(desk, "pea-0", {}).rows[0][0] == "pea-0"
    with pytest.raises(UsageError, match="--over is for the list"):
        planting(desk, "pea-0", {"over": True})
