"""A lot of seed in the daybook: what it may say, and what is a slip of the pen."""

from __future__ import annotations

from datetime import UTC, date, datetime
from typing import Any

import pytest

from kailyard.errors import DataError
from kailyard.garden.kinds import check_entry, make_payload, read_payload
from kailyard.garden.model import Entry


def lot(*, quantity: float | None = None, unit: str = "", **payload: Any) -> Entry:
    return Entry(
        id="seed-1",
        kind="seed",
        version=1,
        happened=date(2026, 1, 10),
        written=datetime(2026, 1, 10, 18, tzinfo=UTC),
        quantity=quantity,
        unit=unit,
        payload=make_payload("seed", **payload),
    )


def test_a_lot_is_told_with_year_amount_and_test() -> None:
    told = lot(
        crop="pea", cultivar="First Packet", lot="a", packed=2024, tested=20, germinated=17, quantity=200, unit="seeds"
    )
    check_entry(told)
    assert read_payload(told).germinated == 17
    check_entry(lot(crop="potato", state="ordered", quantity=22, unit="pieces"))
    check_entry(lot(crop="carrot", quantity=0, unit="g"))


@pytest.mark.parametrize(
    "wrong",
    [
        {"tested": 20},
        {"germinated": 3},
        {"tested": 20, "germinated": 21},
        {"packed": 2028},
        {"packed": 26},
        {"state": "gone"},
        {"quantity": 3.0, "unit": "kg"},
        {"quantity": -1.0, "unit": "g"},
    ],
)
def test_a_slip_of_the_pen_is_refused(wrong: dict[str, Any]) -> None:
    with pytest.raises(DataError):
        check_entry(lot(crop="pea", **wrong))
